import type { FuelTable } from "@fuelwright/table-core";
import {
  type CellColours,
  type CellTint,
  channels,
  type PlainPalette,
  plainColours,
  valueShades,
} from "./cell-colours.ts";

/** What the tints of a grid say. */
export type Shading = "change" | "value" | "none";

/** A ramp made ready for drawing. */
export interface Ramp {
  /** Each tint as one RGBA pixel in memory order. */
  readonly pixels: Uint32Array;
  /** For each tint the index of its ink in `inks`. */
  readonly ink: Uint8Array;
  readonly inks: readonly string[];
}

/** The tint of each cell, row-major, as an index in a ramp. */
export interface CellShade {
  readonly ramp: Ramp;
  readonly tint: Uint16Array;
}

/**
 * The tint of each cell.
 *
 * @param change - percent of each cell, or null where nothing is compared: the tint of no change then
 * @param colours - null: the built-in ones
 */
export function shadeCells(
  table: FuelTable,
  change: Float64Array | null,
  shading: Shading,
  colours: CellColours | null,
  palette: PlainPalette,
): CellShade {
  const tint = new Uint16Array(table.cells.length);
  if (shading === "value") {
    const { least, span } = valueSpan(table.cells);
    const shades = builtIn(palette).values;
    const scale = span > 0 ? (shades.length - 1) / span : 0;
    for (let at = 0; at < tint.length; at++) tint[at] = Math.round((table.cells[at]! - least) * scale);
    return { ramp: rampOf(shades), tint };
  }
  const ramp = colours ?? builtIn(palette).changes;
  if (shading === "none" || !change) tint.fill(ramp.place(0));
  else for (let at = 0; at < tint.length; at++) tint[at] = ramp.place(change[at]!);
  return { ramp: rampOf(ramp.tints), tint };
}

function valueSpan(cells: Float64Array): { least: number; span: number } {
  let least = Number.POSITIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  for (const value of cells) {
    if (value < least) least = value;
    if (value > most) most = value;
  }
  return { least, span: most - least };
}

let lastBuiltIn: { key: string; changes: CellColours; values: readonly CellTint[] } | null = null;

/** The built-in ramps of a palette; the last ones are kept, as every grid of a page shares its palette. */
function builtIn(palette: PlainPalette) {
  const key = Object.values(palette).join();
  if (lastBuiltIn?.key !== key) lastBuiltIn = { key, changes: plainColours(palette), values: valueShades(palette) };
  return lastBuiltIn;
}

const ramps = new WeakMap<readonly CellTint[], Ramp>();

function rampOf(tints: readonly CellTint[]): Ramp {
  const known = ramps.get(tints);
  if (known) return known;
  const inks = [...new Set(tints.map((tint) => tint.ink))];
  const bytes = new Uint8ClampedArray(tints.length * 4);
  tints.forEach((tint, at) => {
    bytes.set([...channels(tint.background), 255], at * 4);
  });
  const ramp = {
    pixels: new Uint32Array(bytes.buffer),
    ink: Uint8Array.from(tints, (tint) => inks.indexOf(tint.ink)),
    inks,
  };
  ramps.set(tints, ramp);
  return ramp;
}
