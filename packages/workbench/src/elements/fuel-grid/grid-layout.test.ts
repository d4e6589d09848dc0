import fc from "fast-check";
import { expect, test } from "vitest";
import { GridLayout, windowFor } from "./grid-layout.ts";

const layouts = fc
  .tuple(fc.integer({ min: 1, max: 256 }), fc.integer({ min: 1, max: 256 }), fc.boolean(), fc.boolean())
  .map(([columns, rows, flipRpm, flipLoad]) => new GridLayout(columns, rows, flipRpm, flipLoad, 50, 20));

test("rpm runs to the right and load upward", () => {
  const layout = new GridLayout(5, 4, false, false, 50, 20);
  expect(layout.screen({ row: 0, column: 0 })).toEqual({ x: 0, y: 3 });
  expect(layout.screen({ row: 3, column: 4 })).toEqual({ x: 4, y: 0 });
  expect(layout.at(0, 0)).toBe(15);
});

test("a cell of the screen and its place in the table name each other", () => {
  fc.assert(
    fc.property(layouts, fc.nat(), fc.nat(), (layout, a, b) => {
      const cell = { x: a % layout.columns, y: b % layout.rows };
      const position = layout.position(cell);
      expect(layout.screen(position)).toEqual(cell);
      expect(layout.at(cell.x, cell.y)).toBe(position.row * layout.columns + position.column);
    }),
  );
});

test("the nearest cell to any point is one of the table", () => {
  fc.assert(
    fc.property(layouts, fc.integer({ min: -1e5, max: 1e5 }), fc.integer({ min: -1e5, max: 1e5 }), (layout, x, y) => {
      const cell = layout.nearest(x, y);
      expect(cell.x >= 0 && cell.x < layout.columns && cell.y >= 0 && cell.y < layout.rows).toBe(true);
    }),
  );
});

test("the window holds what is in view, and not much more", () => {
  const parts = fc.record({ left: fc.nat(20_000), top: fc.nat(8000), width: fc.nat(3000), height: fc.nat(2000) });
  fc.assert(
    fc.property(layouts, parts, (layout, part) => {
      const { x0, x1, y0, y1 } = windowFor(layout, part);
      const first = Math.floor(part.left / 50);
      const last = Math.ceil((part.left + part.width) / 50);
      for (let x = first; x < Math.min(last, layout.columns); x++) expect(x >= x0 && x < x1).toBe(true);
      expect(x1 - x0).toBeLessThanOrEqual(part.width / 50 + 19);
      expect(y1 - y0).toBeLessThanOrEqual(part.height / 20 + 19);
    }),
  );
});
