import {
  bilinearWeights,
  createAxis,
  type EvidenceSummary,
  type FuelTable,
  type Replay,
  sameAxis,
} from "@fuelwright/table-core";

/** What the logs say of a cell as it is handed over. */
export type Proof = "corrected" | "confirmed" | "changed-since" | "few" | "unseen";

/** Readings without which a cell counts as not supported, where a step says nothing else. */
const LEAST_READINGS = 25;

/**
 * How well each cell is proven by the evidence that the job's steps brought in, row-major; null if none was.
 *
 * `corrected`: the last log that saw it moved it. `confirmed`: a log saw it and left it, within its doubt. `changed-since`: a
 * later step moved what the log had proven. `few`: too few readings. `unseen`: none at all.
 */
export function evidenceMap({ job, states, outcomes, state }: Replay, table: FuelTable): readonly Proof[] | null {
  const proofs: Proof[] = Array.from(table.cells, () => "unseen");
  let found = false;
  job.steps.forEach((step, place) => {
    if (step.kind !== "apply-evidence" || step.table !== table.id || outcomes[place]?.status !== "applied") return;
    const [before, after] = [states[place]?.tables[table.id], states[place + 1]?.tables[table.id]];
    if (!before || !after) return;
    found = true;
    const kept = sameAxis(after.rpm, table.rpm) && sameAxis(after.load, table.load);
    const now = state.tables[table.id] ?? table;
    const support = supportOf(table, step.settings.evidence as EvidenceSummary, step.settings.leastSamples);
    support.forEach((seen, at) => {
      if (seen === "unseen" || (seen === "few" && proofs[at] !== "unseen")) return;
      // On other breakpoints than the log was fitted for, a cell lies between proven ones.
      const moved = kept && after.cells[at] !== before.cells[at];
      const since = !kept || Math.abs(now.cells[at]! - after.cells[at]!) > 1e-9 * Math.abs(after.cells[at]!);
      proofs[at] = seen === "few" ? "few" : since ? "changed-since" : moved ? "corrected" : "confirmed";
    });
  });
  return found ? proofs : null;
}

/** Whether readings speak for each cell: interpolated cells are supported if all they lie between are. */
function supportOf(
  { rpm, load }: Pick<FuelTable, "rpm" | "load">,
  evidence: EvidenceSummary,
  least = LEAST_READINGS,
): ("supported" | "few" | "unseen")[] {
  const grid = { rpm: createAxis({ ...evidence.rpm }), load: createAxis({ ...evidence.load }) };
  const outside = ({ breakpoints }: typeof grid.rpm, value: number) =>
    value < breakpoints[0]! || value > breakpoints.at(-1)!;
  return load.breakpoints.flatMap((l) =>
    rpm.breakpoints.map((r) => {
      if (outside(grid.rpm, r) || outside(grid.load, l)) return "unseen";
      const { cells, weights } = bilinearWeights(grid, { rpm: r, load: l });
      const samples = Array.from(cells, (cell, k) => (weights[k]! > 0 ? evidence.samples[cell]! : null)).filter(
        (count) => count !== null,
      );
      if (samples.every((count) => count >= least)) return "supported";
      return samples.some((count) => count > 0) ? "few" : "unseen";
    }),
  );
}
