import { FuelwrightError } from "@fuelwright/table-core";
import fc from "fast-check";
import { expect, test } from "vitest";
import { presets } from "./presets.ts";
import { schemeFromJson, schemeToJson } from "./scheme-json.ts";
import { schemes } from "./schemes.arbitrary.ts";

const text = schemeToJson(presets[0]!.scheme);
const changed = (change: object) => JSON.stringify({ ...JSON.parse(text), ...change });
const codeOf = (bad: string) => {
  try {
    schemeFromJson(bad);
  } catch (error) {
    return error instanceof FuelwrightError ? error.code : error;
  }
  return "taken";
};

test("a shared text reads like this", () => {
  expect(text).toBe(`{
  "kind": "fuelwright-colour-scheme",
  "version": 1,
  "name": "Verdigris and rust",
  "less": "#3f9c8c",
  "middle": "paper",
  "more": "#d0693a",
  "span": {
    "kind": "symmetrical"
  },
  "steps": 0
}
`);
});

test("every scheme comes back from its text", () => {
  fc.assert(
    fc.property(schemes(), (scheme) => {
      expect(schemeFromJson(schemeToJson(scheme))).toEqual(scheme);
    }),
  );
});

test.each([
  ["no JSON", "{", "bad-scheme"],
  ["no object", "null", "bad-scheme"],
  ["a list", "[1]", "bad-scheme"],
  ["another kind", changed({ kind: "job" }), "bad-scheme"],
  ["a later version", changed({ version: 2 }), "newer-version"],
  ["a stranger's key", changed({ onload: "x" }), "bad-scheme"],
  ["a prototype", text.replace("{", '{"__proto__": {"polluted": true},'), "bad-scheme"],
  ["a constructor", changed({ constructor: { prototype: {} } }), "bad-scheme"],
  ["too large a text", changed({ name: "n".repeat(5000) }), "bad-scheme"],
  ["a bad colour", changed({ less: "red" }), "bad-colour"],
  ["markup for a colour", changed({ more: "<img src=x>" }), "bad-colour"],
  ["too many steps", changed({ steps: 11 }), "out-of-range"],
  ["a step and a half", changed({ steps: 1.5 }), "not-whole"],
  ["no span", changed({ span: undefined }), "unknown-choice"],
  ["a span of nothing", changed({ span: { kind: "fixed", percent: 0 } }), "out-of-range"],
  ["no name", changed({ name: " " }), "bad-text"],
])("refuses %s", (_, bad, code) => {
  expect(codeOf(bad)).toBe(code);
  expect(({} as { polluted?: boolean }).polluted).toBeUndefined();
});

test("any text is taken or refused with a code", () => {
  fc.assert(
    fc.property(fc.oneof(fc.string(), fc.json()), (any) => {
      expect(["bad-scheme", "newer-version"]).toContain(codeOf(any));
    }),
  );
});
