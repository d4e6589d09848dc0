import fc from "fast-check";
import { expect, test } from "vitest";
import { anyTables } from "../../testing/arbitraries.ts";
import { createAxis } from "../values/axis.ts";
import { createTable, type FuelTable } from "../values/fuel-table.ts";
import { readTableText } from "./read-table-text.ts";
import { recogniseTableText } from "./recognise-table-text.ts";
import { type WriteTableText, writeTableText } from "./write-table-text.ts";

/** Invented. */
const small = createTable({
  id: "main",
  name: "Main pulse",
  quantity: "pulse-width",
  rpm: createAxis({ quantity: "rpm", breakpoints: [1000, 2000, 3000] }),
  load: createAxis({ quantity: "manifold-pressure", breakpoints: [40, 80] }),
  cells: [
    [2.1, 2.25, 2.5],
    [3.9, 4.2, 1.105],
  ],
});

const manners: fc.Arbitrary<WriteTableText> = fc.record({
  delimiter: fc.constantFrom(",", ";", "\t"),
  decimal: fc.constantFrom(".", ","),
  orientation: fc.constantFrom("rpm-across", "rpm-down"),
  load: fc.constantFrom("rising", "falling"),
  lineEnd: fc.constantFrom("\r\n", "\n"),
  bom: fc.boolean(),
});

/** What a text carries; id, storage, cylinder and locks it does not. */
const carried = ({ name, quantity, unit, rpm, load, cells }: FuelTable) => ({ name, quantity, unit, rpm, load, cells });

test("a table stands as a spreadsheet shows it, its units in the corner", () => {
  expect(writeTableText(small).text.split("\r\n")).toEqual([
    '"Main pulse"',
    "pulse width (ms): manifold pressure (kPa) down \\ rpm across,1000,2000,3000",
    "40,2.1,2.25,2.5",
    "80,3.9,4.2,1.105",
    "",
  ]);
});

test("a decimal comma is quoted among commas, and never stands before exactly three digits", () => {
  const { text } = writeTableText(small, { decimal: ",", load: "falling", lineEnd: "\n", corner: false, title: false });
  expect(text).toBe(',1000,2000,3000\n80,"3,9","4,2","1,1050"\n40,"2,1","2,25","2,5"\n');
});

test("rpm down the side", () => {
  const { text } = writeTableText(small, { delimiter: ";", orientation: "rpm-down", title: false, lineEnd: "\n" });
  expect(text).toBe(
    "pulse width (ms): rpm down \\ manifold pressure (kPa) across;40;80\n1000;2.1;3.9\n2000;2.25;4.2\n3000;2.5;1.105\n",
  );
});

test("read(write(table)) is the table, bit for bit, whatever its numbers, its name and the manner of writing", () => {
  fc.assert(
    fc.property(anyTables(), manners, (table, manner) => {
      const { table: read, recognised } = readTableText(writeTableText(table, manner).text, { id: "t" });
      expect(carried(read)).toEqual(carried(table));
      for (const said of [recognised.quantity, recognised.unit, recognised.rpmQuantity, recognised.orientation])
        expect(said.sure).toBe(true);
    }),
    { numRuns: 1500 },
  );
});

test("without labels and name the same holds once somebody says what the numbers are", () => {
  fc.assert(
    fc.property(anyTables(), manners, fc.boolean(), (table, manner, title) => {
      const { text } = writeTableText(table, { ...manner, corner: false, title });
      const isOneRow = table.load.quantity === "single-row";
      const { table: read } = readTableText(text, {
        id: "t",
        name: table.name,
        quantity: table.quantity,
        unit: table.unit,
        rpmQuantity: table.rpm.quantity,
        rpmUnit: table.rpm.unit,
        orientation: manner.orientation!,
        ...(!isOneRow && { loadQuantity: table.load.quantity, loadUnit: table.load.unit }),
      });
      expect(carried(read)).toEqual(carried(table));
    }),
    { numRuns: 800 },
  );
});

test("the manner of writing is recognised", () => {
  fc.assert(
    fc.property(manners, (manner) => {
      const recognised = recogniseTableText(writeTableText(small, manner).text);
      expect({
        delimiter: recognised.delimiter.value,
        decimal: recognised.decimal.value,
        orientation: recognised.orientation.value,
        load: recognised.loadDirection?.value,
        lineEnd: recognised.lineEnd.value,
        bom: recognised.bom.value,
      }).toEqual(manner);
      expect(recognised.problem).toBeNull();
    }),
  );
});

test("units of others are written, said, and converted back", () => {
  const { text } = writeTableText(small, { units: { cells: "us", load: "psi" } });
  expect(text).toContain("pulse width (us): manifold pressure (psi) down");
  // 40 kPa / 6.894757293168361 kPa per psi (NIST SP 811), and 2.1 ms.
  expect(text).toContain("\r\n5.8015095092");
  expect(text).toContain(",2100,");
  const back = readTableText(text, { id: "main" }).table;
  back.cells.forEach((value, at) => {
    // One rounding each way: two units in the last place.
    expect(Math.abs(value / small.cells[at]! - 1)).toBeLessThan(5e-16);
  });
  expect(back.load.breakpoints[0]).toBeCloseTo(40, 12);
});

test("AFR is written with its stoichiometric ratio, so that lambda comes back without being told it", () => {
  const target = createTable({ ...small, quantity: "lambda", unit: "lambda", cells: small.cells.map((v) => v / 4) });
  const { text } = writeTableText(target, { units: { cells: "AFR" }, stoichiometricRatio: 14.6 });
  expect(text).toContain("air-fuel ratio (14.6 stoichiometric): ");
  // 2.1 / 4 = 0.525 and 0.525 · 14.6 = 7.665.
  expect(text).toContain("40,7.665,");
  const { table, recognised } = readTableText(text, { id: "t" });
  expect(recognised.stoichiometricRatio?.value).toBe(14.6);
  table.cells.forEach((value, at) => {
    expect(value).toBeCloseTo(target.cells[at]!, 14);
  });
  const richness = writeTableText(target, { units: { cells: "equivalence ratio" } }).text;
  expect(richness).toContain("40,1.9047619047619047,");
  expect(readTableText(richness, { id: "t" }).recognised.unit.value).toBe("equivalence ratio");
});

test("a name that a spreadsheet would run is disarmed, and comes back as it was", () => {
  for (const name of ["=1+1", "+A1", "-2", "@x", "\tx", "\rx", " =1", "'=1", "''@x", "\uFF1D1"]) {
    const { text } = writeTableText({ ...small, name });
    expect(text.startsWith(`"'${name}"`)).toBe(true);
    expect(readTableText(text, { id: "t" }).table.name).toBe(name);
  }
  const plain = writeTableText({ ...small, name: "'twas" }).text;
  expect(plain.startsWith(`"'twas"`)).toBe(true);
});

test("with a storage step the cells are rounded, and the error is told", () => {
  const storage = { min: 0, max: 4, step: 0.1 };
  const { text, rounding } = writeTableText(small, { storage, title: false, lineEnd: "\n" });
  const { table } = readTableText(text, { id: "t" });
  expect([...table.cells].map((value) => value.toFixed(9))).toEqual(
    // Halves go up; 4.2 is cut off at 4.
    [2.1, 2.3, 2.5, 3.9, 4, 1.1].map((value) => value.toFixed(9)),
  );
  expect(rounding?.largest).toMatchObject({ rpm: 2000, load: 40, before: 2.25 });
  expect(rounding?.largest?.error).toBeCloseTo(0.05, 12);
  // Of the five cells not cut off, one is off by 0.05 and one by 0.005.
  expect(rounding?.rootMeanSquare).toBeCloseTo(Math.sqrt((0.05 ** 2 + 0.005 ** 2) / 5), 12);
  expect(rounding?.clipped).toMatchObject([{ rpm: 2000, load: 80, after: 4, end: "max" }]);
  expect(writeTableText(small).rounding).toBeNull();
  expect(() => writeTableText(small, { storage: { min: 0, max: 1, step: 0 } })).toThrow(/step must be above 0/);
});

test("what can't be written is refused", () => {
  const refusal = (table: FuelTable, options: WriteTableText) => () => writeTableText(table, options);
  expect(refusal(small, { delimiter: "|" as "," })).toThrow(/delimiter must be one of/);
  expect(refusal(small, { units: { cells: "kPa" } })).toThrow(/units.cells of pulse width must be one of ms, us/);
  expect(refusal({ ...small, name: "a\u0001" }, {})).toThrow(/control character at place 2; rename/);
  const target = createTable({ ...small, quantity: "lambda", unit: "lambda" });
  expect(refusal(target, { units: { cells: "AFR" } })).toThrow(/AFR needs the fuel's stoichiometric ratio/);
  const large = createTable({ ...small, cells: small.cells.map(() => 1e306) });
  expect(refusal(large, { units: { cells: "us" } })).toThrow(/1000 rpm, 40 kPa, 1e\+306, has no finite value in us/);
  const close = createAxis({
    quantity: "manifold-pressure",
    breakpoints: [0, 1, 2, 3, 4, 5, 6, 7].map((ulps) => 1.9 + ulps * 2 ** -52),
  });
  expect(
    refusal(createTable({ ...small, load: close, cells: new Float64Array(24) }), { units: { load: "hPa" } }),
  ).toThrow(/no breakpoint of its own/);
});
