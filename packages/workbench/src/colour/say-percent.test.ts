import { expect, test } from "vitest";
import { sayChange, saySize, saySpan } from "./say-percent.ts";

test("sizes are said to what they mean", () => {
  expect([0, 0.04, 0.1, 2, 5.25, 9.94, 9.96, 12.34, 150].map(saySize)).toEqual([
    "0",
    "0",
    "0.1",
    "2",
    "5.3",
    "9.9",
    "10",
    "12",
    "150",
  ]);
});

test("changes carry their sign, and none has none", () => {
  expect([-30, -2.5, 0, -0.01, 7].map(sayChange)).toEqual(["−30", "−2.5", "0", "0", "+7"]);
});

test("a span is one figure where both sides are said alike", () => {
  expect(saySpan({ less: 30, more: 30 })).toBe("±30\u00a0%");
  expect(saySpan({ less: 12, more: 30 })).toBe("−12 to +30\u00a0%");
  expect(saySpan({ less: 30.2, more: 29.9 })).toBe("±30\u00a0%");
});
