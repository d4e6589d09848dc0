import { axisQuantities } from "@fuelwright/table-core";
import { breakpointTexts, breakpointWords } from "./cell-display.ts";
import type { ScreenWindow } from "./grid-layout.ts";
import type { GridView } from "./grid-view.ts";

/** The row of column headers under the cells, with the corner that names both axes. */
export class ColumnHeads {
  private heads = new Map<number, HTMLElement>();
  private built = "";
  private here: HTMLElement | null = null;

  constructor(private readonly row: HTMLElement) {}

  show(view: GridView, window: ScreenWindow, activeX: number, rebuild: boolean): void {
    const built = `${window.x0},${window.x1},${view.layout.cellWidth}`;
    if (rebuild || built !== this.built) this.build(view, window);
    this.built = built;
    const here = this.heads.get(activeX) ?? null;
    if (here !== this.here) {
      this.here?.classList.remove("here");
      here?.classList.add("here");
      this.here = here;
    }
  }

  private build({ table, layout, axes }: GridView, window: ScreenWindow): void {
    const labels = breakpointTexts(table.rpm, axes?.rpm);
    const longest = Math.max(...labels.map((label) => label.length));
    const every = Math.ceil((longest * 7 + 8) / layout.cellWidth);
    this.heads.clear();
    this.here = null;
    this.row.replaceChildren(corner({ table, layout, axes }));
    this.row.setAttribute("aria-rowindex", String(layout.rows + 1));
    for (let x = window.x0; x < window.x1; x++) {
      const label = labels[layout.column(x)]!;
      const head = document.createElement("div");
      head.setAttribute("role", "columnheader");
      head.setAttribute("aria-colindex", String(x + 2));
      head.setAttribute("aria-label", breakpointWords(table.rpm, layout.column(x), axes?.rpm));
      head.style.setProperty("--x", String(x));
      if (x % every === 0) head.textContent = label;
      this.row.append(head);
      this.heads.set(x, head);
    }
  }
}

function corner({ table, layout, axes }: Pick<GridView, "table" | "layout" | "axes">): HTMLElement {
  const element = document.createElement("div");
  element.className = "corner";
  element.setAttribute("role", "columnheader");
  element.setAttribute("aria-colindex", "1");
  const along = axisQuantities[table.rpm.quantity].label;
  const oneRow = table.load.quantity === "single-row";
  element.setAttribute("aria-label", oneRow ? along : `${axisQuantities[table.load.quantity].label} by ${along}`);
  const load = document.createElement("span");
  load.textContent = oneRow ? "" : `${layout.flipLoad ? "↓" : "↑"} ${axes?.load?.unit ?? table.load.unit}`;
  const rpmUnit = axes?.rpm?.unit ?? table.rpm.unit;
  const rpm = document.createElement("span");
  rpm.textContent = layout.flipRpm ? `← ${rpmUnit}` : `${rpmUnit} →`;
  element.append(load, rpm);
  return element;
}

/** The header of a row: the load, on every row that has room for it. */
export function rowHead({ table, layout, axes }: GridView, y: number): HTMLElement {
  const element = document.createElement("div");
  element.setAttribute("role", "rowheader");
  element.setAttribute("aria-colindex", "1");
  if (table.load.quantity === "single-row") {
    element.setAttribute("aria-label", table.name);
    return element;
  }
  const row = layout.row(y);
  element.setAttribute("aria-label", breakpointWords(table.load, row, axes?.load));
  if (y % Math.ceil(12 / layout.cellHeight) === 0) element.textContent = breakpointTexts(table.load, axes?.load)[row]!;
  return element;
}
