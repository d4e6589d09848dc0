import { compareStages, type PartId, type StageReport } from "@fuelwright/table-core";
import { html, nothing, type TemplateResult } from "lit";
import { figure } from "../../store/display.ts";
import { assumptionList } from "./assumptions.ts";
import type { BuildContext } from "./context.ts";
import { partNames } from "./part-names.ts";
import { fixed, say } from "./say.ts";
import { sayVerdict } from "./say-verdict.ts";

const compared: readonly PartId[] = ["injectors", "pump", "intake"];

/** The build as it is and every stage side by side: what each asks, what gives out first, what to change. */
export function stageTable({ desk, asked }: BuildContext): TemplateResult {
  const outcome = asked.work("stages", compareStages);
  if (!outcome.ok) return html`<p class="quiet">${outcome.sentence}</p>`;
  const stages = outcome.value;
  const row = (name: string, cell: (stage: StageReport) => unknown) =>
    html`<tr><th scope="row">${name}</th>${stages.map((stage) => html`<td>${cell(stage)}</td>`)}</tr>`;
  const verdict = (part: PartId) =>
    row(partNames[part].toLowerCase(), ({ ceilings }) => {
      const said = sayVerdict(ceilings.parts.find((one) => one.part === part)!, ceilings.ceilings);
      return html`<span class="stamp ${said.kind}">${said.words}</span>`;
    });
  return html`<div class="scroll" tabindex="0" role="group" aria-label="Stages side by side"><table class="figures wide stages">
      <thead><tr><td></td>${stages.map(({ name, note }) => html`<th scope="col">${name}${note ? html` <small>${note}</small>` : nothing}</th>`)}</tr></thead>
      <tbody>
        ${row("fuel at most", ({ greatestFuelGramsPerSecond, build }) => say(desk, greatestFuelGramsPerSecond, "g/s", 2, build.fuel))}
        ${row("air at most", ({ greatestAirGramsPerSecond }) => (greatestAirGramsPerSecond === null ? "needs a target" : `${fixed(greatestAirGramsPerSecond, 1)} g/s`))}
        ${row("power, about", ({ peakPowerKw, peakRpm }) => `${say(desk, peakPowerKw, "kW", 0)} at ${figure(peakRpm, 0)} rpm`)}
        ${row("injectors from", ({ injectors: { smallest }, build }) => (smallest ? say(desk, smallest.flowGramsPerSecond, "g/s", 2, build.fuel) : "no size does"))}
        ${row("pump from", ({ pump }) => `${fixed(pump.wantedLitresPerHour, 1)} L/h at ${say(desk, pump.pressureKpa, "kPa", 0)}`)}
        ${compared.map(verdict)}
        ${row("lean cells", ({ ceilings: { leaner } }) => (leaner.length === 0 ? "none" : html`<strong class="short">${leaner.length}: detonation</strong>`))}
        ${row("first to give out", ({ first }) => (first ? partNames[first.part].toLowerCase() : "not known"))}
        ${row("to change", ({ toChange }) => (toChange.length === 0 ? "nothing" : html`<ul>${toChange.map((sentence) => html`<li>${sentence}</li>`)}</ul>`))}
      </tbody></table></div>
    ${assumptionList(
      stages.flatMap(({ assumptions }) => assumptions),
      "estimated",
    )}
    ${stages.length > 1 && asked.table?.load.quantity === "manifold-pressure" ? html`<p class="quiet">Over manifold pressure the cells stay with another intake: it fills the engine by reaching higher rows.</p>` : nothing}`;
}
