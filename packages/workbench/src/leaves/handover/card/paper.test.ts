import { expect, test } from "vitest";
import { usualPaper } from "./paper.ts";

test.each([
  ["en-US", "letter"],
  ["es-MX", "letter"],
  ["en-GB", "a4"],
  ["de", "a4"],
  ["not a language", "a4"],
])("who reads %s prints on %s", (language, paper) => {
  expect(usualPaper(language)).toBe(paper);
});
