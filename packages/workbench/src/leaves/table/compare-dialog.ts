import {
  compareCylinders,
  compareSurfaces,
  type FuelTable,
  FuelwrightError,
  type Job,
  readJob,
  readTableText,
  recogniseTableText,
  replayJob,
} from "@fuelwright/table-core";
import { html, nothing } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import type { Desk } from "../../store/desk.ts";
import { cellDisplay, figure, sayPlace } from "../../store/display.ts";
import { plainRefusal } from "../../store/plain-refusal.ts";
import { pickFile } from "../files.ts";
import { PageDialog } from "../page-dialog.ts";
import { choiceField } from "./forms/fields.ts";

interface Other {
  readonly name: string;
  readonly table: FuelTable;
}

/**
 * Compares the table at hand with another: of this job, from a table file, or from another job as it stands after its
 * steps; cell by cell, and as surfaces where the axes differ.
 */
@customElement("fw-compare-dialog")
export class CompareDialog extends PageDialog {
  protected override heading = "Compare with another";
  @property({ attribute: false }) override desk!: Desk;
  @state() private fromFile: readonly Other[] = [];
  @state() private chosen = "";
  @state() private problem = "";

  protected override content() {
    const { table } = this.desk;
    if (!table) return html`<p>There is no table at hand.</p>`;
    const others = this.others(table);
    const other = others.find(({ name }) => name === this.chosen) ?? others[0];
    return html`
      <div class="do" style="margin-top: 0"><button @click=${() => this.choose(table)}>Open a table or job file</button></div>
      ${this.problem ? html`<p class="warns" role="alert">${this.problem}</p>` : nothing}
      ${
        other
          ? html`${choiceField(
              `${table.name} against`,
              other.name,
              others.map(({ name }) => [name, name] as const),
              (name) => (this.chosen = name),
            )}${this.result(table, other)}`
          : html`<p class="quiet">No other table of ${table.quantity.replaceAll("-", " ")} is here yet.</p>`
      }
      ${this.cylinders(table)}`;
  }

  private others(table: FuelTable): readonly Other[] {
    const own = Object.values(this.desk.shown.tables)
      .filter(({ id, quantity }) => id !== table.id && quantity === table.quantity)
      .map((other) => ({ name: other.name, table: other }));
    return [...this.fromFile, ...own];
  }

  private result(table: FuelTable, { name, table: other }: Other) {
    const display = cellDisplay(table, this.desk.preferences, this.desk.shown.build.fuel);
    const show = (value: number) => `${figure(display.show(value), display.decimals)} ${display.unit}`;
    try {
      const found = compareSurfaces(other, table);
      const places = found.rpm.length * found.load.length;
      const line = (label: string, change: typeof found.largestRise) =>
        html`<tr><th scope="row">${label}</th><td>${
          change
            ? html`${show(change.before)} to ${show(change.after)}, ${figure(change.percent, 1)} %, at ${sayPlace(table, change, this.desk.preferences)}`
            : "none"
        }</td></tr>`;
      return html`<table style="margin: 8px 0"><tbody>
          ${line("Largest rise", found.largestRise)} ${line("Largest fall", found.largestFall)}
          <tr><th scope="row">Differ</th><td>${found.changed} of ${places} points on both sets of breakpoints</td></tr>
        </tbody></table>
        <p class="quiet">Compared as surfaces over the part that both cover: these are the largest differences anywhere, not only on breakpoints.</p>
        <button class="main" @click=${() => {
          this.desk.look({ against: { other, name } });
          this.close();
        }}>Show in the grid</button>`;
    } catch (error) {
      if (!(error instanceof FuelwrightError)) throw error;
      return html`<p class="warns">${plainRefusal(error.message)}</p>`;
    }
  }

  /** How far the cylinders are apart, where the job has a table for each. */
  private cylinders(table: FuelTable) {
    const all = Object.values(this.desk.shown.tables).filter(
      ({ cylinder, quantity }) => cylinder !== undefined && quantity === table.quantity,
    );
    if (all.length < 2) return nothing;
    try {
      const { widest } = compareCylinders(all);
      return html`<h3>Across cylinders</h3><p>${
        widest
          ? `Furthest apart by ${figure(widest.percent, 1)} % at ${sayPlace(table, widest, this.desk.preferences)}: cylinder ${widest.lowest} lowest, ${widest.highest} highest.`
          : "All cylinders agree everywhere."
      }</p>`;
    } catch (error) {
      if (!(error instanceof FuelwrightError)) throw error;
      return html`<h3>Across cylinders</h3><p class="quiet">${plainRefusal(error.message)}</p>`;
    }
  }

  private async choose(table: FuelTable) {
    const file = await pickFile(".csv,.tsv,.txt,.json,text/csv,text/plain,application/json");
    if (!file) return;
    try {
      const text = await file.text();
      const found = /^\s*\{/.test(text) ? ofJob(readJob(text), table) : ofText(text, table);
      this.fromFile = found.map((other) => ({ name: `${other.name} (${file.name})`, table: other }));
      this.chosen = this.fromFile[0]?.name ?? "";
      this.problem = found.length ? "" : `${file.name} has no table of ${table.quantity.replaceAll("-", " ")}.`;
    } catch (error) {
      if (!(error instanceof FuelwrightError)) throw error;
      this.problem = `${file.name}: ${plainRefusal(error.message)}`;
    }
  }
}

/** The table of a text; where the text does not say what its cells hold, it is taken for the same. */
function ofText(text: string, { quantity }: FuelTable): readonly FuelTable[] {
  const { sure } = recogniseTableText(text).quantity;
  const { table } = readTableText(text, { id: "other", ...(!sure && { quantity }) });
  return table.quantity === quantity ? [table] : [];
}

/** Tables of a job that can be compared, as they stand after its steps. */
const ofJob = (job: Job, { quantity }: FuelTable): readonly FuelTable[] =>
  Object.values(replayJob(job).state.tables).filter((table) => table.quantity === quantity);
