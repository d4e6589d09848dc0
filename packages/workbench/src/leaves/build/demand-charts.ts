import { demandChart, demandOverRpm, type PartId } from "@fuelwright/table-core";
import { html, nothing } from "lit";
import "../../elements/line-chart/line-chart.ts";
import { figure } from "../../store/display.ts";
import type { BuildContext } from "./context.ts";

const parts: readonly PartId[] = ["injectors", "pump", "intake"];

/** Demand against capacity over rpm, one small chart a part, in each column from the cell that takes most. */
export function demandCharts({ asked }: BuildContext) {
  const { ceilings, table, state } = asked;
  if (!ceilings.ok || !table) return nothing;
  const drawn = parts.flatMap((part) => {
    const demand = demandOverRpm(ceilings.value, part, table, state.build.fuel);
    if (!demand) return [];
    const capacity = `time there is at ${figure(state.build.planning.dutyPercent, 0)} % duty`;
    const { label, x, y, series, ranges } = demandChart(demand, part === "injectors" ? capacity : undefined);
    return [html`<fw-line-chart .label=${label} .x=${x} .y=${y} .series=${series} .ranges=${ranges}></fw-line-chart>`];
  });
  if (drawn.length === 0) return nothing;
  return html`<section class="sheet" aria-label="Demand against capacity"><h2>Demand against capacity</h2>
    <p class="quiet">At each rpm the cell of ${table.name} that takes most of the part.</p>
    <div class="charts">${drawn}</div></section>`;
}
