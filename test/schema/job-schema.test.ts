import { readFileSync } from "node:fs";
import { join } from "node:path";
import { FuelwrightError, jobData, readJob, stepKinds } from "@fuelwright/table-core";
import { Ajv2020 } from "ajv/dist/2020.js";
import fc from "fast-check";
import { beforeAll, describe, expect, test } from "vitest";
import { demoJob, emptyJob } from "../../packages/workbench/src/store/demo-job.ts";
import { buildCore, root } from "../examples/build-core.ts";

beforeAll(buildCore);

const file = join(root, "packages/table-core/job.schema.json");
const text = readFileSync(file, "utf8");
const schema = JSON.parse(text);
const validate = new Ajv2020({
  strict: true,
  strictTypes: false,
  strictRequired: false,
  allowUnionTypes: true,
}).compile(schema);
const faults = (document: unknown) =>
  validate(document) ? [] : validate.errors!.map((fault) => `${fault.instancePath} ${fault.message}`);

/** Whether the library takes it; anything but its own refusal is a fault. */
function isRead(document: object): boolean {
  try {
    readJob(document);
    return true;
  } catch (error) {
    if (!(error instanceof FuelwrightError)) throw error;
    return false;
  }
}

test("the published file is what the shapes say now", async () => {
  const { makeSchema } = await import(join(root, "packages/table-core/testing/make-schema.mjs"));
  expect(text, "write it anew: pnpm --filter @fuelwright/table-core schema").toBe(makeSchema());
});

test("it describes every kind of step", () => {
  expect(Object.keys(schema.$defs).filter((name) => name !== "region")).toEqual([...stepKinds]);
  // A rule behind the pipe's transform is not lost.
  expect(schema.$defs["change-displacement"].properties.settings.properties.toCc).toEqual({
    type: "number",
    exclusiveMinimum: 0,
  });
});

const demo = jobData(demoJob());
const plain = () => JSON.parse(JSON.stringify(demo));

describe("jobs that the library writes are valid", () => {
  test.each([
    ["the demo", demo],
    ["a new job", jobData(emptyJob(null))],
  ])("%s", (_, document) => expect(faults(JSON.parse(JSON.stringify(document)))).toEqual([]));
});

type Holder = Record<string, unknown>;
interface Place {
  readonly holder: Holder;
  readonly key: string;
}

/** Every value of a document with where it stands; of the cells only some, or they would be all there is. */
function placesOf(holder: Holder, inside = ""): Place[] {
  return Object.keys(holder).flatMap((key, at) => {
    if (inside === "cells" && at > 1) return [];
    const own = { holder, key };
    const value = holder[key];
    return typeof value === "object" && value !== null
      ? [own, ...placesOf(value as Holder, Number.isNaN(Number(key)) ? key : inside)]
      : [own];
  });
}

describe("mutated documents", () => {
  test("what readJob takes is valid too", () => {
    let taken = 0;
    let refused = 0;
    fc.assert(
      fc.property(
        fc.nat(),
        fc.constantFrom("drop", "add", "nudge", "null", "negate", "empty", "word"),
        fc.nat(),
        (at, how, amount) => {
          const document = plain();
          const places = placesOf(document);
          const { holder, key } = places[at % places.length]!;
          const value = holder[key];
          if (how === "drop") {
            if (Array.isArray(holder)) holder.splice(Number(key), 1);
            else delete holder[key];
          } else if (how === "add" && typeof value === "object" && value !== null && !Array.isArray(value))
            (value as Holder).unheardOf = amount;
          else if (how === "nudge" && typeof value === "number") holder[key] = value * (1 + (amount % 100) / 1000);
          else if (how === "negate" && typeof value === "number") holder[key] = -value;
          else if (how === "empty" && Array.isArray(value)) holder[key] = [];
          else if (how === "word" && typeof value === "string") holder[key] = `${value}, or so`;
          else holder[key] = null;
          const read = isRead(document);
          if (read) {
            taken++;
            expect(faults(document)).toEqual([]);
          } else refused++;
        },
      ),
      { numRuns: 600 },
    );
    // Both must happen, or nothing was compared.
    expect(Math.min(taken, refused)).toBeGreaterThan(30);
  });

  test("another kind of value anywhere is refused by both", () => {
    fc.assert(
      fc.property(fc.nat(), (at) => {
        const document = plain();
        const places = placesOf(document);
        const { holder, key } = places[at % places.length]!;
        holder[key] = typeof holder[key] === "string" ? 5 : typeof holder[key] === "boolean" ? "yes" : "no such thing";
        expect(isRead(document), key).toBe(false);
        expect(faults(document), key).not.toEqual([]);
      }),
      { numRuns: 600 },
    );
  });

  test("a key of the document left out is refused by both, by name", () => {
    for (const key of Object.keys(demo)) {
      const { [key]: _, ...rest } = plain();
      expect(isRead(rest), key).toBe(false);
      expect(faults(rest).join()).toContain(`'${key}'`);
    }
  });
});
