import type { FuelTable } from "../../values/fuel-table.ts";
import { cellQuantities } from "../../values/quantities.ts";
import type { Region } from "../../values/region.ts";
import { regionOfCells } from "../region-of-cells.ts";

/** What was found: a spike, a jump between neighbours, a fall along load, or neighbours all alike. */
export type FindingKind = "out-of-line" | "step" | "against-load" | "flat";

/** Something in a table that looks unintended, and the one step that would mend it. */
export interface Finding {
  readonly kind: FindingKind;
  /** Row-major places, rising. */
  readonly cells: readonly number[];
  /** The same cells in rpm and load. */
  readonly region: Region;
  /** A plain sentence that names the place and the figures. */
  readonly reason: string;
  /** A step's kind and settings. */
  readonly remedy: Remedy;
}

/** Filling in from around, or smoothing moderately: waves shorter than some six cells lose more than half. */
export type Remedy =
  | { readonly kind: "fill-cells"; readonly settings: { readonly region: Region; readonly along: "both" } }
  | { readonly kind: "smooth-cells"; readonly settings: { readonly region: Region; readonly strength: number } };

/** The size of a table, and places in it. */
export interface Shape {
  readonly rows: number;
  readonly columns: number;
}

export const shapeOf = (table: Pick<FuelTable, "rpm" | "load">): Shape => ({
  rows: table.load.breakpoints.length,
  columns: table.rpm.breakpoints.length,
});

/** How to walk a table along one axis, line by line. */
export interface Way {
  readonly points: readonly number[];
  readonly unit: string;
  readonly count: number;
  readonly lines: number;
  readonly stride: number;
  readonly lineStride: number;
}

/** Along rpm, and along load. */
export function waysOf({ rpm, load }: FuelTable): readonly [Way, Way] {
  const [columns, rows] = [rpm.breakpoints.length, load.breakpoints.length];
  return [
    { points: rpm.breakpoints, unit: rpm.unit, count: columns, lines: rows, stride: 1, lineStride: columns },
    { points: load.breakpoints, unit: load.unit, count: rows, lines: columns, stride: columns, lineStride: 1 },
  ];
}

/** A finding over some cells; `widen` lets the remedy work on the cells around them too. */
export function finding(
  table: FuelTable,
  kind: FindingKind,
  cells: readonly number[],
  reason: string,
  remedy: { readonly kind: Remedy["kind"]; readonly widen: boolean },
): Finding {
  const sorted = [...new Set(cells)].sort((a, b) => a - b);
  const region = regionOf(table, sorted);
  const mended = remedy.widen ? regionOf(table, around(shapeOf(table), sorted)) : region;
  return {
    kind,
    cells: sorted,
    region,
    reason,
    remedy:
      remedy.kind === "fill-cells"
        ? { kind: "fill-cells", settings: { region: mended, along: "both" } }
        : { kind: "smooth-cells", settings: { region: mended, strength: 1 } },
  };
}

function regionOf(table: FuelTable, cells: readonly number[]): Region {
  const chosen = new Set(cells);
  return regionOfCells(table, (at) => chosen.has(at))!;
}

/** The rectangle that holds the cells and one more breakpoint on each side. */
function around({ rows, columns }: Shape, cells: readonly number[]): number[] {
  const row = cells.map((at) => Math.floor(at / columns));
  const column = cells.map((at) => at % columns);
  const [bottom, top] = [Math.max(Math.min(...row) - 1, 0), Math.min(Math.max(...row) + 1, rows - 1)];
  const [left, right] = [Math.max(Math.min(...column) - 1, 0), Math.min(Math.max(...column) + 1, columns - 1)];
  const box: number[] = [];
  for (let r = bottom; r <= top; r++) for (let c = left; c <= right; c++) box.push(r * columns + c);
  return box;
}

/** Groups of cells that touch along a side; each cell in one group, groups by their first cell. */
export function touchingGroups(
  { columns }: Shape,
  cells: ReadonlySet<number>,
  joined: (a: number, b: number) => boolean = () => true,
): number[][] {
  const groups: number[][] = [];
  const seen = new Set<number>();
  for (const start of [...cells].sort((a, b) => a - b)) {
    if (seen.has(start)) continue;
    const group = [start];
    seen.add(start);
    for (const at of group)
      for (const next of [at - columns, at + columns, ...sideways(at, columns)])
        if (cells.has(next) && !seen.has(next) && joined(at, next)) {
          seen.add(next);
          group.push(next);
        }
    groups.push(group);
  }
  return groups;
}

const sideways = (at: number, columns: number) => [
  ...(at % columns > 0 ? [at - 1] : []),
  ...(at % columns < columns - 1 ? [at + 1] : []),
];

export function median(values: readonly number[]): number {
  if (values.length === 0) return 0;
  const sorted = Float64Array.from(values).sort();
  const middle = sorted.length >> 1;
  return sorted.length % 2 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}

/** A value with its unit, as precise as the quantity is worth. */
export function sayValue(table: FuelTable, value: number): string {
  const { decimals, unit } = cellQuantities[table.quantity];
  return `${value.toFixed(decimals)}${unit === "lambda" || unit === "factor" ? "" : ` ${unit}`}`;
}

export const sayPercent = (value: number): string => `${Math.abs(value).toFixed(Math.abs(value) < 9.95 ? 1 : 0)} %`;

/** "3500 rpm, 70 kPa", or "3500 to 4500 rpm, 70 kPa" for more than one cell. */
export function sayPlace(table: FuelTable, cells: readonly number[]): string {
  const { columns } = shapeOf(table);
  const range = (axis: FuelTable["rpm"], places: readonly number[]) => {
    const [low, high] = [Math.min(...places), Math.max(...places)].map((at) => axis.breakpoints[at]!);
    return `${low === high ? low : `${low} to ${high}`} ${axis.unit}`;
  };
  const rpm = range(
    table.rpm,
    cells.map((at) => at % columns),
  );
  if (table.load.quantity === "single-row") return rpm;
  return `${rpm}, ${range(
    table.load,
    cells.map((at) => Math.floor(at / columns)),
  )}`;
}
