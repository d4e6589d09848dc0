import {
  type CellQuantity,
  cellQuantities,
  createTable,
  expressionName,
  type FuelTable,
  FuelwrightError,
  loadQuantities,
  type Recognised,
  type RecognisedTableText,
  readTableText,
  recogniseTableText,
  type Storage,
  type TableRoles,
  type TableTextHints,
} from "@fuelwright/table-core";
import { css, html, nothing } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { live } from "lit/directives/live.js";
import { bringInTable } from "../../store/commands.ts";
import type { Desk } from "../../store/desk.ts";
import { figure } from "../../store/display.ts";
import { plainRefusal } from "../../store/plain-refusal.ts";
import { pickFile } from "../files.ts";
import { PageDialog } from "../page-dialog.ts";
import { choiceField, numberField } from "./forms/fields.ts";

/** A file larger than this holds no table of at most 256 × 256. */
const LARGEST_FILE = 64 * 1024 * 1024;

type Role = "fuel" | "target" | "basePulse";

const roleWords: Record<Role, string> = {
  fuel: "a table to work on",
  target: "the mixture wished for",
  basePulse: "the factory's pulse widths, which an in-line unit trims",
};

/**
 * Brings a table in from a file or from pasted text: shows what was recognised, lets it be put right, and takes the
 * table over only when asked.
 */
@customElement("fw-bring-in")
export class BringIn extends PageDialog {
  static override styles = [
    PageDialog.styles,
    css`
      .text {
        font-family: ui-monospace, monospace;
        font-size: 12px;
        width: 100%;
      }
      dialog {
        width: min(820px, 92vw);
      }
      table {
        margin: 4px 0;
      }
      .wide {
        overflow-x: auto;
      }
      td,
      th {
        padding: 2px 14px 2px 0;
        text-align: left;
        vertical-align: top;
        font-size: 12.5px;
      }
      .sample td {
        text-align: right;
        border: 1px solid var(--rule);
        padding: 2px 8px;
      }
      .sample th {
        color: var(--ink-2);
        font-weight: 400;
        text-align: right;
        padding: 2px 8px;
      }
      .guess {
        color: var(--warn);
      }
      @media (max-width: 560px) {
        /* What was recognised, the choice and the reason under each other. */
        .recognised :is(tr, th, td) {
          display: block;
          padding-right: 0;
        }
        .recognised tr {
          padding-bottom: 6px;
        }
      }
    `,
  ];

  protected override heading = "Bring in a table";
  @property({ attribute: false }) override desk!: Desk;
  /** A file that was dropped on the page. */
  @property({ attribute: false }) file: File | null = null;
  @state() private text = "";
  @state() private source = "";
  @state() private hints: TableTextHints = {};
  @state() private name = "";
  @state() private replaces = "";
  @state() private wanted: Role | null = null;
  @state() private storage: Partial<Storage> = {};

  protected override firstUpdated() {
    super.firstUpdated();
    if (this.file) void this.readFile(this.file);
  }

  protected override content() {
    return html`
      <p class="quiet">A table as text: rpm along one side, load along the other, from a file, or copied from a
        spreadsheet and pasted below.</p>
      <div class="do" style="margin-top: 0"><button @click=${() => this.choose()}>Choose a file</button></div>
      <label>Text <textarea class="text" rows="5" spellcheck="false" .value=${this.text.length > 20_000 ? `${this.text.slice(0, 20_000)}…` : this.text}
        placeholder="paste here"
        @paste=${this.onPaste}
        @input=${(event: Event) => this.take((event.target as HTMLTextAreaElement).value, "pasted text")}></textarea></label>
      ${this.text.trim() === "" ? nothing : this.found()}
    `;
  }

  private found() {
    let recognised: RecognisedTableText & { problem: FuelwrightError | null };
    try {
      recognised = recogniseTableText(this.text, this.hints);
    } catch (error) {
      if (!(error instanceof FuelwrightError)) throw error;
      return html`<div class="warns" role="alert">${plainRefusal(error.message)}</div>`;
    }
    const table = recognised.problem ? null : this.read();
    return html`
      <h3>Recognised${this.source ? ` in ${this.source}` : ""}</h3>
      <table class="recognised" aria-label="Recognised"><tbody>
        ${this.line("Size", `${recognised.rows} rows of load, ${recognised.columns} columns of rpm`)}
        ${this.pick("Between cells", "delimiter", recognised.delimiter, { ",": "comma", ";": "semicolon", "\t": "tab", " ": "spaces" })}
        ${this.pick("Decimals with", "decimal", recognised.decimal, { ".": "a point", ",": "a comma" })}
        ${this.pick("Lies", "orientation", recognised.orientation, { "rpm-across": "rpm along the top", "rpm-down": "rpm down the side" })}
        ${this.pick("Cells are", "quantity", everyQuantity(recognised.quantity), quantityWords)}
        ${this.pick("Cells in", "unit", recognised.unit)}
        ${recognised.stoichiometricRatio ? this.ratio(recognised.stoichiometricRatio.value) : nothing}
        ${recognised.loadQuantity ? this.pick("Load is", "loadQuantity", everyLoad(recognised.loadQuantity)) : nothing}
        ${recognised.loadUnit ? this.pick("Load in", "loadUnit", recognised.loadUnit) : nothing}
      </tbody></table>
      ${recognised.passedOver.map((sentence) => html`<p class="quiet">${sentence}</p>`)}
      ${recognised.problem ? html`<div class="warns" role="alert">${plainRefusal(recognised.problem.message)}</div>` : nothing}
      ${table ? this.takeOver(table) : nothing}`;
  }

  private line(label: string, words: string) {
    return html`<tr><th scope="row">${label}</th><td>${words}</td><td></td></tr>`;
  }

  private pick<K extends keyof TableTextHints>(
    label: string,
    key: K,
    found: Recognised<TableTextHints[K] & (string | undefined)>,
    words: Readonly<Record<string, string>> = {},
  ) {
    const choices = [found.value, ...found.alternatives] as string[];
    const say = (choice: string) => words[choice] ?? choice.replaceAll("-", " ");
    return html`<tr><th scope="row">${label}</th>
      <td>${
        choices.length > 1
          ? html`<select aria-label=${label} @change=${(event: Event) => this.hint({ [key]: choices[(event.target as HTMLSelectElement).selectedIndex] } as TableTextHints)}>
              ${choices.map((choice, at) => html`<option .selected=${live(at === 0)}>${say(choice)}</option>`)}</select>`
          : say(choices[0] ?? "")
      }</td>
      <td class="quiet">${found.sure ? nothing : html`<strong class="guess">a guess: </strong>`}${found.reason}</td></tr>`;
  }

  private ratio(value: number) {
    return html`<tr><th scope="row">AFR of a fuel of</th><td>${numberField({
      label: "Stoichiometric ratio",
      value,
      unitText: ": 1",
      change: (stoichiometricRatio) => this.hint({ stoichiometricRatio }),
    })}</td><td></td></tr>`;
  }

  private takeOver(table: FuelTable) {
    const others = this.desk.job.tables;
    const role = this.wanted ?? (table.quantity === "lambda" ? "target" : "fuel");
    const roles = (Object.keys(roleWords) as Role[]).filter(
      (one) => one === "fuel" || (one === "target") === (table.quantity === "lambda"),
    );
    return html`
      <h3>As it will come in</h3>
      ${sample(table)}
      <label class="row">Name <input .value=${this.name || table.name} maxlength="200" size="30"
        @change=${(event: Event) => (this.name = (event.target as HTMLInputElement).value)} /></label>
      ${choiceField(
        "It is",
        role,
        roles.map((one) => [one, roleWords[one]] as const),
        (one) => (this.wanted = one),
      )}
      ${
        others.length
          ? choiceField<string>(
              "In the job",
              this.replaces,
              [
                ["", "a further table"],
                ...others.map(({ id, name }) => [id, `in the place of ${name}; steps are done again on it`] as const),
              ],
              (id) => (this.replaces = id),
            )
          : nothing
      }
      <details><summary>What the controller stores, if known</summary>
        ${(["min", "max", "step"] as const).map((key) =>
          numberField({
            label: { min: "Least", max: "Greatest", step: "In steps of" }[key],
            value: this.storage[key] ?? null,
            unitText: table.unit,
            decimals: 4,
            change: (value) => (this.storage = { ...this.storage, [key]: value }),
            clear: () => {
              const { [key]: _, ...rest } = this.storage;
              this.storage = rest;
            },
          }),
        )}</details>
      <div class="do"><button class="main" @click=${() => this.keep(table, role)}>Take it over</button></div>`;
  }

  private hint(hint: TableTextHints) {
    this.hints = { ...this.hints, ...hint };
  }

  private read(): FuelTable | null {
    try {
      return readTableText(this.text, { ...this.hints, id: "new" }).table;
    } catch (error) {
      if (!(error instanceof FuelwrightError)) throw error;
      return null;
    }
  }

  private keep(table: FuelTable, role: Role) {
    const { desk } = this;
    const name = this.name.trim() || table.name;
    const id = this.replaces || freeId(name, new Set(Object.keys(desk.shown.tables)));
    const roles: TableRoles = role === "target" ? { target: id } : role === "basePulse" ? { basePulse: id } : {};
    const kept = desk.attempt(() => {
      const whole = createTable({
        ...table,
        id,
        name,
        ...(Object.keys(this.storage).length > 0 && { storage: this.storage as Storage }),
      });
      desk.bench.perform(bringInTable(whole, roles));
      desk.look({ table: id, region: null, cell: 0, after: null });
    });
    if (kept) this.close();
  }

  private take(text: string, source: string) {
    this.text = text;
    this.source = source;
    this.hints = {};
    this.wanted = null;
    this.name = "";
  }

  /** A large paste is kept out of the text field, which would take seconds to lay it out. */
  private onPaste = (event: ClipboardEvent) => {
    const text = event.clipboardData?.getData("text/plain") ?? "";
    if (text.length < 20_000) return;
    event.preventDefault();
    this.take(text, "pasted text");
  };

  private async choose() {
    const file = await pickFile(".csv,.tsv,.txt,text/csv,text/plain,text/tab-separated-values");
    if (file) await this.readFile(file);
  }

  private async readFile(file: File) {
    if (file.size > LARGEST_FILE) {
      this.desk.say(
        `${file.name} has ${figure(file.size / 1e6, 0)} MB; a table is far smaller. Choose another file.`,
        "refused",
      );
      return;
    }
    this.take(await file.text(), file.name);
    this.name = file.name.replace(/\.[^.]+$/, "").slice(0, 200);
  }
}

const quantityWords = Object.fromEntries(
  Object.entries(cellQuantities).map(([id, { label, unit }]) => [
    id,
    unit === label || unit === "factor" ? label : `${label}, ${unit}`,
  ]),
);

/** The recognised value with every other one to choose from. */
function withAll<T>(found: Recognised<T>, all: readonly T[]): Recognised<T> {
  return { ...found, alternatives: all.filter((one) => one !== found.value) };
}

const everyQuantity = (found: Recognised<CellQuantity>) =>
  withAll(found, Object.keys(cellQuantities) as CellQuantity[]);
const everyLoad = (found: Recognised<string>) =>
  withAll(found, loadQuantities as readonly string[]) as Recognised<never>;

/** The first rows and columns of the table, load upward. */
function sample(table: FuelTable) {
  const { decimals } = cellQuantities[table.quantity];
  const columns = table.rpm.breakpoints.length;
  const across = table.rpm.breakpoints.slice(0, 8);
  const rows = table.load.breakpoints
    .slice(0, 6)
    .map((load, row) => ({ load, row }))
    .toReversed();
  return html`<div class="wide" tabindex="0" role="group" aria-label="The first cells, to scroll"><table class="sample" aria-label="The first cells"><tbody>
    ${rows.map(
      ({ load, row }) => html`<tr><th scope="row">${figure(load)} ${table.load.unit}</th>
        ${across.map((_, column) => html`<td>${figure(table.cells[row * columns + column]!, decimals)}</td>`)}</tr>`,
    )}
    <tr><th>${table.rpm.unit}</th>${across.map((rpm) => html`<th scope="col">${figure(rpm)}</th>`)}</tr>
  </tbody></table></div>`;
}

/** An id that can also stand in an expression. */
function freeId(name: string, taken: ReadonlySet<string>): string {
  const stem = expressionName(name).toLowerCase().slice(0, 40);
  let id = stem;
  for (let number = 2; taken.has(id); number++) id = `${stem}_${number}`;
  return id;
}
