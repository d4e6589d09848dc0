import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { tables } from "../../testing/arbitraries.ts";
import { faultsOf, ofClass, parseXml, pathPoints } from "../../testing/pictures.ts";
import { after, before, build, report } from "../../testing/plotted.ts";
import { checkCeilings } from "../build/check-ceilings.ts";
import { demandOverRpm } from "../build/demand-over-rpm.ts";
import { createTable, type FuelTable } from "../values/fuel-table.ts";
import { darkInks, lightInks, printInks } from "./inks.ts";
import type { Picture } from "./picture.ts";
import { plotCeilings } from "./plot-ceilings.ts";
import { plotChangeHistogram } from "./plot-change-histogram.ts";
import { plotDemand, shortRanges } from "./plot-demand.ts";
import { plotSlice } from "./plot-slice.ts";
import { plotTable } from "./plot-table.ts";
import { plotTableMap } from "./plot-table-map.ts";
import { plotTableParts } from "./plot-table-parts.ts";
import { writeSvg } from "./write-svg.ts";

/** Tables and what they were, some cells alike. */
const pairs = tables().chain((table) =>
  fc
    .array(fc.oneof(fc.constant(1), fc.double({ min: 0.2, max: 5, noNaN: true })), {
      minLength: table.cells.length,
      maxLength: table.cells.length,
    })
    .map((factors) => ({
      before: table,
      after: { ...table, cells: table.cells.map((cell, at) => cell * factors[at]!) },
    })),
);

/** The greatest change as words have it, worked out without the plots. */
function largestChange({ before, after }: { before: FuelTable; after: FuelTable }): string {
  const percents = Array.from(after.cells, (cell, at) => (cell / before.cells[at]! - 1) * 100);
  const most = percents.reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a), 0);
  const size = Math.abs(most);
  if (size < 0.05) return size < 1e-6 ? "one" : `under ${most < 0 ? "−" : "+"}0.1 %`;
  return `${most < 0 ? "−" : "+"}${size < 9.95 ? size.toFixed(1) : size.toFixed(0)} %`;
}

const everyPlot = ({ before, after }: { before: FuelTable; after: FuelTable }): Picture[] => [
  plotTable(after, { before }),
  plotTable(after, { before, figures: "change", tint: () => ({ fill: "#ffeecc", ink: "#000000" }) }),
  plotTableMap(after, { before }),
  plotTableMap(after),
  plotSlice(after, { before, along: "rpm" }),
  plotSlice(after, { before, along: "load", domain: [1, 4] }),
  plotChangeHistogram({ before, after }),
  plotTable(after),
];

test("all numbers are finite, all marks inside the picture, and sentences state the right largest change", () => {
  fc.assert(
    fc.property(pairs, (pair) => {
      const pictures = everyPlot(pair);
      expect(pictures.flatMap(faultsOf)).toEqual([]);
      const largest = largestChange(pair);
      for (const at of [0, 1, 2, 6]) expect(pictures[at]!.description).toContain(largest);
      // The row is cut through the cell that changed most.
      if (largest !== "one") expect(pictures[4]!.description).toContain(`Largest change here ${largest}`);
    }),
    { numRuns: 30 },
  );
});

test("every picture is a valid document in all inks, frozen, with a description of its own", () => {
  const plain = { injectors: demandOverRpm(report, "injectors", after, build.fuel)! };
  for (const inks of [lightInks, darkInks, printInks])
    for (const picture of [
      plotTable(after, { before, ceilings: report.ceilings, inks }),
      plotDemand(plain.injectors, { inks }),
      plotCeilings(report, { table: after, inks }),
      plotSlice(after, { before, inks }),
    ]) {
      expect(faultsOf(picture)).toEqual([]);
      const document = parseXml(writeSvg(picture));
      expect(document.getElementsByTagName("desc")[0]!.textContent).toBe(picture.description);
      expect(picture.description).toMatch(/\.$/);
      expect(Object.isFrozen(picture) && Object.isFrozen(picture.nodes) && Object.isFrozen(picture.nodes[0])).toBe(
        true,
      );
      expect(picture.ground).toBe(inks.paper);
    }
});

describe("plotTable", () => {
  test("marks a change by sign and weight, a ceiling by a hatch with its sentence", () => {
    const picture = plotTable(after, { before, ceilings: report.ceilings });
    expect(ofClass(picture, "changed").map(({ text }) => text)).toEqual(["2.40", "2.88", "15.00", "16.90", "15.63"]);
    expect(ofClass(picture, "changed").every(({ attributes }) => attributes["font-weight"] === "bold")).toBe(true);
    expect(ofClass(picture, "cell")).toHaveLength(12);
    // 3 pluses of two strokes and 2 minuses of one, and one of each in the key.
    expect(ofClass(picture, "sign").map(({ attributes }) => String(attributes.d).match(/M/g)!.length)).toEqual([
      8, 2, 1,
    ]);
    expect(picture.description).toBe(
      "Invented pulses, pulse width: 4 columns over rpm, 3 rows over manifold pressure. Least 2.40 ms at 1,000 rpm and 30 kPa, " +
        "greatest 16.90 ms at 5,000 rpm and 100 kPa. Before and after: 5 of 12 cells changed, 3 raised and 2 lowered; " +
        "largest change +30 % at 5,000 rpm and 100 kPa, 13.00 to 16.90 ms. Duty is above the planning ceiling of 85 % (80 to 85 % is " +
        "common practice): 1 cell, at 6,800 rpm and 100 kPa. The pulse is shorter than the 2.9 ms that these injectors repeat: " +
        "2 cells, 1,000 to 3,000 rpm, 30 kPa. The injectors draw more than the pump gives: rail pressure falls, and the mixture goes " +
        "lean: 2 cells, 5,000 to 6,800 rpm, 100 kPa.",
    );
  });

  test("the higher load stands higher, the higher rpm further right", () => {
    const cells = ofClass(plotTable(before), "cell");
    const [first, second] = [cells[0]!.attributes, cells[1]!.attributes];
    expect(cells[0]!.text).toBe("2.50");
    expect(Number(second.x)).toBeGreaterThan(Number(first.x));
    expect(second.y).toBe(first.y);
    expect(Number(cells[4]!.attributes.y)).toBeLessThan(Number(first.y));
  });

  test("changes can be the figures, in percent", () => {
    const texts = ofClass(plotTable(after, { before, figures: "change" }), "cell").map(({ text }) => text);
    expect(texts.slice(0, 4)).toEqual(["−4.0", "−4.0", "·", "·"]);
    expect(texts.slice(8)).toEqual(["·", "+25.0", "+30.0", "+25.0"]);
  });

  test("over other breakpoints what it was is read between its own, and that is said", () => {
    const coarse = createTable({
      ...before,
      rpm: { ...before.rpm, breakpoints: [1000, 6800] },
      cells: before.load.breakpoints.map(() => [4, 4]),
    });
    const picture = plotTable(before, { before: coarse });
    expect(picture.description).toContain("largest change +225 % at 5,000 rpm and 100 kPa, 4.00 to 13.00 ms");
    expect(picture.description).toContain("The breakpoints differ");
    expect(() => plotTable(before, { before: { ...coarse, quantity: "trim" } })).toThrow(/quantity/);
  });

  test("units shown are those asked for", () => {
    const { description, nodes } = plotTable(before, {
      shown: { unit: "µs", decimals: 0, show: (ms) => ms * 1000 },
      axes: { load: { unit: "bar", decimals: 1, show: (kpa) => kpa / 100 } },
    });
    expect(description).toContain("greatest 13000 µs at 5,000 rpm and 1.0 bar");
    expect(ofClass({ nodes }, "head").map(({ text }) => text)).toContain("bar");
  });

  test("a one-row correction is a single row", () => {
    const warmUp = createTable({
      id: "warm",
      name: "Warm-up, invented",
      quantity: "factor",
      rpm: { quantity: "coolant-temperature", unit: "°C", breakpoints: [-20, 20, 80] },
      cells: [[1.6, 1.2, 1]],
    });
    for (const picture of [plotTable(warmUp), plotSlice(warmUp), plotTableMap(warmUp)])
      expect(faultsOf(picture)).toEqual([]);
    expect(plotTable(warmUp).description).toBe(
      "Warm-up, invented, factor: 3 cells over coolant temperature. Least 1.000 at 80 °C, greatest 1.600 at −20 °C.",
    );
  });
});

test("a big table is split into parts that fit a page, each cell in one of them", () => {
  const big = createTable({
    id: "big",
    name: "Big, invented",
    quantity: "volumetric-efficiency",
    rpm: { quantity: "rpm", unit: "rpm", breakpoints: Array.from({ length: 40 }, (_, at) => 500 + at * 250) },
    load: { quantity: "throttle-position", unit: "%", breakpoints: Array.from({ length: 50 }, (_, at) => at * 2) },
    cells: Float64Array.from({ length: 2000 }, (_, at) => at),
  });
  const parts = plotTableParts(big, { width: 680, height: 500 });
  expect(parts.length).toBe(12);
  for (const part of parts) {
    expect(part.width).toBeLessThanOrEqual(680);
    expect(part.height).toBeLessThanOrEqual(500);
  }
  const figures = parts.flatMap((part) => ofClass(part, "cell").map(({ text }) => Number(text)));
  expect(figures.sort((a, b) => a - b)).toEqual(Array.from(big.cells));
  expect(parts[0]!.title).toBe("Big, invented, part 1 of 12");
  expect(parts[0]!.description).toMatch(/Shown here: 500 to 2,750 rpm, 0 to 30 %\.$/);
  expect(plotTableParts(after)).toEqual([plotTable(after)]);
  expect(() => plotTable(after, { part: { columns: [2, 9], rows: [0, 1] } })).toThrow(/within 4 columns and 3 rows/);
});

describe("plotTableMap", () => {
  test("a rise is a filled square, a fall an open one, and the area goes with the change", () => {
    const picture = plotTableMap(after, { before });
    const sides = (name: string) => {
      const points = pathPoints(String(ofClass(picture, name)[0]!.attributes.d));
      return points.flatMap(([x], at) => (at % 5 === 0 ? [points[at + 1]![0] - x] : []));
    };
    const [up25, up30] = sides("more") as [number, number];
    expect(sides("more")).toHaveLength(3);
    expect((up30 / up25) ** 2).toBeCloseTo(30 / 25, 1);
    expect(sides("less")).toHaveLength(2);
    expect(ofClass(picture, "less")[0]!.attributes.fill).toBe(lightInks.paper);
  });

  test("cells too small to be seen are joined, the greatest change among them counting", () => {
    const flat = createTable({
      id: "wide",
      name: "Wide",
      quantity: "trim",
      rpm: { quantity: "rpm", unit: "rpm", breakpoints: Array.from({ length: 256 }, (_, at) => at * 40) },
      load: { quantity: "throttle-position", unit: "%", breakpoints: Array.from({ length: 256 }, (_, at) => at) },
      cells: new Float64Array(65_536),
    });
    const one = { ...flat, cells: flat.cells.map((_, at) => (at === 700 ? -30 : at === 701 ? 10 : 0)) };
    const picture = plotTableMap(one, { before: flat });
    expect(faultsOf(picture)).toEqual([]);
    expect(pathPoints(String(ofClass(picture, "less")[0]!.attributes.d))).toHaveLength(5);
    expect(ofClass(picture, "more")).toHaveLength(1); // the key's
    expect(picture.description).toMatch(/65536 cells.*1 raised, 1 lowered.*up to 8 by \d+ cells/);
    expect(writeSvg(picture).length).toBeLessThan(60_000);
  });
});

describe("plotSlice", () => {
  test("is cut through the greatest change, or at the nearest breakpoint; before is dashed", () => {
    const picture = plotSlice(after, { before });
    expect(picture.title).toBe("Pulse width over rpm, at 100 kPa");
    expect(picture.description).toBe(
      "Invented pulses: pulse width over rpm, at 100 kPa: 9.00 to 16.90 ms; at 5,000 rpm 16.90 ms; before 9.00 to 13.00 ms, " +
        "at 5,000 rpm 13.00 ms. Largest change here +30 % at 5,000 rpm.",
    );
    expect(ofClass(picture, "was")[0]!.attributes["stroke-dasharray"]).toBe("3 3");
    expect(plotSlice(after, { along: "load", at: 3900 }).title).toBe(
      "Pulse width over manifold pressure, at 3,000 rpm",
    );
  });

  test("slices of one table share their scale", () => {
    const heightOf = (at: number) =>
      pathPoints(String(ofClass(plotSlice(after, { at }), "now")[0]!.attributes.d)).map(([, y]) => y);
    expect(heightOf(30)[0]).toBeGreaterThan(heightOf(100)[0]!);
    const where = ofClass(plotSlice(after, { at: 30, before }), "now")[0]!.attributes.d;
    expect(ofClass(plotSlice(after, { at: 30, before, domain: [0, 100] }), "now")[0]!.attributes.d).not.toBe(where);
  });

  test("where nothing differs there is no second line, and that is said", () => {
    const picture = plotSlice(after, { before, at: 60 });
    expect(ofClass(picture, "was")).toEqual([]);
    expect(picture.description).toMatch(/Nothing changed here\.$/);
  });
});

test("the histogram has a bar for each stretch of percent, its height as the count", () => {
  const picture = plotChangeHistogram({ before, after });
  const bars = [...ofClass(picture, "less"), ...ofClass(picture, "more")];
  expect(ofClass(picture, "count").map(({ text }) => text)).toEqual(["2", "2", "1"]);
  const [falls, quarter, third] = bars.map(({ attributes }) => Number(attributes.height));
  expect(quarter).toBeCloseTo(2 * third!, 6);
  expect(falls).toBeCloseTo(quarter!, 6);
  expect(picture.description).toMatch(
    /Cells by change: −5 to 0 %: 2; \+20 to \+25 %: 2; \+25 to \+30 %: 1; unchanged: 7\.$/,
  );
  expect(plotChangeHistogram({ before, after: before }).description).toBe("Invented pulses: None of 12 cells changed.");
});

describe("plotDemand", () => {
  const demand = {
    part: "pump",
    unit: "L/h",
    rpm: [1000, 3000, 5000],
    demand: [4, 10, 30],
    capacity: [20, 20, 20],
  } as const;

  test("hatches from where demand passes capacity, and says so", () => {
    expect(shortRanges(demand)).toEqual([[4000, 5000]]);
    expect(shortRanges({ ...demand, demand: [30, 10, 30] })).toEqual([
      [1000, 2000],
      [4000, 5000],
    ]);
    expect(shortRanges({ ...demand, demand: [10, 30, 10] })).toEqual([[2000, 4000]]);
    expect(shortRanges({ ...demand, demand: [30, 40, 50] })).toEqual([[1000, 5000]]);
    const picture = plotDemand(demand);
    expect(ofClass(picture, "hatch")).toHaveLength(1);
    expect(picture.description).toBe(
      "Pump, demand against capacity over engine speed (fuel asked; the pump gives). Closest at 5,000 rpm: 30 L/h of 20 L/h, " +
        "150 %. More is asked than the pump gives from 4,000 rpm to 5,000 rpm.",
    );
    expect(plotDemand({ ...demand, demand: [4, 10, 15] }).description).toMatch(
      /What is asked is there at every rpm\.$/,
    );
    expect(
      plotDemand({ ...demand, demand: [0, 0, 0], capacity: [Number.NaN, Number.NaN, Number.NaN] }).description,
    ).toMatch(/Nothing is asked\.$/);
  });
});

describe("plotCeilings", () => {
  test("sets what gives out first bold, and hatches each ceiling in its own way", () => {
    const picture = plotCeilings(report, { table: after });
    const bold = ofClass(picture, "part").filter(({ attributes }) => attributes["font-weight"] === "bold");
    // Duty at 6800 rpm: 15.625 of 17.647 ms is 88.5 %, of 85 % planned.
    expect(bold.map(({ text }) => text)).toEqual([report.first!.part === "pump" ? "Pump" : "Injectors"]);
    expect(ofClass(picture, "share").map(({ text }) => text)[0]).toBe("104 %");
    expect(picture.description).toContain("Injectors: 104 % of what there is.");
    // The map's and the key's, and what is beyond all there is of two parts.
    expect(ofClass(picture, "hatch")).toHaveLength(2 * report.ceilings.length + 2);
    expect(ofClass(picture, "unknown")[0]!.text).toBe("Not known: intake, storage");
  });

  test("without any ceiling it says so", () => {
    const picture = plotCeilings(checkCeilings({ build, table: { ...before, cells: before.cells.map(() => 4) } }), {
      table: before,
    });
    expect(picture.description).toMatch(/would give out first\..*No cell is at a ceiling\.$/);
  });
});

test("the gallery looks as it did", async () => {
  const gallery: Record<string, Picture> = {
    table: plotTable(after, { before, ceilings: report.ceilings }),
    "table-change-print": plotTable(after, { before, figures: "change", inks: printInks }),
    map: plotTableMap(after, { before, ceilings: report.ceilings }),
    slice: plotSlice(after, { before }),
    histogram: plotChangeHistogram({ before, after }),
    "demand-dark": plotDemand(demandOverRpm(report, "injectors", after, build.fuel)!, { inks: darkInks }),
    ceilings: plotCeilings(report, { table: after }),
  };
  for (const [name, picture] of Object.entries(gallery))
    await expect(writeSvg(picture)).toMatchFileSnapshot(`gallery/${name}.svg`);
});
