import { requireFinite, requirePositive, requireWithin } from "../values/require.ts";

/** A film of fuel on the intake's walls, by two figures (Aquino's X and tau). */
export interface FuelFilm {
  /** Share of the injected fuel that lands on the wall; 0..0.95. */
  readonly wallShare: number;
  /** Seconds in which the film falls to 37 % when nothing is added. */
  readonly evaporationS: number;
}

/** What happens to the film when flows are injected, each held for one step. */
export interface FilmRun {
  /** Film at the end of each step, g. */
  readonly filmG: Float64Array;
  /** Flow into the cylinder, mean over each step, g/s. */
  readonly deliveredGramsPerSecond: Float64Array;
  /** The same at the end of each step. */
  readonly deliveredAtEndGramsPerSecond: Float64Array;
}

/** Settings of {@link simulateFilm}. */
export interface SimulateFilm {
  readonly film: FuelFilm;
  /** Injected flow in each step, g/s, not negative. */
  readonly injectedGramsPerSecond: ArrayLike<number>;
  readonly stepS: number;
  /** Left out: the film that the first flow keeps up. */
  readonly startG?: number;
}

/**
 * Fuel on the intake's walls and fuel into the cylinder, for injected flows that each hold one step. Exact for such flows,
 * whatever the step; what goes in is in the film or comes out. O(steps).
 *
 * The film takes `wallShare` of what is injected and gives off film/`evaporationS`. Left out: how both follow temperature,
 * pressure and speed, a film that creeps along, and drops that pass through unburnt.
 *
 * @example simulateFilm({ film: { wallShare: 0.3, evaporationS: 0.4 }, injectedGramsPerSecond: [1, 2, 2], stepS: 0.02 })
 * @throws FuelwrightError `out-of-range`, `not-positive`, `not-finite`, naming the step
 * @see C. F. Aquino, SAE 810494 (1981)
 */
export function simulateFilm({ film, injectedGramsPerSecond, stepS, startG }: SimulateFilm): FilmRun {
  const { wallShare, evaporationS } = requireFilm("simulateFilm: film", film);
  requirePositive("simulateFilm: stepS", stepS);
  const count = injectedGramsPerSecond.length;
  let held =
    startG === undefined
      ? wallShare * evaporationS * (injectedGramsPerSecond[0] ?? 0)
      : requireWithin("simulateFilm: startG", startG, 0, Number.MAX_VALUE);
  const kept = Math.exp(-stepS / evaporationS);
  // 1 − kept, without losing digits where the step is short.
  const lost = -Math.expm1(-stepS / evaporationS);
  const filmG = new Float64Array(count);
  const delivered = new Float64Array(count);
  const deliveredAtEnd = new Float64Array(count);
  for (let at = 0; at < count; at++) {
    const flow = requireWithin(
      `simulateFilm: injectedGramsPerSecond[${at}]`,
      injectedGramsPerSecond[at],
      0,
      Number.MAX_VALUE,
    );
    const steady = wallShare * evaporationS * flow;
    const next = kept * held + lost * steady;
    // Said as a difference from the steady film, so that a film that is steady delivers exactly what is injected.
    delivered[at] = flow + (lost * (held - steady)) / stepS;
    deliveredAtEnd[at] = (1 - wallShare) * flow + next / evaporationS;
    filmG[at] = next;
    held = next;
  }
  return { filmG, deliveredGramsPerSecond: delivered, deliveredAtEndGramsPerSecond: deliveredAtEnd };
}

/** Film in g that a steady flow keeps up: X·tau·flow. @throws FuelwrightError */
export function steadyFilm(film: FuelFilm, gramsPerSecond: number): number {
  const { wallShare, evaporationS } = requireFilm("steadyFilm: film", film);
  return wallShare * evaporationS * requireWithin("steadyFilm: gramsPerSecond", gramsPerSecond, 0, Number.MAX_VALUE);
}

/**
 * The flow to inject in each step so that the cylinder gets the wanted one on average over each step: the inverse of
 * {@link simulateFilm}.
 *
 * Where the wanted flow falls faster than the film dries it is negative: no injector can do that.
 *
 * @throws FuelwrightError as simulateFilm
 */
export function compensateFilm({
  film,
  wantedGramsPerSecond,
  stepS,
  startG,
}: {
  readonly film: FuelFilm;
  readonly wantedGramsPerSecond: ArrayLike<number>;
  readonly stepS: number;
  readonly startG?: number;
}): Float64Array {
  const { wallShare, evaporationS } = requireFilm("compensateFilm: film", film);
  requirePositive("compensateFilm: stepS", stepS);
  const lost = -Math.expm1(-stepS / evaporationS);
  const direct = 1 - (lost * wallShare * evaporationS) / stepS;
  let held = startG ?? wallShare * evaporationS * (wantedGramsPerSecond[0] ?? 0);
  requireFinite("compensateFilm: startG", held);
  return Float64Array.from(wantedGramsPerSecond, (wanted, at) => {
    requireFinite(`compensateFilm: wantedGramsPerSecond[${at}]`, wanted);
    const flow = (wanted - (lost * held) / stepS) / direct;
    held += lost * (wallShare * evaporationS * flow - held);
    return flow;
  });
}

/** Returns `film` if it can be. @throws FuelwrightError `out-of-range`, `not-finite` */
export function requireFilm(where: string, film: FuelFilm): FuelFilm {
  requireWithin(`${where}.wallShare`, film?.wallShare, 0, 0.95);
  requireWithin(`${where}.evaporationS`, film.evaporationS, 0.001, 60);
  return film;
}

/**
 * Films to start from: orders of magnitude for injection into the port, warm and cold. Typical, from memory, not measured on
 * any engine: with the walls cold, more fuel lands and it stays longer (the trend of Aquino, SAE 810494).
 */
export const typicalFilms: Readonly<Record<"warm" | "cold", FuelFilm>> = Object.freeze({
  warm: Object.freeze({ wallShare: 0.25, evaporationS: 0.3 }),
  cold: Object.freeze({ wallShare: 0.5, evaporationS: 1.2 }),
});
