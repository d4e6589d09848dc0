import type { Changes } from "./changes.ts";

/** How many cells changed by how much. */
export interface ChangeCount {
  /** Width of a bin in percent. */
  readonly step: number;
  /** From the greatest fall to the greatest rise, without gaps; none where nothing changed. */
  readonly bins: readonly ChangeBin[];
  /** Cells that did not change. */
  readonly unchanged: number;
}

/** Changes above `from` and up to `to`, in size; falls are negative. An open end is infinite. */
export interface ChangeBin {
  readonly from: number;
  readonly to: number;
  readonly count: number;
}

/** Bins on one side at most, the open one not counted. */
const MOST = 8;

/**
 * Counts changes in bins of one round width that meet at zero: 0 to 2 %, 2 to 4 %, …, and the same downward.
 *
 * A few changes far beyond the others, and those from zero, are counted in an open bin, so that the others can be told apart.
 */
export function countChanges({ percent }: Pick<Changes, "percent">): ChangeCount {
  const sizes = Array.from(percent)
    .filter((change) => change !== 0)
    .map(Math.abs)
    .sort((a, b) => a - b);
  if (sizes.length === 0) return { step: 1, bins: [], unchanged: percent.length };
  const finite = sizes.filter(Number.isFinite);
  const most = finite.at(-1) ?? 1;
  const usual = finite[Math.ceil(0.9 * finite.length) - 1] ?? 1;
  const step = roundStep((most > 3 * usual ? usual : most) / MOST);
  // Whole multiples of the step, so that a change of just so much counts below the edge whatever its rounding.
  const binOf = (change: number) => Math.min(MOST + 1, Math.max(1, Math.ceil(Math.abs(change) / step - 1e-9)));
  const counts = new Map<number, number>();
  let unchanged = 0;
  for (const change of percent) {
    if (change === 0) unchanged++;
    else {
      const bin = Math.sign(change) * binOf(change);
      counts.set(bin, (counts.get(bin) ?? 0) + 1);
    }
  }
  const used = [...counts.keys()];
  const [lowest, highest] = [Math.min(0, ...used), Math.max(0, ...used)];
  const edge = (bin: number) => (bin > MOST ? Number.POSITIVE_INFINITY : Number((bin * step).toPrecision(12)));
  const bins: ChangeBin[] = [];
  for (let bin = lowest; bin < 0; bin++)
    bins.push({ from: 0 - edge(-bin), to: 0 - edge(-bin - 1), count: counts.get(bin) ?? 0 });
  for (let bin = 1; bin <= highest; bin++)
    bins.push({ from: edge(bin - 1), to: edge(bin), count: counts.get(bin) ?? 0 });
  return { step, bins: bins.map((bin) => ({ ...bin, to: bin.to + 0, from: bin.from + 0 })), unchanged };
}

/** The least of 1, 2 and 5 times a power of ten that is not below `least`. */
function roundStep(least: number): number {
  const power = 10 ** Math.floor(Math.log10(least));
  const factor = [1, 2, 5, 10].find((times) => times * power >= least * (1 - 1e-9))!;
  return Number((factor * power).toPrecision(12));
}
