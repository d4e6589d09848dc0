// Carries a table of pulse widths over to larger injectors.
//
//   node run.mjs [table.csv] [result.csv]
//
// Every figure in here is invented: put in those of your own parts. The result is a first guess to start an engine on, made
// cold, by a competent person, with a wideband sensor in the exhaust and an extinguisher at hand.
import { readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import {
  createBuild,
  createInjector,
  FuelwrightError,
  fuels,
  readTableText,
  rescaleForInjectors,
  writeTableText,
} from "@fuelwright/table-core";

const demo = fileURLToPath(new URL("pulse-widths.csv", import.meta.url));
const [source = demo, destination = "pulse-widths-rescaled.csv"] = process.argv.slice(2);

const from = createInjector({
  name: "first set",
  flowGramsPerSecond: 2.1,
  ratedPressureKpa: 300,
  testDensityKgPerL: 0.684,
  deadTime: 0.9,
});
const to = createInjector({
  name: "larger set",
  flowGramsPerSecond: 2.8,
  ratedPressureKpa: 300,
  testDensityKgPerL: 0.684,
  deadTime: 1.1,
  smallestPulseMs: 2.4,
});
const build = createBuild({
  engine: { displacementCc: 1085, cylinders: 2, revLimitRpm: 6800, injectionsPerCycle: 1 },
  fuel: fuels.petrol,
  injectors: from,
  rail: { kind: "fixed", pressureKpa: 300 },
  battery: { volts: 13.6 },
  place: { altitudeM: 4, temperatureC: 17 },
});
/** The controller keeps pulses in hundredths of a millisecond. */
const storage = { min: 0, max: 25.5, step: 0.01 };

try {
  const { table, recognised } = readTableText(readFileSync(source, "utf8"), { id: "main" });
  const { table: rescaled, report } = rescaleForInjectors(table, { from, to, build });
  const { text, rounding } = writeTableText(rescaled, { storage });
  writeFileSync(destination, text);

  console.log(`Read ${source}: ${table.name}, ${recognised.rows} rows of ${recognised.columns}.`);
  console.log(`  ${table.quantity} in ${recognised.unit.value}. ${recognised.quantity.reason}`);
  console.log(`From ${from.name} to ${to.name}:`);
  console.log(`  flow ratio ${report.constants.flowRatio.toFixed(3)}, dead time ${from.deadTime} to ${to.deadTime} ms`);
  console.log(`  fuel mass changes by ${most(report.cells.fuelChangePercent).toFixed(1)} % at most`);
  console.log(
    `  the flow ratio alone would be off by up to ${most(report.cells.flowRatioDifferencePercent).toFixed(1)} %`,
  );
  console.log(
    `  duty at most ${percent(most(report.cells.dutyBefore))} before, ${percent(most(report.cells.dutyAfter))} now`,
  );
  list("always open before", report.wasStatic, percent);
  list("always open now", report.static, percent);
  list("above the planning ceiling now", report.abovePlanning, percent);
  list("under the smallest repeatable pulse now", report.underSmallestPulse, (ms) => `${ms.toFixed(2)} ms`);
  for (const { text: sentence } of report.assumptions) console.log(`  assumed: ${sentence}`);
  console.log(
    `Wrote ${destination}, rounded to ${storage.step} ms (root mean square ${rounding.rootMeanSquare.toFixed(4)} ms).`,
  );
  console.log(
    "A first guess: start cold, with a wideband sensor and an extinguisher at hand. Lean under load destroys engines.",
  );
} catch (error) {
  // What was wrong, where, and what to do; what is neither bad input nor a missing file is a fault of this program.
  if (!(error instanceof FuelwrightError) && error.code !== "ENOENT") throw error;
  console.error(error.message);
  process.exitCode = 1;
}

function percent(share) {
  return `${(share * 100).toFixed(1)} %`;
}

/** The greatest of all cells, whatever its sign. */
function most(values) {
  return values.reduce((greatest, value) => Math.max(greatest, Math.abs(value)), 0);
}

function list(what, notes, say) {
  const cells = notes.map(({ rpm, load, value }) => `${rpm} rpm, ${load} kPa (${say(value)})`);
  console.log(`  ${what}: ${cells.length ? cells.join("; ") : "no cell"}`);
}
