import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type GridKey, gridAction } from "./grid-keys.ts";
import { GridLayout } from "./grid-layout.ts";
import { type GridSelection, oneCell } from "./grid-selection.ts";

const layout = (flipRpm = false, flipLoad = false) => new GridLayout(5, 4, flipRpm, flipLoad, 60, 27);
const none = { ctrlKey: false, metaKey: false, shiftKey: false, altKey: false };
const press = (key: string, more: Partial<GridKey> = {}): GridKey => ({ ...none, key, ...more });
const at = (row: number, column: number) => oneCell({ row, column });
const act = (event: GridKey, selection: GridSelection, lay = layout(), readonly = false) =>
  gridAction(event, selection, lay, 2, readonly);

describe("moving", () => {
  test.each([
    ["ArrowUp", 2, 2],
    ["ArrowDown", 0, 2],
    ["ArrowLeft", 1, 1],
    ["ArrowRight", 1, 3],
    ["Home", 1, 0],
    ["End", 1, 4],
    ["PageUp", 3, 2],
    ["PageDown", 0, 2],
  ])("%s goes as the screen shows: load rises upward", (key, row, column) => {
    expect(act(press(key), at(1, 2))).toEqual({ kind: "select", selection: at(row, column) });
  });

  test("flipped axes turn the arrows with them", () => {
    const flipped = layout(true, true);
    expect(act(press("ArrowUp"), at(1, 2), flipped)).toEqual({ kind: "select", selection: at(0, 2) });
    expect(act(press("ArrowRight"), at(1, 2), flipped)).toEqual({ kind: "select", selection: at(1, 1) });
    expect(act(press("Home", { ctrlKey: true }), at(1, 2), flipped)).toEqual({ kind: "select", selection: at(0, 4) });
  });

  test("Ctrl+Home and Ctrl+End go to the first and last cell of the screen", () => {
    expect(act(press("Home", { ctrlKey: true }), at(1, 2))).toEqual({ kind: "select", selection: at(3, 0) });
    expect(act(press("End", { metaKey: true }), at(1, 2))).toEqual({ kind: "select", selection: at(0, 4) });
  });

  test("whatever is pressed, the focus stays inside and moves in a straight line", () => {
    const keys = fc.constantFrom(
      "ArrowUp",
      "ArrowDown",
      "ArrowLeft",
      "ArrowRight",
      "PageUp",
      "PageDown",
      "Home",
      "End",
    );
    fc.assert(
      fc.property(keys, fc.nat(3), fc.nat(4), fc.boolean(), fc.boolean(), (key, row, column, flipRpm, flipLoad) => {
        const action = act(press(key), at(row, column), layout(flipRpm, flipLoad));
        const { focus } = (action as { selection: GridSelection }).selection;
        expect(focus.row >= 0 && focus.row < 4 && focus.column >= 0 && focus.column < 5).toBe(true);
        expect(focus.row === row || focus.column === column).toBe(true);
      }),
    );
  });
});

describe("selecting", () => {
  test("Shift takes the anchor along", () => {
    expect(act(press("ArrowUp", { shiftKey: true }), at(1, 2))).toEqual({
      kind: "select",
      selection: { anchor: { row: 1, column: 2 }, focus: { row: 2, column: 2 } },
    });
  });

  test("Ctrl+Space takes the columns of the selection, Shift+Space its rows, Ctrl+A all", () => {
    const block = { anchor: { row: 1, column: 1 }, focus: { row: 2, column: 2 } };
    expect(act(press(" ", { ctrlKey: true }), block)).toEqual({
      kind: "select",
      selection: { anchor: { row: 0, column: 1 }, focus: { row: 3, column: 2 } },
    });
    expect(act(press(" ", { shiftKey: true }), block)).toEqual({
      kind: "select",
      selection: { anchor: { row: 1, column: 0 }, focus: { row: 2, column: 4 } },
    });
    for (const all of [press("a", { ctrlKey: true }), press(" ", { ctrlKey: true, shiftKey: true })])
      expect(act(all, block)).toEqual({
        kind: "select",
        selection: { anchor: { row: 0, column: 0 }, focus: { row: 3, column: 4 } },
      });
  });

  test("Escape narrows a block to its focus, and is left to the page on one cell", () => {
    expect(act(press("Escape"), { anchor: { row: 0, column: 0 }, focus: { row: 1, column: 1 } })).toEqual({
      kind: "collapse",
    });
    expect(act(press("Escape"), at(0, 0))).toBeNull();
  });
});

describe("typing", () => {
  test("printing keys type, F2 and Enter edit, Delete clears", () => {
    for (const key of ["4", "-", "c", "(", "λ"]) expect(act(press(key), at(0, 0))).toEqual({ kind: "type" });
    expect(act(press("@", { ctrlKey: true, altKey: true }), at(0, 0))).toEqual({ kind: "type" });
    for (const key of ["F2", "Enter"]) expect(act(press(key), at(0, 0))).toEqual({ kind: "edit" });
    for (const key of ["Delete", "Backspace"]) expect(act(press(key), at(0, 0))).toEqual({ kind: "clear" });
  });

  test("shortcuts of the page and the browser are left alone", () => {
    for (const event of [
      press("z", { ctrlKey: true }),
      press("z", { metaKey: true }),
      press("c", { ctrlKey: true }),
      press("Tab"),
      press("F5"),
      press("Enter", { ctrlKey: true }),
    ])
      expect(act(event, at(0, 0))).toBeNull();
  });

  test("a readonly grid moves and copies only", () => {
    for (const key of ["4", "F2", "Enter", "Delete"]) expect(act(press(key), at(0, 0), layout(), true)).toBeNull();
    expect(act(press("ArrowUp"), at(0, 0), layout(), true)).toMatchObject({ kind: "select" });
    expect(act(press("C", { ctrlKey: true, shiftKey: true }), at(0, 0), layout(), true)).toEqual({
      kind: "copy-with-axes",
    });
  });
});
