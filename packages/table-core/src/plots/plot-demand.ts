import type { PartId } from "../build/ceiling.ts";
import type { PartDemand } from "../build/demand-over-rpm.ts";
import type { Picture } from "./picture.ts";
import { type PlotChart, plotChart } from "./plot-chart.ts";
import type { Chart, ChartRange } from "./series.ts";

export interface PlotDemand extends Omit<PlotChart, "description"> {
  /** What the dashed line is called, where the page can say more: "time there is at 85 % duty". */
  readonly capacity?: string;
}

interface PartWords {
  readonly label: string;
  readonly asked: string;
  readonly capacity: string;
  /** Stands in the hatch. */
  readonly over: string;
  /** Goes before "from 5,900 to 6,800 rpm". */
  readonly sentence: string;
}

const words: Readonly<Record<PartId, PartWords>> = {
  injectors: {
    label: "Injectors",
    asked: "pulse",
    capacity: "time there is at the planning ceiling",
    over: "above planning",
    sentence: "Duty is above the planning ceiling",
  },
  pump: {
    label: "Pump",
    asked: "fuel asked",
    capacity: "the pump gives",
    over: "too little",
    sentence: "More is asked than the pump gives",
  },
  intake: {
    label: "Intake",
    asked: "air asked",
    capacity: "with 5 % lost",
    over: "more lost",
    sentence: "More than 5 % of the air is lost",
  },
  storage: {
    label: "Storage",
    asked: "cell",
    capacity: "the controller stores",
    over: "too little",
    sentence: "More is asked than the controller stores",
  },
};

/**
 * What a part is asked over rpm against what it can give, hatched where the one passes the other.
 *
 * @param demand - as `demandOverRpm` has it of a ceiling report
 * @example plotDemand(demandOverRpm(report, "pump", table, build.fuel), { inks: printInks })
 * @throws FuelwrightError `not-finite`, `out-of-range`
 */
export function plotDemand(demand: PartDemand, options: PlotDemand = {}): Picture {
  const chart = demandChart(demand, options.capacity);
  return plotChart(chart, {
    ...options,
    title: options.title ?? `${chart.label}: demand against capacity`,
    description: sayDemand(demand, chart),
  });
}

/** The same as a chart: for a component that draws charts. */
export function demandChart(demand: PartDemand, capacity = words[demand.part].capacity): Chart {
  const { label, asked, over } = words[demand.part];
  // At low rpm the capacity may be many times what is needed: the chart keeps to where the two come near.
  const top = 2.2 * Math.max(...demand.demand);
  return {
    label,
    x: { label: "Engine speed", unit: "rpm", format: (rpm) => rpm.toLocaleString("en") },
    y: { label, unit: demand.unit, zero: true },
    series: [
      { name: asked, points: { x: demand.rpm, y: demand.demand }, look: "line" },
      {
        name: capacity,
        points: { x: demand.rpm, y: demand.capacity.map((value) => (value > top ? Number.NaN : value)) },
        look: "dashed",
      },
    ],
    ranges: shortRanges(demand).map(([from, to]) => ({ axis: "x", from, to, label: over }) satisfies ChartRange),
  };
}

/** Stretches of rpm in which more is asked than there is, ends where the straight lines between columns cross. */
export function shortRanges({ rpm, demand, capacity }: PartDemand): (readonly [from: number, to: number])[] {
  const ranges: [number, number][] = [];
  const excess = demand.map((asked, at) => asked - capacity[at]!);
  const crossing = (at: number) =>
    rpm[at]! + ((rpm[at + 1]! - rpm[at]!) * excess[at]!) / (excess[at]! - excess[at + 1]!);
  excess.forEach((over, at) => {
    if (!(over > 0)) return;
    const from = excess[at - 1]! <= 0 ? crossing(at - 1) : rpm[at]!;
    const to = excess[at + 1]! <= 0 ? crossing(at) : rpm[at]!;
    const last = ranges.at(-1);
    // Joined to the column before where that is short too.
    if (last && excess[at - 1]! > 0) last[1] = to;
    else ranges.push([from, to]);
  });
  return ranges;
}

/** Where it is closest, and where it is too little. */
function sayDemand(demand: PartDemand, { label, series }: Chart): string {
  const share = demand.demand.map((asked, at) => asked / demand.capacity[at]!);
  let worst = -1;
  share.forEach((part, at) => {
    if (Number.isFinite(part) && (worst < 0 || part > share[worst]!)) worst = at;
  });
  const rpm = (value: number) => `${Math.round(value).toLocaleString("en")} rpm`;
  const say = (value: number) => `${Number(value.toPrecision(3))} ${demand.unit}`;
  const opening = `${label}, demand against capacity over engine speed (${series[0]!.name}; ${series[1]!.name}).`;
  if (worst < 0) return `${opening} Nothing is asked.`;
  const short = shortRanges(demand).map(([from, to]) =>
    from === to ? `at ${rpm(from)}` : `from ${rpm(from)} to ${rpm(to)}`,
  );
  return (
    `${opening} Closest at ${rpm(demand.rpm[worst]!)}: ${say(demand.demand[worst]!)} of ${say(demand.capacity[worst]!)}, ` +
    `${Math.round(share[worst]! * 100)} %. ` +
    (short.length > 0
      ? `${words[demand.part].sentence} ${short.join(" and ")}.`
      : "What is asked is there at every rpm.")
  );
}
