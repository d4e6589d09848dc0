import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { builds, pumps } from "../../testing/arbitraries.ts";
import { fuels } from "../fuel/fuel.ts";
import { FuelwrightError } from "../values/errors.ts";
import { convertUnit } from "../values/units.ts";
import { type BuildSpec, createBuild } from "./build.ts";

const spec: BuildSpec = {
  engine: { displacementCc: 500, cylinders: 2, revLimitRpm: 9000, injectionsPerCycle: 1 },
  fuel: fuels.petrol,
  injectors: { name: "invented", flowGramsPerSecond: 2.4, ratedPressureKpa: 300, deadTime: 0.9 },
  rail: { kind: "fixed", pressureKpa: 300 },
  battery: { volts: 13.8 },
  place: { altitudeM: 0, temperatureC: 20 },
  throttleBody: { diameterMm: 38, count: 2 },
  manifold: { effectiveAreaMm2: 700 },
  intake: { layout: "separate-pulses" },
  pump: { curve: [{ pressureKpa: 300, litresPerHour: 60 }], lossKpa: 15 },
  stages: [
    {
      name: "as ordered",
      displacementCc: 550,
      airCurve: [
        { rpm: 8000, factor: 1.1 },
        { rpm: 2000, factor: 0.95 },
      ],
    },
  ],
};

const failure = (change: (copy: Record<string, unknown>) => void): FuelwrightError => {
  const copy = JSON.parse(JSON.stringify(spec));
  change(copy);
  try {
    createBuild(copy);
  } catch (error) {
    if (error instanceof FuelwrightError) return error;
    throw error;
  }
  throw new Error("nothing thrown");
};

test("a build is plain data and its own spec", () => {
  const build = createBuild(spec);
  expect(createBuild(JSON.parse(JSON.stringify(build)))).toEqual(build);
  expect(build.planning.dutyPercent).toBe(85);
  expect(build.stages![0]!.airCurve!.map(({ rpm }) => rpm)).toEqual([2000, 8000]);
  expect([build, build.engine, build.pump, build.stages].every(Object.isFrozen)).toBe(true);
  fc.assert(
    fc.property(builds(), pumps(), (made, pump) => {
      const whole = createBuild({ ...made, pump });
      expect(createBuild(JSON.parse(JSON.stringify(whole)))).toEqual(whole);
    }),
    { numRuns: 30 },
  );
});

test("fields it doesn't know are dropped, even __proto__", () => {
  const build = createBuild(JSON.parse(`{"__proto__": {"x": 1}, "paint": "red", ${JSON.stringify(spec).slice(1)}`));
  expect(Object.keys(build)).not.toContain("paint");
  expect(Object.getPrototypeOf(build)).toBe(Object.prototype);
});

describe("impossible figures name their field", () => {
  test.each<[string, string, unknown, string]>([
    ["build.injectors.flowGramsPerSecond", "not-positive", 0, "above 0"],
    ["build.injectors.deadTime", "implausible", 900, "did you mean 900 µs (0.9 ms)?"],
    ["build.engine.displacementCc", "implausible", 0.5, "did you mean 0.5 L (500 cc)?"],
    ["build.engine.revLimitRpm", "implausible", 9, "did you mean 9 thousand rpm (9000 rpm)?"],
    ["build.engine.cylinders", "not-whole", 2.5, "round it"],
    ["build.engine.injectionsPerCycle", "unknown-choice", 3, "must be 1 or 2"],
    ["build.engine.volumetricEfficiencyPercent", "implausible", 0.9, "did you mean 0.9 as a fraction (90 %)?"],
    [
      "build.engine.brakeSpecificFuelConsumptionGPerKwh",
      "implausible",
      0.5,
      "did you mean 0.5 lb/(hp h) (304.1 g/kWh)?",
    ],
    ["build.rail.pressureKpa", "implausible", 3, "did you mean 3 bar (300 kPa)?"],
    ["build.battery.volts", "not-positive", 0, "above 0"],
    ["build.planning.dutyPercent", "implausible", 0.85, "did you mean 0.85 as a fraction (85 %)?"],
    ["build.place.altitudeM", "implausible", 9000, "did you mean 9000 ft (2743 m)?"],
    ["build.throttleBody.diameterMm", "implausible", 500, "did you mean 500 × 0.1 mm (50 mm)?"],
    ["build.throttleBody.diameterMm", "implausible", 1.5, "did you mean 1.5 in (38.1 mm)?"],
    ["build.manifold.effectiveAreaMm2", "implausible", 7, "did you mean 7 cm² (700 mm²)?"],
    ["build.intake.layout", "unknown-choice", "airbox", "shared-plenum, separate-pulses"],
    ["build.pump.curve[0].pressureKpa", "implausible", -1, "between 0 and 2000"],
    ["build.pump.curve[0].litresPerHour", "implausible", 3000, "did you mean 3000 cc/min (180 L/h)?"],
    ["build.stages[0].displacementCc", "implausible", 0.55, "did you mean 0.55 L (550 cc)?"],
    ["build.stages[0].airCurve[0].factor", "out-of-range", 110, "between 0.2 and 3"],
  ])("%s: %s", (path, code, value, words) => {
    const error = failure((copy) => {
      const keys = path
        .replace("build.", "")
        .split(/[.[\]]+/)
        .filter(Boolean);
      const last = keys.pop()!;
      let at: Record<string, unknown> = copy;
      for (const key of keys) at = (at[key] ??= {}) as Record<string, unknown>;
      at[last] = value;
    });
    expect(error.code).toBe(code);
    expect(error.message).toContain(path);
    expect(error.message).toContain(words);
  });

  test("missing parts", () => {
    for (const key of ["engine", "fuel", "injectors", "rail", "battery", "place"]) {
      const error = failure((copy) => {
        delete copy[key];
      });
      expect(error.message).toContain(`build.${key}`);
    }
    expect(() => createBuild(undefined as never)).toThrow("build must be an object");
    expect(failure((copy) => (copy.manifold = {})).code).toBe("bad-manifold");
  });
});

describe("a flow that the engine has no use for", () => {
  const withFlow = (flow: number) =>
    failure((copy) => {
      (copy.injectors as { flowGramsPerSecond: number }).flowGramsPerSecond = flow;
    });

  test("300 lb/h for a 500 cc twin were 300 cc/min", () => {
    const error = withFlow(convertUnit(300, "lb/h", "g/s"));
    expect(error.message).toBe(
      "build.injectors.flowGramsPerSecond must be near what the engine can use, about 1.813 g/s, got 37.8 g/s (300 lb/h), " +
        "20.85 times that; did you mean 300 cc/min (3.725 g/s)?",
    );
    expect(error.details.didYouMean).toBeCloseTo((300 * 0.745) / 60, 9);
  });

  test("24 cc/min were 24 lb/h", () => {
    expect(withFlow(convertUnit(24, "cc/min", "g/s", { densityKgPerL: 0.745 })).message).toContain(
      "did you mean 24 lb/h (3.024 g/s)?",
    );
  });

  test("generous injectors are nobody's mistake", () => {
    expect(
      createBuild({ ...spec, injectors: { ...spec.injectors, flowGramsPerSecond: 12 } }).injectors.flowGramsPerSecond,
    ).toBe(12);
  });
});
