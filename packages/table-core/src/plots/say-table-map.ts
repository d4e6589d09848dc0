import type { FuelTable } from "../values/fuel-table.ts";

/**
 * A map in words: "Map of Both cylinders: 150 cells, 72 raised, 12 lowered".
 *
 * @param percent - change of each cell; null where there is nothing to compare with
 */
export function sayTableMap(table: Pick<FuelTable, "name" | "cells">, percent: Float64Array | null): string {
  let [raised, lowered] = [0, 0];
  for (const change of percent ?? []) {
    if (change > 0) raised++;
    if (change < 0) lowered++;
  }
  const changed = raised + lowered === 0 ? "none changed" : `${raised} raised, ${lowered} lowered`;
  return `Map of ${table.name}: ${table.cells.length} cells, ${changed}`;
}
