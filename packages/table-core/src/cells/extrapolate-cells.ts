import { type Axis, createAxis } from "../values/axis.ts";
import { FuelwrightError } from "../values/errors.ts";
import { createTable, type FuelTable } from "../values/fuel-table.ts";
import type { Region } from "../values/region.ts";
import { requireFinite, requireWhole, requireWithin } from "../values/require.ts";
import { regionOfCells } from "./region-of-cells.ts";

/** What {@link extrapolateCells} takes. */
export interface ExtrapolateCells {
  /** New breakpoints beyond either end of the axis, in its unit and any order. */
  readonly rpm?: readonly number[];
  readonly load?: readonly number[];
  /** Over how many of the last breakpoints the trend is taken, from 2; default 3. */
  readonly trendOver?: number;
  /**
   * How far the trend goes on before it fades, as a share of what it was taken over, 0..100; default 1. In all the edge
   * cell changes by no more than this times its change over the trend. 0: the edge is held.
   */
  readonly fade?: number;
}

/** What {@link extrapolateCells} gives. */
export interface Extrapolated {
  readonly table: FuelTable;
  /** The new cells: figures that nothing has measured. */
  readonly extrapolated: Region;
  /** How many of them were held at 0, below which their quantity has no meaning. */
  readonly heldAtZero: number;
}

/**
 * The table with further breakpoints beyond its ends, where the cells follow the trend of the last ones, damped:
 * edge + slope · reach · (1 − e^(−distance / reach)).
 *
 * The slope is the mean over the last `trendOver` breakpoints, the reach is `fade` times their extent. Old cells come
 * out bit for bit. In the corners both trends add up. Pulse widths, masses, efficiencies, lambda and factors are held at
 * 0 at the least, if no old cell lies below. What comes out is a guess: run a new corner first on the safe side.
 *
 * @example extrapolateCells(table, { rpm: [8500, 9000], load: [110] })
 * @throws FuelwrightError `no-new-breakpoints`, `not-beyond` for a breakpoint within the axis (rebin for those),
 *   `wrong-axis` for load on a one-row table, `axis-too-long`, `axis-not-rising` if one is given twice, `out-of-range`
 * @see Gardner & McKenzie, Forecasting trends in time series, Management Science 31 (1985) 1237 (the damped trend)
 */
export function extrapolateCells(table: FuelTable, settings: ExtrapolateCells): Extrapolated {
  const { rpm = [], load = [] } = settings;
  const trendOver = requireWhole("extrapolateCells: trendOver", settings.trendOver ?? 3, 2, 256);
  const fade = requireWithin("extrapolateCells: fade", settings.fade ?? 1, 0, 100);
  if (rpm.length + load.length === 0)
    throw new FuelwrightError(
      "no-new-breakpoints",
      "extrapolateCells: rpm or load must be given, got neither; add some",
    );
  const oneRow = table.load.quantity === "single-row";
  if (oneRow && load.length > 0)
    throw new FuelwrightError("wrong-axis", "extrapolateCells: load does not exist on a one-row table; give rpm alone");
  const columns = widen("rpm", table.rpm, rpm, trendOver, fade);
  const rows = widen("load", table.load, load, trendOver, fade);
  const width = table.rpm.breakpoints.length;
  const inRow = (row: number, { edge, back, share }: Source): number => {
    const own = table.cells[row * width + edge]!;
    return share === 0 ? own : own + share * (own - table.cells[row * width + back]!);
  };
  const isOld: boolean[] = [];
  const cells: number[] = [];
  for (const row of rows.sources)
    for (const column of columns.sources) {
      const own = inRow(row.edge, column);
      cells.push(row.share === 0 ? own : own + row.share * (own - inRow(row.back, column)));
      isOld.push(row.old && column.old);
    }
  const mayFall = table.quantity === "trim" || table.cells.some((cell) => cell < 0);
  let heldAtZero = 0;
  const held = Float64Array.from(cells, (cell, at) => {
    if (mayFall || isOld[at] || cell >= 0) return cell;
    heldAtZero++;
    return 0;
  });
  const wider = createTable({
    ...table,
    rpm: columns.axis,
    ...(!oneRow && { load: rows.axis }),
    cells: held,
  });
  return { table: wider, extrapolated: regionOfCells(wider, (at) => !isOld[at])!, heldAtZero };
}

/** Where a new line of cells comes from: the edge line, one further in, and how much of their difference is added. */
interface Source {
  readonly edge: number;
  readonly back: number;
  readonly share: number;
  readonly old: boolean;
}

function widen(
  side: "rpm" | "load",
  axis: Axis,
  added: readonly number[],
  trendOver: number,
  fade: number,
): { readonly axis: Axis; readonly sources: readonly Source[] } {
  const old = axis.breakpoints;
  const last = old.length - 1;
  const step = Math.min(trendOver - 1, last);
  const outer = (value: number, edge: number, back: number): [value: number, source: Source] => {
    const extent = Math.abs(old[edge]! - old[back]!);
    const reach = fade * extent;
    // The trend over the extent, carried on over a distance that never passes the reach.
    const share = reach === 0 ? 0 : fade * -Math.expm1(-Math.abs(value - old[edge]!) / reach);
    return [value, { edge, back, share, old: false }];
  };
  const below: [number, Source][] = [];
  const above: [number, Source][] = [];
  added.forEach((value, at) => {
    const where = `extrapolateCells: ${side}[${at}]`;
    requireFinite(where, value);
    if (value < old[0]!) below.push(outer(value, 0, step));
    else if (value > old[last]!) above.push(outer(value, last, last - step));
    else
      throw new FuelwrightError(
        "not-beyond",
        `${where} must lie beyond the axis, ${old[0]} to ${old[last]} ${axis.unit}, got ${value}; rebin to add it within`,
        { side, value, low: old[0], high: old[last] },
      );
  });
  const rising = (a: [number, Source], b: [number, Source]) => a[0] - b[0];
  const own = old.map((value, at): [number, Source] => [value, { edge: at, back: at, share: 0, old: true }]);
  const all = [...below.sort(rising), ...own, ...above.sort(rising)];
  return {
    axis: added.length === 0 ? axis : createAxis({ ...axis, breakpoints: all.map(([value]) => value) }),
    sources: all.map(([, source]) => source),
  };
}
