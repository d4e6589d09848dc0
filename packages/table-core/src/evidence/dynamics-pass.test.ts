import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { modelled, rideLoad, rideOf, rideRpm, seriesOf } from "../../testing/rides.ts";
import { createAxis, singleRow } from "../values/axis.ts";
import {
  createFinder,
  createGrid,
  type Dynamics,
  dynamicsKeys,
  filmBend,
  gridOrder,
  ModelRow,
} from "./dynamics-pass.ts";
import type { Series } from "./series.ts";

const grid = createGrid(rideRpm, rideLoad);

/** Steps of 1/100 s at one point of the table, with a given mixture and fuel. */
function bench(
  count: number,
  known: (seconds: number) => number,
  fuel: (seconds: number) => number = () => 3000,
): Series {
  const times = Float64Array.from({ length: count }, (_, i) => i / 100);
  return {
    count,
    lead: 0,
    time: times,
    x: new Float64Array(count).fill(3000),
    y: new Float64Array(count).fill(60),
    known: times.map(known),
    fuel: times.map(fuel),
    inverse: new Float64Array(count),
    warmth: new Float64Array(count),
    // 3000 rpm and 60 kPa are the reference flow.
    volume: times.slice(),
    measured: new Float64Array(count),
    mask: new Uint32Array(count),
    unfit: new Int32Array(count + 1),
    since: new Int32Array(count),
    hasFuel: true,
  };
}

const still: Dynamics = { constant: 0, flow: 0, lag: 1e-3, filmShare: 0, filmTime: 0.2 };

describe("the way from cylinder to sensor", () => {
  test("a step arrives after constant and flow delay, and then by the lag's exponential", () => {
    const series = bench(400, (s) => (s < 2 ? 0 : 0.1));
    const dynamics = { ...still, constant: 0.1, flow: 0.3, lag: 0.15 };
    for (const { at, value } of modelled(series, dynamics, grid, null)) {
      const since = at / 100 - 2.4;
      // Between rows the mixture is taken as a line, so that the step is a ramp of one row; its middle is half a row early.
      const expected = since < -0.02 ? 0 : since > 0.01 ? 0.1 * (1 - Math.exp(-(since + 0.005) / 0.15)) : Number.NaN;
      if (!Number.isNaN(expected)) expect(value).toBeCloseTo(expected, 4);
    }
  });

  test("half the flow takes twice as long", () => {
    const series = { ...bench(400, (s) => (s < 2 ? 0 : 0.1)) };
    const slow = { ...series, volume: series.volume.map((volume) => volume / 2) };
    const arrives = (of: Series) =>
      modelled(of, { ...still, flow: 0.3 }, grid, null).find(({ value }) => value > 0.05)!.at / 100;
    expect(arrives(series)).toBeCloseTo(2.3, 1);
    expect(arrives(slow)).toBeCloseTo(2.6, 1);
  });

  test("a reading whose gas left before the log began, or while the engine was unfit, is settling", () => {
    const series = bench(400, () => 0);
    const unfit = new Int32Array(401).fill(50);
    for (let i = 0; i < 400; i++) unfit[i] = i < 100 ? 0 : Math.min(50, i - 100);
    const dynamics = { ...still, constant: 0.2, lag: 0.05 };
    const used = (of: Series) => new Set(modelled(of, dynamics, grid, null).map(({ at }) => at));
    const clean = used(series);
    expect(clean.has(20)).toBe(false);
    expect(clean.has(100)).toBe(true);
    const gated = used({ ...series, unfit });
    // Unfit from 1.0 to 1.5 s: seen from 1.2 s until the lag has forgotten, eight times its length after 1.7 s.
    expect(gated.has(118)).toBe(true);
    expect(gated.has(130)).toBe(false);
    expect(gated.has(180)).toBe(false);
    expect(gated.has(230)).toBe(true);
    for (const at of gated) expect(clean.has(at)).toBe(true);
  });

  test("weights of a row add up to 1 and sit at the cells of the recent path", () => {
    const series = { ...bench(300, () => 0), x: Float64Array.from({ length: 300 }, (_, i) => 2000 + 10 * i) };
    const cells = new Float64Array(grid.cells);
    const order = gridOrder(grid);
    // c = rpm / 1000, which bilinear weights reproduce exactly.
    rideLoad.breakpoints.forEach((_, row) => {
      rideRpm.breakpoints.forEach((rpm, column) => {
        cells[order[row * rideRpm.breakpoints.length + column]!] = rpm / 1000;
      });
    });
    const dynamics = { ...still, constant: 0.1, lag: 0.08 };
    const last = modelled(series, dynamics, grid, cells).at(-1)!;
    // A ramp of 1000 rpm a second is seen delay and lag late.
    expect(last.value).toBeCloseTo((2000 + 10 * 299 - 1000 * 0.18) / 1000, 3);
  });

  test("slopes are those of differences", () => {
    const { log, truth } = rideOf({
      seed: 5,
      rpm: rideRpm,
      load: rideLoad,
      minutes: 3,
      film: { share: 0.2, time: 0.2 },
      warmUp: false,
    });
    const [series] = seriesOf(log);
    const cells = new Float64Array(grid.cells);
    gridOrder(grid).forEach((unknown, at) => {
      cells[unknown] = truth.corrections[at]!;
    });
    const dynamics: Dynamics = { constant: 0.06, flow: 0.25, lag: 0.12, filmShare: 0.2, filmTime: 0.2 };
    const base = modelled(series!, dynamics, grid, cells);
    dynamicsKeys.forEach((key, slot) => {
      const h = 1e-5;
      const up = new Map(
        modelled(series!, { ...dynamics, [key]: dynamics[key] + h }, grid, cells).map(({ at, value }) => [at, value]),
      );
      const down = new Map(
        modelled(series!, { ...dynamics, [key]: dynamics[key] - h }, grid, cells).map(({ at, value }) => [at, value]),
      );
      let off = 0;
      let size = 0;
      for (const { at, slopes } of base) {
        if (!up.has(at) || !down.has(at)) continue;
        const slope = (up.get(at)! - down.get(at)!) / (2 * h);
        off += (slopes[slot]! - slope) ** 2;
        size += slope ** 2;
      }
      // Delays move the mixture along lines between rows, cells along curves: a tenth or so apart. The film is exact.
      expect(Math.sqrt(off / size)).toBeLessThan(key.startsWith("film") ? 1e-6 : 0.2);
    });
  });
});

describe("filmBend", () => {
  const share = 0.3;
  const time = 0.4;

  test("after a step of fuel delivers by the closed form of the wall film", () => {
    const series = bench(
      300,
      () => 0,
      (s) => (s < 0.995 ? 1000 : 2000),
    );
    const { bend } = filmBend(series, share, time);
    for (let i = 0; i < 300; i++) {
      // Fuel ramps over the one row before 1.00 s: the outflow at its end is exact for a ramp.
      const since = i / 100 - 1;
      const ramp = 1 - (time / 0.01) * (1 - Math.exp(-0.01 / time));
      const outflow = since < 0 ? 1000 : 2000 - 1000 * (1 - ramp) * Math.exp(-since / time);
      const injected = since < 0 ? 1000 : 2000;
      expect(bend[i]).toBeCloseTo(Math.log(injected / ((1 - share) * injected + share * outflow)), 10);
    }
  });

  test("bends nothing in steady running, nor without a share", () => {
    const steady = filmBend(
      bench(50, () => 0),
      share,
      time,
    ).bend;
    expect(Math.max(...steady.map(Math.abs))).toBeLessThan(1e-12);
    const wild = bench(
      50,
      () => 0,
      (s) => 1000 + 900 * Math.sin(40 * s),
    );
    expect(Math.max(...filmBend(wild, 0, time).bend.map(Math.abs))).toBeLessThan(1e-12);
  });
});

describe("the grid", () => {
  test("weights reproduce planes, and edges are held", () => {
    const find = createFinder(grid);
    const order = gridOrder(grid);
    const plane = new Float64Array(grid.cells);
    rideLoad.breakpoints.forEach((load, row) => {
      rideRpm.breakpoints.forEach((rpm, column) => {
        plane[order[row * rideRpm.breakpoints.length + column]!] = 3 * rpm - 7 * load;
      });
    });
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 9000, noNaN: true }),
        fc.double({ min: 0, max: 130, noNaN: true }),
        (rpm, load) => {
          find(rpm, load);
          const x = Math.min(7400, Math.max(800, rpm));
          const y = Math.min(100, Math.max(25, load));
          expect(find.weigh(plane)).toBeCloseTo(3 * x - 7 * y, 7);
        },
      ),
    );
  });

  test("numbers the shorter side fastest, and knows one-row tables", () => {
    const wide = createGrid(
      createAxis({ quantity: "rpm", breakpoints: [1, 2, 3, 4] }),
      createAxis({ quantity: "air-charge", breakpoints: [1, 2] }),
    );
    expect(Array.from(gridOrder(wide))).toEqual([0, 2, 4, 6, 1, 3, 5, 7]);
    const row = createGrid(createAxis({ quantity: "coolant-temperature", breakpoints: [0, 50, 100] }), singleRow);
    const find = createFinder(row);
    find(25, 0);
    expect(find.weigh(Float64Array.of(1, 3, 9))).toBe(2);
  });

  test("a row adds, fades and forgets", () => {
    const row = new ModelRow(9);
    row.add(4, 0.5);
    row.add(7, 2e-5);
    row.add(4, 0.25);
    expect([row.size, row.values[0]]).toEqual([2, 0.75]);
    row.fade(0.5);
    expect([row.size, row.cells[0], row.values[0]]).toEqual([1, 4, 0.375]);
    row.clear();
    row.add(7, 1);
    expect([row.size, row.cells[0], row.values[0]]).toEqual([1, 7, 1]);
  });
});
