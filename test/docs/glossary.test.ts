import { expect, test } from "vitest";
import { fieldHelp } from "../../packages/workbench/src/leaves/field-help.ts";
import { findTerms, terms } from "../../packages/workbench/src/workbench/glossary/terms.ts";

const ids = terms.map(({ id }) => id);

test("every term has an id and a name of its own, and a sentence", () => {
  expect(new Set(ids).size).toBe(ids.length);
  expect(new Set(terms.map(({ term }) => term)).size).toBe(terms.length);
  for (const { words } of terms) expect(words).toMatch(/^[A-Z].{15,}\.$/);
});

test("terms and help refer to terms that there are, and to none but others", () => {
  for (const { id, see = [] } of terms) {
    expect(see.filter((other) => !ids.includes(other))).toEqual([]);
    expect(see).not.toContain(id);
  }
  const named = Object.values(fieldHelp).flatMap(({ term }) => term ?? []);
  expect(named.filter((id) => !ids.includes(id))).toEqual([]);
});

test("help is one sentence of its own for each field, with its source where it gives a figure of practice", () => {
  for (const [id, { text, source }] of Object.entries(fieldHelp)) {
    expect(text, id).toMatch(/^[A-Z].{15,}\.$/);
    expect(text.match(/\. [A-Z]/), `${id} is one sentence`).toBeNull();
    if (/\d/.test(text)) expect(source, `${id} gives a figure and says whose`).toBeTruthy();
  }
});

test("a term is found by its name first, then by what is said of it", () => {
  expect(findTerms("dead")[0]!.id).toBe("dead-time");
  expect(findTerms("  LAMBDA ")[0]!.term).toContain("lambda");
  expect(findTerms("xyzzy")).toEqual([]);
  expect(findTerms("")).toBe(terms);
});
