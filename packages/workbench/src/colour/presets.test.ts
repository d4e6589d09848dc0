import { describe, expect, test } from "vitest";
import { changeColours } from "./change-colours.ts";
import type { Sight } from "./colour-vision.ts";
import { contrastRatio, luminance } from "./contrast.ts";
import { type Preset, presets } from "./presets.ts";
import { tellApart, type Verdict } from "./tell-apart.ts";
import { themes } from "./themes.ts";

const grounds = Object.entries(themes);
const byId = (id: Preset["id"]) => presets.find((preset) => preset.id === id)!.scheme;

/** The verdict on the nearest two tints, on either sheet, at a span of 30 %. */
function verdicts(id: Preset["id"], sight: Sight): Verdict[] {
  return grounds.map(
    ([, ground]) =>
      tellApart(changeColours(byId(id), { ...ground, span: { less: 30, more: 30 } })).find((r) => r.sight === sight)!
        .verdict,
  );
}

describe("each preset does what it says, on the light and the dark sheet", () => {
  test.each<[Preset["id"], Sight]>([
    ["everyday", "normal"],
    ["red-green", "normal"],
    ["red-green", "protan"],
    ["red-green", "deutan"],
    ["blue-yellow", "normal"],
    ["blue-yellow", "tritan"],
    ["print", "normal"],
    ["print", "grey"],
    ["sunlight", "normal"],
    ["sunlight", "protan"],
    ["sunlight", "deutan"],
    ["sunlight", "tritan"],
  ])("%s is clear at a glance to %s", (id, sight) => expect(verdicts(id, sight)).toEqual(["clear", "clear"]));

  test("no preset has tints that look alike under any deficiency", () => {
    for (const { id } of presets)
      for (const sight of ["normal", "protan", "deutan", "tritan"] as const)
        expect([id, sight, ...verdicts(id, sight)]).not.toContain("alike");
  });

  test("print says by lightness alone which way a cell went", () => {
    const { tints } = changeColours(byId("print"), { ...themes.light, span: { less: 30, more: 30 } });
    tints.slice(1).forEach(({ background }, at) => {
      expect(luminance(background)).toBeLessThan(luminance(tints[at]!.background));
    });
  });

  test("sunlight keeps text at 7:1", () => {
    for (const [, ground] of grounds)
      for (const { background, ink } of changeColours(byId("sunlight"), { ...ground, span: { less: 30, more: 30 } })
        .tints)
        expect(contrastRatio(background, ink)).toBeGreaterThanOrEqual(7);
  });
});

test("ids and names are unlike one another", () => {
  expect(new Set(presets.map(({ id }) => id)).size).toBe(presets.length);
  expect(new Set(presets.map(({ scheme }) => scheme.name)).size).toBe(presets.length);
});
