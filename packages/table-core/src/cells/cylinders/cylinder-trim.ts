import type { CellQuantity } from "../../values/quantities.ts";

/**
 * A cell of one cylinder: the base cell with the cylinder's trim in percent put on.
 *
 * base + base · trim / 100; where the cell is a trim itself, both trims count on the fuel: base + (100 + base) · trim / 100.
 */
export const trimmed = (quantity: CellQuantity, base: number, trim: number): number =>
  base + (trimScale(quantity, base) * trim) / 100;

/** What a cylinder's trim is a percentage of. */
export const trimScale = (quantity: CellQuantity, base: number) => (quantity === "trim" ? 100 + base : base);

/** More tries would only repeat themselves. */
const MOST_TRIES = 40;

/**
 * The trim that brings `base` to `wanted`: bit for bit if there is one, as for every trim up to 12.5 % of a quantity that
 * is not a trim itself, else the nearest found. NaN if the base is nothing and the wanted value is not.
 */
export function trimBetween(quantity: CellQuantity, base: number, wanted: number): number {
  if (base === wanted) return 0;
  const scale = trimScale(quantity, base);
  if (scale === 0) return Number.NaN;
  let nearest = ((wanted - base) / scale) * 100;
  let miss = Math.abs(trimmed(quantity, base, nearest) - wanted);
  let trim = nearest;
  for (let tries = 0; tries < MOST_TRIES && miss > 0; tries++) {
    const off = trimmed(quantity, base, trim) - wanted;
    // One step of the trim's own last place towards the wanted value.
    trim = nextTowards(trim, off * Math.sign(scale) > 0 ? -1 : 1);
    const now = Math.abs(trimmed(quantity, base, trim) - wanted);
    if (now < miss) [nearest, miss] = [trim, now];
  }
  return nearest;
}

const bits = new DataView(new ArrayBuffer(8));

/** The next floating point number above (1) or below (−1) one that is not 0. */
function nextTowards(value: number, direction: 1 | -1): number {
  bits.setFloat64(0, value);
  bits.setBigInt64(0, bits.getBigInt64(0) + (value > 0 === direction > 0 ? 1n : -1n));
  return bits.getFloat64(0);
}
