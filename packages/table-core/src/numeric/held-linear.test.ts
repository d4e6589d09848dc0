import { expect, test } from "vitest";
import { heldLinear } from "./held-linear.ts";

const xs = [1, 2, 4];
const ys = [10, 30, 20];

test("is exact on the points, straight between them and held outside", () => {
  xs.forEach((x, at) => {
    expect(heldLinear(xs, ys, x)).toBe(ys[at]);
  });
  expect(heldLinear(xs, ys, 1.5)).toBe(20);
  expect(heldLinear(xs, ys, 3)).toBe(25);
  expect(heldLinear(xs, ys, -5)).toBe(10);
  expect(heldLinear(xs, ys, 99)).toBe(20);
});

test("one point holds everywhere", () => {
  expect([heldLinear([3], [7], 0), heldLinear([3], [7], 3), heldLinear([3], [7], 9)]).toEqual([7, 7, 7]);
});
