import { FuelwrightError } from "./errors.ts";
import type { FuelTable } from "./fuel-table.ts";
import { requireFinite } from "./require.ts";

/** A closed range in the axis's own unit, lower end first; both ends may be the same breakpoint. */
export type Range = readonly [from: number, to: number];

/** A rectangle in rpm and load; a side left out runs over the whole axis. */
export interface RegionBox {
  readonly rpm?: Range;
  readonly load?: Range;
}

/**
 * A part of a table, said in rpm and load, so that it still means the same after a rebin.
 *
 * Ranges are closed: a region may be a single breakpoint. `feather` is the width, in each axis's unit, over which the
 * weight falls linearly from 1 at the edge to 0. `also` adds further boxes; where boxes overlap the greater weight counts.
 */
export interface Region extends RegionBox {
  readonly feather?: { readonly rpm?: number; readonly load?: number };
  readonly also?: readonly RegionBox[];
}

/** The whole table. */
export const everywhere: Region = Object.freeze({});

/**
 * A checked, frozen copy of a region given as plain data.
 *
 * @throws FuelwrightError `bad-region` naming the place (`region.also[1].rpm`)
 */
export function createRegion(region: Region, where = "region"): Region {
  if (typeof region !== "object" || region === null || Array.isArray(region))
    throw new FuelwrightError(
      "bad-region",
      `${where} must be an object with rpm and load ranges; give {} for everywhere`,
    );
  const copy: { -readonly [K in keyof Region]: Region[K] } = createBox(region, where);
  if (region.feather !== undefined) {
    const feather: { rpm?: number; load?: number } = {};
    for (const side of ["rpm", "load"] as const) {
      const width = region.feather?.[side];
      if (width === undefined) continue;
      if (requireFinite(`${where}.feather.${side}`, width) < 0)
        throw new FuelwrightError(
          "bad-region",
          `${where}.feather.${side} must be 0 or above, got ${width}; give a width`,
        );
      feather[side] = width;
    }
    copy.feather = Object.freeze(feather);
  }
  if (region.also !== undefined) {
    if (!Array.isArray(region.also) || region.also.length > 65_536)
      throw new FuelwrightError("bad-region", `${where}.also must be a list of boxes; give [] for none`);
    copy.also = Object.freeze(region.also.map((box, at) => Object.freeze(createBox(box, `${where}.also[${at}]`))));
  }
  return Object.freeze(copy);
}

function createBox(box: RegionBox, where: string): { rpm?: Range; load?: Range } {
  const copy: { rpm?: Range; load?: Range } = {};
  for (const side of ["rpm", "load"] as const) {
    const range = box?.[side];
    if (range === undefined) continue;
    if (!Array.isArray(range) || range.length !== 2)
      throw new FuelwrightError("bad-region", `${where}.${side} must be [from, to]; give two numbers`, {
        where: `${where}.${side}`,
      });
    const from = requireFinite(`${where}.${side}[0]`, range[0]);
    const to = requireFinite(`${where}.${side}[1]`, range[1]);
    if (to < from)
      throw new FuelwrightError(
        "bad-region",
        `${where}.${side} must run from low to high, got ${from} to ${to}; swap the two`,
        { where: `${where}.${side}`, from, to },
      );
    copy[side] = Object.freeze([from, to] as const);
  }
  return copy;
}

/** 1 inside the range, falling to 0 over `feather` outside it. */
function sideWeight(value: number, range: Range | undefined, feather: number): number {
  if (!range) return 1;
  const outside = Math.max(range[0] - value, value - range[1], 0);
  if (outside === 0) return 1;
  return outside < feather ? 1 - outside / feather : 0;
}

/**
 * The region's weight 0..1 at one point of rpm and load.
 *
 * @param region - checked by {@link createRegion}
 */
export function regionWeight(region: Region, rpm: number, load: number): number {
  const { rpm: featherRpm = 0, load: featherLoad = 0 } = region.feather ?? {};
  let most = 0;
  for (const box of boxesOf(region))
    most = Math.max(most, sideWeight(rpm, box.rpm, featherRpm) * sideWeight(load, box.load, featherLoad));
  return most;
}

/** All boxes of a region. With `also` given, a bare first box (neither side said) stands for nothing, not for everything. */
function boxesOf(region: Region): readonly RegionBox[] {
  const { also = [] } = region;
  return also.length > 0 && !region.rpm && !region.load ? also : [region, ...also];
}

/**
 * The weight of each cell, row-major [load][rpm]; on a one-row table the load ranges do not count.
 *
 * @throws FuelwrightError `bad-region`
 */
export function regionWeights(table: Pick<FuelTable, "rpm" | "load">, region: Region): Float64Array {
  const checked = createRegion(region);
  const { rpm, load } = table;
  const flat = load.quantity === "single-row" ? withoutLoad(checked) : checked;
  const { rpm: featherRpm = 0, load: featherLoad = 0 } = flat.feather ?? {};
  const weights = new Float64Array(rpm.breakpoints.length * load.breakpoints.length);
  for (const box of boxesOf(flat)) {
    const byColumn = rpm.breakpoints.map((value) => sideWeight(value, box.rpm, featherRpm));
    let at = 0;
    for (const value of load.breakpoints) {
      const byRow = sideWeight(value, box.load, featherLoad);
      for (const weight of byColumn) {
        weights[at] = Math.max(weights[at]!, weight * byRow);
        at++;
      }
    }
  }
  return weights;
}

const withoutLoad = (region: Region): Region => ({
  ...(region.rpm && { rpm: region.rpm }),
  ...(region.feather && { feather: region.feather }),
  ...(region.also && { also: region.also.map((box) => (box.rpm ? { rpm: box.rpm } : {})) }),
});

/**
 * The weights an edit works with: the region's, and 0 in every locked cell of the table.
 *
 * @param region - left out: the whole table
 */
export function editWeights(table: FuelTable, region: Region = everywhere): Float64Array {
  const weights = regionWeights(table, region);
  for (const lock of table.locked) {
    const locked = regionWeights(table, lock);
    for (let at = 0; at < weights.length; at++) if (locked[at]! > 0) weights[at] = 0;
  }
  return weights;
}
