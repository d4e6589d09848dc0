import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { fuels } from "../fuel/fuel.ts";
import { FuelwrightError } from "../values/errors.ts";
import { type Build, createBuild } from "./build.ts";
import { passageArea, solveIntake, throttleArea } from "./solve-intake.ts";

const twin = createBuild({
  engine: {
    displacementCc: 1085,
    cylinders: 2,
    revLimitRpm: 7000,
    injectionsPerCycle: 1,
    volumetricEfficiencyPercent: 90,
  },
  fuel: fuels.petrol,
  injectors: { name: "invented", flowGramsPerSecond: 3, ratedPressureKpa: 300, deadTime: 1 },
  rail: { kind: "manifold-referenced", pressureKpa: 300 },
  battery: { volts: 13.8 },
  place: { altitudeM: 0, temperatureC: 20 },
  throttleBody: { diameterMm: 40, count: 1 },
  manifold: { effectiveAreaMm2: 600 },
});
const layouts = fc.constantFrom("shared-plenum" as const, "separate-pulses" as const);
const airOf = (build: Build, rpm = 7000) => solveIntake({ build, rpm }).points[0]!.airGramsPerSecond;

test("the shared plenum's pressures solve both balances, by an independent iteration", () => {
  const build = createBuild({ ...twin, intake: { layout: "shared-plenum" } });
  const solved = solveIntake({ build, rpm: 9000 });
  const [point] = solved.points;
  // Newton on the two pressures with the textbook formula, derivatives by differences.
  const kelvin = 293.15;
  const flow = (areaMm2: number, from: number, to: number) => {
    const ratio = to / from;
    const root = Math.sqrt((2 / (287.05287 * kelvin)) * 3.5 * (ratio ** (2 / 1.4) - ratio ** (2.4 / 1.4)));
    return areaMm2 * 1e-6 * from * 1000 * root * 1000;
  };
  const engine = (kpa: number) => 0.9 * ((kpa * 1000) / (287.05287 * 308.15)) * 1085e-6 * (9000 / 120) * 1000;
  const residual = (p: readonly [number, number]): [number, number] => [
    flow(solved.throttleAreaMm2!, 101.325, p[0]) - engine(p[1]),
    flow(solved.manifoldAreaMm2!, p[0], p[1]) - engine(p[1]),
  ];
  let p: [number, number] = [98, 95];
  for (let step = 0; step < 50; step++) {
    const at = residual(p);
    const h = 1e-6;
    const d0 = residual([p[0] + h, p[1]]);
    const d1 = residual([p[0], p[1] + h]);
    const [a, b, c, d] = [(d0[0] - at[0]) / h, (d1[0] - at[0]) / h, (d0[1] - at[1]) / h, (d1[1] - at[1]) / h];
    const det = a * d - b * c;
    p = [p[0] - (d * at[0] - b * at[1]) / det, p[1] - (a * at[1] - c * at[0]) / det];
  }
  expect(point!.betweenKpa).toBeCloseTo(p[0], 6);
  expect(point!.manifoldKpa).toBeCloseTo(p[1], 6);
  expect(point!.airGramsPerSecond).toBeCloseTo(engine(p[1]), 6);
});

describe("laws", () => {
  test("more area never draws less; mass is the same at every part", () => {
    fc.assert(
      fc.property(
        layouts,
        fc.integer({ min: 24, max: 60 }),
        fc.integer({ min: 200, max: 1500 }),
        fc.integer({ min: 0, max: 12 }),
        fc.integer({ min: 2000, max: 12_000 }),
        (layout, diameterMm, effectiveAreaMm2, more, rpm) => {
          const build = createBuild({
            ...twin,
            intake: { layout },
            throttleBody: { diameterMm },
            manifold: { effectiveAreaMm2 },
          });
          const air = airOf(build, rpm);
          const larger = createBuild({ ...build, throttleBody: { diameterMm: diameterMm + more } });
          const wider = createBuild({ ...build, manifold: { effectiveAreaMm2: effectiveAreaMm2 + 50 * more } });
          expect(airOf(larger, rpm)).toBeGreaterThanOrEqual(air * (1 - 1e-7));
          expect(airOf(wider, rpm)).toBeGreaterThanOrEqual(air * (1 - 1e-7));
          expect(air).toBeLessThanOrEqual(solveIntake({ build, rpm }).points[0]!.capacityGramsPerSecond * (1 + 1e-6));
          // Neither part alone restricts more than both.
          const { manifold: _, ...withoutManifold } = build;
          expect(airOf(withoutManifold, rpm)).toBeGreaterThanOrEqual(air * (1 - 1e-6));
        },
      ),
      { numRuns: 30 },
    );
  });

  test("less open never draws more", () => {
    let last = 0;
    for (const openingPercent of [0, 2, 5, 10, 20, 40, 70, 100]) {
      const [point] = solveIntake({ build: twin, rpm: 6000, openingPercent }).points;
      expect(point!.airGramsPerSecond).toBeGreaterThanOrEqual(last);
      last = point!.airGramsPerSecond;
    }
  });
});

test("a larger throttle body behind a small manifold gains little (common practice)", () => {
  const small = createBuild({ ...twin, manifold: { effectiveAreaMm2: 430 }, throttleBody: { diameterMm: 36 } });
  const body = createBuild({ ...small, throttleBody: { diameterMm: 48 } });
  const manifold = createBuild({ ...small, manifold: { effectiveAreaMm2: 800 } });
  const both = createBuild({ ...body, manifold: { effectiveAreaMm2: 800 } });
  const gain = (build: Build) => airOf(build) / airOf(small) - 1;
  // A third more bore gains 6 % here; the manifold alone 23 %, and both together 34 %: more than the two apart.
  expect(gain(body)).toBeLessThan(0.07);
  expect(gain(manifold)).toBeGreaterThan(3 * gain(body));
  expect(gain(both)).toBeGreaterThan(gain(body) + gain(manifold));
});

test("separate pulses restrict more than a plenum with the same parts", () => {
  const loss = (layout: "shared-plenum" | "separate-pulses") =>
    solveIntake({ build: createBuild({ ...twin, intake: { layout } }), rpm: 7000 }).points[0]!.lossPercent;
  expect(loss("separate-pulses")).toBeGreaterThan(2 * loss("shared-plenum"));
});

test("areas follow from what is given", () => {
  // 40 mm bore, 8 mm shaft: 1256.6 - 317.9 mm² free, of which an ideal nozzle of 0.8.
  const strip = 2 * (4 * Math.sqrt(400 - 16) + 400 * Math.asin(0.2));
  const body = { diameterMm: 40, shaftMm: 8, dischargeCoefficient: 0.8 };
  expect(throttleArea(body)).toBeCloseTo(0.8 * (Math.PI * 400 - strip), 9);
  expect(throttleArea(body, 0)).toBeCloseTo(0.003 * throttleArea(body), 9);
  // 100 L/s at 6.97 kPa: 120.41 g/s over a flux of 124.9 kg/(s m²).
  const area = passageArea({ flowBench: { litresPerSecond: 100, depressionKpa: 6.97 } });
  expect(area).toBeGreaterThan(940);
  expect(area).toBeLessThan(980);
  expect(passageArea({ flowBench: { litresPerSecond: 200, depressionKpa: 6.97 } })).toBeCloseTo(2 * area, 9);
});

test("what is assumed is said, with how much it matters", () => {
  const { volumetricEfficiencyPercent: _, ...engine } = twin.engine;
  const { assumptions, basis } = solveIntake({ build: { ...twin, engine }, rpm: [3000, 7000] });
  expect(basis).toBe("estimated");
  expect(assumptions.map(({ id }) => id)).toEqual([
    "discharge-coefficient",
    "intake-layout",
    "efficiency",
    "charge-temperature",
  ]);
  expect(assumptions[0]!.mattersPercent).toBeGreaterThan(0);
  const { throttleBody: _1, manifold: _2, ...bare } = twin;
  expect(() => solveIntake({ build: bare, rpm: 7000 })).toThrow(FuelwrightError);
  expect(() => solveIntake({ build: twin, rpm: 0 })).toThrow("rpm[0] must be above 0");
});
