import type { Fuel } from "../fuel/fuel.ts";
import { requirePositive, requireWithin } from "../values/require.ts";
import { type FuelFilm, requireFilm, simulateFilm } from "./fuel-film.ts";
import { widebandView } from "./wideband-view.ts";

/** Extra fuel on a quick change: a share of the change, that dies away. */
export interface Enrichment {
  /** Of the rise in fuel that is asked for (on lift-off: of the fall, taken away); 0..400. */
  readonly percent: number;
  /** Seconds in which it falls to 37 %. */
  readonly decayS: number;
}

/** Settings of {@link throttleTransient}. */
export interface ThrottleTransient {
  /** Air into the whole engine, g/s, before and after. More after: tip-in. Less: lift-off. */
  readonly airBeforeGramsPerSecond: number;
  readonly airAfterGramsPerSecond: number;
  /** How long the air takes to change, evenly; default 0.1 s. */
  readonly rampS?: number;
  /** Mixture commanded throughout. */
  readonly lambda: number;
  readonly fuel: Pick<Fuel, "stoichiometricRatio">;
  readonly film: FuelFilm;
  /** Left out: none. */
  readonly tipIn?: Enrichment;
  readonly liftOff?: Enrichment;
  /** What the sensor does; default 0.15 s delay and 0.1 s lag, typical of a wideband near the port. */
  readonly wideband?: { readonly delayS: number; readonly lagS: number };
  /** When the throttle moves; default 0.5 s. */
  readonly startS?: number;
  /** How long is looked at; default 4 s. */
  readonly lastsS?: number;
  /** Default 0.01 s. */
  readonly stepS?: number;
}

/** What happens, step by step: flows are means over each step, film and sensor stand at its end. */
export interface TransientRun {
  /** End of each step, s. */
  readonly timeS: Float64Array;
  readonly airGramsPerSecond: Float64Array;
  /** What the mixture would need with no wall in the way. */
  readonly neededGramsPerSecond: Float64Array;
  readonly injectedGramsPerSecond: Float64Array;
  readonly filmG: Float64Array;
  readonly deliveredGramsPerSecond: Float64Array;
  /** In the cylinder; Infinity where no fuel arrives. */
  readonly cylinderLambda: Float64Array;
  readonly widebandLambda: Float64Array;
  /** The leanest and richest the cylinder gets from the moment the throttle moves, and how long it is off. */
  readonly leanest: { readonly lambda: number; readonly atS: number };
  readonly richest: { readonly lambda: number; readonly atS: number };
  /** Seconds leaner, and richer, than commanded by more than a twentieth. */
  readonly leanForS: number;
  /** See `leanForS`. */
  readonly richForS: number;
  /** The leanest and richest the sensor shows. */
  readonly shownLeanest: number;
  /** See `shownLeanest`. */
  readonly shownRichest: number;
}

/** Further off than this share of the commanded mixture counts as lean or rich. */
const OFF = 0.05;

/**
 * A throttle that opens or shuts: fuel injected, on the walls, in the cylinder, and what a wideband shows.
 *
 * The controller is taken to know the air at once and to ask for air/(lambda · ratio); the enrichment adds `percent` of every
 * rise of that, which dies away. With X/(1−X) and (1−X)·tau of the film the walls are made up for exactly. No injector
 * gives less than nothing. Left out: the manifold's filling, the controller's own delay, injection timing, and how the film
 * follows pressure and heat. O(steps).
 *
 * @throws FuelwrightError `not-positive`, `out-of-range`
 * @see C. F. Aquino, SAE 810494 (1981)
 */
export function throttleTransient(settings: ThrottleTransient): TransientRun {
  const where = "throttleTransient";
  const before = requirePositive(`${where}: airBeforeGramsPerSecond`, settings.airBeforeGramsPerSecond);
  const after = requirePositive(`${where}: airAfterGramsPerSecond`, settings.airAfterGramsPerSecond);
  const lambda = requirePositive(`${where}: lambda`, settings.lambda);
  const film = requireFilm(`${where}: film`, settings.film);
  const rampS = requireWithin(`${where}: rampS`, settings.rampS ?? 0.1, 0, 10);
  const startS = requireWithin(`${where}: startS`, settings.startS ?? 0.5, 0, 60);
  const stepS = requireWithin(`${where}: stepS`, settings.stepS ?? 0.01, 0.0005, 0.2);
  const lastsS = requireWithin(`${where}: lastsS`, settings.lastsS ?? 4, stepS, 120);
  const { delayS, lagS } = settings.wideband ?? { delayS: 0.15, lagS: 0.1 };
  const rising = decaying(`${where}: tipIn`, settings.tipIn, stepS);
  const falling = decaying(`${where}: liftOff`, settings.liftOff, stepS);

  const count = Math.round(lastsS / stepS);
  const airAt = (s: number) => {
    const share = s <= startS ? 0 : s >= startS + rampS ? 1 : (s - startS) / rampS;
    return before + share * (after - before);
  };
  const perAir = 1 / (lambda * settings.fuel.stoichiometricRatio);
  const timeS = new Float64Array(count);
  const air = new Float64Array(count);
  const needed = new Float64Array(count);
  const injected = new Float64Array(count);
  for (let at = 0; at < count; at++) {
    timeS[at] = (at + 1) * stepS;
    air[at] = airAt((at + 0.5) * stepS);
    needed[at] = air[at]! * perAir;
    const change = at === 0 ? 0 : needed[at]! - needed[at - 1]!;
    injected[at] = Math.max(0, needed[at]! + rising(Math.max(0, change)) + falling(Math.min(0, change)));
  }
  const run = simulateFilm({
    film,
    injectedGramsPerSecond: injected,
    stepS,
    startG: film.wallShare * film.evaporationS * before * perAir,
  });
  const delivered = run.deliveredGramsPerSecond;
  const { stoichiometricRatio } = settings.fuel;
  const cylinderLambda = delivered.map((flow, at) =>
    flow > 1e-9 * needed[at]! ? air[at]! / (flow * stoichiometricRatio) : Number.POSITIVE_INFINITY,
  );
  const widebandLambda = widebandView({ lambda: cylinderLambda, stepS, delayS, lagS });
  return {
    timeS,
    airGramsPerSecond: air,
    neededGramsPerSecond: needed,
    injectedGramsPerSecond: injected,
    filmG: run.filmG,
    deliveredGramsPerSecond: delivered,
    cylinderLambda,
    widebandLambda,
    ...extremes(cylinderLambda, lambda, timeS, stepS, Math.min(count - 1, Math.floor(startS / stepS))),
    shownLeanest: Math.max(...widebandLambda),
    shownRichest: Math.min(...widebandLambda),
  };
}

/** Turns changes of the fuel asked for into the mean extra flow of each step. */
function decaying(where: string, enrichment: Enrichment | undefined, stepS: number): (change: number) => number {
  if (!enrichment) return () => 0;
  const share = requireWithin(`${where}.percent`, enrichment.percent, 0, 400) / 100;
  const decayS = requireWithin(`${where}.decayS`, enrichment.decayS, 0.001, 60);
  const lost = -Math.expm1(-stepS / decayS);
  let extra = 0;
  return (change) => {
    extra += share * change;
    const mean = (extra * lost * decayS) / stepS;
    extra *= 1 - lost;
    return mean;
  };
}

/** Leanest and richest step from `first` on, and the time spent off. */
function extremes(lambdas: Float64Array, commanded: number, timeS: Float64Array, stepS: number, first: number) {
  let lean = first;
  let rich = first;
  let leanSteps = 0;
  let richSteps = 0;
  for (let at = first; at < lambdas.length; at++) {
    const lambda = lambdas[at]!;
    if (lambda > lambdas[lean]!) lean = at;
    if (lambda < lambdas[rich]!) rich = at;
    if (lambda > commanded * (1 + OFF)) leanSteps++;
    if (lambda < commanded * (1 - OFF)) richSteps++;
  }
  return {
    leanest: { lambda: lambdas[lean]!, atS: timeS[lean]! },
    richest: { lambda: lambdas[rich]!, atS: timeS[rich]! },
    leanForS: leanSteps * stepS,
    richForS: richSteps * stepS,
  };
}

/** The enrichment that makes up for a film exactly: X/(1−X) of the rise, dying away over (1−X)·tau. @throws FuelwrightError */
export function enrichmentFor(film: FuelFilm): Enrichment {
  const { wallShare, evaporationS } = requireFilm("enrichmentFor: film", film);
  return { percent: (100 * wallShare) / (1 - wallShare), decayS: (1 - wallShare) * evaporationS };
}
