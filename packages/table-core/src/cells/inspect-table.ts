import type { FuelTable } from "../values/fuel-table.ts";
import type { CellQuantity } from "../values/quantities.ts";
import { requireOneOf, requirePositive, requireWhole } from "../values/require.ts";
import { findAgainstLoad } from "./inspect/find-against-load.ts";
import { findFlats } from "./inspect/find-flats.ts";
import { findOutOfLine } from "./inspect/find-out-of-line.ts";
import { findSteps } from "./inspect/find-steps.ts";
import type { Finding } from "./inspect/finding.ts";

/** How much is too much. Everything may be left out. */
export interface InspectTable {
  /** Robust deviations by which a cell is out of line with its neighbours. Default 5. */
  readonly outOfLineDeviations?: number;
  /** Percent by which it must be off at least. Default 2. */
  readonly outOfLinePercent?: number;
  /** Percent between neighbours that is a jump. Default 25; for trims 10, for lambda 5. */
  readonly stepPercent?: number;
  /** How many times the usual difference along that axis a jump must be. Default 3. */
  readonly stepTimes?: number;
  /** Which way cells should go as load rises. Default `rising` for pulse width and fuel mass, else `none`. */
  readonly trend?: "rising" | "falling" | "none";
  /** Percent against the trend that is too much. Default 2. */
  readonly againstLoadPercent?: number;
  /** Touching cells of one value that are a flat. Default 6; trims, lambda and factors have none unless this is given. */
  readonly flatCells?: number;
}

const stepPercents: Partial<Record<CellQuantity, number>> = { trim: 10, lambda: 5 };
const rising: readonly CellQuantity[] = ["pulse-width", "fuel-mass"];
const seldomFlat: readonly CellQuantity[] = [...rising, "volumetric-efficiency"];

/**
 * What in a table looks unintended: cells out of line, jumps, runs against load, flats; each with a reason and a remedy.
 *
 * The thresholds are judgement, not law: a finding says where to look. Its remedy is a step's kind and settings, to be
 * shown and then kept or not. Cells out of line come first, worst first, and are not told again as jumps. O(cells).
 *
 * @example inspectTable(table)[0]?.reason // "3000 rpm, 60 kPa is 12 % above what its neighbours suggest, …"
 * @throws FuelwrightError `not-positive`, `out-of-range`, `unknown-choice` naming the threshold
 */
export function inspectTable(table: FuelTable, thresholds: InspectTable = {}): Finding[] {
  const {
    outOfLineDeviations = 5,
    outOfLinePercent = 2,
    stepPercent = stepPercents[table.quantity] ?? 25,
    stepTimes = 3,
    trend = rising.includes(table.quantity) ? "rising" : "none",
    againstLoadPercent = 2,
    flatCells = seldomFlat.includes(table.quantity) ? 6 : undefined,
  } = thresholds;
  const where = "inspectTable: ";
  requirePositive(`${where}outOfLineDeviations`, outOfLineDeviations);
  requirePositive(`${where}outOfLinePercent`, outOfLinePercent);
  requirePositive(`${where}stepPercent`, stepPercent);
  requirePositive(`${where}stepTimes`, stepTimes);
  requirePositive(`${where}againstLoadPercent`, againstLoadPercent);
  requireOneOf(`${where}trend`, trend, ["rising", "falling", "none"]);
  if (flatCells !== undefined) requireWhole(`${where}flatCells`, flatCells, 3, 65_536);
  const outOfLine = findOutOfLine(table, outOfLineDeviations, outOfLinePercent);
  const spikes = new Set(outOfLine.flatMap(({ cells }) => cells));
  return [
    ...outOfLine,
    ...findSteps(table, stepPercent, stepTimes, spikes),
    ...(trend === "none" ? [] : findAgainstLoad(table, trend, againstLoadPercent, spikes)),
    ...(flatCells === undefined ? [] : findFlats(table, flatCells)),
  ];
}
