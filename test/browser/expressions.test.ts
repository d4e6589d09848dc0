import {
  cellRows,
  checkExpression,
  createAxis,
  createTable,
  evaluateCells,
  prepareExpressions,
} from "@fuelwright/table-core";
import { expect, test } from "vitest";

const table = createTable({
  id: "t",
  name: "invented",
  quantity: "fuel-mass",
  rpm: createAxis({ quantity: "rpm", breakpoints: [1000, 2000] }),
  load: createAxis({ quantity: "manifold-pressure", breakpoints: [40, 80] }),
  cells: [
    [1, 2],
    [3, 4],
  ],
});

test("in a browser expressions ask to be loaded, and work once they are", async () => {
  const evaluate = () => evaluateCells(table, { expression: "rpm > 1500 ? cell + 50% : cell" });
  expect(evaluate).toThrow(expect.objectContaining({ code: "expressions-not-loaded" }));
  expect(() => checkExpression("cell")).toThrow(/await prepareExpressions\(\)/);
  await prepareExpressions();
  expect(cellRows(evaluate())).toEqual([
    [1, 3],
    [3, 6],
  ]);
  expect(checkExpression("cell +")).toMatchObject({ at: 6 });
});
