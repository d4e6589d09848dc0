import type { Axis } from "../values/axis.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import { type CellQuantity, cellQuantities } from "../values/quantities.ts";

/** How values of a quantity are shown: ms with two decimals, kPa as psi, lambda as an air–fuel ratio. */
export interface ShownAs {
  /** The unit shown; may be empty. */
  readonly unit: string;
  readonly decimals: number;
  /** From the quantity's own unit to the one shown; rising or falling all the way. */
  show(value: number): number;
}

/** How both axes of a table are shown; one left out is shown in its own unit. */
export interface AxesShownAs {
  readonly rpm?: ShownAs;
  readonly load?: ShownAs;
}

/** A quantity in its own unit, with as many decimals as it is worth. */
export function ownUnit(quantity: CellQuantity): ShownAs {
  const { unit, decimals } = cellQuantities[quantity];
  return { unit: quantity === "factor" ? "" : unit, decimals, show: (value) => value };
}

/** A value rounded for reading: "4.85", "−3.0", never "−0.00"; a dash if it can't be shown. */
export function figureText(value: number, { decimals, show }: Pick<ShownAs, "decimals" | "show">): string {
  const shown = show(value);
  if (!Number.isFinite(shown)) return "–";
  const text = shown.toFixed(decimals);
  if (text.charCodeAt(0) !== 45) return text;
  return Number(text) === 0 ? text.slice(1) : `−${text.slice(1)}`;
}

/** The same with its unit: "4.85 ms". */
export const figureWithUnit = (value: number, shown: ShownAs): string =>
  shown.unit ? `${figureText(value, shown)} ${shown.unit}` : figureText(value, shown);

/** Beyond this many decimals no breakpoint is told. */
const MOST_DECIMALS = 3;

/** "3,500", "−10", "62.5"; converted ones all with the same decimals, as many as keep them apart. */
function breakpointsAs({ breakpoints, unit }: Axis, shown: ShownAs | undefined): readonly string[] {
  const said = (show: (value: number) => number, least: number, most: number) => {
    const format = new Intl.NumberFormat("en", { minimumFractionDigits: least, maximumFractionDigits: most });
    return breakpoints.map((value) => format.format(show(value)).replace("-", "−"));
  };
  if (!shown || shown.unit === unit) return said((value) => value, 0, MOST_DECIMALS);
  for (let decimals = shown.decimals; ; decimals++) {
    const texts = said(shown.show, decimals, decimals);
    if (decimals >= MOST_DECIMALS || new Set(texts).size === texts.length) return texts;
  }
}

const known = new WeakMap<Axis, { readonly key: string; readonly texts: readonly string[] }>();

/** All breakpoints of an axis as they are shown, "3,500" or "62.5"; worked out once for each axis and unit. */
export function breakpointTexts(axis: Axis, shown?: ShownAs): readonly string[] {
  const key = shown ? `${shown.unit} ${shown.decimals}` : "";
  const last = known.get(axis);
  if (last?.key === key) return last.texts;
  const texts = breakpointsAs(axis, shown);
  known.set(axis, { key, texts });
  return texts;
}

/** A breakpoint in words, with its unit: "3,500 rpm", "10.2 psi". */
export const breakpointWords = (axis: Axis, at: number, shown?: ShownAs): string =>
  `${breakpointTexts(axis, shown)[at]} ${shown?.unit ?? axis.unit}`;

/** A change in percent with its sign: "+3.5 %", "−20 %", "under +0.1 %", "up from zero". */
export function sayChange(percent: number): string {
  const sign = percent < 0 ? "−" : "+";
  const size = Math.abs(percent);
  if (size === Number.POSITIVE_INFINITY) return percent > 0 ? "up from zero" : "down from zero";
  if (size < 0.05) return `under ${sign}0.1 %`;
  return `${sign}${size < 9.95 ? size.toFixed(1) : size.toFixed(0)} %`;
}

/** How cells are pointed out in sentences: "at 6,000 rpm and 100 kPa". */
export function placeWords(table: Pick<FuelTable, "rpm" | "load">, axes: AxesShownAs = {}): (at: number) => string {
  const columns = table.rpm.breakpoints.length;
  const rpm = breakpointTexts(table.rpm, axes.rpm);
  const load = breakpointTexts(table.load, axes.load);
  const [rpmUnit, loadUnit] = [axes.rpm?.unit ?? table.rpm.unit, axes.load?.unit ?? table.load.unit];
  return (at) =>
    `at ${rpm[at % columns]} ${rpmUnit}` +
    (table.load.quantity === "single-row" ? "" : ` and ${load[Math.floor(at / columns)]} ${loadUnit}`);
}

/** "1 cell", "12 cells". */
export const countOf = (count: number, one: string, many = `${one}s`): string => `${count} ${count === 1 ? one : many}`;

/** With a capital letter, as titles and sentences begin. */
export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
