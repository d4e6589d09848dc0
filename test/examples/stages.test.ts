import { fuels } from "@fuelwright/table-core";
import { beforeAll, expect, test } from "vitest";
import { buildCore } from "./build-core.ts";
import { exampleBench } from "./run-example.ts";

beforeAll(buildCore);

test("it sets the build and three stages side by side, in the ratios that paper gives", () => {
  const { status, lines, stderr } = exampleBench("stages").run();
  expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
  const names = lines.filter((line) => !line.startsWith(" "));
  expect(names).toEqual(["as it is:", "larger bore:", "bore and larger injectors:", "alcohol:"]);
  const fuel = lines.flatMap((line) => /^ {2}(\S+) g\/s of fuel/.exec(line)?.[1] ?? []).map(Number);
  // Fuel goes with displacement, and against the stoichiometric ratio.
  expect(fuel[1]! / fuel[0]!).toBeCloseTo(1210 / 1085, 2);
  expect(fuel[2]).toBe(fuel[1]);
  expect(fuel[3]! / fuel[0]!).toBeCloseTo(fuels.petrol.stoichiometricRatio / fuels.E85.stoichiometricRatio, 2);
  const injectors = lines.flatMap((line) => /^ {2}injectors: (\S+),/.exec(line)?.[1] ?? []);
  expect(injectors).toEqual(["gives-out", "gives-out", "in-hand", "gives-out"]);
  expect(lines.filter((line) => line === "  first to give out: injectors")).toHaveLength(4);
  // Only where everything is in hand there is nothing to change.
  expect(lines.slice(lines.indexOf(names[2]!), lines.indexOf(names[3]!)).join()).not.toContain("to change");
});
