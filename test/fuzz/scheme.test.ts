import { type ColourScheme, FuelwrightError } from "@fuelwright/table-core";
import fc from "fast-check";
import { expect, test } from "vitest";
import { answer, fuzzRuns, requireCleanPrototypes, requireUse } from "../../packages/table-core/testing/answer.ts";
import { brokenData, brokenText } from "../../packages/table-core/testing/broken-json.ts";
import { schemeFromJson, schemeToJson } from "../../packages/workbench/src/colour/scheme-json.ts";
import { schemes } from "../../packages/workbench/src/colour/schemes.arbitrary.ts";

const valid = schemes().map(schemeToJson);
const texts = fc.oneof(
  { weight: 3, arbitrary: brokenText(valid) },
  { weight: 3, arbitrary: brokenData(valid.map((text) => JSON.parse(text))).map((data) => JSON.stringify(data)) },
  fc.string({ unit: "binary", maxLength: 200 }),
  fc.json(),
);

test("any text is read as a scheme that is kept whole, or refused with a sentence", () => {
  let tried = 0;
  let read = 0;
  fc.assert(
    fc.property(texts, (text) => {
      tried++;
      const scheme = answer(() => schemeFromJson(text));
      requireCleanPrototypes();
      if (scheme instanceof FuelwrightError) return;
      read++;
      expect(schemeFromJson(schemeToJson(scheme))).toEqual(scheme);
      const { less, middle, more, steps, span }: ColourScheme = scheme;
      for (const colour of [less, middle, more]) expect(colour).toMatch(/^(#[0-9a-f]{6}|paper)$/);
      expect(Number.isInteger(steps) && (span.kind !== "fixed" || span.percent >= 0.1)).toBe(true);
    }),
    { numRuns: fuzzRuns },
  );
  // Were all of them refused, the most of the check would be empty.
  requireUse(read, tried, 1 / 50);
});
