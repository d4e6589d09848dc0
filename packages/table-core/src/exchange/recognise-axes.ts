import { type AxisQuantity, axisQuantities, loadQuantities } from "../values/quantities.ts";
import { axisUnits, findUnit } from "./exchange-unit.ts";
import type { Label } from "./read-label.ts";
import { chosen, type Recognised, recognised } from "./recognised.ts";
import type { TableShape } from "./shape-table.ts";

/** Which way rpm runs; a one-row table lies (`rpm-across`) or stands (`rpm-down`). */
export type Orientation = "rpm-across" | "rpm-down";

/** Which way the numbers of an axis run, from top to bottom or from left to right. */
export type Direction = "rising" | "falling";

/** An axis as it was recognised. */
export interface RecognisedAxis {
  readonly quantity: Recognised<AxisQuantity>;
  readonly unit: Recognised<string>;
  readonly direction: Recognised<Direction>;
}

const orientations: readonly Orientation[] = ["rpm-across", "rpm-down"];
const orientationWords: Readonly<Record<Orientation, string>> = {
  "rpm-across": "along the top",
  "rpm-down": "down the side",
};

/** Engine speeds that a table of a small engine reaches; loads, in any usual unit, stay below. */
export const isRpmLike = (values: readonly number[]) => {
  const most = Math.max(...values);
  return Math.min(...values) >= 0 && most >= 1500 && most <= 30_000;
};

/**
 * Which side rpm stands at: by a word at that side, else by the size of the numbers, else by the order of the corner's
 * words (what stands first names the column below it), else along the top.
 */
export function recogniseOrientation(
  shape: Pick<TableShape, "layout" | "upright" | "cornerLabels" | "acrossLabels" | "downLabels">,
  across: readonly number[],
  down: readonly number[],
  hint?: Orientation,
): Recognised<Orientation> {
  const found = (value: Orientation, sure: boolean, reason: string) => recognised(value, sure, reason, orientations);
  if (shape.layout.value === "one-row") {
    const value = shape.upright ? "rpm-down" : "rpm-across";
    const reason = `The breakpoints stand in the first ${shape.upright ? "column" : "row"}.`;
    // Two rows of two numbers can be read either way.
    return recognised(value, true, reason, across.length === 2 ? orientations : []);
  }
  if (hint) return chosen(hint, orientations);
  const said = orientationSaid(shape);
  if (said) return found(said, true, `A label says that rpm runs ${orientationWords[said]}.`);
  const isAcross = isRpmLike(across);
  const isDown = isRpmLike(down);
  if (isAcross !== isDown) {
    const value = isAcross ? "rpm-across" : "rpm-down";
    const values = isAcross ? across : down;
    const span = `${Math.min(...values)} to ${Math.max(...values)}`;
    return found(value, true, `The numbers ${orientationWords[value]}, ${span}, fit rpm; the others do not.`);
  }
  const ordered = orientationByOrder(shape.cornerLabels);
  if (ordered) return found(ordered, false, "The corner names the column below it first, then the line beside it.");
  return found("rpm-across", false, "Nothing says which side is rpm, so it is taken to run along the top.");
}

function orientationSaid({
  cornerLabels,
  acrossLabels,
  downLabels,
}: Pick<TableShape, "cornerLabels" | "acrossLabels" | "downLabels">): Orientation | null {
  const across = [...acrossLabels, ...cornerLabels.filter(({ side }) => side === "across")];
  const down = [...downLabels, ...cornerLabels.filter(({ side }) => side === "down")];
  if (across.some(isRpm) || down.some(isLoad)) return "rpm-across";
  return down.some(isRpm) || across.some(isLoad) ? "rpm-down" : null;
}

function orientationByOrder(labels: readonly Label[]): Orientation | null {
  const axes = labels.filter((label) => isRpm(label) || isLoad(label));
  const first = axes[0];
  if (!first) return null;
  return isRpm(first) ? "rpm-down" : "rpm-across";
}

export const isRpm = ({ axis, unit }: Label) => axis === "rpm" || (axis === undefined && unit === "rpm");

/** Whether a label names an axis that is not rpm. Units shared by cells and axes (%, mg) alone do not say so. */
const isLoad = (label: Label) =>
  !isRpm(label) && (label.axis !== undefined || (label.cell === undefined && quantityOfUnit(label.unit) !== null));

/** The load axis that a unit alone makes certain. */
function quantityOfUnit(unit: string | undefined): AxisQuantity | null {
  return unit !== undefined && axisUnits("manifold-pressure").includes(unit) ? "manifold-pressure" : null;
}

/** The labels of the load axis, the most certain first. */
export function loadLabels(shape: TableShape, orientation: Orientation): readonly Label[] {
  const { cornerLabels, acrossLabels, downLabels } = shape;
  const side = orientation === "rpm-across" ? "down" : "across";
  const corner = cornerLabels.filter(
    (label) => !isRpm(label) && (label.axis !== undefined || label.cell === undefined),
  );
  return [
    ...corner.filter((label) => label.side === side),
    ...(side === "down" ? downLabels : acrossLabels).filter((label) => !isRpm(label)),
    ...corner.filter((label) => label.side !== side),
  ];
}

/** The quantity and unit of a load axis. */
export function recogniseLoad(
  labels: readonly Label[],
  values: readonly number[],
  hints: { readonly quantity?: AxisQuantity | undefined; readonly unit?: string | undefined },
): RecognisedAxis {
  return recogniseAxis(labels, values, loadQuantities, hints, guessLoad);
}

/** The quantity and unit of the one axis of a one-row table. */
export function recogniseOnlyAxis(
  labels: readonly Label[],
  values: readonly number[],
  hints: { readonly quantity?: AxisQuantity | undefined; readonly unit?: string | undefined },
): RecognisedAxis {
  const choices = (Object.keys(axisQuantities) as AxisQuantity[]).filter((quantity) => quantity !== "single-row");
  return recogniseAxis(labels, values, choices, hints, guessOnlyAxis);
}

function recogniseAxis(
  labels: readonly Label[],
  values: readonly number[],
  choices: readonly AxisQuantity[],
  hints: { readonly quantity?: AxisQuantity | undefined; readonly unit?: string | undefined },
  guess: (values: readonly number[], units: readonly string[]) => Guess,
): RecognisedAxis {
  const named = labels.find(({ axis }) => axis !== undefined && axis !== "load");
  const units = labels.flatMap(({ unit }) => (unit === undefined ? [] : [unit]));
  const guessed = guess(values, units);
  const hinted = hints.quantity ?? (hints.unit ? choices.find((choice) => fits(choice, hints.unit!)) : undefined);
  const quantity = hinted
    ? chosen(hinted, choices)
    : named
      ? recognised(named.axis as AxisQuantity, true, `${quote(named.text)} says so.`, choices)
      : recognised(guessed.quantity, guessed.sure, guessed.reason, choices);
  return {
    quantity,
    unit: recogniseUnit(quantity.value, units, guessed, hints.unit),
    direction: recogniseDirection(values),
  };
}

function recogniseUnit(
  quantity: AxisQuantity,
  units: readonly string[],
  guessed: Guess,
  hint: string | undefined,
): Recognised<string> {
  const choices = axisUnits(quantity);
  if (hint !== undefined) return chosen(findUnit(hint) ?? hint, choices);
  const said = units.find((unit) => choices.includes(unit));
  if (said !== undefined) return recognised(said, true, `The text says ${said}.`, choices);
  const unit = guessed.unit;
  if (unit !== undefined && choices.includes(unit)) return recognised(unit, false, guessed.reason, choices);
  return recognised(choices[0]!, choices.length < 2, "The text says nothing, so it is taken as is.", choices);
}

export function recogniseDirection(values: readonly number[]): Recognised<Direction> {
  const isFalling = values.length > 1 && values[0]! > values.at(-1)!;
  return recognised<Direction>(
    isFalling ? "falling" : "rising",
    true,
    `The numbers run from ${values[0]} to ${values.at(-1)}.`,
  );
}

const fits = (quantity: AxisQuantity, unit: string) => axisUnits(quantity).includes(findUnit(unit) ?? unit);

const quote = (text: string) => `“${text.length > 40 ? `${text.slice(0, 40)}…` : text}”`;

/** What an axis without words is taken for. */
interface Guess {
  readonly quantity: AxisQuantity;
  readonly unit?: string;
  readonly sure: boolean;
  readonly reason: string;
}

/** Bounds are common practice: idle to atmospheric or boosted pressure, a throttle that closes to 0 and opens to 100 %. */
function guessLoad(values: readonly number[], units: readonly string[]): Guess {
  for (const quantity of loadQuantities) {
    const unit = units.find((name) => axisUnits(quantity).includes(name));
    if (unit) return { quantity, unit, sure: quantity === "manifold-pressure", reason: `It is given in ${unit}.` };
  }
  const low = Math.min(...values);
  const high = Math.max(...values);
  const span = `The numbers run from ${low} to ${high}`;
  const guess = (quantity: AxisQuantity, unit: string, like: string): Guess => {
    return { quantity, unit, sure: false, reason: `${span}, as ${like} do.` };
  };
  if (low >= 0 && low < 10 && high <= 100 && high > 50)
    return guess("throttle-position", "%", "throttle positions in percent");
  if (low === 0 && high === 1) return guess("throttle-position", "fraction", "throttle positions as a fraction");
  if (low > 0 && high <= 5) return guess("manifold-pressure", "bar", "manifold pressures in bar");
  if (low >= 100 && high > 400 && high <= 4000)
    return guess("manifold-pressure", "hPa", "manifold pressures in hPa (or mbar)");
  if (low >= 10 && high <= 400) return guess("manifold-pressure", "kPa", "manifold pressures in kPa");
  return { quantity: "manifold-pressure", sure: false, reason: "Nothing says what it is." };
}

function guessOnlyAxis(values: readonly number[], units: readonly string[]): Guess {
  const low = Math.min(...values);
  const high = Math.max(...values);
  const span = `The numbers run from ${low} to ${high}`;
  const isUnitOf = (quantity: AxisQuantity) => units.find((name) => axisUnits(quantity).includes(name));
  const temperature = isUnitOf("coolant-temperature");
  if (temperature)
    return {
      quantity: "coolant-temperature",
      unit: temperature,
      sure: false,
      reason: `It is given in ${temperature}.`,
    };
  for (const quantity of ["battery-voltage", "rpm", "throttle-position", "air-charge"] as const) {
    const unit = isUnitOf(quantity);
    if (unit) return { quantity, unit, sure: true, reason: `It is given in ${unit}.` };
  }
  const pressure = isUnitOf("barometric-pressure");
  if (pressure)
    return { quantity: "barometric-pressure", unit: pressure, sure: false, reason: `It is given in ${pressure}.` };
  if (isRpmLike(values)) return { quantity: "rpm", unit: "rpm", sure: false, reason: `${span}, as rpm does.` };
  if (low >= 4 && high <= 20)
    return { quantity: "battery-voltage", unit: "V", sure: false, reason: `${span}, as battery voltages do.` };
  if (low >= 50 && high <= 115)
    return {
      quantity: "barometric-pressure",
      unit: "kPa",
      sure: false,
      reason: `${span}, as air pressures in kPa do.`,
    };
  return { quantity: "coolant-temperature", unit: "°C", sure: false, reason: `${span}; taken as temperatures in °C.` };
}
