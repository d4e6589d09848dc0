import { type Gate, logQuantities } from "@fuelwright/table-core";
import { html, nothing, type TemplateResult } from "lit";
import { live } from "lit/directives/live.js";
import "../../elements/log-trace/log-trace.ts";
import type { TraceLaneSpec, TraceWindowEvent } from "../../elements/log-trace/log-trace.ts";
import type { EvidenceBench } from "./evidence-bench.ts";

type Window = Extract<Gate, { kind: "time-window" }>;

const lanes: readonly TraceLaneSpec[] = [
  { label: "lambda", unit: "", decimals: 2, keys: ["lambda", "lambda-2"], thin: ["lambda-commanded"] },
  lane("rpm", 0),
  lane("manifold-pressure", 0),
  lane("air-charge", 0),
  lane("throttle-position", 0),
  lane("pulse-width", 1),
];

function lane(quantity: keyof typeof logQuantities, decimals: number): TraceLaneSpec {
  const { label, unit } = logQuantities[quantity];
  return { label, unit: unit === label ? "" : unit, decimals, keys: [quantity], thin: [] };
}

/** The log over time, to look at and to choose a stretch of. */
export function traceSection(
  bench: EvidenceBench,
  traced: number | null,
  choose: (id: number) => void,
): TemplateResult | typeof nothing {
  const read = bench.logs.filter(({ reading }) => reading !== null);
  const log = read.find(({ id }) => id === traced) ?? read[0];
  if (!log?.reading) return nothing;
  const { trace, gates } = log.reading;
  const gate = bench.gates.find((other): other is Window => other.kind === "time-window" && other.on !== false);
  return html`<section class="sheet" aria-label="The log over time">
    <div class="log"><h2>Over time</h2>
      ${
        read.length > 1
          ? html`<label class="quiet">log <select @change=${(event: Event) => choose(read[(event.target as HTMLSelectElement).selectedIndex]!.id)}>
              ${read.map((one) => html`<option .selected=${live(one === log)}>${one.source.name}</option>`)}</select></label>`
          : nothing
      }</div>
    <fw-log-trace label=${`${log.source.name} over time`} .data=${trace} .lanes=${lanes} .removed=${gates.removed}
      .window=${gate ? { from: gate.from - trace.start, to: gate.to - trace.start } : null}
      @fw-trace-window=${({ window }: TraceWindowEvent) => setWindow(bench, window && { from: window.from + trace.start, to: window.to + trace.start })}
    ></fw-log-trace>
  </section>`;
}

/** Keeps one stretch of time, or all of it. */
function setWindow(bench: EvidenceBench, window: { readonly from: number; readonly to: number } | null) {
  const others = bench.gates.filter(({ kind }) => kind !== "time-window");
  const tidy = (seconds: number) => Math.round(seconds * 100) / 100;
  bench.setGates(window ? [...others, { kind: "time-window", from: tidy(window.from), to: tidy(window.to) }] : others);
}
