import { createAxis, sameAxis } from "../values/axis.ts";
import { FuelwrightError } from "../values/errors.ts";
import type { EvidenceSummary } from "./evidence-summary.ts";

/** One cell that both logs speak for. */
export interface OutcomeCell {
  /** Row-major index. */
  readonly at: number;
  /** What was off before, as a share. */
  readonly before: number;
  /** What the first log says is left after the change. */
  readonly predicted: number;
  /** What the second log finds left. */
  readonly achieved: number;
  /** Of the difference between the two. */
  readonly deviation: number;
}

/** What became of a change: the second log against the first. */
export interface EvidenceOutcome {
  readonly cells: readonly OutcomeCell[];
  /** Root mean squares over these cells, weighted by how often the second ride was there. */
  readonly before: number;
  /** What the first log said would be left. */
  readonly predicted: number;
  /** What the second log finds left. */
  readonly achieved: number;
  /** What the second log's own uncertainty adds to `achieved`. */
  readonly uncertainty: number;
  /** Share of the cells that came out as predicted, within two deviations. */
  readonly asPredicted: number;
  /** Cells that did not, the worst first. */
  readonly surprises: readonly OutcomeCell[];
  /** Scatter of single readings that no table takes away, before and after. */
  readonly spreadBefore: number;
  /** See `spreadBefore`. */
  readonly spreadAfter: number;
  readonly simulated: boolean;
}

/**
 * Did it work? Predicted against achieved, cell by cell.
 *
 * @param before - the evidence that was applied
 * @param applied - logarithms of what each cell's fuel was multiplied by, as `applyEvidence` reports them
 * @param after - evidence from a log ridden on the changed table
 * @param leastSamples - readings without which a cell is left out; 25 unless said
 * @throws FuelwrightError `axes-do-not-match`, `nothing-to-compare`
 */
export function compareEvidence(
  before: EvidenceSummary,
  applied: ArrayLike<number>,
  after: EvidenceSummary,
  leastSamples = 25,
): EvidenceOutcome {
  for (const side of ["rpm", "load"] as const)
    if (!sameAxis(createAxis(before[side]), createAxis(after[side])) || applied.length !== before.factors.length)
      throw new FuelwrightError(
        "axes-do-not-match",
        "compareEvidence: both logs must be fitted for the same table; fit the second one for the table of the first",
        { side },
      );
  const cells: OutcomeCell[] = [];
  for (let at = 0; at < before.factors.length; at++) {
    if (!(before.samples[at]! >= leastSamples && after.samples[at]! >= leastSamples)) continue;
    const was = Math.log(before.factors[at]!);
    cells.push({
      at,
      before: was,
      predicted: was - applied[at]!,
      achieved: Math.log(after.factors[at]!),
      deviation: Math.hypot(before.deviations[at]!, after.deviations[at]!),
    });
  }
  if (cells.length === 0)
    throw new FuelwrightError(
      "nothing-to-compare",
      "compareEvidence: the two rides have no cell in common; ride where the first one was",
    );
  const weight = (at: number) => after.samples[at]!;
  const total = cells.reduce((sum, { at }) => sum + weight(at), 0);
  const mean = (value: (cell: OutcomeCell) => number) =>
    Math.sqrt(cells.reduce((sum, cell) => sum + weight(cell.at) * value(cell) ** 2, 0) / total);
  const off = (cell: OutcomeCell) => Math.abs(cell.achieved - cell.predicted) / cell.deviation;
  const surprises = cells.filter((cell) => off(cell) > 2).sort((a, b) => off(b) - off(a));
  return {
    cells,
    before: mean((cell) => cell.before),
    predicted: mean((cell) => cell.predicted),
    achieved: mean((cell) => cell.achieved),
    uncertainty: mean((cell) => after.deviations[cell.at]!),
    asPredicted: 1 - surprises.length / cells.length,
    surprises,
    spreadBefore: before.noise,
    spreadAfter: after.noise,
    simulated: before.simulated || after.simulated,
  };
}
