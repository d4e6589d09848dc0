// Makes a table richer under load, takes a bump out, and tells what each of the two did.
//
//   node run.mjs [table.csv] [result.csv]
//
// Every figure in here is invented. Leaner under load detonates and destroys engines: read the report before you ride.
import { readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import {
  compareTables,
  createBuild,
  describeSmoothing,
  FuelwrightError,
  fuels,
  readTableText,
  retargetMixture,
  smoothCells,
  writeTableText,
} from "@fuelwright/table-core";

const demo = fileURLToPath(new URL("pulse-widths.csv", import.meta.url));
const [source = demo, destination = "pulse-widths-smooth.csv"] = process.argv.slice(2);

const build = createBuild({
  engine: { displacementCc: 1085, cylinders: 2, revLimitRpm: 6800, injectionsPerCycle: 1 },
  fuel: fuels.petrol,
  injectors: { name: "as built", flowGramsPerSecond: 2.8, ratedPressureKpa: 300, deadTime: 0.9 },
  rail: { kind: "manifold-referenced", pressureKpa: 300 },
  battery: { volts: 13.6 },
  place: { altitudeM: 4, temperatureC: 17 },
});
/** Full from 80 kPa, and fading out down to 60. */
const underLoad = { load: [80, 100], feather: { load: 20 } };
/** Around the cell that stands out; its own reading counts for nothing, so that it follows its neighbours. */
const around = { rpm: [2000, 4000], load: [40, 80] };
const bump = { rpm: [3000, 3000], load: [60, 60] };

try {
  const { table } = readTableText(readFileSync(source, "utf8"), { id: "main" });
  const { table: richer, report } = retargetMixture(table, { from: 0.9, to: 0.87, region: underLoad, build });
  const smoothing = { region: around, strength: 0.02, weights: [{ region: bump, weight: 0 }], hold: "rim" };
  const smooth = smoothCells(richer, smoothing);
  writeFileSync(destination, writeTableText(smooth, { storage: { min: 0, max: 25.5, step: 0.01 } }).text);

  const most = (cells) => Math.max(...cells).toFixed(1);
  console.log(`${table.name}: ${table.load.breakpoints.length} rows of ${table.rpm.breakpoints.length}.`);
  console.log(`Lambda 0.9 to 0.87 from 80 kPa: fuel up by at most ${most(report.fuelChangePercent)} %.`);
  console.log(`  duty at most ${most(report.dutyAfter.map((duty) => 100 * duty))} %`);
  console.log(`  leaner at high load: ${report.leanerAtHighLoad.length || "no cell"}`);
  console.log(`  always open: ${report.static.length || "no cell"}`);
  const { changed, largestFall, roughness } = compareTables(richer, smooth);
  const { filled, held } = describeSmoothing(richer, smoothing);
  console.log(`Smoothed: ${changed} cells moved, ${filled} filled in from its neighbours, ${held} held.`);
  const { rpm, load, before, after } = largestFall;
  console.log(`  most at ${rpm} rpm and ${load} kPa: ${before.toFixed(2)} to ${after.toFixed(2)} ms`);
  console.log(`  roughness ${roughness.before.toPrecision(3)} to ${roughness.after.toPrecision(3)}`);
  console.log(`Wrote ${destination}. Check it with a wideband sensor before you ride hard.`);
} catch (error) {
  if (!(error instanceof FuelwrightError) && error.code !== "ENOENT") throw error;
  console.error(error.message);
  process.exitCode = 1;
}
