import type { CellQuantity } from "../values/quantities.ts";

/**
 * The change from `before` to `after` in percent, positive for a rise; never NaN.
 *
 * A trim is a percentage itself, so its change is that of the fuel it asks for: from 0 % to 5 % is +5 %, from −50 % to
 * −40 % is +20 %. For all else it is (after − before) / |before|. No change is 0, also from 0 to 0; a change from 0 (for
 * a trim, from −100 %) is +∞ or −∞, by its direction.
 *
 * @example percentChange("fuel-mass", 8, 9) // 12.5
 */
export function percentChange(quantity: CellQuantity, before: number, after: number): number {
  if (after === before) return 0;
  return ((after - before) / Math.abs(percentBase(quantity, before))) * 100;
}

/** What a cell's change is measured against: the cell, or for a trim the fuel it gives. */
export const percentBase = (quantity: CellQuantity, cell: number): number => (quantity === "trim" ? 100 + cell : cell);
