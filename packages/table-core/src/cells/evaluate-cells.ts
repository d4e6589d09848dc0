import { FuelwrightError } from "../values/errors.ts";
import { cellPlace, type FuelTable } from "../values/fuel-table.ts";
import type { Region } from "../values/region.ts";
import { compileExpression } from "./compile-expression.ts";
import { editCells } from "./edit-cells.ts";
import { expressionSlots, expressionVariables } from "./expression-names.ts";
import { sampleOn } from "./sample-grid.ts";

/** What {@link evaluateCells} takes. */
export interface EvaluateCells {
  /** For instance `cell * 1.05`, `max(cell, 2.1)` or `rpm > 4000 ? cell + 3% : cell`. */
  readonly expression: string;
  /** Left out: the whole table. */
  readonly region?: Region;
  /** Other tables by id, to be used at the same rpm and load under the name that `expressionName(id)` gives. */
  readonly tables?: Readonly<Record<string, FuelTable>>;
}

/**
 * The table with every cell of the region at what the expression gives there.
 *
 * In the expression `cell` is the cell before, `rpm` and `load` are its breakpoints (on a one-row table `rpm` is its
 * axis, whatever that is, and `load` 0), `weight` is the region's weight, and other tables stand by name, looked up
 * there and held at their edges. There are + − * / ^, brackets, percentages (`cell + 5%` is 5 % more, `5%` alone is
 * 0.05), comparisons (also `20 < load < 60`), `and`, `or`, `xor`, `not`, `condition ? one : other`, and the functions
 * of `expressionFunctions`. Nothing else: numbers only, no assignment, no definition, no member of anything, at most
 * 500 characters.
 *
 * Where the weight is below 1 the cell moves by its weight; locked cells and cells outside come out bit for bit.
 * O(cells · length). In browsers `await prepareExpressions()` comes first.
 *
 * @throws FuelwrightError `bad-expression` with the character (from 0) as `details.at`; `result-not-finite` naming the
 *   cell; `axes-differ`, `bad-region`, `expressions-not-loaded`
 */
export function evaluateCells(table: FuelTable, { expression, region, tables = {} }: EvaluateCells): FuelTable {
  const ids = Object.keys(tables);
  const compiled = compileExpression(expression, expressionSlots(ids));
  if (!("run" in compiled))
    throw new FuelwrightError(
      "bad-expression",
      `evaluateCells: expression at character ${compiled.at + 1}: ${compiled.message}`,
      { at: compiled.at, fault: compiled.message },
    );
  const { run, reads } = compiled;
  const rpm = table.rpm.breakpoints;
  const load = table.load.breakpoints;
  const values = new Float64Array(expressionVariables.length + ids.length);
  // Only tables that are used: the others may lie on axes that have nothing to do with this table's.
  const others = [...reads]
    .filter((slot) => slot >= expressionVariables.length)
    .map((slot) => ({
      slot,
      cells: sampleOn("evaluateCells", table, tables[ids[slot - expressionVariables.length]!]!),
    }));
  return editCells(table, region, "evaluateCells", (cell, at, weight) => {
    values[0] = cell;
    values[1] = rpm[at % rpm.length]!;
    values[2] = load[Math.floor(at / rpm.length)]!;
    values[3] = weight;
    for (const { slot, cells } of others) values[slot] = cells[at]!;
    const result = run(values);
    if (!Number.isFinite(result))
      throw new FuelwrightError(
        "result-not-finite",
        `evaluateCells: the expression at ${cellPlace(table, at)} must give a finite number, got ${result}; ` +
          "look for a division by 0 or a root of less than 0",
        { at, result },
      );
    return result;
  });
}
