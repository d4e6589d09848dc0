import { MOST_BREAKPOINTS } from "../values/axis.ts";
import { FuelwrightError } from "../values/errors.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import { requireOneOf, requireWhole } from "../values/require.ts";

/** One way to place breakpoints along a side, and what it costs. */
export interface BreakpointChoice {
  readonly count: number;
  /** In the axis' unit, the ends among them. */
  readonly breakpoints: readonly number[];
  /** Root mean square and largest difference of the surfaces when cells between are read off straight lines, in the table's unit. */
  readonly rootMeanSquare: number;
  /** See `rootMeanSquare`. */
  readonly largest: number;
}

/**
 * Where to place a wished number of breakpoints along one side, and what every smaller number would cost.
 *
 * Of the table's own breakpoints those are kept between which its surface is straightest: the best choice there is by
 * least squares, found by dynamic programming, the ends always kept. More than the table has are placed by halving the
 * widest gaps, which costs nothing. `rebinTable` then does no worse.
 *
 * @returns choices for 2 breakpoints up to `count`, fewest first. O(n² · (n + lines))
 * @example chooseBreakpoints(table, { along: "rpm", count: 12 }).at(-1).breakpoints
 * @throws FuelwrightError `unknown-choice`, `not-whole`, `out-of-range`, `one-row`
 */
export function chooseBreakpoints(
  table: FuelTable,
  { along, count }: { readonly along: "rpm" | "load"; readonly count: number },
): readonly BreakpointChoice[] {
  requireOneOf("chooseBreakpoints: along", along, ["rpm", "load"]);
  requireWhole("chooseBreakpoints: count", count, 2, MOST_BREAKPOINTS);
  if (along === "load" && table.load.quantity === "single-row")
    throw new FuelwrightError("one-row", `chooseBreakpoints: ${table.id} has one row; choose along rpm`);
  const places = table[along].breakpoints;
  const lines = linesAlong(table, along);
  const most = Math.min(count, places.length);
  const best = bestSubsets(spanSquares(places, lines), places.length, most);
  // Choices for neighbouring counts share most of their spans.
  const known = new Map<number, Span>();
  const spanOf = (from: number, to: number): Span => {
    const key = from * places.length + to;
    const span = known.get(key) ?? spanCost(places, lines, from, to);
    known.set(key, span);
    return span;
  };
  const choices = best.map((kept): BreakpointChoice => {
    let squares = 0;
    let largest = 0;
    for (let at = 1; at < kept.length; at++) {
      const span = spanOf(kept[at - 1]!, kept[at]!);
      squares += span.squares;
      largest = Math.max(largest, span.largest);
    }
    const area = (places.at(-1)! - places[0]!) * lines.length;
    return {
      count: kept.length,
      breakpoints: kept.map((at) => places[at]!),
      rootMeanSquare: Math.sqrt(squares / area),
      largest,
    };
  });
  let all = [...places];
  while (all.length < count) {
    all = halveWidest(all);
    choices.push({ count: all.length, breakpoints: all, rootMeanSquare: 0, largest: 0 });
  }
  return choices;
}

/** The table's cells as lines along one side. */
function linesAlong(table: FuelTable, along: "rpm" | "load"): readonly Float64Array[] {
  const columns = table.rpm.breakpoints.length;
  const rows = table.load.breakpoints.length;
  return along === "rpm"
    ? Array.from({ length: rows }, (_, r) => table.cells.subarray(r * columns, (r + 1) * columns))
    : Array.from({ length: columns }, (_, c) =>
        Float64Array.from({ length: rows }, (_, r) => table.cells[r * columns + c]!),
      );
}

interface Span {
  readonly squares: number;
  readonly largest: number;
}

/** What a straight line from breakpoint `from` to `to` costs over all lines: ∫ difference², and the largest difference. */
function spanCost(places: readonly number[], lines: readonly Float64Array[], from: number, to: number): Span {
  let squares = 0;
  let largest = 0;
  const width = places[to]! - places[from]!;
  for (const line of lines) {
    let before = 0;
    for (let at = from + 1; at <= to; at++) {
      const share = (places[at]! - places[from]!) / width;
      const off = line[at]! - (line[from]! * (1 - share) + line[to]! * share);
      squares += ((places[at]! - places[at - 1]!) * (before * before + before * off + off * off)) / 3;
      largest = Math.max(largest, Math.abs(off));
      before = off;
    }
  }
  return { squares, largest };
}

/**
 * ∫ difference² of every span, at `from · n + to`: what there is to choose by.
 *
 * From one span to the next only the integrals of u² and u·x grow, u and x being taken from the span's beginning; the chord
 * to its end then costs ∫u² − 2·slope·∫u·x + slope²·width³/3. That is some millions of steps where summing each span anew
 * takes a thousand million; its rounding decides only between choices that are equally good.
 */
function spanSquares(places: readonly number[], lines: readonly Float64Array[]): Float64Array {
  const n = places.length;
  const costs = new Float64Array(n * n);
  for (let from = 0; from < n; from++)
    for (const line of lines) {
      let square = 0;
      let moment = 0;
      let u = 0;
      let x = 0;
      for (let to = from + 1; to < n; to++) {
        const nextU = line[to]! - line[from]!;
        const nextX = places[to]! - places[from]!;
        const step = nextX - x;
        square += (step * (u * u + u * nextU + nextU * nextU)) / 3;
        moment += (step * (x * (2 * u + nextU) + nextX * (u + 2 * nextU))) / 6;
        const slope = nextU / nextX;
        // A span of one gap costs nothing, whatever rounding says.
        if (to > from + 1)
          costs[from * n + to]! += Math.max(square - slope * (2 * moment - (slope * nextX ** 3) / 3), 0);
        u = nextU;
        x = nextX;
      }
    }
  return costs;
}

/** For 2, 3, … `most` kept: which ones cost least. */
function bestSubsets(costs: Float64Array, total: number, most: number): number[][] {
  const last = total - 1;
  // cost[k][j]: least for k + 2 kept from 0 to j; way[k][j]: the one before j.
  let cost = costs.slice(0, total);
  const ways: Int16Array[] = [new Int16Array(total)];
  const results = [[0, last]];
  for (let kept = 3; kept <= most; kept++) {
    const next = new Float64Array(total).fill(Number.POSITIVE_INFINITY);
    const way = new Int16Array(total);
    for (let j = kept - 1; j < total; j++)
      for (let i = kept - 2; i < j; i++) {
        const sum = cost[i]! + costs[i * total + j]!;
        if (sum < next[j]!) {
          next[j] = sum;
          way[j] = i;
        }
      }
    cost = next;
    ways.push(way);
    const chain = [last];
    for (let level = ways.length - 1; level >= 0; level--) chain.unshift(ways[level]![chain[0]!]!);
    results.push(chain);
  }
  return results;
}

function halveWidest(places: readonly number[]): number[] {
  let widest = 0;
  for (let at = 1; at + 1 < places.length; at++)
    if (places[at + 1]! - places[at]! > places[widest + 1]! - places[widest]!) widest = at;
  const middle = (places[widest]! + places[widest + 1]!) / 2;
  return [...places.slice(0, widest + 1), middle, ...places.slice(widest + 1)];
}
