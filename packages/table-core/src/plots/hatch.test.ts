import fc from "fast-check";
import { expect, test } from "vitest";
import { pathPoints } from "../../testing/pictures.ts";
import { hatches, hatchPath } from "./hatch.ts";

const boxes = fc.record({
  x: fc.integer({ min: 0, max: 500 }),
  y: fc.integer({ min: 0, max: 500 }),
  width: fc.integer({ min: 1, max: 200 }),
  height: fc.integer({ min: 1, max: 200 }),
});

test("every hatch stays in its box, and none is the same as another", () => {
  fc.assert(
    fc.property(boxes, fc.constantFrom(...hatches), (box, hatch) => {
      // Written in hundredths of a px.
      const outside = pathPoints(hatchPath(box, hatch)).filter(
        ([x, y]) =>
          Math.abs(x - box.x - box.width / 2) > box.width / 2 + 0.01 ||
          Math.abs(y - box.y - box.height / 2) > box.height / 2 + 0.01,
      );
      expect(outside).toEqual([]);
    }),
  );
  const box = { x: 0, y: 0, width: 40, height: 40 };
  expect(new Set(hatches.map((hatch) => hatchPath(box, hatch))).size).toBe(hatches.length);
});

test("rising lines rise at 45 degrees, 6 px apart; falling ones fall", () => {
  const lines = (hatch: "rising" | "falling") => {
    const points = pathPoints(hatchPath({ x: 10, y: 20, width: 60, height: 60 }, hatch));
    return points.flatMap(([x, y], at) => (at % 2 ? [] : [{ x, y, to: points[at + 1]! }]));
  };
  for (const { x, y, to } of lines("rising")) expect(to[0] - x).toBeCloseTo(y - to[1], 1);
  for (const { x, y, to } of lines("falling")) expect(to[0] - x).toBeCloseTo(to[1] - y, 1);
  const [first, second] = lines("rising");
  expect((second!.x + second!.y - first!.x - first!.y) / Math.SQRT2).toBeCloseTo(6, 1);
});

test("boxes side by side join: their lines lie on the same slants", () => {
  const sums = (x: number) =>
    pathPoints(hatchPath({ x, y: 0, width: 50, height: 50 }, "rising")).map(([px, py]) => (px + py) / (6 * Math.SQRT2));
  for (const sum of [...sums(0), ...sums(50)]) expect(Math.abs(sum - Math.round(sum))).toBeLessThan(0.01);
});
