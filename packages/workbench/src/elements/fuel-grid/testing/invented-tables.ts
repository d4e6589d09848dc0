import { createAxis, createTable, type FuelTable, withCells } from "@fuelwright/table-core";

/** An invented table: pulse widths that rise with load and swell in the middle of the rpm range. */
export function inventedTable(columns = 6, rows = 5): FuelTable {
  const rpm = createAxis({ quantity: "rpm", breakpoints: Array.from({ length: columns }, (_, at) => 1000 + at * 500) });
  const load = createAxis({
    quantity: "manifold-pressure",
    breakpoints: Array.from({ length: rows }, (_, at) => 20 + at * 10),
  });
  const cells = Float64Array.from({ length: columns * rows }, (_, at) => {
    const column = at % columns;
    return 2 + Math.floor(at / columns) * 0.75 + Math.sin((column / columns) * Math.PI);
  });
  return createTable({ id: "invented", name: "Invented", quantity: "pulse-width", rpm, load, cells });
}

/** The same table with one cell set. */
export function withCell(table: FuelTable, row: number, column: number, value: number): FuelTable {
  const cells = Float64Array.from(table.cells);
  cells[row * table.rpm.breakpoints.length + column] = value;
  return withCells(table, cells, "test");
}

/** The same table with all cells multiplied. */
export const scaled = (table: FuelTable, factor: number): FuelTable =>
  withCells(
    table,
    table.cells.map((value) => value * factor),
    "test",
  );
