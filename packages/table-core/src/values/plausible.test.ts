import { expect, test } from "vitest";
import { refusal } from "../../testing/refusal.ts";
import { requirePlausible, trim } from "./plausible.ts";

/** Rail pressures of small engines, which are often read off in psi or bar. */
const rail = {
  low: 200,
  high: 600,
  unit: "kPa",
  mixUps: [
    { unit: "psi", toOwn: (typed: number) => typed * 6.894757 },
    { unit: "bar", toOwn: (typed: number) => typed * 100 },
  ],
};

test("a figure in its range is given back, ends included", () => {
  for (const value of [200, 300, 600]) expect(requirePlausible("rail", value, rail)).toBe(value);
});

test("a figure in another unit is refused with the unit that was probably meant", () => {
  const psi = refusal(() => requirePlausible("rail", 43.5, rail));
  expect(psi.code).toBe("implausible");
  expect(psi.message).toBe("rail must be between 200 and 600 kPa, got 43.5; did you mean 43.5 psi (299.9 kPa)?");
  expect(psi.details).toEqual({
    where: "rail",
    value: 43.5,
    low: 200,
    high: 600,
    unit: "kPa",
    didYouMean: 43.5 * 6.894757,
    didYouMeanUnit: "psi",
  });
  // The ends of the range count: exactly 2 and 6 bar.
  expect(refusal(() => requirePlausible("rail", 2, rail)).details).toMatchObject({ didYouMean: 200 });
  expect(refusal(() => requirePlausible("rail", 6, rail)).details).toMatchObject({ didYouMean: 600 });
});

test("a figure that no mix-up explains is refused without a guess", () => {
  for (const value of [199.9, 600.1, 7000, 0.5]) {
    const { message, details } = refusal(() => requirePlausible("rail", value, rail));
    expect(message).toMatch(/; check the figure and its unit$/);
    expect(details).toEqual({ where: "rail", value, low: 200, high: 600, unit: "kPa" });
  }
  const { message } = refusal(() => requirePlausible("rail", 3, { low: 200, high: 600, unit: "kPa" }));
  expect(message).toBe("rail must be between 200 and 600 kPa, got 3; check the figure and its unit");
});

test("what is no number is refused as that", () => {
  expect(refusal(() => requirePlausible("rail", "300", rail)).code).toBe("not-finite");
});

test("a sentence shows four significant figures at most", () => {
  expect([trim(299.9217), trim(0.000123456), trim(12), trim(1234567)]).toEqual(["299.9", "0.0001235", "12", "1235000"]);
});
