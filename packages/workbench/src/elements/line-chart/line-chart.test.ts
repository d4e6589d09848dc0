import axe from "axe-core";
import { html, render } from "lit";
import { afterEach, expect, test } from "vitest";
import { page, userEvent } from "vitest/browser";
import { pageTokens } from "../tokens.ts";
import { chartPath } from "./chart-path.ts";
import { axisScale } from "./chart-scale.ts";
import { type ChartSeries, valueAt } from "./chart-series.ts";
import type { ChartChooseEvent, LineChart } from "./line-chart.ts";
import "./line-chart.ts";

afterEach(() => render(html``, document.body));

const duty: ChartSeries = {
  name: "now",
  points: [
    [1000, 12],
    [3000, 40],
    [6000, 81],
  ],
};
const before: ChartSeries = {
  name: "before",
  points: [
    [1000, 10],
    [6000, 70],
  ],
};

async function show(part: Partial<LineChart> = {}): Promise<LineChart> {
  render(
    html`<style>${pageTokens}</style><main style="width: 600px"><fw-line-chart></fw-line-chart></main>`,
    document.body,
  );
  const chart = document.querySelector("fw-line-chart")!;
  Object.assign(chart, {
    label: "Duty",
    x: { label: "Engine speed", unit: "rpm" },
    y: { label: "Duty", unit: "%", zero: true },
    series: [duty],
    ...part,
  });
  await expect.poll(() => chart.shadowRoot!.querySelector(".plot svg")).not.toBeNull();
  return chart;
}

test("says in a sentence what is drawn, with the marked value", async () => {
  await show({ mark: { x: 2000 } });
  await expect
    .element(page.getByRole("img"))
    .toHaveAccessibleName(
      "Duty, over engine speed. now: least 12 % at 1,000 rpm, most 81 % at 6,000 rpm, 26 % at the mark. Marked: 2,000 rpm.",
    );
});

test("lines are told apart by stroke, and named", async () => {
  const chart = await show({ series: [duty, before] });
  const drawn = [...chart.shadowRoot!.querySelectorAll(".plot path.look")].map((path) =>
    path.getAttribute("class")!.trim(),
  );
  expect(drawn).toEqual(["look line", "look dashed"]);
  const dashes = [...chart.shadowRoot!.querySelectorAll(".plot path.look")].map(
    (path) => getComputedStyle(path).strokeDasharray,
  );
  expect(new Set(dashes).size).toBe(2);
  await expect.element(page.getByText("before")).toBeVisible();
});

test("opens as a table by keyboard, with the marked row among the ticks", async () => {
  await show({ series: [duty, before], mark: { x: 2500 } });
  (document.querySelector("fw-line-chart")!.shadowRoot!.querySelector("summary") as HTMLElement).focus();
  await userEvent.keyboard("{Enter}");
  await expect.element(page.getByRole("row", { name: "2,500 33 28" })).toBeVisible();
  await expect.element(page.getByRole("row", { name: "3,000 40 34" })).toBeVisible();
  const { violations } = await axe.run(document.querySelector("main")!);
  expect(violations.map(({ id }) => id)).toEqual([]);
});

test("a press on the plot chooses a value of the x axis", async () => {
  const chart = await show({ choosable: true });
  const chosen: number[] = [];
  chart.addEventListener("fw-chart-choose", (event) => chosen.push((event as ChartChooseEvent).x));
  const plot = chart.shadowRoot!.querySelector(".plot")!;
  const box = plot.getBoundingClientRect();
  const at = (x: number) => ({ clientX: box.left + x, clientY: box.top + 40, button: 0, pointerId: 1, bubbles: true });
  // Capture needs a real pointer; the choice does not.
  (plot as HTMLElement).setPointerCapture = () => {};
  plot.dispatchEvent(new PointerEvent("pointerdown", at(46)));
  plot.dispatchEvent(new PointerEvent("pointerdown", at(5000)));
  expect(chosen[0]).toBeCloseTo(1000, 6);
  expect(chosen[1]).toBeCloseTo(6000, 6);
  chart.choosable = false;
  plot.dispatchEvent(new PointerEvent("pointerdown", at(46)));
  expect(chosen).toHaveLength(2);
});

test("ranges are hatched and rules drawn, both with their words; nothing to show is not an error", async () => {
  const chart = await show({
    ranges: [{ axis: "y", from: 85, to: 200, label: "above planning" }],
    rules: [{ axis: "y", at: 100, label: "static" }],
  });
  expect(chart.shadowRoot!.querySelectorAll("rect")).toHaveLength(1);
  await expect.element(page.getByText("above planning")).toBeVisible();
  await expect.element(page.getByText("static")).toBeVisible();
  chart.series = [{ name: "empty", points: [] }];
  chart.ranges = [];
  await chart.updateComplete;
  await expect.element(page.getByRole("img")).toHaveAccessibleName(/empty: nothing to show/);
});

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
  const { place } = axisScale({ label: "", zero: true }, [12, 81, Number.NaN], [100, 0], "y");
  expect(place.domain()[0]).toBe(0);
  expect(place.domain()[1]).toBeGreaterThanOrEqual(81);
  const flat = axisScale({ label: "", leastSpan: 10 }, [5, 5.01], [0, 100], "x");
  expect(flat.place.domain()[1]! - flat.place.domain()[0]!).toBeCloseTo(10, 9);
  const back = axisScale({ label: "", domain: [1.4, 0.7] }, [], [0, 100], "x");
  expect(back.place(1.4)).toBe(0);
  expect(back.place(0.7)).toBe(100);
});

test("a gap breaks the path, steps hold, and many points in a column keep its extremes", () => {
  const path = (ys: number[], steps = false, spread = 10) =>
    chartPath(
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
