import { expect, test } from "vitest";
import type { Sight } from "../../colour/colour-vision.ts";
import type { SightReport, Verdict } from "../../colour/tell-apart.ts";
import { saySummary, sayVerdict } from "./sight-words.ts";

const report = (sight: Sight, verdict: Verdict): SightReport => {
  const nearest = { from: -5, to: 5, difference: 3, verdict };
  return { sight, verdict, nearest, neighbours: [nearest], sides: [] };
};

test("a verdict names the nearest pair where it is not clear", () => {
  expect(sayVerdict(report("normal", "clear"))).toBe("told apart at a glance");
  expect(sayVerdict(report("normal", "close"))).toBe("−5 and +5 % on a close look");
  expect(sayVerdict(report("normal", "alike"))).toBe("−5 and +5 % look alike");
});

test("the summary says the worst first and leaves grey print out", () => {
  const grey = report("grey", "alike");
  expect(saySummary([report("normal", "clear"), report("protan", "close"), report("tritan", "alike"), grey])).toBe(
    "Some tints look alike: blue-blind.",
  );
  expect(saySummary([report("normal", "clear"), report("protan", "close"), report("deutan", "close"), grey])).toBe(
    "All tints can be told apart; some on a close look: red-blind, green-blind.",
  );
  expect(saySummary([report("normal", "clear"), grey])).toBe(
    "All tints can be told apart at a glance, by every sight.",
  );
});
