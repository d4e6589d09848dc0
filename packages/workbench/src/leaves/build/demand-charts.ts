import type { PartId } from "@fuelwright/table-core";
import { html, nothing } from "lit";
import "../../elements/line-chart/line-chart.ts";
import type { ChartSeries } from "../../elements/line-chart/line-chart.ts";
import { demandOverRpm } from "../../store/demand-over-rpm.ts";
import { figure } from "../../store/display.ts";
import type { BuildContext } from "./context.ts";

const charts: readonly {
  readonly part: PartId;
  readonly label: string;
  readonly what: string;
  capacity(duty: number): string;
}[] = [
  {
    part: "injectors",
    label: "Injectors",
    what: "pulse",
    capacity: (duty) => `time there is at ${figure(duty, 0)} % duty`,
  },
  { part: "pump", label: "Pump", what: "fuel asked", capacity: () => "the pump gives" },
  { part: "intake", label: "Intake", what: "air asked", capacity: () => "with 5 % lost" },
];

/** Demand against capacity over rpm, one small chart a part, in each column from the cell that takes most. */
export function demandCharts({ asked }: BuildContext) {
  const { ceilings, table, state } = asked;
  if (!ceilings.ok || !table) return nothing;
  const drawn = charts.flatMap(({ part, label, what, capacity }) => {
    const line = demandOverRpm(ceilings.value, part, table, state.build.fuel);
    if (!line) return [];
    // At low rpm the time for a pulse is many times what is needed: the chart keeps to where the two come near.
    const top = 2.2 * Math.max(...line.demand);
    const series: readonly ChartSeries[] = [
      { name: what, points: { x: line.rpm, y: line.demand }, look: "line" },
      {
        name: capacity(state.build.planning.dutyPercent),
        points: { x: line.rpm, y: line.capacity.map((value) => (value > top ? Number.NaN : value)) },
        look: "dashed",
      },
    ];
    return [
      html`<fw-line-chart .label=${label} .x=${{ label: "Engine speed", unit: "rpm" }}
        .y=${{ label, unit: line.unit, zero: true }} .series=${series}></fw-line-chart>`,
    ];
  });
  if (drawn.length === 0) return nothing;
  return html`<section class="sheet" aria-label="Demand against capacity"><h2>Demand against capacity</h2>
    <p class="quiet">At each rpm the cell of ${table.name} that takes most of the part.</p>
    <div class="charts">${drawn}</div></section>`;
}
