import { notesOf } from "../fuel/cell-note.ts";
import { type PartCeilings, unknownPart, worstOf } from "./ceiling.ts";
import type { DemandSettings } from "./cell-demand.ts";

/** Cells that the controller can't hold. */
export function storageCeilings({ table }: Pick<DemandSettings, "table">): PartCeilings {
  const { storage, cells } = table;
  if (!storage) return unknownPart("storage", "Nothing is said of what the controller can store.");
  const outside = notesOf(table, cells, (cell) => cell < storage.min || cell > storage.max);
  const share = storage.max > 0 ? cells.map((cell) => cell / storage.max) : null;
  const worst = share && worstOf(table, share);
  const range = `${storage.min} to ${storage.max} ${table.unit}`;
  return {
    verdict: {
      part: "storage",
      verdict: outside.length > 0 ? "gives-out" : "in-hand",
      sentence:
        outside.length > 0
          ? `${outside.length} ${outside.length === 1 ? "cell lies" : "cells lie"} outside what the controller can store, ${range}.`
          : `Every cell fits what the controller can store, ${range}.`,
      basis: "computed",
      share,
      worst,
      inHandPercent: worst && worst.value > 0 ? (1 / worst.value - 1) * 100 : null,
      assumptions: [],
    },
    ceilings: [
      { kind: "outside-storage", part: "storage", sentence: `The controller stores ${range}.`, cells: outside },
    ],
  };
}
