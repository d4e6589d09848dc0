import {
  cellRows,
  createAxis,
  createTable,
  type FuelTable,
  guardText,
  readTableText,
  writeTableText,
} from "@fuelwright/table-core";
import fc from "fast-check";
import Papa from "papaparse";
import { expect, test } from "vitest";

// Source: RFC 4180, Common Format and MIME Type for CSV Files (2005), as a general-purpose library (papaparse) reads and
// writes it. No tolerance: every number must come through bit for bit.

const rising = (from: number) =>
  fc
    .array(fc.integer({ min: 1, max: 4000 }), { minLength: 2, maxLength: 6 })
    .map((steps) => steps.map((_, at) => from + steps.slice(0, at + 1).reduce((sum, step) => sum + step, 0) / 8));

/** Names with what CSV must put in quotes; blanks at their ends would not survive a writer that leaves quotes out. */
const names = fc
  .string({ unit: fc.constantFrom(..."ab ,;\t\"\r\n'=-@#é"), minLength: 1, maxLength: 12 })
  .filter((name) => name !== "" && name === name.trim());

const tables: fc.Arbitrary<FuelTable> = fc.tuple(rising(500), rising(10), names).chain(([rpm, load, name]) =>
  fc
    .array(fc.double({ noNaN: true, noDefaultInfinity: true }), {
      minLength: rpm.length * load.length,
      maxLength: rpm.length * load.length,
    })
    .map((cells) =>
      createTable({
        ...{ id: "t", name, quantity: "trim" },
        rpm: createAxis({ quantity: "rpm", breakpoints: rpm }),
        load: createAxis({ quantity: "manifold-pressure", breakpoints: load }),
        cells: Float64Array.from(cells),
      }),
    ),
);

const manners = fc.record({
  delimiter: fc.constantFrom<"," | ";" | "\t">(",", ";", "\t"),
  decimal: fc.constantFrom<"." | ",">(".", ","),
  lineEnd: fc.constantFrom<"\r\n" | "\n">("\r\n", "\n"),
});

test("another reader finds the same name and numbers in what is written", () => {
  fc.assert(
    fc.property(tables, manners, fc.boolean(), (table, manner, bom) => {
      const { text } = writeTableText(table, { ...manner, bom });
      const { data, errors } = Papa.parse<string[]>(text, { delimiter: manner.delimiter, newline: manner.lineEnd });
      expect(errors).toEqual([]);
      const [title, header, ...rows] = data as [string[], string[], ...string[][]];
      expect(title).toEqual([guardText(table.name)]);
      const numbers = (fields: readonly string[]) => fields.map((field) => Number(field.replace(manner.decimal, ".")));
      expect(numbers(header.slice(1))).toEqual(table.rpm.breakpoints);
      // The line end behind the last row makes a last empty line, as RFC 4180 allows.
      expect(rows.pop()).toEqual([""]);
      expect(rows.map((row) => numbers(row)[0])).toEqual(table.load.breakpoints);
      expect(rows.map((row) => numbers(row.slice(1)))).toEqual(cellRows(table));
    }),
    { numRuns: 300 },
  );
});

test("what another writer writes is read as the same table, with or without quotes it does not need", () => {
  fc.assert(
    fc.property(tables, manners, fc.boolean(), (table, { delimiter, decimal, lineEnd }, quotes) => {
      // With a decimal comma three places after it would be open to two readings; four are not.
      const say = (value: number) =>
        decimal === "."
          ? String(value)
          : String(value)
              .replace(".", ",")
              .replace(/^(-?\d{1,3},\d{3})$/, "$10");
      const lines = [
        [guardText(table.name)],
        ["trim (%): kPa \\ rpm", ...table.rpm.breakpoints.map(say)],
        ...cellRows(table).map((row, at) => [table.load.breakpoints[at]!, ...row].map(say)),
      ];
      // A comment is an extension of ours, which the other writer does not know to put in quotes.
      const text = Papa.unparse(lines, { delimiter, newline: lineEnd, quotes: quotes || /^\s*#/.test(table.name) });
      const read = readTableText(text, { id: "t", orientation: "rpm-across" }).table;
      expect(read.rpm.breakpoints).toEqual(table.rpm.breakpoints);
      expect(read.load.breakpoints).toEqual(table.load.breakpoints);
      expect(read.cells).toEqual(table.cells);
      expect(read.name).toBe(table.name);
    }),
    { numRuns: 300 },
  );
});
