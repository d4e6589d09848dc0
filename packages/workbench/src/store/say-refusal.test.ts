import { type BuildSpec, comparePlaces, createBuild, FuelwrightError, whatWouldItTake } from "@fuelwright/table-core";
import { expect, test } from "vitest";
import { demoJob } from "./demo-job.ts";
import { sayPath, sayRefusal } from "./say-refusal.ts";

const refusal = (work: () => unknown): string => {
  try {
    work();
  } catch (error) {
    if (error instanceof FuelwrightError) return sayRefusal(error.message);
    throw error;
  }
  throw new Error("nothing was refused");
};

const { build, tables } = demoJob();
const built = (part: Partial<BuildSpec>) => () => createBuild({ ...build, ...part });

test("a refused figure is called what the page calls it, with what to do", () => {
  expect(refusal(built({ throttleBody: { diameterMm: 500 } }))).toBe(
    "Bore of the throttle body must be between 8 and 130 mm, got 500; did you mean 500 × 0.1 mm (50 mm)?",
  );
  expect(refusal(built({ rail: { kind: "fixed", pressureKpa: 3 } }))).toMatch(
    /^Pressure of the rail must be between .* did you mean 3 bar \(300 kPa\)\?$/,
  );
  expect(refusal(built({ battery: { volts: 0 } }))).toMatch(/^Voltage of the battery must be/);
  expect(refusal(built({ engine: { ...build.engine, displacementCc: 1.085 } }))).toMatch(/^Displacement must be/);
  expect(refusal(built({ pump: { curve: [{ pressureKpa: 300, litresPerHour: -1 }] } }))).toMatch(
    /^Flow of the pump, point 1 must be/,
  );
  const rising = [
    { pressureKpa: 200, litresPerHour: 30 },
    { pressureKpa: 300, litresPerHour: 40 },
  ];
  expect(refusal(built({ pump: { curve: rising } }))).toMatch(/^Curve of the pump must not rise with pressure, got 30/);
});

test("stages and the tools are told the same way", () => {
  const stages = [{ name: "one" }, { name: "two", displacementCc: 1 }];
  expect(refusal(built({ stages }))).toMatch(/^Displacement, stage 2 must be between 20 and 20000 cc/);
  expect(refusal(() => comparePlaces({ build, to: { altitudeM: 9000, temperatureC: 5 } }))).toMatch(
    /^Altitude must be between .* got 9000; did you mean 9000 ft \(2743 m\)\?$/,
  );
  const [table, target] = tables;
  expect(refusal(() => whatWouldItTake({ build, table: table!, target: target!, wish: { powerKw: 0 } }))).toMatch(
    /^Power must be above 0/,
  );
});

test("what it doesn't know stays as it is", () => {
  expect(sayPath("build.warp")).toBeNull();
  expect(sayPath("build.fuel.name")).toBe("name of the fuel");
  expect(sayPath("build.stages[1].pump.curve[0].litresPerHour")).toBe("flow of the pump, point 1, stage 2");
  expect(sayRefusal("sizeInjectors: fuel asks for no fuel in any cell; give a table that does")).toBe(
    "Fuel asks for no fuel in any cell; give a table that does",
  );
});
