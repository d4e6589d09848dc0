import type { DelayReport, EvidenceReport, SensorDelay, TipInSuggestion } from "@fuelwright/table-core";
import { html, nothing, type TemplateResult } from "lit";
import "../../elements/line-chart/line-chart.ts";
import type { FittedEvidence } from "../../workers/evidence-tasks.ts";
import type { EvidenceBench } from "./evidence-bench.ts";
import { give, percent, signed } from "./words.ts";

/** What lies between the cylinder and the number in the log: delay, lag, film and noise, each with its doubt. */
export function dynamicsSection(bench: EvidenceBench, { fit, tipIn }: FittedEvidence): TemplateResult {
  const { delay, report } = fit;
  return html`<section class="sheet" aria-label="Delay and film">
    <h2>Between the cylinder and the log</h2>
    <div class="beside">
      <div>${delayPicture(delay)}</div>
      <div>${facts(delay, report)}</div>
    </div>
    ${filmPart(bench, delay, tipIn)}
  </section>`;
}

function delayPicture({ profile, sensors, found }: DelayReport) {
  if (profile.length < 3) return html`<p class="quiet">The delay was given and not looked for.</p>`;
  const total = sensors[0]!.total;
  return html`<fw-line-chart label="What no table explains, by the delay assumed"
      .x=${{ label: "delay", unit: "s" }} .y=${{ label: "scatter", unit: "%" }}
      .series=${[{ name: "scatter", points: profile.map(({ delay, residual }) => [delay, 100 * residual] as const) }]}
      .mark=${{ x: total.value, text: give(total.value, total.deviation, 2, "s") }}></fw-line-chart>
    <p class="quiet">${
      found
        ? "The readings hang together best at the bottom of the curve: that is how late the sensor tells."
        : "The curve is too flat to trust its bottom: the figures are little more than what is usual."
    }</p>`;
}

function facts({ sensors, reference, film }: DelayReport, report: EvidenceReport) {
  const several = sensors.length > 1;
  const row = (name: string, value: string, more = "") =>
    html`<tr><th scope="row">${name}</th><td>${value}</td><td class="quiet">${more}</td></tr>`;
  const at = `at ${reference.rpm.toLocaleString("en")} rpm, ${reference.manifoldKpa} kPa`;
  const sensor = ({ sensor, total, constant, flow, lag }: SensorDelay) => html`
    ${several ? html`<tr><th colspan="3" scope="rowgroup">sensor ${sensor}</th></tr>` : nothing}
    ${row("delay", give(total.value, total.deviation, 2, "s"), at)}
    ${row("of it the same always", give(constant.value, constant.deviation, 2, "s"))}
    ${row("of it with the flow", give(flow.value, flow.deviation, 2, "s"), "longer as the flow falls")}
    ${row("lag of the sensor", give(lag.value, lag.deviation, 2, "s"))}`;
  const { deadTime, warmth } = report;
  return html`<table class="facts" aria-label="What was found"><tbody>
    ${sensors.map(sensor)}
    ${film ? html`${row("fuel to the wall", give(100 * film.share.value, 100 * film.share.deviation, 1, "%"))}${row("stays there", give(film.time.value, film.time.deviation, 2, "s"))}` : row("fuel film", "none found")}
    ${row("noise of a reading", give(100 * report.noise.value, 100 * report.noise.deviation, 2, "%"))}
    ${row("readings worth one", report.inflation.toFixed(1), "they hang together in time")}
    ${deadTime ? row("dead time off by", give(deadTime.value, deadTime.deviation, 3, "ms"), deadTime.supported ? "the log speaks for it" : "not shown by the log") : nothing}
    ${warmth ? row("for each 10 °C of coolant", `${signed(warmth.value, 2)} ± ${percent(warmth.deviation, 2)}`, warmth.supported ? "the log speaks for it" : "not shown by the log") : nothing}
  </tbody></table>`;
}

function filmPart(bench: EvidenceBench, { film }: DelayReport, tipIn: TipInSuggestion | null) {
  const choice = html`<label class="check"><input type="checkbox" .checked=${bench.film}
    @change=${(event: Event) => bench.setFit({ film: (event.target as HTMLInputElement).checked })} />look for a fuel film on the intake wall</label>`;
  if (!film || !tipIn) return choice;
  const { share, decay, leanest, response, caution } = tipIn;
  const line = (key: "without" | "with") => response.map((point) => [point.seconds, point[key]] as const);
  return html`${choice}
    <h3>Opening the throttle</h3>
    <div class="beside">
      <div><fw-line-chart label="Mixture when fuel doubles at once"
        .x=${{ label: "after the step", unit: "s" }} .y=${{ label: "lambda over what is wished for", leastSpan: 0.05 }}
        .series=${[
          { name: "as it is", points: line("without") },
          { name: "with the enrichment", points: line("with") },
        ]}></fw-line-chart></div>
      <div><p>A step of the throttle goes lean by up to <strong>${percent(leanest - 1, 0)}</strong> while the wall fills.</p>
        <p>A tip-in enrichment of <strong>${give(100 * share.value, 100 * share.deviation, 0, "%")}</strong> of the step in fuel,
          dying away in <strong>${give(decay.value, decay.deviation, 2, "s")}</strong>, would make up for it.</p>
        <p class="quiet">${caution} It is not applied here.</p></div>
    </div>`;
}
