import { createAxis } from "@fuelwright/table-core";
import { expect, test } from "vitest";
import { axesDisplay, sayPlace } from "./display.ts";
import { usualPreferences } from "./preferences.ts";
import { sayRegion } from "./say-step.ts";

const rpm = createAxis({ quantity: "rpm", breakpoints: [1000, 3500] });
const load = createAxis({ quantity: "manifold-pressure", breakpoints: [40, 100] });
const table = { rpm, load };
const imperial = { units: "imperial", shownUnits: {} } as const;

test("axes are shown in the person's units, rpm in its own", () => {
  const shown = axesDisplay(table, imperial);
  expect([shown.rpm.unit, shown.load.unit]).toEqual(["rpm", "psi"]);
  // 1 psi is 6.894757293168 kPa (NIST SP 811).
  expect(shown.load.show(6.894757293168)).toBeCloseTo(1, 9);
  expect(shown.load.read(shown.load.show(40))).toBeCloseTo(40, 9);
});

test("places and regions are told in the same units as the heads of the grid", () => {
  expect(sayPlace(table, { rpm: 3500, load: 100 }, imperial)).toBe("3,500 rpm, 14.5 psi");
  expect(sayPlace(table, { rpm: 3500, load: 100 }, usualPreferences)).toBe("3,500 rpm, 100 kPa");
  const byHand = { units: "metric", shownUnits: { pressure: "bar" } } as const;
  expect(sayRegion({ rpm: [1000, 3500], load: [40, 100] }, table, byHand)).toBe("1,000–3,500 rpm, 0.4–1 bar");
  expect(sayRegion({ load: [40, 40] }, table)).toBe("40 kPa");
});

test("a region of a table that is not at hand names no unit of load", () => {
  expect(sayRegion({ load: [40, 60] }, undefined)).toBe("40–60 of load");
});
