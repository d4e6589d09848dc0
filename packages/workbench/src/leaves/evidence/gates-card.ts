import { type Gate, type GateCount, gateReasons, type LogQuantity, logQuantities } from "@fuelwright/table-core";
import { html, nothing, type TemplateResult } from "lit";
import { live } from "lit/directives/live.js";
import { figure } from "../../store/display.ts";
import type { HelpId } from "../field-help.ts";
import { numberField } from "../table/forms/fields.ts";
import type { EvidenceBench } from "./evidence-bench.ts";
import { columnsOf } from "./log-entry.ts";
import { counted, percent } from "./words.ts";

type Within = Extract<Gate, { kind: "within" }>;
type Put = (gate: Gate) => void;

/** Which readings count: each gate in words, what it removes, and its figures to change. */
export function gatesCard(bench: EvidenceBench): TemplateResult {
  const { counts, gates } = bench;
  const put = (at: number, gate: Gate | null) => bench.setGates(gate ? gates.with(at, gate) : gates.toSpliced(at, 1));
  const countAt = (at: number) => counts?.gates.find((gate) => gate.at === at) ?? null;
  const always = counts?.gates.filter(({ at, removed }) => at === null && removed > 0) ?? [];
  return html`<section class="sheet" aria-label="Gates">
    <h2>Which readings count</h2>
    <p class="quiet">${
      counts
        ? html`<strong>${figure(counts.kept, 0)}</strong> of ${counted(counts.readings, "reading")} count. A gate only ever removes.`
        : "A gate only ever removes. What each removes is counted when a log is read."
    }</p>
    <ul class="gates">
      ${gates.map((gate, at) => html`<li>${oneGate(gate, countAt(at), counts?.readings ?? 0, (next) => put(at, next), removable(gate) ? () => put(at, null) : null)}</li>`)}
      ${always.map((count) => html`<li><div class="gate"><details><summary><span>${count.label}</span>${removes(count, counts!.readings)}</summary><p class="quiet">${count.reason} Always in force.</p></details></div></li>`)}
    </ul>
    ${addRange(bench)}
  </section>`;
}

/** Gates that are not there at first can be taken out again; the usual ones are switched off. */
const removable = ({ kind, ...gate }: Gate) =>
  kind === "time-window" || kind === "cylinder" || (kind === "within" && !usualRanges.has((gate as Within).quantity));
const usualRanges: ReadonlySet<LogQuantity> = new Set(["rpm", "coolant-temperature", "battery-voltage"]);

function oneGate(gate: Gate, count: GateCount | null, readings: number, put: Put, remove: (() => void) | null) {
  const name = nameOf(gate);
  return html`<div class="gate">
    <input type="checkbox" aria-label=${`Gate: ${name}`} .checked=${live(gate.on !== false)}
      @change=${(event: Event) => put({ ...gate, on: (event.target as HTMLInputElement).checked ? usualOn(gate) : false })} />
    <details><summary><span>${name}</span>${count && gate.on !== false ? removes(count, readings) : nothing}</summary>
      <p class="quiet">${gateReasons[gate.kind].reason}${gate.on === "without-pulse" ? " Only in logs without pulse widths: in others the film is fitted." : ""}</p>
      ${figures(gate, put)}
      ${remove ? html`<button class="word" @click=${remove}>Take this gate out</button>` : nothing}
    </details></div>`;
}

const usualOn = (gate: Gate) => (gate.kind === "throttle-rate" && gate.on === "without-pulse" ? "without-pulse" : true);

function nameOf(gate: Gate): string {
  if (gate.kind === "within") return `${logQuantities[gate.quantity].label} ${gateReasons.within.label}`;
  return gate.kind === "cylinder" ? `not cylinder ${gate.cylinder}` : gateReasons[gate.kind].label;
}

/** How many a gate removes, with a bar for its share. */
function removes({ removed, alone }: GateCount, readings: number) {
  const share = readings > 0 ? removed / readings : 0;
  return html`<span class="removes" title=${removed ? `${percent(share)}; ${counted(alone, "reading")} that no other gate removes` : nothing}>
    <span class="hidden">removes </span>${removed === 0 ? "none" : figure(removed, 0)}
    <i aria-hidden="true" style=${`width: ${(100 * share).toFixed(1)}%`}></i></span>`;
}

/** The figures of a gate, as fields side by side. */
function figures(gate: Gate, put: Put): TemplateResult {
  const field = (
    label: string,
    explain: HelpId,
    value: number | undefined,
    unit: string,
    change: (value: number) => void,
    clear?: () => void,
  ) =>
    numberField({ label, explain, value: value ?? null, unitText: unit, decimals: 2, change, ...(clear && { clear }) });
  switch (gate.kind) {
    case "within": {
      const { unit } = logQuantities[gate.quantity];
      const end = (key: "low" | "high", label: string) =>
        field(
          label,
          `gate-${key}`,
          gate[key],
          unit,
          (value) => put({ ...gate, [key]: value }),
          () => {
            const { [key]: _, ...rest } = gate;
            put(rest);
          },
        );
      return html`${end("low", "at least")}${end("high", "at most")}`;
    }
    case "run-time":
    case "sensor-warm-up":
    case "stuck-sensor":
      return field(
        gate.kind === "stuck-sensor" ? "for longer than" : "for",
        "gate-seconds",
        gate.seconds,
        "s",
        (seconds) => put({ ...gate, seconds }),
      );
    case "fuel-cut":
      return html`${field("pulse under", "gate-pulse", gate.pulseMs, "ms", (pulseMs) => put({ ...gate, pulseMs }))}
        ${field("or throttle under", "gate-throttle", gate.throttle, "%", (throttle) => put({ ...gate, throttle }))}
        ${field("above", "gate-rpm", gate.rpm, "rpm", (rpm) => put({ ...gate, rpm }))}`;
    case "throttle-rate":
      return html`${field("faster than", "gate-throttle-rate", gate.most, "%/s", (most) => put({ ...gate, most }))}
        ${field("and after it for", "gate-settle", gate.settle, "s", (settle) => put({ ...gate, settle }))}
        <label class="check"><input type="checkbox" .checked=${live(gate.on !== "without-pulse")} @change=${(
          event: Event,
        ) =>
          put({
            ...gate,
            on: (event.target as HTMLInputElement).checked ? true : "without-pulse",
          })} />in logs with pulse widths too</label>`;
    case "sensor-range":
      return html`${field("lambda at least", "gate-low", gate.low, "", (low) => put({ ...gate, low }))}
        ${field("at most", "gate-high", gate.high, "", (high) => put({ ...gate, high }))}`;
    case "time-window":
      return html`${field("from", "gate-from", gate.from, "s", (from) => put({ ...gate, from }))}${field("to", "gate-to", gate.to, "s", (to) => put({ ...gate, to }))}`;
    case "cylinder":
      return html``;
  }
}

/** A range of a further quantity that the logs hold. */
function addRange(bench: EvidenceBench) {
  const there = new Set(bench.gates.map((gate) => (gate.kind === "within" ? gate.quantity : null)));
  const open = [...new Set(bench.logs.flatMap((log) => columnsOf(log).map(({ quantity }) => quantity)))].filter(
    (quantity): quantity is LogQuantity =>
      quantity !== null && quantity !== "time" && quantity !== "lambda" && !there.has(quantity),
  );
  if (open.length === 0) return nothing;
  return html`<label class="row">Keep a range of
    <select @change=${(event: Event) => {
      const select = event.target as HTMLSelectElement;
      const quantity = open[select.selectedIndex - 1];
      select.selectedIndex = 0;
      if (quantity) bench.setGates([...bench.gates, { kind: "within", quantity }]);
    }}><option>choose</option>${open.map((quantity) => html`<option>${logQuantities[quantity].label}</option>`)}</select></label>`;
}
