import { type AxesShownAs, type CellQuantity, cellQuantities, figureText, type ShownAs } from "@fuelwright/table-core";

export { breakpointTexts, breakpointWords } from "@fuelwright/table-core";

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
export const figureOf = (display: CellDisplay, value: number): string => figureText(value, display);

/** How breakpoints of an axis are shown in heads and sentences: kPa as psi, and the like. */
export type AxisDisplay = ShownAs;

/** Displays of both axes of a table; an axis left out is shown in its own unit. */
export type AxesDisplay = AxesShownAs;

/** Whether both show all breakpoints alike; see `sameDisplay`. */
export function sameAxes(a: AxesDisplay | null, b: AxesDisplay | null): boolean {
  const alike = (one?: ShownAs, other?: ShownAs) =>
    one === other || (one?.unit === other?.unit && one?.decimals === other?.decimals);
  return a === b || (alike(a?.rpm, b?.rpm) && alike(a?.load, b?.load));
}

/** The figure of a cell in the shown unit with all its digits, as it is copied and edited. */
export function exactFigure(display: CellDisplay, value: number): string {
  const shown = display.show(value);
  // Beyond 15 digits a conversion there and back shows its rounding: 14.7 rather than 14.700000000000001.
  const short = Number(shown.toPrecision(15));
  return String(display.read(String(short)) === value ? short : shown);
}
