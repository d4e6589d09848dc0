import { expect, test } from "vitest";
import { faultsOf, ofClass } from "../../testing/pictures.ts";
import { axisScale } from "./axis-scale.ts";
import { linePath } from "./line-path.ts";
import { plotChart } from "./plot-chart.ts";
import { type ChartSeries, valueAt } from "./series.ts";

const duty: ChartSeries = {
  name: "now",
  points: [
    [1000, 12],
    [3000, 40],
    [6000, 81],
  ],
};

test("between points a line is straight, a stepped one holds, outside there is nothing", () => {
  expect(valueAt(duty, 2000)).toBe(26);
  expect(valueAt({ ...duty, steps: true }, 2999)).toBe(12);
  expect(valueAt(duty, 6000)).toBe(81);
  expect(valueAt(duty, 999)).toBeNaN();
  const falling: ChartSeries = {
    name: "falling",
    points: [
      [2, 1],
      [0, 5],
    ],
  };
  expect(valueAt(falling, 1)).toBe(3);
});

test("an axis holds its values, zero and the least span, and takes a domain either way round", () => {
  const { domain } = axisScale({ label: "", zero: true }, [12, 81, Number.NaN], [100, 0], "y");
  expect(domain[0]).toBe(0);
  expect(domain[1]).toBeGreaterThanOrEqual(81);
  const flat = axisScale({ label: "", leastSpan: 10 }, [5, 5.01], [0, 100], "x");
  expect(flat.domain[1] - flat.domain[0]).toBeCloseTo(10, 9);
  const back = axisScale({ label: "", domain: [1.4, 0.7] }, [], [0, 100], "x");
  expect(back.place(1.4)).toBe(0);
  expect(back.place(0.7)).toBe(100);
  expect(back.valueAt(100)).toBe(0.7);
});

test("a gap breaks the path, steps hold, and many points in a column keep its extremes", () => {
  const path = (ys: number[], steps = false, spread = 10) =>
    linePath(
      ys.length,
      (at) => at * spread,
      (at) => ys[at]!,
      steps,
    );
  expect(path([1, 2, Number.NaN, 4, 5])).toBe("M0,1L10,2M30,4L40,5");
  expect(path([1, 2], true)).toBe("M0,1L10,1L10,2");
  const many = Array.from({ length: 5000 }, (_, at) => (at === 1234 ? 90 : at === 3210 ? -90 : at % 3));
  const dense = path(many, false, 0.01);
  expect(dense).toContain(",90");
  expect(dense).toContain(",-90");
  expect(dense.length).toBeLessThan(4000);
});

test("lines are told apart by their strokes, and what lies beyond the ends of an axis is left out", () => {
  const picture = plotChart({
    label: "Duty",
    x: { label: "Engine speed", unit: "rpm" },
    y: { label: "Duty", unit: "%", domain: [0, 60] },
    series: [duty, { ...duty, name: "before" }],
    mark: { x: 3000, text: "here" },
    ranges: [{ axis: "y", from: 50, to: 200, label: "above planning" }],
    rules: [{ axis: "x", at: 2000, label: "idle" }],
  });
  expect(faultsOf(picture)).toEqual([]);
  const [now, then] = ofClass(picture, "look");
  expect(now!.attributes["stroke-dasharray"]).toBeUndefined();
  expect(then!.attributes["stroke-dasharray"]).toBe("6 4");
  expect(String(now!.attributes.d).match(/[ML]/g)).toHaveLength(2);
  expect(picture.description).toBe(
    "Duty, over engine speed. now: least 12 % at 1,000 rpm, most 81 % at 6,000 rpm, 40 % at the mark; " +
      "before: least 12 % at 1,000 rpm, most 81 % at 6,000 rpm, 40 % at the mark. Marked: here.",
  );
});

test("nothing to show is no error", () => {
  const picture = plotChart({
    label: "",
    x: { label: "Time" },
    y: { label: "Lambda" },
    series: [{ name: "none", points: [] }],
  });
  expect(faultsOf(picture)).toEqual([]);
  expect(picture.description).toBe("Lambda, over time. none: nothing to show.");
});
