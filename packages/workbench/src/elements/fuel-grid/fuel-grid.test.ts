import { createTable, type FuelTable, singleRow } from "@fuelwright/table-core";
import axe from "axe-core";
import { beforeEach, describe, expect, test } from "vitest";
import { page, userEvent } from "vitest/browser";
import "../slice-chart/slice-chart.ts";
import type { FuelGrid } from "./fuel-grid.ts";
import {
  CellHoverEvent,
  CellsTypedEvent,
  ClearEvent,
  PasteTextEvent,
  SelectionChangeEvent,
  TypingEvent,
} from "./grid-events.ts";
import { inventedTable, scaled, withCell } from "./testing/invented-tables.ts";
import { drawn, heard, listen, only, showGrid } from "./testing/show-grid.ts";

const cell = (place: string | RegExp) => page.getByRole("gridcell", { name: place });
const field = (name?: string) => page.getByRole("textbox", name === undefined ? {} : { name });
const press = (keys: string) => userEvent.keyboard(keys);

/** Brings the keyboard into the grid, as a user does. */
async function tabIn(): Promise<void> {
  await userEvent.click(page.getByRole("button", { name: "Before" }));
  await userEvent.tab();
}

beforeEach(() => {
  document.body.replaceChildren();
});

describe("for assistive technology", () => {
  test("it is a grid with a name, counted rows and columns, headers, and cells that say value and place", async () => {
    await showGrid({ label: "Front cylinder" });
    const grid = page.getByRole("grid", { name: "Front cylinder" });
    await expect.element(grid).toHaveAttribute("aria-rowcount", "6");
    await expect.element(grid).toHaveAttribute("aria-colcount", "7");
    expect(page.getByRole("gridcell").elements()).toHaveLength(30);
    await expect.element(page.getByRole("columnheader", { name: "1,500 rpm" })).toHaveTextContent("1,500");
    await expect.element(page.getByRole("rowheader", { name: "60 kPa" })).toHaveTextContent("60");
    const low = cell("2.00 ms, 1,000 rpm, 20 kPa").element();
    expect(low.getAttribute("aria-colindex")).toBe("2");
    expect(low.parentElement!.getAttribute("role")).toBe("row");
    expect(low.parentElement!.getAttribute("aria-rowindex")).toBe("5");
  });

  test("heads, cells and selections tell the axes in the unit of the host", async () => {
    const load = { unit: "psi", decimals: 1, show: (kPa: number) => kPa / 6.894757293168 };
    const grid = await showGrid({ axes: { load } });
    await expect.element(page.getByRole("rowheader").last()).toHaveTextContent("2.9");
    await expect.element(page.getByRole("gridcell", { name: /ms, 1,500 rpm, 4.4 psi$/ })).toBeInTheDocument();
    await expect.element(page.getByRole("columnheader").first()).toHaveTextContent("↑ psi");
    grid.axes = null;
    await drawn(grid);
    await expect.element(page.getByRole("gridcell", { name: /ms, 1,500 rpm, 30 kPa$/ })).toBeInTheDocument();
  });

  test("rows and cells are read in the order of the screen", async () => {
    const grid = await showGrid();
    const rows = [...grid.shadowRoot!.querySelectorAll('[role="row"]')];
    expect(rows.map((row) => Number(row.getAttribute("aria-rowindex")))).toEqual([1, 2, 3, 4, 5, 6]);
    for (const row of rows)
      expect([...row.children].map((child) => Number(child.getAttribute("aria-colindex")))).toEqual([
        1, 2, 3, 4, 5, 6, 7,
      ]);
  });

  test("a scan with charts, marks and an open field finds nothing", async () => {
    const table = inventedTable();
    const grid = await showGrid(
      { earlier: scaled(table, 1.2), marks: [{ at: 3, kind: "ceiling", words: "Above the planning ceiling" }] },
      { charts: true },
    );
    for (const chart of grid.querySelectorAll("fw-slice-chart")) chart.table = table;
    await drawn(grid);
    expect((await axe.run()).violations.map(({ id, help }) => `${id}: ${help}`)).toEqual([]);
    await tabIn();
    await press("{F2}");
    expect((await axe.run()).violations.map(({ id, help }) => `${id}: ${help}`)).toEqual([]);
  });

  test("a change is heard at the focused cell at once and at the others within 250 ms", async () => {
    const grid = await showGrid();
    const table = inventedTable();
    await tabIn();
    grid.table = withCell(withCell(table, 0, 0, 7), 3, 3, 9);
    grid.earlier = table;
    await grid.updateComplete;
    expect(heard(grid)).toBe("7.00 ms, 1,000 rpm, 20 kPa, +250.0 %, before 2.00");
    await drawn(grid);
    expect(cell(/^9\.00 ms, 2,500 rpm, 50 kPa, /).elements()).toHaveLength(1);
  });

  test("words of a host are in the live region, twice if said twice", async () => {
    const grid = await showGrid();
    const status = page.getByRole("status").element();
    grid.announce("12 cells were scaled.");
    expect(status.textContent).toBe("12 cells were scaled.");
    grid.announce("12 cells were scaled.");
    expect(status.textContent).not.toBe("12 cells were scaled.");
    expect(status.textContent!.trim()).toBe("12 cells were scaled.");
  });

  test("the words of a mark are in the cell's name and, with the focus or the pointer on it, on the screen", async () => {
    await showGrid({ marks: [{ at: 1, kind: "locked", words: "Locked: taken from the dyno" }] });
    expect(cell(/1,500 rpm, 20 kPa, Locked: taken from the dyno$/).elements()).toHaveLength(1);
    await userEvent.hover(cell(/1,500 rpm, 20 kPa/));
    await expect.element(page.getByRole("tooltip")).toHaveTextContent("Locked: taken from the dyno");
    await userEvent.hover(page.getByRole("button", { name: "After" }));
    await expect.element(page.getByText("Locked: taken from the dyno")).not.toBeVisible();
    await tabIn();
    await press("{ArrowRight}");
    await expect.element(page.getByText("Locked: taken from the dyno")).toBeVisible();
    await press("{Escape}");
    await expect.element(page.getByText("Locked: taken from the dyno")).not.toBeVisible();
  });
});

describe("with the keyboard", () => {
  test("the grid is one tab stop, and Tab leaves it", async () => {
    const grid = await showGrid();
    await tabIn();
    expect(heard(grid)).toBe("2.00 ms, 1,000 rpm, 20 kPa");
    await press("{ArrowUp}{ArrowRight}");
    await userEvent.tab();
    await expect.element(page.getByRole("button", { name: "After" })).toHaveFocus();
    await userEvent.tab({ shift: true });
    expect(heard(grid)).toBe("3.25 ms, 1,500 rpm, 30 kPa");
    await userEvent.tab({ shift: true });
    await expect.element(page.getByRole("button", { name: "Before" })).toHaveFocus();
  });

  test("arrows stop at the rim, and Home, End, Page Up and Page Down go as far as the screen shows", async () => {
    const grid = await showGrid();
    await tabIn();
    await press("{ArrowLeft}{ArrowDown}");
    expect(heard(grid)).toMatch(/1,000 rpm, 20 kPa$/);
    await press("{End}");
    expect(heard(grid)).toMatch(/3,500 rpm, 20 kPa$/);
    await press("{PageUp}");
    expect(heard(grid)).toMatch(/3,500 rpm, 60 kPa$/);
    await press("{Home}{ArrowUp}");
    expect(heard(grid)).toMatch(/1,000 rpm, 60 kPa$/);
    await press("{Control>}{End}{/Control}");
    expect(heard(grid)).toMatch(/3,500 rpm, 20 kPa$/);
    await press("{Control>}{Home}{/Control}");
    expect(heard(grid)).toMatch(/1,000 rpm, 60 kPa$/);
  });

  test("Shift selects, and the selection is told in rpm and load", async () => {
    const grid = await showGrid();
    const events = listen(grid);
    await tabIn();
    await press("{ArrowRight}{Shift>}{ArrowRight}{ArrowUp}{/Shift}");
    const last = only(events, SelectionChangeEvent).at(-1)!;
    expect(last.region).toEqual({ rpm: [1500, 2000], load: [20, 30] });
    expect(last.focused).toBe(8);
    expect(grid.region).toEqual(last.region);
    await drawn(grid);
    expect(page.getByRole("gridcell", { selected: true }).elements()).toHaveLength(4);
    await press("{Escape}");
    expect(grid.region).toEqual({ rpm: [2000, 2000], load: [30, 30] });
  });

  test("Ctrl+Space, Shift+Space and Ctrl+A take columns, rows and all", async () => {
    const grid = await showGrid();
    await tabIn();
    await press("{ArrowRight}{ArrowUp}{Control>} {/Control}");
    expect(grid.region).toEqual({ rpm: [1500, 1500] });
    await press("{Escape}{Home}{Shift>} {/Shift}");
    expect(grid.region.rpm).toBeUndefined();
    expect(grid.region.load).toHaveLength(2);
    await press("{Control>}a{/Control}");
    expect(grid.region).toEqual({});
    await drawn(grid);
    expect(page.getByRole("gridcell", { selected: true }).elements()).toHaveLength(30);
  });

  test("a selection of more than one cell is said aloud", async () => {
    await showGrid();
    await tabIn();
    await press("{Shift>}{ArrowRight}{ArrowUp}{/Shift}");
    await expect.element(page.getByRole("status")).toHaveTextContent("4 cells: 1,000 to 1,500 rpm, 20 to 30 kPa");
  });

  test("with both axes flipped the arrows still go as the screen shows", async () => {
    const grid = await showGrid({ flipRpm: true, flipLoad: true });
    await tabIn();
    await press("{Control>}{Home}{/Control}");
    expect(heard(grid)).toMatch(/3,500 rpm, 20 kPa$/);
    await press("{ArrowDown}{ArrowRight}");
    expect(heard(grid)).toMatch(/3,000 rpm, 30 kPa$/);
  });
});

describe("typing", () => {
  test("a key replaces, the host hears each one, and Enter enters it for the selection", async () => {
    const grid = await showGrid();
    const events = listen(grid);
    await tabIn();
    await press("{Shift>}{ArrowRight}{/Shift}cell * 1.05");
    expect(field("New value or expression for 2 cells").element()).toBe(grid.shadowRoot!.activeElement);
    expect(only(events, TypingEvent).map(({ text }) => text)).toEqual([
      "c",
      "ce",
      "cel",
      "cell",
      "cell ",
      "cell *",
      "cell * ",
      "cell * 1",
      "cell * 1.",
      "cell * 1.0",
      "cell * 1.05",
    ]);
    await press("{Enter}");
    const [typed] = only(events, CellsTypedEvent);
    expect(typed).toMatchObject({ text: "cell * 1.05", region: { rpm: [1000, 1500], load: [20, 20] } });
    expect(only(events, TypingEvent).at(-1)!.text).toBeNull();
    // The grid applies nothing, and the cell has the focus again.
    expect(heard(grid)).toBe("2.50 ms, 1,500 rpm, 20 kPa");
  });

  test("F2 edits the value with all its digits, and Escape drops it", async () => {
    const grid = await showGrid();
    const events = listen(grid);
    await tabIn();
    await press("{ArrowRight}{ArrowRight}{F2}");
    await expect.element(field()).toHaveValue(String(inventedTable().cells[2]));
    await press("9{Escape}");
    await expect.element(field()).not.toBeInTheDocument();
    expect(only(events, CellsTypedEvent)).toEqual([]);
    expect(only(events, TypingEvent).map(({ text }) => text)).toEqual(["9", null]);
    expect(heard(grid)).toMatch(/2,000 rpm, 20 kPa$/);
  });

  test("Enter opens the field, and Enter on an emptied one enters nothing", async () => {
    const grid = await showGrid();
    const events = listen(grid);
    await tabIn();
    await press("{Enter}{Delete}{Enter}");
    expect(only(events, CellsTypedEvent)).toEqual([]);
    expect(heard(grid)).not.toBeNull();
  });

  test("a host that can't read the text keeps the field open and says why", async () => {
    const grid = await showGrid();
    grid.addEventListener("fw-cells-typed", (event) => {
      event.preventDefault();
      grid.problem = `${event.text} is not a number; type one.`;
    });
    await tabIn();
    await press("4x{Enter}");
    expect(field().element()).toBe(grid.shadowRoot!.activeElement);
    await expect.element(field()).toHaveValue("4x");
    await expect.element(field()).toHaveAccessibleDescription("4x is not a number; type one.");
    await expect.element(page.getByRole("alert")).toHaveTextContent("4x is not a number; type one.");
    await userEvent.click(cell(/3,000 rpm, 40 kPa/));
    await expect.element(field()).toHaveValue("4x");
    await press("{Backspace}");
    await expect.element(page.getByRole("alert")).not.toBeInTheDocument();
  });

  test("a click on another cell enters what was typed, as Tab does", async () => {
    const grid = await showGrid();
    const events = listen(grid);
    await tabIn();
    await press("4");
    await userEvent.click(cell(/3,000 rpm, 40 kPa/));
    expect(only(events, CellsTypedEvent)[0]).toMatchObject({ text: "4", region: { rpm: [1000, 1000] } });
    await press("5");
    await userEvent.tab();
    expect(only(events, CellsTypedEvent)[1]).toMatchObject({ text: "5", region: { rpm: [3000, 3000] } });
  });

  test("a double click edits", async () => {
    const grid = await showGrid();
    await userEvent.dblClick(cell(/3,000 rpm, 40 kPa/));
    expect(field("New value or expression for 1 cell").element()).toBe(grid.shadowRoot!.activeElement);
  });

  test("Delete asks to clear", async () => {
    const events = listen(await showGrid());
    await tabIn();
    await press("{Delete}");
    expect(only(events, ClearEvent)[0]!.region).toEqual({ rpm: [1000, 1000], load: [20, 20] });
  });

  test("a readonly grid moves, and neither types nor clears nor pastes", async () => {
    const grid = await showGrid({ readonly: true });
    await expect.element(page.getByRole("grid")).toHaveAttribute("aria-readonly", "true");
    await tabIn();
    const events = listen(grid);
    await press("{ArrowUp}4{F2}{Delete}");
    await userEvent.copy();
    await userEvent.paste();
    await userEvent.dblClick(cell(/3,000 rpm, 40 kPa/));
    await expect.element(field()).not.toBeInTheDocument();
    expect(only(events, TypingEvent)).toEqual([]);
    expect(only(events, ClearEvent)).toEqual([]);
    expect(only(events, PasteTextEvent)).toEqual([]);
    expect(grid.region).toEqual({ rpm: [3000, 3000], load: [40, 40] });
  });
});

describe("the clipboard", () => {
  const ratio = {
    unit: "AFR",
    decimals: 2,
    show: (v: number) => v * 14.7,
    read: (text: string) => Number(text) / 14.7,
  };

  /** What is on the clipboard, by pasting it into a text field. */
  async function clipboard(): Promise<string> {
    const field = document.createElement("textarea");
    field.setAttribute("aria-label", "Clipboard");
    document.body.append(field);
    await userEvent.click(page.getByRole("textbox", { name: "Clipboard" }));
    await userEvent.paste();
    const { value } = field;
    field.remove();
    return value;
  }

  test("copies lines as the screen shows them, in the shown unit, with all digits", async () => {
    const table = withCell(withCell(inventedTable(), 0, 0, 1), 1, 0, 0.5);
    await showGrid({ table, display: ratio });
    await tabIn();
    await press("{Shift>}{ArrowUp}{/Shift}");
    await userEvent.copy();
    await expect.element(page.getByRole("status")).toHaveTextContent("2 cells copied.");
    expect(await clipboard()).toBe("7.35\n14.7");
  });

  test("copies every block of the selection, each cell in line with its breakpoints", async () => {
    const grid = await showGrid({ table: withCell(withCell(inventedTable(), 0, 0, 5), 1, 2, 6) });
    grid.selection = {
      anchor: { row: 1, column: 2 },
      focus: { row: 1, column: 2 },
      also: [{ anchor: { row: 0, column: 0 }, focus: { row: 0, column: 0 } }],
    };
    await drawn(grid);
    await tabIn();
    await press("{Control>}{Shift>}c{/Shift}{/Control}");
    expect(await clipboard()).toBe("\t1000\t2000\n30\t\t6\n20\t5\t");
  });

  test("copies with the axes on Ctrl+Shift+C", async () => {
    await showGrid({ table: withCell(withCell(inventedTable(), 0, 0, 5), 0, 1, 6) });
    await tabIn();
    await press("{Shift>}{ArrowRight}{/Shift}{Control>}{Shift>}c{/Shift}{/Control}");
    expect(await clipboard()).toBe("\t1000\t1500\n20\t5\t6");
  });

  test("pastes text for the host, with the cell it starts at and the way its lines go", async () => {
    const grid = await showGrid();
    const events = listen(grid);
    await tabIn();
    await press("{ArrowRight}{ArrowUp}{Shift>}{ArrowRight}{ArrowUp}{/Shift}");
    await userEvent.copy();
    await userEvent.paste();
    const [paste] = only(events, PasteTextEvent);
    expect(paste!.at).toEqual({ row: 2, column: 1 });
    expect([paste!.rowStep, paste!.columnStep]).toEqual([-1, 1]);
    const { cells } = inventedTable();
    expect(paste!.text).toBe(`${cells[13]}\t${cells[14]}\n${cells[7]}\t${cells[8]}`);
    expect(paste!.region).toEqual({ rpm: [1500, 2000], load: [30, 40] });
  });
});

describe("with the mouse", () => {
  const drag = (from: string | RegExp, to: string | RegExp) => userEvent.dragAndDrop(cell(from), cell(to));

  test("a click chooses and takes the focus, Shift+click and dragging choose a block", async () => {
    const grid = await showGrid();
    await userEvent.click(cell(/2,000 rpm, 40 kPa/));
    expect(heard(grid)).toMatch(/2,000 rpm, 40 kPa$/);
    expect(grid.region).toEqual({ rpm: [2000, 2000], load: [40, 40] });
    await userEvent.click(cell(/3,000 rpm, 60 kPa/), { modifiers: ["Shift"] });
    expect(grid.region).toEqual({ rpm: [2000, 3000], load: [40, 60] });
    await drag(/3,000 rpm, 50 kPa/, /1,500 rpm, 30 kPa/);
    expect(grid.region).toEqual({ rpm: [1500, 3000], load: [30, 50] });
  });

  test("Ctrl+click adds a further block", async () => {
    const grid = await showGrid();
    await userEvent.click(cell(/2,000 rpm, 40 kPa/));
    await userEvent.click(cell(/3,500 rpm, 20 kPa/), { modifiers: ["Control"] });
    expect(grid.region).toEqual({
      rpm: [3500, 3500],
      load: [20, 20],
      also: [{ rpm: [2000, 2000], load: [40, 40] }],
    });
    await drawn(grid);
    expect(page.getByRole("gridcell", { selected: true }).elements()).toHaveLength(2);
  });

  test("headers take columns and rows, the corner takes all", async () => {
    const grid = await showGrid();
    await userEvent.click(page.getByRole("columnheader", { name: "2,500 rpm" }));
    expect(grid.region).toEqual({ rpm: [2500, 2500] });
    await userEvent.click(page.getByRole("columnheader", { name: "3,500 rpm" }), { modifiers: ["Shift"] });
    expect(grid.region).toEqual({ rpm: [2500, 3500] });
    await userEvent.click(page.getByRole("rowheader", { name: "30 kPa" }));
    expect(grid.region).toEqual({ load: [30, 30] });
    await userEvent.click(page.getByRole("columnheader", { name: "manifold pressure by rpm" }));
    expect(grid.region).toEqual({});
  });

  test("the cell under the pointer is told, and that it left", async () => {
    const grid = await showGrid();
    const events = listen(grid);
    await userEvent.hover(cell(/1,500 rpm, 20 kPa/));
    await userEvent.hover(cell(/2,000 rpm, 30 kPa/));
    await userEvent.hover(page.getByRole("button", { name: "Before" }));
    const hovered = only(events, CellHoverEvent).map(({ at }) => at);
    expect(hovered[0]).toBe(1);
    expect(hovered).toContain(8);
    expect(hovered.at(-1)).toBeNull();
  });
});

describe("what is drawn", () => {
  const figures = (grid: FuelGrid) => grid.shadowRoot!.querySelectorAll<HTMLElement>(".figures > div");

  /** The colour of a cell of the canvas that lies behind, from the left and the top. */
  function tint(grid: FuelGrid, x: number, y: number): string {
    const canvas = grid.shadowRoot!.querySelector("canvas")!;
    const [r, g, b] = canvas.getContext("2d")!.getImageData(x, y, 1, 1).data;
    return `#${[r!, g!, b!].map((value) => value.toString(16).padStart(2, "0")).join("")}`;
  }

  /** Right end of the n-th word of a row, in px of the page. */
  function rightOf(row: HTMLElement, word: number): number {
    const node = document.createTreeWalker(row, NodeFilter.SHOW_TEXT).nextNode() as Text;
    const words = node.data.split(" ");
    const end = words.slice(0, word + 1).join(" ").length;
    const range = document.createRange();
    range.setStart(node, 0);
    range.setEnd(node, end);
    return range.getBoundingClientRect().right;
  }

  test.each(["comfortable", "compact"] as const)(
    "figures stand right in their cells, also in the last of 256 (%s)",
    async (density) => {
      const grid = await showGrid({ table: inventedTable(256, 4), density }, { width: 2000 });
      await tabIn();
      await press("{End}");
      await drawn(grid);
      const columns = [...grid.shadowRoot!.querySelectorAll<HTMLElement>('[role="gridcell"]')].filter(
        (element) => element.parentElement!.getAttribute("aria-rowindex") === "1",
      );
      const row = figures(grid)[0]!;
      const gaps = columns.slice(0, -1).map((element, at) => element.getBoundingClientRect().right - rightOf(row, at));
      // A few px of padding, and the same everywhere: half a px is what a browser may round a word to.
      for (const gap of gaps) expect(gap).toBeGreaterThan(2);
      expect(Math.max(...gaps) - Math.min(...gaps)).toBeLessThanOrEqual(0.5);
      expect(row.textContent!.trim().split(" ")).toHaveLength(columns.length);
    },
  );

  test("an unchanged cell is plain paper, a lower one and a higher one are tinted with a sign", async () => {
    const table = inventedTable();
    const grid = await showGrid({
      table: withCell(withCell(table, 4, 0, table.cells[24]! * 0.8), 4, 1, table.cells[25]! * 1.2),
      earlier: table,
    });
    expect(tint(grid, 2, 0)).toBe("#fffdf7");
    const [less, more] = [tint(grid, 0, 0), tint(grid, 1, 0)];
    expect(new Set([less, more, "#fffdf7"]).size).toBe(3);
    expect(grid.shadowRoot!.querySelectorAll("path.sign")).toHaveLength(1);
    grid.table = table;
    await drawn(grid);
    expect(tint(grid, 0, 0)).toBe("#fffdf7");
    expect(grid.shadowRoot!.querySelectorAll("path.sign")).toHaveLength(0);
  });

  test("dark paper is dark paper", async () => {
    const grid = await showGrid();
    document.documentElement.className = "dark";
    await drawn(grid);
    expect(tint(grid, 0, 0)).toBe("#211f1a");
  });

  test("colours of the host are taken, with an ink of their own where a tint asks for it", async () => {
    const table = inventedTable();
    const tints = ["#000000", "#ffffff"].map((background) => ({
      background,
      ink: background === "#000000" ? "#ffffff" : "#000000",
    }));
    const grid = await showGrid({
      table: withCell(table, 4, 1, 1),
      earlier: table,
      colours: { tints, place: (percent) => (percent < 0 ? 0 : 1) },
    });
    expect([tint(grid, 0, 0), tint(grid, 1, 0)]).toEqual(["#ffffff", "#000000"]);
    const runs = [...figures(grid)[0]!.children] as HTMLElement[];
    expect(runs.map((run) => run.textContent!.trim().split(" ").length)).toEqual([1, 1, 4]);
    expect(runs.map((run) => getComputedStyle(run).color)).toEqual([
      "rgb(0, 0, 0)",
      "rgb(255, 255, 255)",
      "rgb(0, 0, 0)",
    ]);
  });

  test("value shading tells little from much, none tells nothing", async () => {
    const table = inventedTable();
    const grid = await showGrid({ table, shading: "value" });
    expect(tint(grid, 0, 4)).toBe("#fffdf7");
    expect(tint(grid, 3, 0)).not.toBe("#fffdf7");
    grid.shading = "none";
    grid.earlier = scaled(table, 2);
    await drawn(grid);
    expect(tint(grid, 3, 0)).toBe("#fffdf7");
  });

  test("every kind of mark has a shape of its own", async () => {
    const kinds = ["ceiling", "estimate", "locked", "evidence"] as const;
    const grid = await showGrid({ marks: kinds.map((kind, at) => ({ at, kind, words: kind })) });
    const shapes = kinds.map((kind) => grid.shadowRoot!.querySelector(`path.${kind}`)!.getAttribute("d"));
    expect(new Set(shapes).size).toBe(4);
  });

  test("negative figures have their minus, drawn left of the digits", async () => {
    const { rpm, load } = inventedTable();
    const cells = Float64Array.from({ length: 30 }, (_, at) => (at === 24 ? -12.5 : 3));
    const table = createTable({ id: "t", name: "Trim", quantity: "trim", rpm, load, cells });
    const grid = await showGrid({ table });
    const minus = grid.shadowRoot!.querySelectorAll<SVGPathElement>("path.minus");
    expect(minus).toHaveLength(1);
    const box = minus[0]!.getBoundingClientRect();
    const first = cell("−12.5 %, 1,000 rpm, 60 kPa").element().getBoundingClientRect();
    const digits = rightOf(figures(grid)[0]!, 0) - box.right;
    expect(box.left).toBeGreaterThan(first.left);
    // Four characters of 13 px, none of them wider than the em, and no gap.
    expect(digits).toBeGreaterThan(20);
    expect(digits).toBeLessThan(52);
  });

  test("a value that the shown unit can't say leaves its place, not its column", async () => {
    const inverse = { unit: "", decimals: 2, show: (v: number) => 1 / v, read: (text: string) => 1 / Number(text) };
    const grid = await showGrid({ table: withCell(inventedTable(), 4, 2, 0), display: inverse });
    expect(cell("–, 2,000 rpm, 60 kPa").elements()).toHaveLength(1);
    const words = figures(grid)[0]!.textContent!.trim().split(" ");
    expect(new Set(words.map((word) => word.length)).size).toBe(1);
  });
});

describe("large and small", () => {
  test("of 256 × 256 cells only those near the view are there, and the focus goes everywhere", async () => {
    const grid = await showGrid({ table: inventedTable(256, 256) });
    const there = () => grid.shadowRoot!.querySelectorAll('[role="gridcell"]').length;
    expect(there()).toBeLessThan(3000);
    await tabIn();
    await press("{Control>}{Home}{/Control}");
    await drawn(grid);
    expect(heard(grid)).toMatch(/1,000 rpm, 2,570 kPa$/);
    await press("{End}{PageDown}{PageDown}");
    await drawn(grid);
    expect(heard(grid)).toMatch(/128,500 rpm, /);
    const box = grid.shadowRoot!.activeElement!.getBoundingClientRect();
    const view = grid.getBoundingClientRect();
    expect(box.left).toBeGreaterThanOrEqual(view.left);
    expect(box.right).toBeLessThanOrEqual(view.right);
    expect(box.top).toBeGreaterThanOrEqual(view.top);
    expect(box.bottom).toBeLessThanOrEqual(view.bottom);
    expect(there()).toBeLessThan(3000);
  });

  test("the focused cell keeps its focus when it is scrolled out of view", async () => {
    const grid = await showGrid({ table: inventedTable(64, 64) });
    await tabIn();
    const focused = heard(grid);
    grid.revealShare(1, 0);
    await drawn(grid);
    expect(heard(grid)).toBe(focused);
    await press("{ArrowRight}");
    await drawn(grid);
    expect(heard(grid)).toMatch(/1,500 rpm, 20 kPa$/);
    const box = grid.shadowRoot!.activeElement!.getBoundingClientRect();
    expect(box.left).toBeGreaterThanOrEqual(grid.getBoundingClientRect().left);
  });

  test("another table of another size keeps the selection inside, and the focus", async () => {
    const grid = await showGrid({ table: inventedTable(12, 12) });
    await tabIn();
    await press("{Control>}{Home}{/Control}{End}");
    grid.table = inventedTable(4, 3);
    await drawn(grid);
    expect(heard(grid)).toMatch(/2,500 rpm, 40 kPa$/);
  });

  test("a one-row table has one row, and says no load", async () => {
    const { rpm } = inventedTable();
    const table = createTable({
      id: "t",
      name: "Warm-up",
      quantity: "factor",
      rpm: { quantity: "coolant-temperature", unit: "°C", breakpoints: [-20, 20, 80] },
      cells: [[1.5, 1.2, 1]],
    });
    expect(table.load).toBe(singleRow);
    expect(rpm.quantity).toBe("rpm");
    await showGrid({ table });
    expect(cell("1.500, −20 °C").elements()).toHaveLength(1);
    await expect.element(page.getByRole("grid", { name: "Warm-up" })).toHaveAttribute("aria-rowcount", "2");
  });

  test("without a table it says so, and with one again it works", async () => {
    const grid = await showGrid({ table: null as FuelTable | null });
    await expect.element(page.getByText("No table is open.")).toBeVisible();
    grid.table = inventedTable();
    await drawn(grid);
    expect(page.getByRole("gridcell").elements()).toHaveLength(30);
  });

  test("zoomed far out, cells are too small for figures and keep their names", async () => {
    const grid = await showGrid({ zoom: 0.3 });
    expect(grid.shadowRoot!.querySelector(".figures")!.textContent).toBe("");
    expect(cell("2.00 ms, 1,000 rpm, 20 kPa").elements()).toHaveLength(1);
  });

  test("charts lie in line with the chosen cell, however the grid is scrolled and zoomed", async () => {
    const table = inventedTable(40, 40);
    const grid = await showGrid({ table }, { charts: true, width: 1000 });
    const charts = [...grid.querySelectorAll("fw-slice-chart")];
    const follow = () => {
      for (const chart of charts) Object.assign(chart, { table, cell: grid.focused });
    };
    grid.addEventListener("fw-selection-change", follow);
    follow();
    await tabIn();
    const inLine = async () => {
      await drawn(grid);
      const box = grid.shadowRoot!.activeElement!.getBoundingClientRect();
      const [under, beside] = charts.map((chart) => chart.shadowRoot!.querySelector("circle")!.getBoundingClientRect());
      const middle = (from: number, to: number) => (from + to) / 2;
      expect(middle(under!.left, under!.right)).toBeCloseTo(middle(box.left, box.right), 0);
      expect(middle(beside!.top, beside!.bottom)).toBeCloseTo(middle(box.top, box.bottom), 0);
    };
    await inLine();
    await press("{End}{ArrowLeft}{PageUp}{PageUp}");
    await inLine();
    grid.zoom = 1.4;
    await inLine();
    grid.flipRpm = true;
    grid.flipLoad = true;
    charts.forEach((chart) => {
      chart.flip = true;
    });
    await grid.updateComplete;
    grid.reveal(grid.selection.focus);
    await inLine();
  });

  test("on a narrow screen the grid scrolls, not the page, and the chart beside makes room", async () => {
    const grid = await showGrid({ table: inventedTable(24, 12) }, { charts: true, width: 340 });
    const table = inventedTable(24, 12);
    for (const chart of grid.querySelectorAll("fw-slice-chart")) chart.table = table;
    await drawn(grid);
    expect(grid.getBoundingClientRect().right).toBeLessThanOrEqual(340);
    expect(document.documentElement.scrollWidth).toBe(document.documentElement.clientWidth);
    expect(grid.querySelector('[slot="beside"]')!.getBoundingClientRect().width).toBe(0);
    expect(grid.querySelector('[slot="under"]')!.getBoundingClientRect().width).toBeGreaterThan(340);
  });

  test("a region is shown by selecting it, and brought into view", async () => {
    const grid = await showGrid({ table: inventedTable(64, 64) });
    const events = listen(grid);
    await grid.showRegion({ rpm: [30_000, 31_000], load: [600, 620] });
    await drawn(grid);
    expect(grid.region).toEqual({ rpm: [30_000, 31_000], load: [600, 620] });
    expect(page.getByRole("gridcell", { selected: true }).elements()).toHaveLength(9);
    expect(only(events, SelectionChangeEvent)).toEqual([]);
  });
});
