/** Runs in the browser: makes grids, changes them, and measures to the end of the frame that shows the change. */
import { createAxis, createTable, withCells } from "@fuelwright/table-core";
import {
  CellStyleModule,
  ClientSideRowModelApiModule,
  ClientSideRowModelModule,
  createGrid,
  ModuleRegistry,
  ScrollApiModule,
} from "ag-grid-community";
import "../src/elements/fuel-grid/fuel-grid.ts";

ModuleRegistry.registerModules([
  CellStyleModule,
  ClientSideRowModelModule,
  ClientSideRowModelApiModule,
  ScrollApiModule,
]);

const place = document.querySelector("#place");

/** An invented table of n × n whose cells all move with `phase`. */
function cellsOf(n, phase) {
  return Float64Array.from(
    { length: n * n },
    (_, at) => 6 + 4 * Math.sin((at % n) / 9 + Math.floor(at / n) / 7 + phase),
  );
}

function tableOf(n) {
  const rpm = createAxis({ quantity: "rpm", breakpoints: Array.from({ length: n }, (_, at) => 800 + at * 40) });
  const load = createAxis({
    quantity: "manifold-pressure",
    breakpoints: Array.from({ length: n }, (_, at) => 20 + at * 0.5),
  });
  return createTable({ id: "bench", name: "Bench", quantity: "pulse-width", rpm, load, cells: cellsOf(n, 0) });
}

/**
 * A grid of ours; each work comes as a function that does it, with its data prepared.
 *
 * Change is shown against an earlier table, so that tints and signs are drawn as well.
 */
function ours(n, { density }) {
  const table = tableOf(n);
  const earlier = withCells(table, cellsOf(n, 0.4), "bench");
  const grid = document.createElement("fw-fuel-grid");
  grid.earlier = earlier;
  grid.table = table;
  grid.density = density;
  place.replaceChildren(grid);
  const scroller = () => grid.renderRoot.querySelector(".scroller");
  const shown = (x, y) => {
    const line = grid.renderRoot.querySelectorAll(".figures > div")[y]?.textContent.split(" ");
    return line?.[x]?.replaceAll("\u2007", "");
  };
  return {
    shown,
    all: (phase) => {
      const next = withCells(table, cellsOf(n, phase), "bench");
      return () => {
        grid.table = next;
      };
    },
    one: (value) => {
      const cells = Float64Array.from(grid.table.cells);
      cells[(n - 3) * n + 2] = value;
      const next = withCells(table, cells, "bench");
      return () => {
        grid.table = next;
      };
    },
    select: (step) => () => {
      const at = { row: n - 2 - (step % 12), column: 1 + (step % 11) };
      grid.selection = { anchor: { row: n - 5, column: 4 }, focus: at };
    },
    scroll: (step) => () => {
      const most = scroller().scrollHeight - scroller().clientHeight;
      scroller().scrollTo((step * 97) % 4000, (step * 131) % most);
    },
  };
}

/** The peer: a general-purpose data grid, its cells tinted by the same change. */
function peer(n, { cellWidth, cellHeight }) {
  const earlier = cellsOf(n, 0.4);
  let cells = cellsOf(n, 0);
  const rowsOf = () => Array.from({ length: n }, (_, y) => ({ y, cells: cells.slice((n - 1 - y) * n, (n - y) * n) }));
  const element = document.createElement("div");
  element.style.cssText = "width:100vw;height:100vh";
  place.replaceChildren(element);
  const tint = ({ data, colDef }) => {
    const x = Number(colDef.colId);
    const percent = 100 * (data.cells[x] / earlier[(n - 1 - data.y) * n + x] - 1);
    const share = Math.min(1, Math.abs(percent) / 30) * 0.6;
    return { backgroundColor: `rgba(${percent < 0 ? "43,133,119" : "180,89,45"},${share.toFixed(3)})` };
  };
  const api = createGrid(element, {
    rowData: rowsOf(),
    getRowId: ({ data }) => String(data.y),
    rowHeight: cellHeight,
    suppressAnimationFrame: true,
    columnDefs: Array.from({ length: n }, (_, x) => ({
      colId: String(x),
      headerName: String(800 + x * 40),
      width: cellWidth,
      minWidth: 20,
      valueGetter: ({ data }) => data.cells[x],
      valueFormatter: ({ value }) => value.toFixed(2),
      cellStyle: tint,
    })),
  });
  const update = (from, to) => {
    const rows = rowsOf().slice(from, to);
    return () => api.applyTransaction({ update: rows });
  };
  return {
    shown: (x, y) => element.querySelector(`[row-index="${y}"] [role="gridcell"][col-id="${x}"]`)?.textContent?.trim(),
    all: (phase) => {
      cells = cellsOf(n, phase);
      return update(0, n);
    },
    one: (value) => {
      cells = Float64Array.from(cells);
      cells[(n - 3) * n + 2] = value;
      return update(2, 3);
    },
    select: (step) => () => api.setFocusedCell(1 + (step % 12), String(1 + (step % 11))),
    scroll: (step) => () => {
      const [down, across] = [scrollable(element, "Height"), scrollable(element, "Width")];
      if (across) across.scrollLeft = (step * 97) % 4000;
      if (down) down.scrollTop = (step * 131) % (down.scrollHeight - down.clientHeight);
    },
    destroy: () => api.destroy(),
  };
}

/** The element in which the peer scrolls down or across. */
const scrollable = (element, side) =>
  [...element.querySelectorAll("*")].find(
    (inner) =>
      inner[`scroll${side}`] > inner[`client${side}`] + 20 &&
      /auto|scroll/.test(getComputedStyle(inner)[side === "Height" ? "overflowY" : "overflowX"]),
  );

/** From the change to the end of the frame that shows it, in ms: the change is made where a frame begins. */
function frame(change) {
  return new Promise((resolve, reject) => {
    requestAnimationFrame(() => {
      const { port1, port2 } = new MessageChannel();
      const start = performance.now();
      try {
        change();
      } catch (error) {
        reject(error);
      }
      // A message is a task of its own, so it comes after this frame's layout and paint.
      port1.onmessage = () => resolve(performance.now() - start);
      port2.postMessage(null);
    });
  });
}

const pause = (ms) => new Promise((resolve) => setTimeout(resolve, ms));

/** Repeats a work of a grid, each prepared beforehand: what is measured is the grid. */
async function measure(times, change, check) {
  const durations = [];
  for (let at = 0; at < times; at++) {
    const took = await frame(change(at + 1));
    if (check && !check(at + 1)) throw new Error(`Step ${at + 1} was not on the screen when the frame ended.`);
    if (at >= 5) durations.push(took);
    // The frame is still being painted by other threads, and idle work follows: the next change starts from rest.
    await pause(60);
  }
  return durations;
}

const makers = { ours, peer };

/** All durations of one grid at one size. */
globalThis.runGrid = async (kind, n, options, times) => {
  const make = makers[kind];
  let grid;
  const first = [];
  for (let at = 0; at < 6; at++) {
    grid?.destroy?.();
    place.replaceChildren();
    await pause(60);
    first.push(
      await frame(() => {
        grid = make(n, options);
      }),
    );
  }
  await pause(400);
  const expected = (phase, x, y) => cellsOf(n, phase)[(n - 1 - y) * n + x].toFixed(2);
  const results = {
    one: await measure(
      times,
      (step) => grid.one(step / 10),
      (step) => grid.shown(2, 2) === (step / 10).toFixed(2),
    ),
    all: await measure(
      times,
      (step) => grid.all(step / 10),
      (step) => grid.shown(1, 1) === expected(step / 10, 1, 1) && grid.shown(3, 4) === expected(step / 10, 3, 4),
    ),
    selection: await measure(times, (step) => grid.select(step)),
    scroll: await measure(times, (step) => grid.scroll(step)),
    first: first.slice(1),
  };
  grid.destroy?.();
  place.replaceChildren();
  return results;
};
globalThis.ready = true;
