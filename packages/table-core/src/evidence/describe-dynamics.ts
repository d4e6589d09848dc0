import type { Dynamics } from "./dynamics-pass.ts";
import type { DynamicsBySensor, Unknown } from "./find-dynamics.ts";
import { flowReference } from "./flow-reference.ts";

/** A figure with its standard deviation; 0 where it was given rather than found. */
export interface Figure {
  /** In the unit that its place says. */
  readonly value: number;
  /** In the same unit. */
  readonly deviation: number;
}

/** Delay and lag of one sensor, in seconds. */
export interface SensorDelay {
  /** Which one, from 1. */
  readonly sensor: number;
  readonly constant: Figure;
  /** At the reference flow; it grows as the flow falls. */
  readonly flow: Figure;
  readonly lag: Figure;
  /** Delay in all at the reference flow. */
  readonly total: Figure;
}

/** What was found between the cylinder and the number in the log. */
export interface DelayReport {
  readonly sensors: readonly SensorDelay[];
  /** Share of the fuel that goes to the intake wall, and seconds it stays there; null: none was seen or looked for. */
  readonly film: { readonly share: Figure; readonly time: Figure; readonly covariance: number } | null;
  /** Where the flow part of the delay is said. */
  readonly reference: { readonly rpm: number; readonly manifoldKpa: number };
  /** Whether the log shows the delay well enough (to a twentieth of a second). */
  readonly found: boolean;
  /** Standard deviation of what no correction explains, against the delay assumed: its bottom is the delay found. */
  readonly profile: readonly { readonly delay: number; readonly residual: number }[];
}

/**
 * The dynamics as figures with deviations.
 *
 * @param covariance - of the unknowns, in the search's units, row by row
 */
export function describeDynamics(
  dynamics: DynamicsBySensor,
  unknowns: readonly Unknown[],
  covariance: Float64Array,
  channels: readonly number[],
  profile: DelayReport["profile"],
): DelayReport {
  const n = unknowns.length;
  const at = (key: keyof Dynamics, sensor: number | null) =>
    unknowns.findIndex((unknown) => unknown.key === key && unknown.sensor === sensor);
  const spread = (i: number, j: number) => (i < 0 || j < 0 ? 0 : covariance[i * n + j]!);
  const root = (variance: number) => Math.sqrt(Math.max(0, variance));
  const sensors = dynamics.map((own, sensor): SensorDelay => {
    const constant = at("constant", sensor);
    const flow = at("flow", sensor);
    const lag = at("lag", sensor);
    return {
      sensor: channels[sensor]!,
      constant: { value: own.constant, deviation: root(spread(constant, constant)) },
      flow: { value: own.flow, deviation: root(spread(flow, flow)) },
      lag: { value: own.lag, deviation: own.lag * root(spread(lag, lag)) },
      total: {
        value: own.constant + own.flow,
        deviation: root(spread(constant, constant) + spread(flow, flow) + 2 * spread(constant, flow)),
      },
    };
  });
  const first = dynamics[0]!;
  const share = at("filmShare", null);
  const time = at("filmTime", null);
  const shareDeviation = root(spread(share, share));
  return {
    sensors,
    // A film within its own doubt is none that was seen; one that was given has no doubt.
    film:
      first.filmShare > (share < 0 ? 0 : Math.max(0.01, 2 * shareDeviation))
        ? {
            share: { value: first.filmShare, deviation: shareDeviation },
            time: { value: first.filmTime, deviation: first.filmTime * root(spread(time, time)) },
            covariance: first.filmTime * spread(share, time),
          }
        : null,
    reference: { rpm: flowReference.rpm, manifoldKpa: flowReference.pressure },
    found: sensors.every(({ total }) => total.deviation <= 0.05),
    profile,
  };
}
