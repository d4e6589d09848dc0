import { expect, test } from "vitest";
import { page, userEvent } from "vitest/browser";
import "../fuel-grid/fuel-grid.ts";
import { inventedTable, withCell } from "../fuel-grid/testing/invented-tables.ts";
import "./table-map.ts";
import type { MapPointEvent, TableMap } from "./table-map.ts";

async function show(properties: Partial<TableMap>): Promise<TableMap> {
  document.body.innerHTML = "<fw-table-map></fw-table-map>";
  const map = document.querySelector("fw-table-map")!;
  Object.assign(map, properties);
  await map.updateComplete;
  return map;
}

test("it is a picture of one pixel a cell, load upward, with its changes in words", async () => {
  const table = inventedTable(6, 5);
  const map = await show({ table: withCell(withCell(table, 0, 0, 1), 4, 5, 9), earlier: table });
  const canvas = map.shadowRoot!.querySelector("canvas")!;
  expect([canvas.width, canvas.height]).toEqual([6, 5]);
  const pixel = (x: number, y: number) => [...canvas.getContext("2d")!.getImageData(x, y, 1, 1).data].join();
  expect(pixel(0, 4)).not.toBe(pixel(1, 4));
  expect(pixel(5, 0)).not.toBe(pixel(4, 0));
  expect(pixel(1, 1)).toBe(pixel(4, 3));
  await expect
    .element(page.getByRole("img", { name: "Map of Invented: 30 cells, 1 raised, 1 lowered" }))
    .toBeInTheDocument();
});

test("it frames the part that a scrolled grid shows, and takes the grid where it is pressed", async () => {
  document.body.innerHTML = '<div style="width:700px"><fw-fuel-grid></fw-fuel-grid></div><fw-table-map></fw-table-map>';
  const grid = document.querySelector("fw-fuel-grid")!;
  const map = document.querySelector("fw-table-map")!;
  const table = inventedTable(128, 128);
  grid.addEventListener("fw-viewed-part", (event) => {
    map.viewed = event.part;
  });
  map.addEventListener("fw-map-point", (event) => grid.revealShare(event.x, event.y));
  grid.table = table;
  map.table = table;
  await grid.updateComplete;
  await map.updateComplete;
  const frame = map.shadowRoot!.querySelector<HTMLElement>(".part")!;
  expect(frame.hidden).toBe(false);
  expect(frame.style.left).toBe("0%");
  await userEvent.click(map, { position: { x: 100, y: 70 } });
  await expect.poll(() => Number.parseFloat(frame.style.left)).toBeGreaterThan(50);
  const { left, right, top, bottom } = map.viewed!;
  expect((left + right) / 2).toBeCloseTo(100 / 118, 1);
  expect((top + bottom) / 2).toBeCloseTo(70 / 84, 1);
});

test("a map of what is all in view has no frame", async () => {
  const map = await show({ table: inventedTable(), viewed: { left: 0, top: 0, right: 1, bottom: 1 } });
  expect(map.shadowRoot!.querySelector<HTMLElement>(".part")!.hidden).toBe(true);
});

test("pressing near the rim gives a share inside the map", async () => {
  const map = await show({ table: inventedTable() });
  const points: MapPointEvent[] = [];
  map.addEventListener("fw-map-point", (event) => points.push(event));
  await userEvent.click(map, { position: { x: 1, y: 1 } });
  expect(points).toHaveLength(1);
  expect(points[0]!.x).toBeGreaterThanOrEqual(0);
  expect(points[0]!.x).toBeLessThan(0.05);
});
