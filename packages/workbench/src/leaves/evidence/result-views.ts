import { type AppliedEvidence, createTable, type EvidenceFit, type FuelTable } from "@fuelwright/table-core";
import type { CellDisplay } from "../../elements/fuel-grid/cell-display.ts";
import type { CellMark } from "../../elements/fuel-grid/cell-marks.ts";
import { counted, duration } from "./words.ts";

/** What the grid shows of a fit. */
export const resultViews = [
  ["correction", "what the log says is off"],
  ["applied", "what would be applied"],
  ["readings", "readings"],
  ["residual", "what is left after it"],
  ["spread", "scatter of what is left"],
] as const;
export type ResultView = (typeof resultViews)[number][0];

/** Readings without which a cell counts as not supported, as where evidence is applied. */
export const LEAST_READINGS = 25;

/** A grid to show: cells as factors of which nothing is known, the percentages to tint by, and how a cell is written. */
export interface ResultGrid {
  readonly table: FuelTable;
  readonly change: Float64Array;
  readonly display: CellDisplay;
  /** Standard deviation in percent; NaN where nothing is known. */
  readonly deviation: Float64Array | null;
  readonly words: string;
}

const asPercent: CellDisplay = {
  unit: "%",
  decimals: 1,
  // No log says 0: it stands for a cell of which nothing is known.
  show: (factor) => (factor === 0 ? Number.NaN : 100 * (factor - 1)),
  read: (text) => 1 + Number(text) / 100,
};
const asCount: CellDisplay = {
  unit: "readings",
  decimals: 0,
  show: (readings) => (readings === 0 ? Number.NaN : readings),
  read: Number,
};

/** The cells of a fit in one of its views. */
export function resultGrid(fit: EvidenceFit, view: ResultView, applied: AppliedEvidence | null): ResultGrid {
  const { corrections, coverage, deviation } = fit;
  const { samples } = coverage;
  const known = (at: number) => samples[at]! >= LEAST_READINGS;
  const grid = (values: (at: number) => number, words: string, shown = asPercent): ResultGrid => {
    const cells = corrections.cells.map((_, at) => values(at));
    return {
      table: createTable({ ...corrections, cells }),
      change: cells.map((cell) => (shown === asPercent && cell !== 0 ? 100 * (cell - 1) : 0)),
      display: shown,
      deviation: null,
      words,
    };
  };
  switch (view) {
    case "correction":
      return {
        ...grid((at) => (known(at) ? corrections.cells[at]! : 0), "Correction of each cell's fuel"),
        deviation: deviation.map((value, at) => (known(at) ? 100 * value : Number.NaN)),
      };
    case "applied":
      return grid((at) => {
        const change = applied?.applied[at] ?? 0;
        return change === 0 ? 0 : Math.exp(change);
      }, "Change of each cell's fuel");
    case "readings":
      return grid((at) => Math.round(samples[at]!), "Readings that speak for each cell", asCount);
    case "residual":
      return grid((at) => (known(at) ? 1 + coverage.residual[at]! : 0), "Mean of what the correction leaves");
    case "spread":
      return grid((at) => (known(at) ? 1 + coverage.spread[at]! : 0), "Scatter of what the correction leaves");
  }
}

const marksOf = new WeakMap<EvidenceFit, readonly CellMark[]>();

/** A dot on every cell that readings speak for, with how many. */
export function supportMarks(fit: EvidenceFit): readonly CellMark[] {
  let marks = marksOf.get(fit);
  if (!marks) {
    const { samples, seconds } = fit.coverage;
    marks = Array.from(samples, (count, at): CellMark | null =>
      count >= LEAST_READINGS
        ? { at, kind: "evidence", words: `${counted(Math.round(count), "reading")}, ${duration(seconds[at]!)}` }
        : null,
    ).filter((mark) => mark !== null);
    marksOf.set(fit, marks);
  }
  return marks;
}
