import { expect, test } from "vitest";
import { cdp, page } from "vitest/browser";
import { inventedTable } from "./testing/invented-tables.ts";
import { drawn, heard, showGrid } from "./testing/show-grid.ts";

interface Finger {
  send(
    method: "Input.dispatchTouchEvent",
    event: { type: string; touchPoints: { x: number; y: number }[] },
  ): Promise<void>;
}

/** A real touch at a cell, told to the browser itself; the test runs in a frame whose place counts as well. */
async function touch(type: "touchStart" | "touchMove" | "touchEnd", at?: { x: number; y: number }): Promise<void> {
  const frame = window.frameElement?.getBoundingClientRect() ?? { left: 0, top: 0, width: innerWidth };
  const scale = frame.width / innerWidth;
  const points = at ? [{ x: frame.left + at.x * scale, y: frame.top + at.y * scale }] : [];
  await (cdp() as unknown as Finger).send("Input.dispatchTouchEvent", { type, touchPoints: points });
}

const middle = (name: RegExp) => {
  const box = page.getByRole("gridcell", { name }).element().getBoundingClientRect();
  return { x: box.left + box.width / 2, y: box.top + box.height / 2 };
};
const rest = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

test("a tap chooses the cell", async () => {
  const grid = await showGrid();
  await touch("touchStart", middle(/2,000 rpm, 40 kPa/));
  await touch("touchEnd");
  await drawn(grid);
  expect(grid.region).toEqual({ rpm: [2000, 2000], load: [40, 40] });
  expect(heard(grid)).toMatch(/2,000 rpm, 40 kPa$/);
});

test("a long press starts a block that the finger drags", async () => {
  const grid = await showGrid();
  await touch("touchStart", middle(/1,500 rpm, 50 kPa/));
  await rest(600);
  await touch("touchMove", middle(/2,000 rpm, 40 kPa/));
  await touch("touchMove", middle(/2,500 rpm, 30 kPa/));
  await touch("touchEnd");
  await drawn(grid);
  expect(grid.region).toEqual({ rpm: [1500, 2500], load: [30, 50] });
});

test("the handle drags the block's corner", async () => {
  const grid = await showGrid();
  await touch("touchStart", middle(/2,000 rpm, 40 kPa/));
  await touch("touchEnd");
  await drawn(grid);
  const box = grid.shadowRoot!.querySelector(".handle")!.getBoundingClientRect();
  await touch("touchStart", { x: box.left + box.width / 2, y: box.top + box.height / 2 });
  await touch("touchMove", middle(/2,500 rpm, 30 kPa/));
  await touch("touchMove", middle(/3,000 rpm, 20 kPa/));
  await touch("touchEnd");
  await drawn(grid);
  expect(grid.region).toEqual({ rpm: [2000, 3000], load: [20, 40] });
});

test("a swipe scrolls and chooses nothing", async () => {
  const grid = await showGrid({ table: inventedTable(64, 64) });
  const before = grid.region;
  const from = middle(/^.*, 3,500 rpm, 640 kPa/);
  await touch("touchStart", from);
  for (let step = 1; step <= 8; step++) await touch("touchMove", { x: from.x, y: from.y - step * 10 });
  await touch("touchEnd");
  await drawn(grid);
  expect(grid.region).toEqual(before);
  expect(grid.shadowRoot!.querySelector(".scroller")!.scrollTop).toBeGreaterThan(20);
});
