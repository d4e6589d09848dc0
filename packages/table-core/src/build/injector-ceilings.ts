import { notesOf } from "../fuel/cell-note.ts";
import { sayPercent } from "../values/plausible.ts";
import { type PartCeilings, placeOf, worstOf } from "./ceiling.ts";
import type { CellDemand, DemandSettings } from "./cell-demand.ts";

/** Duty against the planning ceiling, always open, and pulses too short to repeat. */
export function injectorCeilings({ build, table }: DemandSettings, demand: CellDemand): PartCeilings {
  const { duty, pulseMs, askedMg } = demand;
  const { dutyPercent } = build.planning;
  const planning = dutyPercent / 100;
  const smallest = build.injectors.smallestPulseMs ?? 0;
  const share = duty.map((fraction) => fraction / planning);
  const worst = worstOf(table, share);
  const most = duty[worst.at]!;
  const where = `${sayPercent(most * 100, [dutyPercent, 100])} % ${placeOf(table, worst)}`;
  return {
    verdict: {
      part: "injectors",
      verdict: most >= 1 ? "gives-out" : most > planning ? "at-limit" : "in-hand",
      sentence:
        most >= 1
          ? `The injectors no longer close: duty ${where}.`
          : `Duty reaches ${where}, ${most > planning ? "above" : "under"} the planning ceiling of ${dutyPercent} %.`,
      basis: demand.basis,
      share,
      worst,
      inHandPercent: most > 0 ? (planning / most - 1) * 100 : null,
      assumptions: demand.assumptions,
    },
    ceilings: [
      {
        kind: "static",
        part: "injectors",
        sentence: "The injectors are always open: they give what they can, whatever the cell says.",
        cells: notesOf(table, duty, (fraction) => fraction >= 1),
      },
      {
        kind: "above-planning",
        part: "injectors",
        sentence: `Duty is above the planning ceiling of ${dutyPercent} % (80 to 85 % is common practice).`,
        cells: notesOf(table, duty, (fraction) => fraction > planning && fraction < 1),
      },
      {
        kind: "under-smallest-pulse",
        part: "injectors",
        sentence: `The pulse is shorter than the ${smallest} ms that these injectors repeat.`,
        cells: notesOf(table, pulseMs, (pulse, at) => pulse > 0 && pulse < smallest && askedMg[at]! > 0),
      },
      {
        kind: "under-dead-time",
        part: "injectors",
        sentence: "The pulse is no longer than the dead time: nothing is delivered.",
        cells: notesOf(table, pulseMs, (_, at) => askedMg[at] === 0),
      },
    ],
  };
}
