// Makes a table richer under load, and draws it, what changed and what gives out, as SVG files: without a browser.
//
//   node run.mjs [light|dark|print] [folder]
//
// Every figure in here is invented.
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import {
  checkCeilings,
  createBuild,
  darkInks,
  demandOverRpm,
  fuels,
  lightInks,
  plotCeilings,
  plotChangeHistogram,
  plotDemand,
  plotSlice,
  plotTable,
  plotTableMap,
  printInks,
  readTableText,
  retargetMixture,
  writeSvg,
} from "@fuelwright/table-core";

const kinds = { light: lightInks, dark: darkInks, print: printInks };
const [kind = "print", folder = "plots"] = process.argv.slice(2);
const inks = kinds[kind];
if (!inks) {
  console.error(`There are no inks named ${kind}; take one of ${Object.keys(kinds).join(", ")}.`);
  process.exit(2);
}

const text = readFileSync(new URL("pulse-widths.csv", import.meta.url), "utf8");
const { table: before } = readTableText(text, { id: "main" });
const build = createBuild({
  engine: { displacementCc: 1085, cylinders: 2, revLimitRpm: 6800, injectionsPerCycle: 1 },
  fuel: fuels.petrol,
  injectors: { name: "as built", flowGramsPerSecond: 2.1, ratedPressureKpa: 300, deadTime: 0.9, smallestPulseMs: 2.6 },
  rail: { kind: "fixed", pressureKpa: 300 },
  battery: { volts: 13.6 },
  place: { altitudeM: 4, temperatureC: 17 },
  pump: {
    name: "as built",
    curve: [
      { pressureKpa: 250, litresPerHour: 22 },
      { pressureKpa: 400, litresPerHour: 14 },
    ],
  },
});
const region = { load: [90, 100], feather: { load: 30 } };
const richer = retargetMixture(before, { from: 0.9, to: 0.85, region, build });
const table = { ...richer.table, name: "Richer under load" };
const report = checkCeilings({ build, table, target: 0.85 });
const { ceilings } = report;

const pictures = {
  table: plotTable(table, { before, ceilings, inks }),
  changes: plotTable(table, { before, figures: "change", inks }),
  map: plotTableMap(table, { before, ceilings, inks }),
  row: plotSlice(table, { before, along: "rpm", at: 100, inks }),
  column: plotSlice(table, { before, along: "load", at: 5000, inks }),
  histogram: plotChangeHistogram({ before, after: table }, { inks }),
  ceilings: plotCeilings(report, { table, inks }),
  injectors: plotDemand(demandOverRpm(report, "injectors", table, build.fuel), { inks }),
  pump: plotDemand(demandOverRpm(report, "pump", table, build.fuel), { inks }),
};

mkdirSync(folder, { recursive: true });
for (const [name, picture] of Object.entries(pictures)) {
  const path = join(folder, `${name}.svg`);
  writeFileSync(path, writeSvg(picture));
  console.log(`${path}, ${picture.width} by ${picture.height}: ${picture.title}`);
}
// What a reader who doesn't see a picture is told.
console.log(pictures.histogram.description);
