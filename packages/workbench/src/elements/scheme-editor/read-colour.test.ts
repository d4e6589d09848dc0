import { expect, test } from "vitest";
import { readColour } from "./read-colour.ts";

test.each([
  ["#b4592d", "#b4592d"],
  [" B4592D ", "#b4592d"],
  ["#fA3", "#ffaa33"],
  ["fa3", "#ffaa33"],
  ["#b4592", null],
  ["#b4592dd", null],
  ["red", null],
  ["#ggg", null],
  ["", null],
])("%j gives %j", (text, colour) => expect(readColour(text)).toBe(colour));
