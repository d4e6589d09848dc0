import axe from "axe-core";
import { html, render } from "lit";
import { afterEach, expect, test } from "vitest";
import { page, userEvent } from "vitest/browser";
import { pageTokens } from "../tokens.ts";
import type { ChartChooseEvent, ChartSeries, LineChart } from "./line-chart.ts";
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
  expect(chart.shadowRoot!.querySelectorAll("path.hatch")).toHaveLength(1);
  await expect.element(page.getByText("above planning")).toBeVisible();
  await expect.element(page.getByText("static")).toBeVisible();
  chart.series = [{ name: "empty", points: [] }];
  chart.ranges = [];
  await chart.updateComplete;
  await expect.element(page.getByRole("img")).toHaveAccessibleName(/empty: nothing to show/);
});
