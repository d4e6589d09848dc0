import { createColourScheme } from "@fuelwright/table-core";
import { expect, test } from "vitest";
import { changeColours } from "./change-colours.ts";
import { presets } from "./presets.ts";
import { sampleSizes, tellApart } from "./tell-apart.ts";
import { themes } from "./themes.ts";

const scheme = presets[0]!.scheme;
const report = (colours: Partial<typeof scheme>, sight: string, span = 30) =>
  tellApart(
    changeColours(createColourScheme({ ...scheme, ...colours }), { ...themes.light, span: { less: span, more: span } }),
  ).find((r) => r.sight === sight)!;

test("smooth schemes are asked at round percentages up to the span, stepped ones in the middle of each step", () => {
  const sizes = (steps: number, less: number, more: number) =>
    sampleSizes({ scheme: { ...scheme, steps }, span: { less, more } });
  expect(sizes(0, 30, 6)).toEqual({ less: [5, 10, 20, 30], more: [6] });
  expect(sizes(3, 30, 6)).toEqual({ less: [5, 15, 25], more: [1, 3, 5] });
});

test("neighbours and sides are named by their percentages", () => {
  const { neighbours, sides } = report({}, "normal");
  expect(neighbours.map(({ from, to }) => [from, to])).toEqual([
    [-30, -20],
    [-20, -10],
    [-10, -5],
    [-5, 0],
    [0, 5],
    [5, 10],
    [10, 20],
    [20, 30],
  ]);
  expect(sides.map(({ from, to }) => [from, to])).toEqual([
    [-5, 5],
    [-10, 10],
    [-20, 20],
    [-30, 30],
  ]);
});

test("a green and a pink far apart to most readers are alike to a green-blind one", () => {
  // A pair on one line of confusion: found among colours of equal lightness by the simulation itself, so this checks the
  // way from there to the verdict; the simulation is checked against its source in test/reference.
  const confusing = { less: "#28be8c", more: "#e47791", steps: 1 };
  expect(report(confusing, "normal").sides[0]!.difference).toBeGreaterThan(60);
  expect(report(confusing, "deutan").sides[0]!.verdict).toBe("alike");
  expect(report(confusing, "deutan").verdict).toBe("alike");
});

test("a scheme of one colour twice is alike on both sides", () => {
  const { nearest, verdict } = report({ less: "#5b86c4", more: "#5b86c4" }, "normal");
  expect([nearest.difference, verdict]).toEqual([0, "alike"]);
});

test("many steps stand closer than few", () => {
  expect(report({ steps: 10 }, "normal").nearest.difference).toBeLessThan(
    report({ steps: 3 }, "normal").nearest.difference,
  );
});

test("without severity a deficiency sees as usual", () => {
  const colours = changeColours(scheme, { ...themes.light, span: { less: 30, more: 30 } });
  const [normal, ...others] = tellApart(colours, { severity: 0 });
  for (const other of others.filter(({ sight }) => sight !== "grey")) expect(other.nearest).toEqual(normal!.nearest);
});
