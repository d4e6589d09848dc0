import { darkInks, FuelwrightError, type Inks, lightInks, printInks, writeSvg } from "@fuelwright/table-core";
import { html, LitElement, unsafeCSS } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { unsafeHTML } from "lit/directives/unsafe-html.js";
import { elementTokens } from "../../elements/tokens.ts";
import type { Desk } from "../../store/desk.ts";
import { DeskController } from "../../store/desk-controller.ts";
import { plainRefusal } from "../../store/plain-refusal.ts";
import { fileName, offerFile } from "../files.ts";
import { pageStyles } from "../page-styles.ts";
import { choiceField } from "../table/forms/fields.ts";
import type { Card } from "./card/blocks.ts";
import { CardContext, type CardTables } from "./card/card-context.ts";
import { cardCss } from "./card/card-css.ts";
import { cardFile } from "./card/card-file.ts";
import { makeCard } from "./card/make-card.ts";
import { type Paper, papers } from "./card/paper.ts";
import { type OfferedPicture, picturesOf } from "./card/pictures.ts";
import { renderCard } from "./card/render-card.ts";
import { handoverStyles } from "./handover-leaf.styles.ts";
import { keepPaper, keptPaper } from "./kept-paper.ts";
import { PageRules } from "./page-rules.ts";
import { pngOf } from "./picture-files.ts";
import { saveJobFile } from "./table-export.ts";

/** Cells above which the tables are printed only when asked for: they would fill more than thirty pages. */
const MANY_CELLS = 15_000;

/** What a picture's file is drawn in, whatever the screen is like. */
const inkNames = {
  light: { words: "ink on paper", inks: lightInks },
  print: { words: "black and white", inks: printInks },
  dark: { words: "dark", inks: darkInks },
} as const satisfies Record<string, { readonly words: string; readonly inks: Inks }>;
type InkName = keyof typeof inkNames;

/** What the leaf shows, and what it was made from. */
interface Made {
  readonly key: readonly unknown[];
  readonly tables: CardTables;
  readonly card: Card;
  readonly html: string;
  readonly pictures: readonly OfferedPicture[];
}

/** Carry out the tables, the pictures and the card that is handed over with the machine. */
@customElement("fw-handover-leaf")
export class HandoverLeaf extends LitElement {
  static override styles = [elementTokens, pageStyles, unsafeCSS(cardCss), handoverStyles];

  @property({ attribute: false }) desk!: Desk;
  @state() private paper: Paper = keptPaper();
  /** Null: as many as are worth their paper. */
  @state() private tables: CardTables | null = null;
  @state() private inks: InkName = "light";
  private readonly pageRules = new PageRules();
  private last: Made | null = null;

  constructor() {
    super();
    new DeskController(this, () => this.desk);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.pageRules.remove();
  }

  protected override render() {
    if (Object.keys(this.desk.bench.replay.state.tables).length === 0) return this.nothingYet();
    const made = this.made();
    return html`<div class="columns">
      <div class="exports">
        ${this.cardChoices(made)}
        <fw-table-export .desk=${this.desk}></fw-table-export>
        ${this.pictures(made.pictures)}
      </div>
      <article class="sheet handover-card" aria-label="Handover card">${unsafeHTML(made.html)}</article>
    </div>`;
  }

  protected override updated(): void {
    if (this.last && Object.keys(this.desk.bench.replay.state.tables).length > 0)
      this.pageRules.put(this.paper, this.last.card.running);
    else this.pageRules.remove();
  }

  private nothingYet() {
    return html`<section class="sheet empty"><h2>Nothing to hand over yet</h2>
      <p>The card needs a table. <a href="#table">Bring one in on the Table leaf</a>, say what the machine is made of on the
        <a href="#build">Build leaf</a>, and make the changes there are to make: each becomes a line of the card, with its reason.</p>
      <div class="do"><button @click=${() => saveJobFile(this.desk)}>Save the job</button></div></section>`;
  }

  /** The card of the job as it is kept, made again only when something in it changed. */
  private made(): Made {
    const { bench, preferences } = this.desk;
    const { replay } = bench;
    const tables = this.tables ?? usualTables(replay.state.tables);
    const key = [replay, preferences, this.paper, tables];
    if (!this.last || key.some((part, at) => part !== this.last!.key[at])) {
      const context = new CardContext({ replay, preferences, paper: this.paper, tables, day: today() });
      const card = makeCard(context);
      this.last = { key, tables, card, html: renderCard(card), pictures: picturesOf(context) };
    }
    return this.last;
  }

  private cardChoices({ card, tables }: Made) {
    return html`<section class="sheet" aria-label="The card"><h2>The card</h2>
      <p class="quiet">As it is printed: on any printer, also in black and white.</p>
      ${choiceField<Paper>(
        "Paper",
        this.paper,
        (Object.keys(papers) as Paper[]).map((paper) => [paper, papers[paper].name] as const),
        (paper) => {
          this.paper = paper;
          keepPaper(paper);
        },
        "",
        "paper",
      )}
      ${choiceField<CardTables>(
        "Tables on it",
        tables,
        [
          ["both", "before and after"],
          ["after", "after alone"],
          ["none", "left out"],
        ],
        (wanted) => (this.tables = wanted),
        "",
        "card-tables",
      )}
      <div class="do">
        <button class="main" @click=${() => window.print()}>Print the card</button>
        <button @click=${() => this.saveCard(card)}>Save the card</button>
      </div>
      <p class="quiet after">Saved, it is one HTML file that any browser opens and prints.</p></section>`;
  }

  private saveCard(card: Card) {
    offerFile(`${fileName(this.desk.job.name)}-card.html`, cardFile(card, this.paper), "text/html");
    this.desk.say("The card is saved.");
  }

  private pictures(pictures: readonly OfferedPicture[]) {
    const tables = [...new Set(pictures.map(({ table }) => table))];
    return html`<section class="sheet" aria-label="Pictures as files"><details ?open=${!isNarrow()}>
      <summary><h2>Pictures as files</h2></summary>
      <p class="quiet">SVG stays sharp at any size; PNG is for where SVG is not taken.</p>
      ${choiceField<InkName>(
        "In",
        this.inks,
        (Object.keys(inkNames) as InkName[]).map((name) => [name, inkNames[name].words] as const),
        (name) => (this.inks = name),
        "",
        "picture-inks",
      )}
      ${tables.map(
        (name) => html`<h3>${name}</h3>
        <ul class="files">${pictures.filter(({ table }) => table === name).map((one) => this.files(one))}</ul>`,
      )}
      </details></section>`;
  }

  private files(one: OfferedPicture) {
    const save = (as: "svg" | "png") => html`<button aria-label=${`${one.table}, ${one.what}, as ${as.toUpperCase()}`}
      @click=${() => this.savePicture(one, as)}>${as.toUpperCase()}</button>`;
    return html`<li><span>${one.what}</span> ${save("svg")} ${save("png")}</li>`;
  }

  private async savePicture({ table, what, draw }: OfferedPicture, as: "svg" | "png") {
    try {
      const picture = draw(inkNames[this.inks].inks);
      const svg = writeSvg(picture);
      const file = `${fileName(`${this.desk.job.name} ${table} ${what}`)}.${as}`;
      if (as === "svg") offerFile(file, svg, "image/svg+xml");
      else offerFile(file, await pngOf(svg, picture), "image/png");
      this.desk.say(`${table}, ${what}: saved.`);
    } catch (error) {
      if (!(error instanceof FuelwrightError)) throw error;
      this.desk.say(plainRefusal(error.message), "refused");
    }
  }
}

/** Where the card would come after a long list. */
const isNarrow = () => matchMedia("(max-width: 900px)").matches;

function usualTables(tables: Readonly<Record<string, { readonly cells: { readonly length: number } }>>): CardTables {
  const cells = Object.values(tables).reduce((sum, { cells: { length } }) => sum + length, 0);
  return cells > MANY_CELLS ? "none" : "both";
}

const today = () => new Date().toLocaleDateString("en-GB", { day: "numeric", month: "long", year: "numeric" });
