import fc from "fast-check";
import { expect, test } from "vitest";
import { answer, fuzzRuns, requireCleanPrototypes, requireUse } from "../../testing/answer.ts";
import { brokenTexts } from "../../testing/broken-texts.ts";
import { FuelwrightError } from "../values/errors.ts";
import { createTable, type FuelTable } from "../values/fuel-table.ts";
import { readBlockText } from "./read-block-text.ts";
import { readTableText } from "./read-table-text.ts";
import { recogniseTableText, type TableTextHints } from "./recognise-table-text.ts";

const hints: fc.Arbitrary<TableTextHints> = fc
  .record(
    {
      delimiter: fc.constantFrom(",", ";", "\t", " "),
      decimal: fc.constantFrom(".", ","),
      thousands: fc.constantFrom("none", ",", "."),
      layout: fc.constantFrom("two-axes", "one-row"),
      orientation: fc.constantFrom("rpm-across", "rpm-down"),
      quantity: fc.constantFrom("pulse-width", "lambda", "trim"),
      loadUnit: fc.constantFrom("psi", "%", "V", "nonsense"),
      stoichiometricRatio: fc.constantFrom(14.6, 0, -1),
    },
    { requiredKeys: [] },
  )
  .map((record) => record as TableTextHints);

test("any text is read as a valid table or refused with a sentence, and recognition never disagrees", () => {
  let tried = 0;
  let tables = 0;
  fc.assert(
    fc.property(brokenTexts(), fc.oneof(fc.constant({}), hints), (text, given) => {
      tried++;
      const read = answer(() => readTableText(text, { id: "t", stoichiometricRatio: 14.6, ...given }).table);
      requireCleanPrototypes();
      if (!(read instanceof FuelwrightError)) {
        tables++;
        // Building it again checks every rule of a table.
        expect(createTable(read as FuelTable).cells).toEqual(read.cells);
        if (read.quantity === "pulse-width" || read.quantity === "lambda")
          expect(Math.min(...read.cells)).toBeGreaterThan(0);
      }
      const found = answer(() => recogniseTableText(text, { stoichiometricRatio: 14.6, ...given }));
      const problem = found instanceof FuelwrightError ? found : found.problem;
      expect(problem?.code ?? null).toBe(read instanceof FuelwrightError ? read.code : null);
    }),
    { numRuns: fuzzRuns },
  );
  // Were all of them refused, the first part of the check would be empty.
  requireUse(tables, tried, 1 / 50);
});

test("any text is read as a block of finite numbers or refused with a sentence", () => {
  fc.assert(
    fc.property(brokenTexts(), (text) => {
      const block = answer(() => readBlockText(text));
      if (block instanceof FuelwrightError) return;
      const width = block.rows[0]!.length;
      for (const row of block.rows) expect(row.every(Number.isFinite) && row.length === width).toBe(true);
    }),
    { numRuns: fuzzRuns },
  );
});
