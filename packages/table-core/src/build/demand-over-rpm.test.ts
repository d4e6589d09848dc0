import { expect, test } from "vitest";
import { build as known, after as table } from "../../testing/plotted.ts";
import { createBuild } from "./build.ts";
import { checkCeilings } from "./check-ceilings.ts";
import { demandOverRpm } from "./demand-over-rpm.ts";
import { pumpFlow } from "./pump-flow.ts";

const build = createBuild({ ...known, throttleBody: { name: "invented", diameterMm: 38, shaftMm: 8 } });
const report = checkCeilings({ build, table, target: 0.88 });
const of = (part: "injectors" | "pump" | "intake" | "storage") => demandOverRpm(report, part, table, build.fuel);

test("injectors: the longest pulse against the planned share of the cycle", () => {
  const { rpm, demand, capacity, unit } = of("injectors")!;
  expect(unit).toBe("ms");
  rpm.forEach((speed, at) => {
    // One injection in a cycle of two revolutions.
    expect(capacity[at]).toBeCloseTo(((120_000 / speed) * build.planning.dutyPercent) / 100, 9);
  });
  expect(demand.at(-1)).toBe(report.demand.pulseMs.at(-1));
});

test("pump: litres an hour against what its curve gives at that pressure", () => {
  const { demand, capacity, rpm } = of("pump")!;
  const pressureKpa = build.rail.pressureKpa + (build.pump!.lossKpa ?? 0);
  const given = pumpFlow(build.pump!, { pressureKpa, volts: build.battery.volts }).litresPerHour;
  rpm.forEach((_, at) => {
    expect(capacity[at]).toBeCloseTo(given, 9);
  });
  const most = Math.max(...report.demand.fuelGramsPerSecond);
  expect(Math.max(...demand)).toBeCloseTo((most * 3.6) / build.fuel.densityKgPerL, 9);
});

test("intake: air against the same limit at every rpm; storage and parts not described have no lines", () => {
  const { capacity } = of("intake")!;
  for (const grams of capacity) expect(grams).toBeCloseTo(capacity[0]!, 9);
  expect(of("storage")).toBeNull();
  const { pump: _, ...without } = build;
  expect(demandOverRpm(checkCeilings({ build: without, table }), "pump", table, build.fuel)).toBeNull();
});
