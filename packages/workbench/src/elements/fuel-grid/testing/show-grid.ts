import { page, userEvent } from "vitest/browser";
import { pageTokens } from "../../tokens.ts";
import "../fuel-grid.ts";
import type { FuelGrid } from "../fuel-grid.ts";
import { inventedTable } from "./invented-tables.ts";

/** Puts a grid on an empty page between two buttons, as wide as asked for, and waits until it is drawn. */
export async function showGrid(
  properties: Partial<FuelGrid> = {},
  { width = 900, charts = false }: { width?: number; charts?: boolean } = {},
): Promise<FuelGrid> {
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(`${pageTokens.cssText} body { background: var(--fw-paper); color: var(--fw-ink); }`);
  document.adoptedStyleSheets = [sheet];
  document.documentElement.className = "light";
  document.body.style.margin = "0";
  const slots = charts
    ? '<fw-slice-chart slot="under" along="rpm"></fw-slice-chart><fw-slice-chart slot="beside" along="load"></fw-slice-chart>'
    : "";
  document.body.innerHTML = `<main style="width:${width}px"><h1>Test</h1><button>Before</button>
    <fw-fuel-grid>${slots}</fw-fuel-grid><button>After</button></main>`;
  // The pointer keeps its place from test to test; away from the grid it hovers over nothing.
  await userEvent.hover(page.getByRole("button", { name: "After" }));
  const grid = document.querySelector("fw-fuel-grid")!;
  Object.assign(grid, { table: inventedTable(), ...properties });
  await drawn(grid);
  return grid;
}

/** Waits until the grid has drawn, and its cells tell assistive technology the same. */
export async function drawn(grid: FuelGrid): Promise<void> {
  await grid.updateComplete;
  // 250 ms is what a grid may take to bring the cells in view up to date.
  await new Promise((resolve) => setTimeout(resolve, 250));
}

/** The cell with the focus as a screen reader hears it; null if the focus is elsewhere. */
export function heard(grid: FuelGrid): string | null {
  const focused = grid.shadowRoot?.activeElement;
  return focused?.getAttribute("role") === "gridcell" ? focused.getAttribute("aria-label") : null;
}

/** Everything the grid tells its host, in order. */
export function listen(grid: FuelGrid): Event[] {
  const events: Event[] = [];
  for (const type of [
    "fw-selection-change",
    "fw-cell-hover",
    "fw-cells-typed",
    "fw-typing",
    "fw-paste-text",
    "fw-clear",
    "fw-viewed-part",
  ])
    grid.addEventListener(type, (event) => events.push(event));
  return events;
}

/** The events of one kind. */
export const only = <T extends Event>(events: readonly Event[], kind: new (...all: never[]) => T): T[] =>
  events.filter((event): event is T => event instanceof kind);
