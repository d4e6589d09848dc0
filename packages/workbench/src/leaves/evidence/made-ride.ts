import { type AppliedEvidence, type FuelTable, type SimulatedLogOptions, simulateLog } from "@fuelwright/table-core";
import type { Desk } from "../../store/desk.ts";

/** Every figure of the made rides is invented; the same job gives the same rides. */
const SEED = 41;

/** What such a ride is like: a quarter of an hour with a film on the intake wall, and a few cells out of line. */
const ride = {
  minutes: 15,
  hertz: 40,
  noise: 0.012,
  film: { share: 0.18, time: 0.18 },
  surface: { amplitude: 0.035, outOfLine: 4, outBy: 0.07 },
} as const;

/** Whether a made ride can be had for a table: the made engine is described by rpm and manifold pressure alone. */
export const canMakeRide = (table: FuelTable | null): table is FuelTable =>
  table?.rpm.quantity === "rpm" && table.load.quantity === "manifold-pressure";

/**
 * A made ride on the table as it is now: what is off of it was drawn once by lot, and less of it is left with each made
 * log that was applied.
 */
export function madeRide(desk: Desk, table: FuelTable): SimulatedLogOptions {
  const { rpm, load } = table;
  const truth = simulateLog({ ...ride, seed: SEED, rpm, load }).truth.corrections.slice();
  let rides = 0;
  desk.job.steps.forEach((step, at) => {
    if (step.kind !== "apply-evidence" || !step.settings.evidence.simulated || step.table !== table.id) return;
    const { status, report } = desk.bench.replay.outcomes[at]!;
    const applied = (report as AppliedEvidence | undefined)?.applied;
    if (status !== "applied" || applied?.length !== truth.length) return;
    rides++;
    applied.forEach((change, cell) => {
      truth[cell]! -= change;
    });
  });
  return { ...ride, seed: SEED + 1 + rides, rpm, load, truth, name: `made log ${rides + 1}` };
}
