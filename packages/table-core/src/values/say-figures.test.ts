import { expect, test } from "vitest";
import { sayFigure, sayPercent } from "./plausible.ts";

test("figures are told to as many places as they mean", () => {
  expect([22.76, 315.2, 0.012345, 0].map(sayFigure)).toEqual(["22.8", "315", "0.0123", "0"]);
  expect([67.51, 8.187, 112.3, 0.43].map((value) => sayPercent(value))).toEqual(["68", "8.2", "112", "0.43"]);
});

test("a percentage beside a limit does not seem to meet it", () => {
  expect(sayPercent(84.96, [85, 100])).toBe("84.96");
  expect(sayPercent(85, [85, 100])).toBe("85");
  expect(sayPercent(99.999_999_9, [85, 100])).toBe("100");
});
