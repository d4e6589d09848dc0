import type { FuelTable } from "@fuelwright/table-core";
import { axesDisplay, figure } from "../../../store/display.ts";
import type { Preferences } from "../../../store/preferences.ts";
import { extremes } from "./extremes.ts";

type Axes = Pick<FuelTable, "rpm" | "load">;
type Units = Pick<Preferences, "units" | "shownUnits">;

export const counted = (count: number, one: string, several = `${one}s`): string =>
  `${figure(count, 0)} ${count === 1 ? one : several}`;

/** Where cells lie, in words: "900–1,200 rpm, 20–26 kPa". */
export function sayReach(cells: readonly { readonly rpm: number; readonly load: number }[], axes: Axes, units: Units) {
  const shown = axesDisplay(axes, units);
  const side = (values: readonly number[], which: "rpm" | "load") => {
    const { show, decimals, unit } = shown[which];
    const [from, to] = extremes(values).map((value) => figure(show(value), decimals));
    return `${from === to ? from : `${from}–${to}`} ${unit}`;
  };
  const words = [
    side(
      cells.map(({ rpm }) => rpm),
      "rpm",
    ),
  ];
  if (axes.load.quantity !== "single-row")
    words.push(
      side(
        cells.map(({ load }) => load),
        "load",
      ),
    );
  return words.join(", ");
}

/** The cells of row-major places. */
export function cellsAt({ rpm, load }: Axes, places: readonly number[]) {
  const columns = rpm.breakpoints.length;
  return places.map((at) => ({
    at,
    rpm: rpm.breakpoints[at % columns]!,
    load: load.breakpoints[Math.floor(at / columns)]!,
  }));
}

/** "+3.2 %", "−20.5 %". */
export function signedPercent(percent: number, decimals = 1): string {
  const text = figure(Math.abs(percent), decimals);
  return text === "0" ? "0 %" : `${percent < 0 ? "−" : "+"}${text} %`;
}

/** A sentence as it is written: its first letter large, a stop behind it. */
export function asSentence(text: string): string {
  const trimmed = text.trim();
  const whole = /[.!?:]$/.test(trimmed) ? trimmed : `${trimmed}.`;
  return whole.charAt(0).toUpperCase() + whole.slice(1);
}
