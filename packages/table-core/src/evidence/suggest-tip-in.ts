import type { DelayReport, Figure } from "./describe-dynamics.ts";

/** What a step of the throttle does with the film that was found, and what would make up for it. */
export interface TipInSuggestion {
  /** Extra fuel at the moment of the step, as a share of the step in fuel: X/(1 − X). */
  readonly share: Figure;
  /** Seconds in which it falls to 37 %: (1 − X)·τ. */
  readonly decay: Figure;
  /** How lean the cylinder gets without it, at the worst moment, if fuel doubles: lambda over what is commanded. */
  readonly leanest: number;
  /** Lambda over commanded after a doubling of fuel, without enrichment and with the suggested one. */
  readonly response: readonly { readonly seconds: number; readonly without: number; readonly with: number }[];
  /** What to tell the user beside the figures. */
  readonly caution: string;
}

/**
 * A tip-in enrichment from the film that a log shows: a suggestion, applied by nobody but the user.
 *
 * The injected flow that makes the delivered one step at once is u = (w − m/τ)/(1 − X): after a step of fuel by Δ it
 * exceeds the new flow by X/(1−X)·Δ, and the excess dies away with the time constant (1−X)·τ.
 *
 * @returns null if no film was found
 * @see Aquino, SAE 810494 (1981)
 */
export function suggestTipIn(delay: Pick<DelayReport, "film">): TipInSuggestion | null {
  const { film } = delay;
  if (!film) return null;
  const x = film.share.value;
  const time = film.time.value;
  const left = 1 - x;
  const shareSlope = 1 / (left * left);
  const decayVariance =
    (time * film.share.deviation) ** 2 + (left * film.time.deviation) ** 2 - 2 * time * left * film.covariance;
  const decay = left * time;
  const response = Array.from({ length: 41 }, (_, at) => {
    const seconds = (at * 5 * time) / 40;
    // Fuel goes from 1 to 2: the film's outflow follows from x·1 to x·2.
    const delivered = 2 * left + x * (2 - Math.exp(-seconds / time));
    return { seconds, without: 2 / delivered, with: 1 };
  });
  return {
    share: { value: x / left, deviation: shareSlope * film.share.deviation },
    decay: { value: decay, deviation: Math.sqrt(Math.max(0, decayVariance)) },
    leanest: 2 / (2 - x),
    response,
    caution:
      "A suggestion from this log, for a warm engine at the temperatures it was ridden in: a cold wall holds more. Try a part of it first, with a wideband.",
  };
}
