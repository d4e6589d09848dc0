import { expect, test } from "vitest";
import { page } from "vitest/browser";
import { inventedTable, scaled, withCell } from "../fuel-grid/testing/invented-tables.ts";
import "./slice-chart.ts";
import type { SliceChart } from "./slice-chart.ts";

async function show(properties: Partial<SliceChart>): Promise<SliceChart> {
  document.body.innerHTML =
    '<div style="width:600px;height:120px"><fw-slice-chart style="height:100%"></fw-slice-chart></div>';
  const chart = document.querySelector("fw-slice-chart")!;
  Object.assign(chart, properties);
  // The chart draws once it knows its size.
  await expect.poll(() => chart.shadowRoot!.querySelector("svg")).not.toBeNull();
  await chart.updateComplete;
  return chart;
}

const points = (chart: SliceChart, line: "now" | "was") =>
  chart
    .shadowRoot!.querySelector(`path.${line}`)!
    .getAttribute("d")!
    .slice(1)
    .split(/[ML]/)
    .map((pair) => pair.split(",").map(Number));

test("a row is a line with a point in the middle of each column, higher values higher", async () => {
  const table = withCell(inventedTable(6, 5), 1, 4, 9);
  const chart = await show({ table, cell: 8 });
  const line = points(chart, "now");
  expect(line.map(([x]) => x)).toEqual([50, 150, 250, 350, 450, 550]);
  const lowest = Math.min(...line.map(([, y]) => y!));
  expect(line[4]![1]).toBe(lowest);
  expect(chart.shadowRoot!.querySelector("path.was")).toBeNull();
});

test("a column stands upright, load upward, and turns with its axis", async () => {
  const table = inventedTable(6, 4);
  const chart = await show({ table, cell: 2, along: "load" });
  expect(points(chart, "now").map(([, y]) => y)).toEqual([105, 75, 45, 15]);
  chart.flip = true;
  await chart.updateComplete;
  expect(points(chart, "now").map(([, y]) => y)).toEqual([15, 45, 75, 105]);
});

test("what it was is a dashed line, only where it differs", async () => {
  const table = inventedTable();
  const chart = await show({ table, earlier: scaled(table, 1.2), cell: 2 });
  expect(points(chart, "was")).toHaveLength(6);
  expect(getComputedStyle(chart.shadowRoot!.querySelector("path.was")!).strokeDasharray).not.toBe("none");
  chart.earlier = withCell(table, 4, 5, 0);
  await chart.updateComplete;
  expect(chart.shadowRoot!.querySelector("path.was")).toBeNull();
});

test("it says in words what it shows", async () => {
  const table = withCell(withCell(inventedTable(), 0, 1, 6), 0, 0, 3);
  await show({ table, earlier: withCell(table, 0, 1, 8), cell: 1 });
  await expect
    .element(
      page.getByRole("img", {
        name: "pulse width over rpm, at 20 kPa: 2.50 to 6.00 ms; at 1,500 rpm 6.00 ms; before 2.50 to 8.00 ms, at 1,500 rpm 8.00 ms",
      }),
    )
    .toBeInTheDocument();
});

test("it shows the unit it is given, and lies where it is told", async () => {
  const display = { unit: "AFR", decimals: 1, show: (v: number) => v * 10, read: (text: string) => Number(text) / 10 };
  const chart = await show({ table: inventedTable(3, 2), cell: 0, display, positions: [5, 100, 400] });
  expect(points(chart, "now").map(([x]) => x)).toEqual([5, 100, 400]);
  await expect.element(page.getByText("at 20 kPa, 20.0 to 28.7")).toBeInTheDocument();
});

test("without a table, or without a cell in it, there is nothing", async () => {
  document.body.innerHTML = "<fw-slice-chart></fw-slice-chart>";
  const chart = document.querySelector("fw-slice-chart")!;
  await chart.updateComplete;
  expect(chart.shadowRoot!.querySelector("svg")).toBeNull();
  chart.table = inventedTable();
  chart.cell = -1;
  await chart.updateComplete;
  expect(chart.shadowRoot!.querySelector("svg")).toBeNull();
});
