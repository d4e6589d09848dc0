// Carries one list of steps out over every CSV of a folder, and writes the results into another.
//
//   node run.mjs [folder] [results] [steps.json]
//
// A table that can't be read, or that a step does not apply to, is told and left out; the others are done all the same.
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import {
  applyStep,
  checkSteps,
  compareTables,
  createBuild,
  FuelwrightError,
  fuels,
  readTableText,
  writeTableText,
} from "@fuelwright/table-core";

const here = (name) => fileURLToPath(new URL(name, import.meta.url));
const [folder = here("tables"), results = "results", stepsFile = here("steps.json")] = process.argv.slice(2);

/** Steps that ask for parts are carried out with these; invented. */
const build = createBuild({
  engine: { displacementCc: 1085, cylinders: 2, revLimitRpm: 6800, injectionsPerCycle: 1 },
  fuel: fuels.petrol,
  injectors: { name: "as built", flowGramsPerSecond: 2.3, ratedPressureKpa: 300, deadTime: 0.9 },
  rail: { kind: "manifold-referenced", pressureKpa: 300 },
  battery: { volts: 13.6 },
  place: { altitudeM: 4, temperatureC: 17 },
});
const steps = checkSteps(JSON.parse(readFileSync(stepsFile, "utf8")), "steps");
mkdirSync(results, { recursive: true });

let refused = 0;
for (const name of readdirSync(folder).sort()) {
  if (!name.endsWith(".csv")) continue;
  try {
    const { table } = readTableText(readFileSync(join(folder, name), "utf8"), { id: "main" });
    const before = { tables: { main: table }, build };
    const { main } = steps.reduce((state, step) => applyStep(state, step).state, before).tables;
    writeFileSync(join(results, name), writeTableText(main).text);
    const { changed, largestRise } = compareTables(table, main);
    const rise = largestRise ? `, up by at most ${largestRise.absolute.toFixed(2)} ${main.unit}` : "";
    console.log(`${name}: ${changed} of ${main.cells.length} cells changed${rise}`);
  } catch (error) {
    if (!(error instanceof FuelwrightError)) throw error;
    refused++;
    console.log(`${name}: left out. ${error.message}`);
  }
}
if (refused > 0) process.exitCode = 1;
