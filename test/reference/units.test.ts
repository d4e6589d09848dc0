import { convertUnit } from "@fuelwright/table-core";
import { describe, expect, test } from "vitest";
import reference from "./units.json";

// Source: NIST Special Publication 811 (2008), appendix B; ISO 80000; exact definitions of 1959, as exact ratios in the file.

/** The reference names some units at more length than the library does. */
const ownName = (name: string) =>
  ({
    "inHg (conventional)": "inHg",
    "mmHg (conventional)": "mmHg",
    "hp (550 ft lbf/s)": "hp",
    "hp (metric, 75 kgf m/s)": "PS",
    "Btu(IT)/lb": "Btu/lb",
  })[name] ?? name;

const RELATIVE = 1e-12;

/** Within the file's tolerance, or half a unit of the last figure printed in it. */
function expectClose(value: number, expected: number, relative = RELATIVE): void {
  expect(Math.abs(value - expected)).toBeLessThanOrEqual(relative * Math.abs(expected));
}

const cases = reference.cases;
const of = <K extends (typeof cases)[number]["kind"]>(kind: K) => cases.filter((c) => c.kind === kind);

describe("factors", () => {
  test.each(of("factor").map((c) => [`${c.from} to ${c.to}`, c] as const))("%s", (_, c) => {
    const factor = convertUnit(1, ownName(c.from!), ownName(c.to!));
    // The printed factor has 15 figures; the ratio of whole numbers is exact.
    expectClose(factor, c.factor!);
    if (c.rational) {
      const [over, under] = c.rational.split("/");
      expectClose(factor, Number(over) / Number(under), 1e-15);
    }
    expectClose(convertUnit(factor, ownName(c.to!), ownName(c.from!)), 1, 1e-15);
  });

  test.each(of("factor").flatMap((c) => (c.sp811 ? [[`${c.from} to ${c.to}`, c] as const] : [])))(
    "%s as SP 811 prints it (figures from memory, seven of them)",
    (_, c) => {
      const [digits, power] = c.sp811!.replace(" exact", "").split(" E");
      const printed = Number(digits) * 10 ** Number(power);
      expectClose(convertUnit(1, ownName(c.from!), ownName(c.to!)), printed, 5e-7);
    },
  );
});

test.each(of("temperature").map((c) => [c.degC!, c] as const))("%s °C in the other scales", (celsius, c) => {
  const scales = { "°F": c.degF!, K: c.K!, "°R": c.degR! };
  for (const [scale, value] of Object.entries(scales)) {
    // Some are 0, so the tolerance is absolute: 15 printed figures of some hundred degrees.
    expect(Math.abs(convertUnit(celsius, "°C", scale) - value)).toBeLessThan(1e-12);
    expect(Math.abs(convertUnit(value, scale, "°C") - celsius)).toBeLessThan(1e-12);
  }
});

test.each(of("fuelFlow").map((c) => [c.lb_h!, c.density_g_cc!, c] as const))(
  "%s lb/h of fuel of %s kg/L",
  (poundsPerHour, densityKgPerL, c) => {
    // The file prints 13 figures.
    expectClose(convertUnit(poundsPerHour, "lb/h", "cc/min", { densityKgPerL }), c.cc_min!);
    expectClose(convertUnit(c.cc_min!, "cc/min", "lb/h", { densityKgPerL }), poundsPerHour);
    expectClose(convertUnit(poundsPerHour, "lb/h", "g/s"), c.g_s!);
    expectClose(convertUnit(poundsPerHour, "lb/h", "kg/h"), c.kg_h!);
  },
);

test("the workshop's 10.5 cc/min to the lb/h holds at the density it implies (common practice)", () => {
  const [rule] = of("rule");
  expectClose(convertUnit(1, "lb/h", "cc/min", { densityKgPerL: rule!.impliedDensity_g_cc! }), 10.5, 1e-10);
});

test.each(of("airFlow").map((c) => [c.ft3_min!, c.density_kg_m3!, c] as const))(
  "%s ft3/min of air of %s kg/m3",
  (flow, density, c) => {
    const densityKgPerL = convertUnit(density, "kg/m3", "kg/L");
    expectClose(convertUnit(flow, "ft3/min", "kg/s", { densityKgPerL }), c.kg_s!);
    expectClose(convertUnit(flow, "ft3/min", "lb/min", { densityKgPerL }), c.lb_min!);
  },
);

test.each(of("value").map((c) => [c.value!, c.from!, c] as const))("%s %s", (value, from, c) => {
  expectClose(convertUnit(value, from, c.to!), c.result!);
});

test("every kind of case in the file is checked above", () => {
  const checked = ["factor", "temperature", "fuelFlow", "rule", "airFlow", "value"];
  expect([...new Set(cases.map(({ kind }) => kind))].sort()).toEqual([...checked].sort());
});
