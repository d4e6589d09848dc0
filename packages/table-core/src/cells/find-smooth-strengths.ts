import { patternSearch } from "../numeric/pattern-search.ts";
import { chooseMethod, requireDetermined } from "../numeric/penalised-grid.ts";
import { FuelwrightError } from "../values/errors.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import { countedCells, judgeAlike, judgeByBand, judgeByFields } from "./judge-smoothing.ts";
import { type SmoothPart, smoothedGrid } from "./smoothed-grid.ts";

/** Strengths found from a table, and what they amount to. */
export interface FoundStrengths {
  readonly rpmStrength: number;
  readonly loadStrength: number;
  /** How many free cells the smoothed table amounts to: from 4 (a surface without bends) to all. */
  readonly effectiveDimension: number;
  /** Estimated standard deviation of a cell of weight 1 about the smooth table, in the table's unit. */
  readonly noise: number;
}

/**
 * The strengths along rpm and load with which each cell is best foretold from the others: those of least generalised
 * cross-validation, n·Σ w·r² / (n − effective dimension)², over the n cells that may move and have some weight.
 *
 * It takes what varies from cell to cell without pattern for noise; waves several cells wide it keeps. Between 10⁻³ and
 * 10⁷, to a tenth of a decade or better. Instant where all cells count alike; else some thirty solutions. Beyond 2,500
 * free cells of unequal weights the effective dimension is estimated from two random fields of fixed seed.
 *
 * @example smoothCells(table, { ...findSmoothStrengths(table, { region }), region })
 * @throws FuelwrightError `too-few-cells` if fewer than five cells are free and have some weight, and as `smoothCells`
 * @see Craven & Wahba, Numer. Math. 31 (1979) 377; Hutchinson, Commun. Stat. Simul. 19 (1990) 433 (the estimate)
 */
export function findSmoothStrengths(table: FuelTable, part: SmoothPart = {}): FoundStrengths {
  const operation = "findSmoothStrengths";
  const grid = smoothedGrid(operation, table, part, { rpmStrength: 1, loadStrength: 1 });
  const counted = countedCells(grid).length;
  const sides = [grid.x, grid.y].map((side) => side.differences.length > 0);
  if (!sides[0] && !sides[1]) return { rpmStrength: 0, loadStrength: 0, effectiveDimension: counted, noise: 0 };
  if (counted < 5)
    throw new FuelwrightError(
      "too-few-cells",
      `${operation}: at least 5 cells must be free and have some weight, got ${counted}; choose a larger part, or a strength`,
      { counted },
    );
  requireDetermined(operation, grid);
  const method = chooseMethod(grid);
  const judge =
    method === "eigenvectors"
      ? judgeAlike(grid)
      : method === "band"
        ? judgeByBand(grid)
        : judgeByFields(operation, grid);
  const at = (logs: readonly number[]): readonly [number, number] => {
    const own = logs.map((log) => 10 ** log);
    return [sides[0] ? own[0]! : 0, sides[1] ? own[sides[0] ? 1 : 0]! : 0];
  };
  const score = (logs: readonly number[]) => {
    const { misfit, dimension } = judge(...at(logs));
    const spare = counted - dimension;
    return spare > 1e-6 * counted ? (counted * misfit) / spare ** 2 : Number.POSITIVE_INFINITY;
  };
  const dimensions = sides.filter(Boolean).length;
  const starts = [-1, 1, 3].map((log) => new Array<number>(dimensions).fill(log));
  const best = patternSearch(score, starts, {
    low: -3,
    high: 7,
    firstStep: 1,
    lastStep: method === "eigenvectors" ? 0.01 : 0.1,
  });
  const [rpmStrength, loadStrength] = at(best);
  const { misfit, dimension } = judge(rpmStrength, loadStrength);
  return {
    rpmStrength,
    loadStrength,
    effectiveDimension: dimension,
    noise: Math.sqrt(misfit / Math.max(counted - dimension, 1e-9)),
  };
}
