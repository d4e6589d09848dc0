import { type FuelTable, FuelwrightError, type WriteTableText, writeJob, writeTableText } from "@fuelwright/table-core";
import { css, html, LitElement, nothing } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { elementTokens } from "../../elements/tokens.ts";
import type { Desk } from "../../store/desk.ts";
import { DeskController } from "../../store/desk-controller.ts";
import { figure } from "../../store/display.ts";
import { plainRefusal } from "../../store/plain-refusal.ts";
import { fileName, offerFile, saveFile } from "../files.ts";
import { pageStyles } from "../page-styles.ts";
import { checkField, choiceField } from "../table/forms/fields.ts";

type Delimiter = "," | ";" | "\t";

/** Carry one table out as text, and the job as it is. */
@customElement("fw-table-export")
export class TableExport extends LitElement {
  static override styles = [
    elementTokens,
    pageStyles,
    css`
      select {
        max-width: 190px;
      }
    `,
  ];

  @property({ attribute: false }) desk!: Desk;
  @state() private which: string | null = null;
  @state() private delimiter: Delimiter = ",";
  @state() private decimal: "." | "," = ".";
  @state() private load: "rising" | "falling" = "rising";
  @state() private round = false;

  constructor() {
    super();
    new DeskController(this, () => this.desk);
  }

  protected override render() {
    const tables = Object.values(this.desk.bench.replay.state.tables);
    const chosen = this.which ?? this.desk.view.table;
    const table = tables.find(({ id }) => id === chosen) ?? tables[0];
    return table ? this.exports(table, tables) : nothing;
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
        "",
        "between-cells",
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
        "",
        "decimals-with",
      )}
      ${choiceField(
        "Load",
        this.load,
        [
          ["rising", "lowest row first"],
          ["falling", "highest row first"],
        ],
        (load) => (this.load = load),
        "",
        "rows-order",
      )}
      ${
        table.storage
          ? checkField(
              `Round to the controller's step of ${table.storage.step} ${table.unit}`,
              this.round,
              (on) => (this.round = on),
              "round-to-storage",
            )
          : nothing
      }
      ${rounding ? html`<p class="quiet">Rounding changes a cell by at most ${figure(Math.abs(rounding.largest?.error ?? 0), 4)} ${table.unit}.${rounding.clipped.length ? ` ${rounding.clipped.length} cells are cut off at the end of the range.` : ""}</p>` : html`<p class="quiet">In full precision: read back, it is the same table.</p>`}
      <div class="do">
        <button class="main" @click=${() => this.save(table)}>Save as ${this.delimiter === "\t" ? "TSV" : "CSV"}</button>
        <button @click=${() => this.copy(table)}>Copy for a spreadsheet</button>
        <button @click=${() => saveJobFile(this.desk)}>Save the job</button>
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

  private try(work: () => void) {
    try {
      work();
    } catch (error) {
      if (!(error instanceof FuelwrightError)) throw error;
      this.desk.say(plainRefusal(error.message), "refused");
    }
  }
}

/** Writes the job to a file of the person's choosing. */
export function saveJobFile({ job }: Desk): void {
  void saveFile(`${fileName(job.name)}.json`, writeJob(job), "application/json", null);
}
