import { compareSurfaces, compareTables, sameAxis } from "../../dist/index.js";
import { tableHelp, tableHints, tableOfText, tableOptions } from "../choose-table.mjs";

const help = `fuelwright compare A B [--table ID]

What changed from table A to table B, as B less A. Each is a CSV, or a job as it stands after its steps. Tables on other
breakpoints are compared as surfaces, where both are.

  --table ID          the table of a job; left out: its first
${tableHelp}  --json, --out FILE
`;

export const compare = {
  help,
  options: tableOptions,
  least: 2,
  most: 2,
  async run({ values, positionals: [a, b], files }) {
    const hints = tableHints(values);
    const before = tableOfText(await files.text(a), { id: values.table, fileId: "before", hints });
    const after = tableOfText(await files.text(b), { id: values.table, fileId: "after", hints });
    const same = sameAxis(before.rpm, after.rpm) && sameAxis(before.load, after.load);
    const result = same
      ? { rpm: before.rpm.breakpoints, load: before.load.breakpoints, ...compareTables(before, after) }
      : compareSurfaces(before, after);
    const { rpm, load, absolute, percent, changed, meanChange, largestRise, largestFall, roughness } = result;
    const rows = (cells) => load.map((_, row) => [...cells.slice(row * rpm.length, (row + 1) * rpm.length)]);
    const { unit } = before;
    const place = (change, word) =>
      change === null
        ? `no cell ${word}`
        : `${word} most at ${change.rpm} ${before.rpm.unit}${before.load.quantity === "single-row" ? "" : ` and ${change.load} ${before.load.unit}`}: ` +
          `${short(change.before)} to ${short(change.after)} ${unit}`;
    return {
      data: () => ({
        quantity: before.quantity,
        unit,
        sameBreakpoints: same,
        ...{ rpm, load, absolute: rows(absolute) },
        // JSON has no infinity: null where there was nothing to compare to.
        percent: rows(percent).map((row) => row.map((value) => (Number.isFinite(value) ? value : null))),
        ...{ changed, meanChange, largestRise, largestFall, roughness },
      }),
      text: () =>
        `${[
          `${changed} of ${absolute.length} ${same ? "cells" : "points"} changed, by ${short(meanChange)} ${unit} in the mean`,
          place(largestRise, "rose"),
          place(largestFall, "fell"),
          `roughness ${short(roughness.before)} to ${short(roughness.after)}`,
        ].join("\n")}\n`,
    };
  },
};

const short = (value) => String(Number(value.toPrecision(6)));
