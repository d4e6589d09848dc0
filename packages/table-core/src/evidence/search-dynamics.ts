import type { BandMatrix } from "../numeric/banded-cholesky.ts";
import { fitAt } from "../numeric/restricted-likelihood.ts";
import type { Axis } from "../values/axis.ts";
import { createAxis } from "../values/axis.ts";
import { evenStiffness, gridBends, gridPenalty } from "./bends.ts";
import { createGrid, type Dynamics, type Grid } from "./dynamics-pass.ts";
import {
  type DynamicsBySensor,
  dynamicsPrior,
  type Found,
  passOver,
  type SensorSeries,
  searchFrom,
  type Unknown,
  unknownsFor,
} from "./find-dynamics.ts";
import { firstSmoothness } from "./fit-surface.ts";
import type { Series } from "./series.ts";

/** Rows a sensor that a search looks at: more do not find delays better, they only take longer. */
const SEARCH_ROWS = 30_000;
/** Rows for a first look at very different delays. */
const LOOK_ROWS = 10_000;
/** Starts from which a few steps are taken, and how many. */
const TRIES = 3;
const TRY_PASSES = 8;
/** Breakpoints a side on which delays are searched for. */
const SEARCH_SIDE = 16;

export interface KnownDynamics {
  readonly constant?: number;
  readonly flow?: number;
  readonly lag?: number;
  readonly film?: { readonly share: number; readonly time: number } | null;
}

export interface SearchSetup {
  readonly sensors: number;
  readonly known: KnownDynamics;
  readonly hasFuel: boolean;
  readonly onPass: () => Promise<void>;
}

/** What a search gives to the final fit. */
export interface Searched {
  readonly dynamics: DynamicsBySensor;
  /** What was searched for; what is known is not among it. */
  readonly unknowns: readonly Unknown[];
  readonly strengths: readonly number[];
  readonly scale: number;
  readonly passes: number;
}

/** An axis with at most `most` of its breakpoints, both ends kept. */
export function coarse(axis: Axis, most: number): Axis {
  const { length } = axis.breakpoints;
  if (length <= most) return axis;
  const kept = Array.from({ length: most }, (_, at) => axis.breakpoints[Math.round((at * (length - 1)) / (most - 1))]!);
  return createAxis({ ...axis, breakpoints: kept });
}

/**
 * Delay, lag and film from the log: a look at very different delays, then damped steps from the best of them, with and
 * without a film where the log has pulses. On a grid of at most 16 by 16 and a part of a long log.
 */
export async function searchDynamics(
  parts: readonly SensorSeries[],
  grid: Grid,
  setup: SearchSetup,
): Promise<Searched> {
  const { sensors, known, hasFuel, onPass } = setup;
  const small = createGrid(coarse(grid.x, SEARCH_SIDE), coarse(grid.y, SEARCH_SIDE));
  const bends = gridBends(small);
  const penalties = gridPenalty(small, bends, evenStiffness(bends));
  const filmWanted = hasFuel && known.film === undefined;
  const unknowns = unknownsFor(sensors, filmWanted).filter(
    ({ key }) => key === "filmShare" || key === "filmTime" || known[key] === undefined,
  );
  const usual = (constant: number, flow: number): Dynamics => ({
    constant: known.constant ?? constant,
    flow: known.flow ?? flow,
    lag: known.lag ?? dynamicsPrior.lag.usual,
    filmShare: known.film ? known.film.share : filmWanted ? dynamicsPrior.filmShare.usual : 0,
    filmTime: known.film ? known.film.time : dynamicsPrior.filmTime.usual,
  });
  const everySensor = (dynamics: Dynamics): DynamicsBySensor => Array.from({ length: sensors }, () => dynamics);
  const { strengths } = firstSmoothness(small);
  const band = small.cells - 1;
  const start = everySensor(usual(dynamicsPrior.constant.usual, dynamicsPrior.flow.usual));
  if (unknowns.length === 0) return { dynamics: start, unknowns, strengths, scale: 0, passes: 0 };
  const look = selectRows(parts, LOOK_ROWS);
  const weigh = async (dynamics: DynamicsBySensor) => {
    await onPass();
    return { dynamics, loss: lossAt(look, dynamics, small, band, penalties, strengths) };
  };
  const looks: { dynamics: DynamicsBySensor; loss: number }[] = [];
  for (const constant of known.constant === undefined ? [0.03, 0.12, 0.3] : [known.constant])
    for (const flow of known.flow === undefined ? [0.05, 0.2, 0.45] : [known.flow])
      looks.push(await weigh(everySensor(usual(constant, flow))));
  const search = (
    rows: readonly SensorSeries[],
    from: DynamicsBySensor,
    what: readonly Unknown[],
    mostPasses = 30,
    every = 2,
  ) =>
    searchFrom(rows, {
      grid: small,
      penalties,
      band,
      every,
      robustness: "huber",
      start: from,
      unknowns: what,
      strengths,
      mostPasses,
      onPass,
    });
  // Delay, lag and film can stand in for one another: a few steps from each of the best, and the one that gets lowest.
  const byLoss = (a: { loss: number }, b: { loss: number }) => a.loss - b.loss;
  const tries: typeof looks = [];
  for (const { dynamics } of looks.sort(byLoss).slice(0, TRIES))
    tries.push(await weigh((await search(look, dynamics, unknowns, TRY_PASSES, 3)).dynamics));
  const best = tries.sort(byLoss)[0]!.dynamics;
  const rows = selectRows(parts, SEARCH_ROWS);
  const withFilm = await search(rows, best, unknowns);
  const found = filmWanted
    ? await withoutFilmIfUnseen(withFilm, unknowns, (from, what) => search(rows, from, what))
    : { found: withFilm, unknowns };
  return {
    dynamics: found.found.dynamics,
    unknowns: found.unknowns,
    strengths: found.found.strengths,
    scale: found.found.scale,
    passes: withFilm.passes,
  };
}

/** A film that the log does not show is left out, and the rest searched for again. */
async function withoutFilmIfUnseen(
  found: Found,
  unknowns: readonly Unknown[],
  search: (from: DynamicsBySensor, what: readonly Unknown[]) => Promise<Found>,
): Promise<{ found: Found; unknowns: readonly Unknown[] }> {
  const share = unknowns.findIndex(({ key }) => key === "filmShare");
  const information = found.joint.schur[share * unknowns.length + share]!;
  const deviation = found.scale / Math.sqrt(Math.max(information, 1e-300));
  if (found.dynamics[0]!.filmShare > Math.max(0.02, 4 * deviation)) return { found, unknowns };
  const rest = unknowns.filter(({ key }) => key !== "filmShare" && key !== "filmTime");
  const without = await search(
    found.dynamics.map((own) => ({ ...own, filmShare: 0 })),
    rest,
  );
  return { found: without, unknowns: rest };
}

/** Loss of the best cells at given dynamics: every choice has its own cells. */
export function lossAt(
  parts: readonly SensorSeries[],
  dynamics: DynamicsBySensor,
  grid: Grid,
  band: number,
  penalties: readonly BandMatrix[],
  strengths: readonly number[],
): number {
  const pass = passOver(parts, dynamics, { grid, band, unknowns: [], cells: null, scale: 1, robustness: "none" });
  if (pass.sums.count === 0) return Number.POSITIVE_INFINITY;
  // Robust enough: what is far off is far off for every delay.
  return fitAt(pass.sums, penalties, strengths).variance;
}

/** Up to about `most` rows a sensor: whole windows, spread evenly over all stretches. */
export function selectRows(parts: readonly SensorSeries[], most: number): SensorSeries[] {
  const sensors = new Set(parts.map(({ sensor }) => sensor)).size || 1;
  const total = parts.reduce((sum, { series }) => sum + series.count, 0);
  const wanted = most * sensors;
  if (total <= 1.25 * wanted) return [...parts];
  const windowRows = Math.max(500, Math.floor(most / 20));
  const every = total / wanted;
  return parts.flatMap(({ sensor, series }) => {
    const picked: SensorSeries[] = [];
    for (let from = series.lead; from < series.count; from += Math.round(windowRows * every)) {
      const lead = Math.min(from, 150);
      picked.push({
        sensor,
        series: sliceSeries(series, from - lead, Math.min(series.count, from + windowRows), lead),
      });
    }
    return picked;
  });
}

function sliceSeries(series: Series, from: number, to: number, lead: number): Series {
  return {
    ...series,
    count: to - from,
    lead,
    time: series.time.subarray(from, to),
    x: series.x.subarray(from, to),
    y: series.y.subarray(from, to),
    known: series.known.subarray(from, to),
    fuel: series.fuel.subarray(from, to),
    inverse: series.inverse.subarray(from, to),
    warmth: series.warmth.subarray(from, to),
    volume: series.volume.subarray(from, to),
    measured: series.measured.subarray(from, to),
    mask: series.mask.subarray(from, to),
    unfit: series.unfit.subarray(from, to + 1),
    since: series.since.slice(from, to).map((at) => Math.max(0, at - from)),
  };
}

/** What no correction explains, against the delay: the whole delay at the reference flow, its two parts in proportion. */
export async function delayProfile(
  parts: readonly SensorSeries[],
  grid: Grid,
  dynamics: DynamicsBySensor,
  onPass: () => Promise<void>,
): Promise<{ delay: number; residual: number }[]> {
  const small = createGrid(coarse(grid.x, SEARCH_SIDE), coarse(grid.y, SEARCH_SIDE));
  const bends = gridBends(small);
  const penalties = gridPenalty(small, bends, evenStiffness(bends));
  const { strengths } = firstSmoothness(small);
  const rows = selectRows(parts, LOOK_ROWS);
  const { constant, flow } = dynamics[0]!;
  const total = Math.max(0.02, constant + flow);
  const profile: { delay: number; residual: number }[] = [];
  for (let step = 0; step <= 12; step++) {
    const factor = step / 6;
    const shifted = dynamics.map((own) => ({
      ...own,
      constant: constant + flow > 0 ? own.constant * factor : total * factor,
      flow: own.flow * factor,
    }));
    const variance = lossAt(rows, shifted, small, small.cells - 1, penalties, strengths);
    profile.push({ delay: total * factor, residual: Math.sqrt(variance) });
    await onPass();
  }
  return profile;
}
