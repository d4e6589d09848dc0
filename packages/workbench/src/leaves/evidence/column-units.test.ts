import { type LogQuantity, logQuantities, readLog } from "@fuelwright/table-core";
import { expect, test } from "vitest";
import { columnUnits } from "./column-units.ts";

test("every unit offered for a column is one that it can be read in", async () => {
  for (const quantity of Object.keys(logQuantities) as LogQuantity[]) {
    const own = logQuantities[quantity].unit;
    const units = columnUnits(quantity, own);
    expect(units[0]).toBe(own);
    for (const unit of units) {
      const log = await readLog("t,a,b\n0,1,2\n1,2,3\n", { columns: { a: { quantity, unit } }, hertz: 1 });
      expect(log.columns[1]).toMatchObject({ quantity, unit });
    }
  }
});
