import { html, nothing, type TemplateResult } from "lit";
import { live } from "lit/directives/live.js";
import { figure } from "../../store/display.ts";
import { correctableTables } from "./correctable.ts";
import type { EvidenceBench } from "./evidence-bench.ts";
import { evidenceStepsOf } from "./fit-task.ts";
import { logColumns } from "./log-columns.ts";
import { type LogEntry, readShare } from "./log-entry.ts";
import { canMakeRide } from "./made-ride.ts";
import { bytes, counted, duration } from "./words.ts";

export const CAUTION =
  "A log is recorded by a passenger, on a dyno, or by a logger that needs no eyes: never by the rider's. Lean under load detonates and destroys engines: close the throttle at the first sign.";

/** Choosing logs, and what was read of each. */
export function logsSection(bench: EvidenceBench): TemplateResult {
  const { table, logs } = bench;
  return html`<section class="sheet" aria-label="Logs">
    <h2>Logs</h2>
    <p class="quiet">${CAUTION}</p>
    <div class="do">
      ${chooseFiles(bench, "Choose logs", "correct", logs.length === 0)}
      ${
        canMakeRide(table)
          ? html`<button @click=${() => bench.addMade(table, "correct")}>Try it with a made log</button>`
          : nothing
      }
      ${tableChoice(bench)}
    </div>
    ${
      logs.length === 0
        ? html`<p class="drop">Drop CSV or TSV files here, of any size: headings, units and comma or point are recognised. They
            stay on this machine and are not kept in the job, only what they say of the table is.</p>
            ${canMakeRide(table) ? html`<p class="quiet">A made log is a ride on an invented machine, with errors drawn by lot: all that comes of it is marked as simulated.</p>` : nothing}`
        : html`<ul class="logs">${logs.map((log) => html`<li>${oneLog(bench, log)}</li>`)}</ul>`
    }
  </section>`;
}

/** A button that opens the file chooser. */
export function chooseFiles(bench: EvidenceBench, words: string, role: LogEntry["role"], main = false): TemplateResult {
  return html`<button class=${main ? "main" : ""} @click=${(event: Event) =>
    ((event.currentTarget as HTMLElement).nextElementSibling as HTMLInputElement).click()}>${words}</button><input
    type="file" hidden multiple accept=".csv,.tsv,.txt,.log,text/*" aria-label=${words}
    @change=${(event: Event) => {
      const input = event.target as HTMLInputElement;
      bench.addFiles([...(input.files ?? [])], role);
      input.value = "";
    }} />`;
}

function tableChoice(bench: EvidenceBench) {
  const { table, desk } = bench;
  const tables = correctableTables(desk);
  if (!table) return html`<p class="quiet">There is no table to correct yet: bring one in on the Table leaf.</p>`;
  if (tables.length < 2) return nothing;
  return html`<label class="row">for <select @change=${(event: Event) =>
    bench.setFit({ wanted: tables[(event.target as HTMLSelectElement).selectedIndex]!.id })}>
    ${tables.map(({ id, name, quantity }) => html`<option .selected=${live(id === table.id)}>${name}, ${quantity.replaceAll("-", " ")}</option>`)}
  </select></label>`;
}

function oneLog(bench: EvidenceBench, log: LogEntry) {
  const { reading, problem, source } = log;
  return html`
    <div class="log">
      <strong>${source.name}</strong>
      <span class="quiet">${size(log)}</span>
      <span class="end">
        ${
          evidenceStepsOf(bench.desk).length
            ? html`<label class="quiet">ridden <select @change=${(event: Event) =>
                bench.setRole(log.id, (event.target as HTMLSelectElement).selectedIndex === 0 ? "correct" : "check")}>
                <option .selected=${live(log.role === "correct")}>to correct from</option>
                <option .selected=${live(log.role === "check")}>to see whether it worked</option></select></label>`
            : nothing
        }
        <button class="word" aria-label="Remove ${source.name}" @click=${() => bench.remove(log.id)}>Remove</button>
      </span>
    </div>
    ${
      problem
        ? html`<div class="warns" role="alert">${problem}
      <button class="word" @click=${() => bench.choose(log.id, {})}>Read it again</button></div>`
        : nothing
    }
    ${!reading && !problem ? progress(bench, log) : nothing}
    ${reading ? told(log) : nothing}
    ${
      reading || log.columns.length
        ? html`<details ?open=${!reading}><summary>Columns and units</summary>${logColumns(bench, log)}</details>`
        : nothing
    }`;
}

function size({ source, reading }: LogEntry): string {
  const simulated = reading?.simulated ? "simulated, " : "";
  if (!reading) return source.kind === "file" ? bytes(source.file.size) : "a made ride";
  const { rows, seconds } = reading.summary;
  return `${simulated}${counted(rows, "row")}, ${duration(seconds)}${source.kind === "file" ? `, ${bytes(source.file.size)}` : ""}`;
}

function progress(bench: EvidenceBench, log: LogEntry) {
  const share = readShare(log.progress);
  const rows = log.progress?.of === "log" ? log.progress.rows : 0;
  return html`<div class="work"><progress aria-label="Reading ${log.source.name}" max="1" .value=${share ?? nothing}></progress>
    <span class="quiet">reading, ${share === null ? counted(rows, "row") : `${figure(100 * share, 0)} %`}</span>
    <button @click=${() => bench.cancel()}>Cancel</button></div>`;
}

/** What was left out and why, and what looks odd. */
function told({ reading }: LogEntry) {
  const { skipped, warnings, columns } = reading!.summary;
  const unreadable = columns.reduce((sum, column) => sum + column.unreadable, 0);
  const left = [
    ...skipped.map(
      ({ why, count, firstLine }) =>
        `${counted(count, "line")} (${why}${firstLine === null ? "" : `, first ${firstLine + 1}`})`,
    ),
    ...(unreadable ? [`${counted(unreadable, "cell")} that can't be read`] : []),
  ];
  return html`
    ${left.length ? html`<p class="quiet">Left out: ${left.join(", ")}.</p>` : nothing}
    ${warnings.map((warning) => html`<div class="warns">${warning}</div>`)}`;
}
