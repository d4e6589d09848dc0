import { createColourScheme } from "@fuelwright/table-core";
import { expect, test } from "vitest";
import { changeColours } from "./change-colours.ts";
import { presets } from "./presets.ts";
import { rampGradient } from "./ramp-gradient.ts";
import { themes } from "./themes.ts";

const on = (steps: number) =>
  changeColours(createColourScheme({ ...presets[0]!.scheme, steps }), {
    ...themes.light,
    span: { less: 30, more: 30 },
  });

test("bands of a stepped scheme have one width and no blend", () => {
  const { tints } = on(1);
  const [less, middle, more] = tints.map(({ background }) => background);
  expect(rampGradient(on(1))).toBe(
    `linear-gradient(90deg, ${less} 0.00% 33.33%, ${middle} 33.33% 66.67%, ${more} 66.67% 100.00%)`,
  );
});

test("a smooth ramp runs from end to end through the paper", () => {
  const stops = rampGradient(on(0)).match(/#[0-9a-f]{6}/g)!;
  expect(stops).toHaveLength(33);
  expect([stops[0], stops[16], stops[32]]).toEqual([presets[0]!.scheme.less, "#fffdf7", on(0).tintAt(30).background]);
});
