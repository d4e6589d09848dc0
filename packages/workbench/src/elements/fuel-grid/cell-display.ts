import { type Axis, type CellQuantity, cellQuantities } from "@fuelwright/table-core";

/** How cells are shown and typed: in the table's own unit, or lambda as an air–fuel ratio, and the like. */
export interface CellDisplay {
  /** The unit shown, "ms" or "AFR"; may be empty. */
  readonly unit: string;
  readonly decimals: number;
  /** From the table's unit to the one shown; rising or falling all the way. */
  show(value: number): number;
  /** Back: from what is typed to the table's unit. Reads plain numbers only; the host evaluates expressions. */
  read(text: string): number;
}

/**
 * Whether two displays show every value alike, as far as can be asked: hosts often make a new object for the same unit.
 */
export function sameDisplay(a: CellDisplay | null, b: CellDisplay | null): boolean {
  if (a === b || !a || !b) return a === b;
  return (
    a.unit === b.unit && a.decimals === b.decimals && [0.5, 1, 7].every((value) => a.show(value) === b.show(value))
  );
}

const own = new Map<CellQuantity, CellDisplay>();

/** A quantity in its own unit, with as many decimals as it is worth; always the same object. */
export function ownDisplay(quantity: CellQuantity): CellDisplay {
  const { unit, decimals } = cellQuantities[quantity];
  let display = own.get(quantity);
  if (!display) {
    display = {
      unit: quantity === "factor" ? "" : unit,
      decimals,
      show: (value) => value,
      read: (text) => Number(text.replace("−", "-")),
    };
    own.set(quantity, display);
  }
  return display;
}

/** The figure of a cell, rounded for reading: "4.85", "−3.0", never "−0.00"; a dash if it can't be shown. */
export function figureOf(display: CellDisplay, value: number): string {
  const shown = display.show(value);
  if (!Number.isFinite(shown)) return "–";
  const text = shown.toFixed(display.decimals);
  if (text.charCodeAt(0) !== 45) return text;
  return Number(text) === 0 ? text.slice(1) : `−${text.slice(1)}`;
}

/** How breakpoints of an axis are shown in heads and sentences: kPa as psi, and the like. */
export interface AxisDisplay {
  readonly unit: string;
  /** As many as a figure needs; more are shown where two breakpoints would look alike. */
  readonly decimals: number;
  /** From the axis' own unit to the one shown. */
  show(value: number): number;
}

/** Displays of both axes of a table; an axis left out is shown in its own unit. */
export interface AxesDisplay {
  readonly rpm?: AxisDisplay;
  readonly load?: AxisDisplay;
}

/** Whether both show all breakpoints alike; see `sameDisplay`. */
export function sameAxes(a: AxesDisplay | null, b: AxesDisplay | null): boolean {
  const alike = (one?: AxisDisplay, other?: AxisDisplay) =>
    one === other || (one?.unit === other?.unit && one?.decimals === other?.decimals);
  return a === b || (alike(a?.rpm, b?.rpm) && alike(a?.load, b?.load));
}

/** Beyond this many decimals no breakpoint is told. */
const MOST_DECIMALS = 3;

/** "3,500", "−10", "62.5"; converted ones all with the same decimals, as many as keep them apart. */
function breakpointsAs({ breakpoints, unit }: Axis, display: AxisDisplay | undefined): readonly string[] {
  const said = (show: (value: number) => number, least: number, most: number) => {
    const format = new Intl.NumberFormat("en", { minimumFractionDigits: least, maximumFractionDigits: most });
    return breakpoints.map((value) => format.format(show(value)).replace("-", "−"));
  };
  if (!display || display.unit === unit) return said((value) => value, 0, MOST_DECIMALS);
  for (let decimals = display.decimals; ; decimals++) {
    const texts = said(display.show, decimals, decimals);
    if (decimals >= MOST_DECIMALS || new Set(texts).size === texts.length) return texts;
  }
}

const known = new WeakMap<Axis, { readonly key: string; readonly texts: readonly string[] }>();

/** All breakpoints of an axis as they are shown, "3,500" or "62.5"; worked out once for each axis and unit. */
export function breakpointTexts(axis: Axis, display?: AxisDisplay): readonly string[] {
  const key = display ? `${display.unit} ${display.decimals}` : "";
  const last = known.get(axis);
  if (last?.key === key) return last.texts;
  const texts = breakpointsAs(axis, display);
  known.set(axis, { key, texts });
  return texts;
}

/** A breakpoint in words, with its unit: "3,500 rpm", "10.2 psi". */
export const breakpointWords = (axis: Axis, at: number, display?: AxisDisplay): string =>
  `${breakpointTexts(axis, display)[at]} ${display?.unit ?? axis.unit}`;

/** The figure of a cell in the shown unit with all its digits, as it is copied and edited. */
export function exactFigure(display: CellDisplay, value: number): string {
  const shown = display.show(value);
  // Beyond 15 digits a conversion there and back shows its rounding: 14.7 rather than 14.700000000000001.
  const short = Number(shown.toPrecision(15));
  return String(display.read(String(short)) === value ? short : shown);
}
