import { type FuelTable, FuelwrightError, type WriteTableText, writeJob, writeTableText } from "@fuelwright/table-core";
import { css, html, LitElement, nothing } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { elementTokens } from "../../elements/tokens.ts";
import type { Desk } from "../../store/desk.ts";
import { DeskController } from "../../store/desk-controller.ts";
import { figure } from "../../store/display.ts";
import { sayStep } from "../../store/say-step.ts";
import { fileName, offerFile, saveFile } from "../files.ts";
import { pageStyles } from "../page-styles.ts";
import { CeilingsOf } from "../table/ceilings-of.ts";
import { checkField, choiceField } from "../table/forms/fields.ts";

type Delimiter = "," | ";" | "\t";

/** Carry the tables out, and the card that goes with the first start. */
@customElement("fw-handover-leaf")
export class HandoverLeaf extends LitElement {
  static override styles = [
    elementTokens,
    pageStyles,
    css`
      .columns {
        display: grid;
        grid-template-columns: minmax(280px, 360px) minmax(0, 1fr);
        gap: var(--space-4) var(--space-5);
        align-items: start;
      }
      .card {
        max-width: 74ch;
      }
      .card li {
        margin-bottom: 5px;
      }
      .card h3 {
        border-top: 1px solid var(--rule);
        padding-top: var(--space-3);
      }
      th,
      td {
        padding: 2px 14px 2px 0;
        vertical-align: top;
        text-align: left;
      }
      .sign {
        display: flex;
        flex-wrap: wrap;
        gap: 30px;
        margin-top: 30px;
      }
      .sign span {
        flex: 1 1 180px;
        border-top: 1px solid var(--ink);
        padding-top: 4px;
        font-size: 12px;
      }
      @media (max-width: 900px) {
        .columns {
          grid-template-columns: minmax(0, 1fr);
        }
      }
      @media print {
        .exports {
          display: none;
        }
        .columns {
          display: block;
        }
        .card {
          border: 0;
          padding: 0;
          max-width: none;
        }
      }
    `,
  ];

  @property({ attribute: false }) desk!: Desk;
  @state() private which: string | null = null;
  @state() private delimiter: Delimiter = ",";
  @state() private decimal: "." | "," = ".";
  @state() private load: "rising" | "falling" = "rising";
  @state() private round = false;
  private readonly ceilings = new CeilingsOf();

  constructor() {
    super();
    new DeskController(this, () => this.desk);
  }

  protected override render() {
    const tables = Object.values(this.desk.bench.replay.state.tables);
    const chosen = this.which ?? this.desk.view.table;
    const table = tables.find(({ id }) => id === chosen) ?? tables[0];
    return html`<div class="columns">
      <div class="exports">${table ? this.exports(table, tables) : this.nothingYet()}</div>
      ${this.card(table)}
    </div>`;
  }

  private nothingYet() {
    return html`<section class="sheet"><h2>Carry out</h2><p>There is no table to carry out yet. Bring one in on the Table leaf.</p>
      <div class="do"><button @click=${() => this.saveJob()}>Save the job</button></div></section>`;
  }

  private settings(table: FuelTable): WriteTableText {
    return {
      delimiter: this.delimiter,
      decimal: this.decimal,
      load: this.load,
      ...(this.round && table.storage && { storage: table.storage }),
    };
  }

  private exports(table: FuelTable, tables: readonly FuelTable[]) {
    const { rounding } = writeTableText(table, this.settings(table));
    return html`<section class="sheet" aria-label="Carry out"><h2>Carry out</h2>
      <p class="quiet">The table as it stands after all steps.</p>
      ${choiceField(
        "Table",
        table.id,
        tables.map(({ id, name }) => [id, name] as const),
        (id) => (this.which = id),
      )}
      ${choiceField<Delimiter>(
        "Between cells",
        this.delimiter,
        [
          [",", "comma"],
          [";", "semicolon"],
          ["\t", "tab"],
        ],
        (delimiter) => {
          this.delimiter = delimiter;
          if (delimiter === "," && this.decimal === ",") this.decimal = ".";
        },
      )}
      ${choiceField(
        "Decimals with",
        this.decimal,
        [
          [".", "a point"],
          [",", "a comma"],
        ],
        (decimal) => {
          this.decimal = decimal;
          if (decimal === "," && this.delimiter === ",") this.delimiter = ";";
        },
      )}
      ${choiceField(
        "Load",
        this.load,
        [
          ["rising", "lowest row first"],
          ["falling", "highest row first"],
        ],
        (load) => (this.load = load),
      )}
      ${
        table.storage
          ? checkField(
              `Round to the controller's step of ${table.storage.step} ${table.unit}`,
              this.round,
              (on) => (this.round = on),
            )
          : nothing
      }
      ${rounding ? html`<p class="quiet">Rounding changes a cell by at most ${figure(Math.abs(rounding.largest?.error ?? 0), 4)} ${table.unit}.${rounding.clipped.length ? ` ${rounding.clipped.length} cells are cut off at the end of the range.` : ""}</p>` : html`<p class="quiet">In full precision: read back, it is the same table.</p>`}
      <div class="do">
        <button class="main" @click=${() => this.save(table)}>Save as CSV</button>
        <button @click=${() => this.copy(table)}>Copy for a spreadsheet</button>
        <button @click=${() => this.saveJob()}>Save the job</button>
        <button @click=${() => window.print()}>Print the card</button>
      </div></section>`;
  }

  private save(table: FuelTable) {
    this.try(() => {
      const { text } = writeTableText(table, this.settings(table));
      const ending = this.delimiter === "\t" ? "tsv" : "csv";
      offerFile(`${fileName(table.name)}.${ending}`, text, ending === "csv" ? "text/csv" : "text/tab-separated-values");
      this.desk.say(`${table.name} carried out.`);
    });
  }

  private copy(table: FuelTable) {
    this.try(() => {
      const { text } = writeTableText(table, { ...this.settings(table), delimiter: "\t" });
      navigator.clipboard.writeText(text).then(
        () => this.desk.say(`${table.name} is on the clipboard.`),
        () => this.desk.say("The browser does not let the page write the clipboard; save the file instead.", "refused"),
      );
    });
  }

  private saveJob() {
    const { job } = this.desk;
    void saveFile(`${fileName(job.name)}.json`, writeJob(job), "application/json", null);
  }

  private try(work: () => void) {
    try {
      work();
    } catch (error) {
      if (!(error instanceof FuelwrightError)) throw error;
      this.desk.say(error.message, "refused");
    }
  }

  private card(table: FuelTable | undefined) {
    const { job, bench } = this.desk;
    // What is kept: neither a step being made nor an earlier state that the Table leaf looks at.
    const { state } = bench.replay;
    const { build } = state;
    const source = job.build;
    const ceilings = table ? this.ceilings.at({ job, shown: state, compared: state }, table) : null;
    const sentences = ceilings?.sentences ?? [];
    const noCeilings = ceilings?.report
      ? "No cell of this table is at a ceiling."
      : (ceilings?.problem ?? "Not looked at: that takes a table that meters fuel.");
    return html`<section class="sheet card" aria-label="First-start card">
      <h2>${job.name}: first start</h2>
      <p class="quiet">${job.invented ? "Every figure is invented. " : ""}${job.about}</p>
      <h3>Parts</h3>
      <table><tbody>
        <tr><th scope="row">Engine</th><td>${figure(build.engine.displacementCc, 0)} cc, ${build.engine.cylinders} cylinders, limit ${figure(build.engine.revLimitRpm, 0)} rpm</td></tr>
        <tr><th scope="row">Fuel</th><td>${build.fuel.name}, stoichiometric ${figure(build.fuel.stoichiometricRatio, 2)} : 1</td></tr>
        <tr><th scope="row">Injectors</th><td>${
          source.injectors === build.injectors
            ? `${build.injectors.name}, ${figure(build.injectors.flowGramsPerSecond, 3)} g/s`
            : `${source.injectors.name} (${figure(source.injectors.flowGramsPerSecond, 3)} g/s) out, ${build.injectors.name} (${figure(build.injectors.flowGramsPerSecond, 3)} g/s) in`
        }</td></tr>
        <tr><th scope="row">Rail</th><td>${figure(build.rail.pressureKpa, 0)} kPa, ${build.rail.kind === "fixed" ? "fixed" : "follows the manifold"}</td></tr>
      </tbody></table>
      <h3>What was done</h3>
      ${
        job.steps.length
          ? html`<ol>${job.steps.map((step, at) => {
              const { title, detail } = sayStep(step, job);
              const status = bench.replay.outcomes[at]!.status;
              return html`<li>${title}, ${detail}${status === "off" ? " (off)" : status === "passed-over" ? " (passed over)" : ""}${step.note ? html`: <em>${step.note}</em>` : nothing}</li>`;
            })}</ol>`
          : html`<p>Nothing yet.</p>`
      }
      <h3>Ceilings</h3>
      ${sentences.length ? html`<ul>${sentences.map((text) => html`<li>${text}</li>`)}</ul>` : html`<p>${noCeilings}</p>`}
      <h3>Before the first start</h3>
      <ol>
        <li>Engine cold, battery charged, an extinguisher within reach, no flame or spark: petrol vapour burns.</li>
        <li>Fuel lines and injector seals tight: run the pump without starting, look, and smell.</li>
        <li>A wideband sensor fitted, warm and read before any load is put on.</li>
        <li>Start and idle only. Stop at once on a misfire, a lean reading that stays, or a smell of fuel.</li>
        <li>Under load a lean mixture detonates and destroys the engine: load is put on in small steps, on a dyno or with a passenger who reads the log.</li>
        <li>Every cell is a calculation until a log has proved it.</li>
        <li>Emissions and noise law is local and comes first; so does licensed practice.</li>
      </ol>
      <div class="sign"><span>made by</span><span>checked by</span><span>date</span></div>
    </section>`;
  }
}
