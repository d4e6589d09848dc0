import { type FuelTable, FuelwrightError, type Region } from "@fuelwright/table-core";
import { html, LitElement, nothing } from "lit";
import { customElement, property, query, state } from "lit/decorators.js";
import { live } from "lit/directives/live.js";
import type { ChangeColours } from "../../colour/change-colours.ts";
import "../../elements/change-legend/change-legend.ts";
import "../../elements/fuel-grid/fuel-grid.ts";
import { cellChange } from "../../elements/fuel-grid/cell-change.ts";
import type { CellMark } from "../../elements/fuel-grid/cell-marks.ts";
import type { FuelGrid } from "../../elements/fuel-grid/fuel-grid.ts";
import type {
  CellHoverEvent,
  CellsTypedEvent,
  ClearEvent,
  PasteTextEvent,
  SelectionChangeEvent,
  TypingEvent,
  ViewedPart,
  ViewedPartEvent,
} from "../../elements/fuel-grid/grid-events.ts";
import { oneCell } from "../../elements/fuel-grid/grid-selection.ts";
import "../../elements/slice-chart/slice-chart.ts";
import "../../elements/step-strip/step-strip.ts";
import type { StepItem, StripActionEvent } from "../../elements/step-strip/step-strip.ts";
import type { MapPointEvent } from "../../elements/table-map/table-map.ts";
import { elementTokens } from "../../elements/tokens.ts";
import { addStep, deleteStep, moveStep, switchStep } from "../../store/commands.ts";
import type { Against, Desk } from "../../store/desk.ts";
import { DeskController } from "../../store/desk-controller.ts";
import { axesDisplay, cellDisplay } from "../../store/display.ts";
import { firstGuesses } from "../../store/first-guesses.ts";
import { plainRefusal } from "../../store/plain-refusal.ts";
import { sayStep } from "../../store/say-step.ts";
import { pageStyles } from "../page-styles.ts";
import { CeilingsOf, type TableCeilings } from "./ceilings-of.ts";
import { ColoursOf } from "./colours-of.ts";
import { readLine } from "./read-line.ts";
import type { StepCard } from "./step-card.ts";
import { tableLeafStyles } from "./table-leaf.styles.ts";
import { typedStep } from "./typed-step.ts";

/** The table at hand, its change, the step being made, and the job's steps in order. */
@customElement("fw-table-leaf")
export class TableLeaf extends LitElement {
  static override styles = [elementTokens, pageStyles, tableLeafStyles];

  @property({ attribute: false }) desk!: Desk;
  /** Which part of the cells is in view, for the map. */
  @state() private viewed: ViewedPart = { left: 0, top: 0, right: 1, bottom: 1 };
  /** The card with all its forms comes after the grid, so that the table is seen first. */
  @state() private cardHere = false;
  /** The map is fetched once a table does not fit. */
  @state() private mapHere = false;
  @state() private hovered: number | null = null;
  @state() private problem: string | null = null;
  @state() private dialog: Dialog | null = null;
  @state() private dropped: File | null = null;
  @query("fw-fuel-grid") private grid!: FuelGrid | null;
  @query("fw-step-card") private card!: StepCard | null;
  /** Counts what was typed: an answer that comes late, as while the parser is fetched, is of no use any more. */
  private typed = 0;
  private readonly ceilings = new CeilingsOf();
  private readonly colours = new ColoursOf();

  constructor() {
    super();
    new DeskController(this, () => this.desk);
  }

  protected override firstUpdated() {
    this.chooseAgain();
    requestAnimationFrame(() => {
      void import("./step-card.ts").then(() => {
        this.cardHere = true;
      });
    });
  }

  protected override render() {
    const { desk } = this;
    const { table } = desk;
    const before = desk.before ?? table;
    const draft = desk.bench.draft;
    const change = table && before ? cellChange(table, before) : null;
    const colours = table ? this.colours.of(desk.job.scheme, change) : null;
    return html`
      <div class="leaf" @dragover=${(event: DragEvent) => event.preventDefault()} @drop=${this.onDrop}>
        <section class="board">
          ${table && colours ? this.topLine(table, colours) : nothing}
          ${table && before && colours ? this.board(table, before, change, colours) : this.empty()}
          ${table && before ? readLine(desk, table, before, this.hovered ?? desk.view.cell, this.ceilings.at(desk, table)) : nothing}
          ${table && colours ? this.underLine(table, change, colours) : nothing}
          <fw-step-strip
            .steps=${this.items()}
            .current=${draft?.kind === "reopened" ? draft.step.id : desk.view.after}
            .draft=${draft?.kind === "new" ? sayStep(draft.step, desk.job, desk.preferences) : null}
            .sourceText=${this.sourceText()}
            ?readonly=${desk.readOnly !== null}
            @fw-strip-action=${this.onStrip}
          ></fw-step-strip>
        </section>
        <aside>
          ${
            this.cardHere
              ? html`<fw-step-card .desk=${desk} @fw-show-region=${(event: CustomEvent<Region>) => this.showRegion(event.detail)}
            @fw-step-done=${() => this.focusGrid()}
            @fw-compare=${() => this.openDialog("compare")}
            @fw-bring-in=${() => this.openDialog("bring-in")}></fw-step-card>`
              : nothing
          }
        </aside>
      </div>
      ${
        this.dialog === "bring-in"
          ? html`<fw-bring-in .desk=${desk} .file=${this.dropped} @close=${this.closeDialog}></fw-bring-in>`
          : this.dialog === "scheme"
            ? html`<fw-scheme-dialog .desk=${desk} .reach=${colours?.span} .lessWords=${wordsOf(table)[0]} .moreWords=${wordsOf(table)[1]} @close=${this.closeDialog}></fw-scheme-dialog>`
            : this.dialog === "compare"
              ? html`<fw-compare-dialog .desk=${desk} @close=${this.closeDialog}></fw-compare-dialog>`
              : nothing
      }
    `;
  }

  /** The grid is a new one whenever the leaf is opened; what was chosen in it is the desk's. */
  private chooseAgain() {
    const { table, view } = this.desk;
    if (!table || !this.grid) return;
    if (view.region) return this.showRegion(view.region);
    const columns = table.rpm.breakpoints.length;
    const position = { row: Math.floor(view.cell / columns), column: view.cell % columns };
    this.grid.selection = oneCell(position);
    void this.grid.updateComplete.then(() => this.grid?.reveal(position));
  }

  private async openDialog(dialog: Dialog) {
    await dialogs[dialog]();
    this.dialog = dialog;
  }

  private closeDialog = () => {
    this.dialog = null;
    this.dropped = null;
    // What opened the dialog may be gone, as the empty state is once a table is there.
    void this.updateComplete.then(() => {
      if (document.activeElement === document.body) this.focusGrid();
    });
  };

  private focusGrid() {
    void this.updateComplete.then(() => this.grid?.focus());
  }

  private topLine(table: FuelTable, colours: ChangeColours) {
    const { desk } = this;
    const tables = Object.values(desk.shown.tables);
    const display = cellDisplay(table, desk.preferences, desk.shown.build.fuel);
    const [less, more] = wordsOf(table);
    const { rpm, load } = axesDisplay(table, desk.preferences);
    const axes =
      table.load.quantity === "single-row"
        ? `${display.unit || "factor"} over ${table.rpm.quantity.replaceAll("-", " ")} ${rpm.unit}`
        : `${display.unit || "factor"}, rpm by ${table.load.quantity.replaceAll("-", " ")} ${load.unit}`;
    return html`<div class="line">
      <label><span class="hidden">Table</span>
        <select class="which" @change=${(event: Event) => desk.look({ table: tables[(event.target as HTMLSelectElement).selectedIndex]!.id })}>
          ${tables.map(({ id, name, quantity }) => html`<option .selected=${live(id === table.id)}>${name}, ${quantity.replaceAll("-", " ")}</option>`)}
        </select></label>
      <span class="quiet">${axes}</span>
      <label class="quiet compare">change since
        <select @change=${(event: Event) => this.compareWith(event)} ?disabled=${desk.bench.draft !== null}>
          ${this.comparisons().map(
            ([key, words]) =>
              html`<option value=${key} .selected=${live(key === keyOf(desk.view.against))}>${words}</option>`,
          )}
        </select></label>
      <span class="legend">
        <fw-change-legend .colours=${colours} .lessWords=${less} .moreWords=${more}></fw-change-legend>
        <button class="word" @click=${() => this.openDialog("scheme")}>Colours</button>
      </span>
    </div>`;
  }

  private board(table: FuelTable, before: FuelTable, change: Float64Array | null, colours: ChangeColours) {
    const { desk } = this;
    const { preferences } = desk;
    const shown = cellDisplay(table, preferences, desk.shown.build.fuel);
    const display = { ...shown, read: (text: string) => shown.read(Number(text.replace("−", "-").replace(",", "."))) };
    const axes = axesDisplay(table, preferences);
    return html`<fw-fuel-grid
      .table=${table}
      .earlier=${before}
      .change=${change}
      .colours=${colours}
      .shading=${preferences.shading}
      .marks=${this.marks(table)}
      .display=${display}
      .axes=${axes}
      .flipRpm=${preferences.flipRpm}
      .flipLoad=${preferences.flipLoad}
      .density=${preferences.density}
      .zoom=${preferences.zoom}
      .problem=${this.problem}
      ?readonly=${desk.readOnly !== null}
      label=${`${table.name}, ${table.quantity.replaceAll("-", " ")}`}
      @fw-viewed-part=${(event: ViewedPartEvent) => (this.viewed = event.part)}
      @fw-selection-change=${this.onSelection}
      @fw-cell-hover=${(event: CellHoverEvent) => (this.hovered = event.at)}
      @fw-cells-typed=${this.onTyped}
      @fw-typing=${this.onTyping}
      @fw-paste-text=${this.onPaste}
      @fw-clear=${this.onClear}
    >
      <fw-slice-chart slot="under" along="rpm" .table=${table} .earlier=${before} .cell=${desk.view.cell} .display=${display} .axes=${axes}
        ?flip=${preferences.flipRpm}></fw-slice-chart>
      ${
        table.load.quantity === "single-row"
          ? nothing
          : html`<fw-slice-chart slot="beside" along="load" .table=${table} .earlier=${before} .cell=${desk.view.cell}
              .display=${display} .axes=${axes} ?flip=${preferences.flipLoad}></fw-slice-chart>`
      }
    </fw-fuel-grid>`;
  }

  /** What the ceilings say, and beside it how large the grid is and which part of it is in view. */
  private underLine(table: FuelTable, change: Float64Array | null, colours: ChangeColours) {
    return html`<div class="under">${this.ceilingsLine(this.ceilings.at(this.desk, table))}
    <div class="zoom">
      ${
        this.viewed.right - this.viewed.left < 0.999 || this.viewed.bottom - this.viewed.top < 0.999
          ? this.map(table, change, colours)
          : nothing
      }
      <button class="word" @click=${() => this.zoom(1 / 1.15)}>Smaller</button>
      <button class="word" @click=${() => this.zoom(1.15)}>Larger</button>
    </div></div>`;
  }

  private map(table: FuelTable, change: Float64Array | null, colours: ChangeColours) {
    const { preferences } = this.desk;
    if (!this.mapHere) {
      void import("../../elements/table-map/table-map.ts").then(() => {
        this.mapHere = true;
      });
      return nothing;
    }
    return html`<fw-table-map .table=${table} .earlier=${this.desk.before ?? table} .change=${change} .colours=${colours} .shading=${preferences.shading}
              ?flip-rpm=${preferences.flipRpm} ?flip-load=${preferences.flipLoad} .viewed=${this.viewed}
              @fw-map-point=${({ x, y }: MapPointEvent) => this.grid?.revealShare(x, y)}></fw-table-map>`;
  }

  private empty() {
    return html`<div class="sheet start">
      <h2>No table yet</h2>
      <p>Open a CSV or TSV file with rpm along one side and load along the other, drop it here, or paste cells from a
        spreadsheet. What is recognised is shown before anything is taken over.</p>
      <button class="main" @click=${() => this.openDialog("bring-in")}>Bring in a table</button>
    </div>`;
  }

  private ceilingsLine(ceilings: TableCeilings) {
    if (ceilings.problem) return html`<p class="quiet ceilings">Ceilings can't be worked out: ${ceilings.problem}</p>`;
    return ceilings.sentences.length
      ? html`<ul class="ceilings" aria-label="Ceilings">${ceilings.sentences.map((text) => html`<li>${text}</li>`)}</ul>`
      : nothing;
  }

  private marks(table: FuelTable): readonly CellMark[] {
    const { bench, view } = this.desk;
    const { steps } = this.desk.job;
    const last = bench.draft?.step.id ?? view.after;
    const at = steps.findIndex(({ id }) => id === last);
    const guesses = firstGuesses(bench.replay, table, at < 0 ? (last === "source" ? 0 : steps.length) : at + 1);
    return [
      ...this.ceilings.at(this.desk, table).marks,
      ...guesses.map(({ at: cell, words }): CellMark => ({ at: cell, kind: "estimate", words })),
    ];
  }

  private items(): StepItem[] {
    const { job, bench } = this.desk;
    return job.steps.map((step, at) => {
      const outcome = bench.replay.outcomes[at]!;
      const name = job.named.find(({ after }) => after === step.id)?.name;
      return {
        id: step.id,
        ...sayStep(step, job, this.desk.preferences),
        on: step.on,
        ...(outcome.status === "passed-over" && {
          passedOver: outcome.reason ? plainRefusal(outcome.reason.message) : "does not apply",
        }),
        ...(step.note && { note: step.note }),
        ...(name !== undefined && { stateName: name }),
        ...(step.on && guessing.has(step.kind) && { estimate: true }),
      };
    });
  }

  private sourceText(): string {
    const { tables } = this.desk.job;
    if (tables.length === 0) return "nothing yet";
    const size = ({ load, rpm }: FuelTable) => `${load.breakpoints.length} × ${rpm.breakpoints.length}`;
    return tables.map((table) => `${table.name}, ${size(table)}`).join("; ");
  }

  private comparisons(): [string, string][] {
    const { named } = this.desk.job;
    const { against } = this.desk.view;
    return [
      ...(typeof against === "object" && "other" in against ? [[ANOTHER, against.name] as [string, string]] : []),
      ["source", "brought in"],
      ["previous", "the step before"],
      ...named.map(({ name, after }): [string, string] => [after, name]),
    ];
  }

  private compareWith(event: Event) {
    const key = (event.target as HTMLSelectElement).value;
    if (key === ANOTHER) return;
    this.desk.look({ against: key === "source" || key === "previous" ? key : { after: key } });
  }

  private zoom(by: number) {
    const zoom = Math.min(2.5, Math.max(0.5, this.desk.preferences.zoom * by));
    this.desk.prefer({ zoom: Math.abs(zoom - 1) < 0.07 ? 1 : zoom });
  }

  private onSelection = ({ region, focused, selection }: SelectionChangeEvent) => {
    const { desk } = this;
    const single = selection.anchor === selection.focus && !selection.also?.length;
    desk.look({ cell: focused, region });
    const draft = desk.bench.draft;
    // A new step goes along with the selection, once it was put on a part of the table.
    if (draft?.kind === "new" && !single && "region" in draft.step.settings) this.previewRegion(region);
  };

  private previewRegion(region: Region) {
    const { desk } = this;
    const { step } = desk.bench.draft!;
    const { feather } = (step.settings as { region?: Region }).region ?? {};
    desk.attempt(() => {
      desk.bench.preview({
        ...step,
        settings: { ...step.settings, region: { ...region, ...(feather && { feather }) } },
      } as never);
    });
  }

  private onTyping = (event: TypingEvent) => {
    const { desk } = this;
    const { table } = desk;
    const typed = ++this.typed;
    if (event.text === null || !table) {
      this.problem = null;
      this.dropTyped();
      return;
    }
    void typedStep(desk, table, event.text, event.region).then(
      (step) => {
        if (typed !== this.typed) return;
        this.problem = null;
        if (!step) this.dropTyped();
        else if (desk.bench.draft?.kind !== "reopened") desk.bench.preview(step);
      },
      () => {
        if (typed === this.typed) this.dropTyped();
      },
    );
  };

  /** What can't be done must not stay on the card, as it was before a further key. */
  private dropTyped() {
    const { bench } = this.desk;
    if (bench.draft?.kind === "new") bench.closeDraft();
  }

  private onTyped = (event: CellsTypedEvent) => {
    const { desk } = this;
    const { table } = desk;
    if (!table) return;
    // The field stays open until the text has been understood.
    event.preventDefault();
    const typed = ++this.typed;
    typedStep(desk, table, event.text, event.region)
      .then((step) => {
        if (typed !== this.typed) return;
        if (step) desk.perform(addStep(step, sayStep(step, desk.job).title));
        this.problem = null;
        this.grid?.dropTyped();
      })
      .catch((error: unknown) => {
        if (!(error instanceof FuelwrightError)) throw error;
        if (typed !== this.typed) return;
        this.problem = plainRefusal(error.message);
        this.dropTyped();
      });
  };

  private onPaste = async (event: PasteTextEvent) => {
    const { desk } = this;
    const { table } = desk;
    if (!table) return;
    const { pastedStep } = await import("./pasted-step.ts");
    desk.attempt(() => {
      const { step, question } = pastedStep(desk, table, event);
      desk.bench.preview(step);
      if (question) desk.say(question);
    });
  };

  private onClear = (event: ClearEvent) => {
    this.desk.look({ region: event.region });
    this.card?.beginKind("fill-cells");
  };

  private onStrip = ({ detail }: StripActionEvent) => {
    const { desk } = this;
    const at = desk.job.steps.findIndex(({ id }) => id === detail.id);
    const step = desk.job.steps[at];
    if (!step) {
      desk.bench.closeDraft();
      desk.look({ after: detail.id === "source" && desk.view.after !== "source" ? "source" : null });
      return;
    }
    const name = `step ${at + 1}, ${sayStep(step, desk.job).title}`;
    switch (detail.kind) {
      case "open":
        if (desk.bench.draft?.step.id === step.id) return desk.bench.closeDraft();
        desk.look({ after: null, ...(step.table !== undefined && { table: step.table }) });
        desk.attempt(() => desk.bench.preview(step));
        this.showRegion((step.settings as { region?: Region }).region);
        return;
      case "switch":
        desk.perform(switchStep(step.id, detail.on, name));
        return;
      case "delete":
        desk.perform(deleteStep(step.id, name));
        return;
      case "move":
        desk.perform(moveStep(step.id, detail.to, name));
    }
  };

  /** Chooses the cells of a region, once the grid shows the table it is of. */
  private showRegion(region: Region | undefined) {
    if (!region) return;
    void this.updateComplete.then(() => {
      if (!this.grid) return;
      this.grid.showRegion(region);
      this.desk.look({ cell: this.grid.focused });
    });
  }

  private onDrop = (event: DragEvent) => {
    event.preventDefault();
    this.dropped = event.dataTransfer?.files[0] ?? null;
    if (this.dropped) void this.openDialog("bring-in");
  };
}

/** Kinds of step whose result is a first guess until evidence replaces it. */
const guessing: ReadonlySet<string> = new Set([
  "change-displacement",
  "change-intake",
  "shape-cells",
  "extrapolate-cells",
]);

/** Dialogs are fetched when they are asked for. */
const dialogs = {
  "bring-in": () => import("./bring-in.ts"),
  scheme: () => import("./scheme-dialog.ts"),
  compare: () => import("./compare-dialog.ts"),
} as const;
type Dialog = keyof typeof dialogs;

/** What a fall and a rise of a cell mean to the engine. */
const wordsOf = (table: FuelTable | null): readonly [less: string, more: string] =>
  table?.quantity === "lambda" ? ["richer", "leaner"] : ["less fuel", "more fuel"];

const ANOTHER = "another table";

const keyOf = (against: Against) =>
  typeof against === "string" ? against : "after" in against ? against.after : ANOTHER;
