import type { Ceiling } from "../build/ceiling.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import { type AxesShownAs, breakpointTexts, countOf, placeWords } from "./figures.ts";
import { type Hatch, hatches, hatchPath } from "./hatch.ts";
import type { Inks } from "./inks.ts";
import { node } from "./picture.ts";
import type { Note } from "./sheet.ts";

/** What of a ceiling is drawn and told. */
export type DrawnCeiling = Pick<Ceiling, "sentence" | "cells">;

/** The hatch of the ceiling at a place of a list. */
export const hatchOf = (at: number): Hatch => hatches[at % hatches.length]!;

/** The key of a hatch, with its sentence and its cells. */
export function ceilingNote(
  table: Pick<FuelTable, "rpm" | "load">,
  ceiling: DrawnCeiling,
  at: number,
  inks: Inks,
  axes?: AxesShownAs,
): Note {
  return {
    text: sayCeiling(table, ceiling, axes),
    sample: (x, y) => {
      const box = { x, y: y - 6, width: 22, height: 12 };
      return [
        node("path", { class: "hatch", d: hatchPath(box, hatchOf(at)), stroke: inks.hatch, fill: "none" }),
        node("rect", { ...box, fill: "none", stroke: inks.axis }),
      ];
    },
  };
}

/** "Duty is above the planning ceiling of 85 %: 3 cells, 6,000 to 6,800 rpm, 90 to 100 kPa." */
export function sayCeiling(
  table: Pick<FuelTable, "rpm" | "load">,
  { sentence, cells }: DrawnCeiling,
  axes?: AxesShownAs,
): string {
  const words = sentence.replace(/\.$/, "");
  if (cells.length === 0) return `${words}: no cell.`;
  if (cells.length === 1) return `${words}: 1 cell, ${placeWords(table, axes)(cells[0]!.at)}.`;
  const columns = table.rpm.breakpoints.length;
  const spread = (places: readonly number[], side: "rpm" | "load") => {
    const texts = breakpointTexts(table[side], axes?.[side]);
    const [low, high] = [Math.min(...places), Math.max(...places)];
    const unit = axes?.[side]?.unit ?? table[side].unit;
    return low === high ? `${texts[low]} ${unit}` : `${texts[low]} to ${texts[high]} ${unit}`;
  };
  const rpm = spread(
    cells.map(({ at }) => at % columns),
    "rpm",
  );
  const load = spread(
    cells.map(({ at }) => Math.floor(at / columns)),
    "load",
  );
  return `${words}: ${countOf(cells.length, "cell")}, ${rpm}${table.load.quantity === "single-row" ? "" : `, ${load}`}.`;
}
