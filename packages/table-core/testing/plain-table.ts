import { createAxis } from "../src/values/axis.ts";
import { createTable, type FuelTable, type FuelTableSpec } from "../src/values/fuel-table.ts";

/** A table of these rows at 1000, 2000, … rpm and 10, 20, … kPa; a single row without a load axis. */
export function plainTable(rows: readonly (readonly number[])[], more: Partial<FuelTableSpec> = {}): FuelTable {
  const points = (count: number, step: number) => Array.from({ length: count }, (_, at) => step * (at + 1));
  return createTable({
    id: "plain",
    name: "invented",
    quantity: "fuel-mass",
    rpm: createAxis({ quantity: "rpm", breakpoints: points(rows[0]!.length, 1000) }),
    ...(rows.length > 1 && {
      load: createAxis({ quantity: "manifold-pressure", breakpoints: points(rows.length, 10) }),
    }),
    cells: rows.map((row) => [...row]),
    ...more,
  });
}
