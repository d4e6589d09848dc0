import { type FuelTable, type Region, type Replay, regionWeights, type Step } from "@fuelwright/table-core";

/** A cell that holds a first guess, and why. */
export interface GuessedCell {
  readonly at: number;
  readonly words: string;
}

/** What a step guesses about a table: where, and in a few words what; null if it only computes. */
function guessOf(step: Step, table: string): { readonly region: Region | undefined; readonly words: string } | null {
  switch (step.kind) {
    case "change-intake":
      return step.settings.tables.includes(table)
        ? { region: step.settings.region, words: "a first guess of the new intake" }
        : null;
    case "change-displacement":
      return step.settings.tables.includes(table)
        ? { region: step.settings.region, words: "a first guess of the new displacement" }
        : null;
    case "shape-cells":
      return step.table === table ? { region: step.settings.region, words: "a first guess, drawn as a curve" } : null;
    case "extrapolate-cells": {
      const { rpm = [], load = [] } = step.settings;
      const also = [...rpm.map((x) => ({ rpm: [x, x] as const })), ...load.map((x) => ({ load: [x, x] as const }))];
      return step.table === table ? { region: { also }, words: "extrapolated: nothing has measured it" } : null;
    }
    default:
      return null;
  }
}

/**
 * The cells of a table that hold first guesses: steps made them, and no evidence has corrected them since.
 *
 * @param until - how many steps to look at; the table is as it stands after them
 */
export function firstGuesses({ job, states, outcomes }: Replay, table: FuelTable, until: number): GuessedCell[] {
  const guesses = new Map<number, string>();
  job.steps.slice(0, until).forEach((step, place) => {
    if (outcomes[place]?.status !== "applied") return;
    const guess = guessOf(step, table.id);
    if (guess) {
      regionWeights(table, guess.region ?? {}).forEach((weight, at) => {
        if (weight > 0) guesses.set(at, guess.words);
      });
    } else if ((step.kind as string) === "apply-evidence" && step.table === table.id) {
      const [before, after] = [states[place]?.tables[table.id], states[place + 1]?.tables[table.id]];
      if (before?.cells.length !== table.cells.length || !after) return;
      after.cells.forEach((cell, at) => {
        if (cell !== before.cells[at]) guesses.delete(at);
      });
    }
  });
  return Array.from(guesses, ([at, words]) => ({ at, words }));
}
