import { type ColourScheme, createColourScheme, FuelwrightError, type SchemeSpan } from "@fuelwright/table-core";
import { html, LitElement, nothing } from "lit";
import { customElement, property, query, state } from "lit/decorators.js";
import { live } from "lit/directives/live.js";
import { changeColours, type Ground } from "../../colour/change-colours.ts";
import { type Preset, presets } from "../../colour/presets.ts";
import { resolveSpan, type Span } from "../../colour/resolve-span.ts";
import { schemeFromJson, schemeToJson } from "../../colour/scheme-json.ts";
import { tellApart } from "../../colour/tell-apart.ts";
import { type Theme, themes } from "../../colour/themes.ts";
import "../number-field/number-field.ts";
import { elementTokens } from "../tokens.ts";
import { renderPresets } from "./preset-list.ts";
import { COLOUR_RULE, readColour } from "./read-colour.ts";
import { schemeEditorStyles } from "./scheme-editor.styles.ts";
import { renderSightRows } from "./sight-rows.ts";
import { saySummary } from "./sight-words.ts";

/** Another scheme was made or picked. */
export class SchemeChangeEvent extends CustomEvent<{ readonly scheme: ColourScheme }> {
  constructor(scheme: ColourScheme) {
    super("fw-scheme-change", { bubbles: true, composed: true, detail: { scheme } });
  }
}

/** The scheme is to be used for new jobs. */
export class SchemeDefaultEvent extends CustomEvent<{ readonly scheme: ColourScheme }> {
  constructor(scheme: ColourScheme) {
    super("fw-scheme-default", { bubbles: true, composed: true, detail: { scheme } });
  }
}

type Place = "less" | "middle" | "more";
type Field = Place | "name" | "json";

/** What was typed into a field and could not be taken, and why. */
interface Refusal {
  readonly text: string;
  readonly sentence: string;
}

/**
 * Picks the colours that show change: two ends and a middle, how far they reach, smooth or in steps, and a name.
 *
 * It shows at once which changes can be told apart, by usual sight, under each colour-vision deficiency and in grey print.
 * Only valid schemes leave it; a colour that is none is refused at its field.
 *
 * @event {SchemeChangeEvent} fw-scheme-change - `detail.scheme`: a valid scheme, different from the one before.
 * @event {SchemeDefaultEvent} fw-scheme-default - `detail.scheme` is to be the reader's default.
 */
@customElement("fw-scheme-editor")
export class SchemeEditor extends LitElement {
  static override styles = [elementTokens, schemeEditorStyles];

  /** The scheme being edited. */
  @property({ attribute: false }) scheme: ColourScheme = presets[0]!.scheme;
  /** Light or dark surroundings, for which the preview is made. */
  @property() theme: Theme = "light";
  /** Colour under the cells as `#rrggbb`; empty for the theme's own. */
  @property() paper = "";
  /** The greatest changes of the table at hand, in percent: where an automatic or symmetrical span reaches. */
  @property({ attribute: false }) reach: Span = { less: 30, more: 30 };
  /** What a fall means; for a lambda table "richer", say. */
  @property({ attribute: "less-words" }) lessWords = "less fuel";
  /** What a rise means. */
  @property({ attribute: "more-words" }) moreWords = "more fuel";

  @state() private refused: { readonly [field in Field]?: Refusal } = {};
  /** Whether the field to take a scheme from text is open. */
  @state() private taking = false;
  /** What was done last, for a moment. */
  @state() private done = "";
  /** The scheme before a colour began to be dragged. */
  private undragged: ColourScheme | null = null;
  @query("textarea") private textArea!: HTMLTextAreaElement | null;

  protected override render() {
    const ground: Ground = { ...themes[this.theme], ...(readColour(this.paper) && { paper: readColour(this.paper)! }) };
    const span = resolveSpan(this.scheme, [-this.reach.less, this.reach.more]);
    const colours = changeColours(this.scheme, { ...ground, span });
    const reports = tellApart(colours);
    const moved =
      colours.tints[0]!.background !== this.scheme.less || colours.tints.at(-1)!.background !== this.scheme.more;
    return html`<div class="board">
      <section aria-labelledby="presets">
        <h3 id="presets">Start from</h3>
        ${renderPresets(this.scheme, ground, this.pick)}
      </section>
      <section aria-label="Your own">
        <fieldset>
          <legend>Colours</legend>
          ${this.renderColour("less", sentence(this.lessWords))} ${this.renderMiddle(ground.paper)}
          ${this.renderColour("more", sentence(this.moreWords))}
          ${moved ? html`<p class="small">Ends are shown as strong as text on them allows.</p>` : nothing}
        </fieldset>
        ${this.renderSpan(span)} ${this.renderSteps()} ${this.renderName()}
      </section>
      <section class="wide" aria-labelledby="seen">
        <h3 id="seen">Can they be told apart?</h3>
        <p role="status">${saySummary(reports)}</p>
        ${renderSightRows(colours, reports)}
        <p class="small">
          Percentages of change, each way of seeing in full strength. Measured as the CIEDE2000 colour difference: from 2 on a
          close look, from 5 at a glance; these limits are common practice. Sights after Machado, Oliveira and Fernandes, 2009. The
          sign in each cell says the same without colour.
        </p>
      </section>
      <section class="wide" aria-label="Keep and share">
        <div class="do">
          <button type="button" class="main" @click=${this.useAsDefault}>Use as my default</button>
          <button type="button" @click=${this.copy}>Copy as JSON</button>
          <button type="button" aria-expanded=${this.taking} aria-controls="take" @click=${this.toggleTaking}>
            Take from JSON
          </button>
          <span class="small" role="status">${this.done}</span>
        </div>
        <div class="take" id="take" ?hidden=${!this.taking}>${this.taking ? this.renderTake() : nothing}</div>
      </section>
    </div>`;
  }

  private renderColour(place: Place, label: string) {
    const colour = this.scheme[place];
    const refusal = this.refused[place];
    return html`<div class="colour">
      <label for=${place}>${label}</label>
      <input
        type="color"
        aria-label="${label}, pick"
        .value=${live(colour)}
        @input=${(event: Event) => this.drag({ [place]: (event.target as HTMLInputElement).value })}
        @change=${this.drop}
      />
      <input
        id=${place}
        type="text"
        autocomplete="off"
        spellcheck="false"
        maxlength="30"
        .value=${live(refusal?.text ?? colour)}
        aria-invalid=${refusal ? "true" : "false"}
        aria-describedby=${refusal ? `${place}-error` : nothing}
        @change=${(event: Event) => this.typeColour(place, (event.target as HTMLInputElement).value)}
        @keydown=${(event: KeyboardEvent) => this.restoreOnEscape(event, place)}
      />
      ${this.renderError(place)}
    </div>`;
  }

  private renderMiddle(paper: string) {
    const onPaper = this.scheme.middle === "paper";
    const choice = html`<label class="paper"
      ><input
        type="checkbox"
        .checked=${live(onPaper)}
        @change=${() => this.change({ middle: onPaper ? paper : "paper" }, "middle")}
      />plain paper</label
    >`;
    return onPaper
      ? html`<div class="colour" role="group" aria-label="Unchanged"><span>Unchanged</span>${choice}</div>`
      : html`${this.renderColour("middle", "Unchanged")}
          <div class="colour" role="group" aria-label="Unchanged"><span></span>${choice}</div>`;
  }

  private renderSpan(span: Span) {
    const { span: chosen } = this.scheme;
    const percent = chosen.kind === "fixed" ? chosen.percent : Math.max(1, Math.round(Math.max(span.less, span.more)));
    const choice = (kind: SchemeSpan["kind"], words: string) => html`<div class="choice">
      <label
        ><input
          type="radio"
          name="span"
          .checked=${live(chosen.kind === kind)}
          @change=${() => this.change({ span: kind === "fixed" ? { kind, percent } : { kind } })}
        />${words}</label
      >
    </div>`;
    return html`<fieldset>
      <legend>Full colour at</legend>
      ${choice("automatic", "the greatest change, each side its own")} ${choice("symmetrical", "the greatest change, both sides alike")}
      ${choice("fixed", "a fixed change")}
      ${
        chosen.kind === "fixed"
          ? html`<fw-number-field
              class="indent"
              label="Change"
              unit="%"
              decimals="1"
              min="0.1"
              max="1000"
              required
              .value=${chosen.percent}
              @fw-value-change=${(event: CustomEvent<{ value: number }>) =>
                this.change({ span: { kind: "fixed", percent: event.detail.value } })}
            ></fw-number-field>`
          : nothing
      }
    </fieldset>`;
  }

  private renderSteps() {
    const { steps } = this.scheme;
    const choice = (stepped: boolean, words: string) => html`<div class="choice">
      <label
        ><input
          type="radio"
          name="steps"
          .checked=${live(steps > 0 === stepped)}
          @change=${() => this.change({ steps: stepped ? 3 : 0 })}
        />${words}</label
      >
    </div>`;
    return html`<fieldset>
      <legend>Between them</legend>
      ${choice(false, "smooth")} ${choice(true, "in steps")}
      ${
        steps > 0
          ? html`<fw-number-field
              class="indent"
              label="Steps on each side"
              decimals="0"
              min="1"
              max="10"
              whole
              required
              .value=${steps}
              @fw-value-change=${(event: CustomEvent<{ value: number }>) => this.change({ steps: event.detail.value })}
            ></fw-number-field>`
          : nothing
      }
    </fieldset>`;
  }

  private renderName() {
    const refusal = this.refused.name;
    return html`<div class="name">
      <label for="name">Name</label>
      <input
        id="name"
        type="text"
        autocomplete="off"
        maxlength="60"
        .value=${live(refusal?.text ?? this.scheme.name)}
        aria-invalid=${refusal ? "true" : "false"}
        aria-describedby=${refusal ? "name-error" : nothing}
        @change=${this.typeName}
        @keydown=${(event: KeyboardEvent) => this.restoreOnEscape(event, "name")}
      />
      ${this.renderError("name")}
    </div>`;
  }

  private renderTake() {
    const refusal = this.refused.json;
    return html`<label for="json">Text of a scheme</label>
      <textarea
        id="json"
        rows="6"
        spellcheck="false"
        aria-invalid=${refusal ? "true" : "false"}
        aria-describedby=${refusal ? "json-error" : nothing}
      ></textarea>
      ${this.renderError("json")}
      <div class="do">
        <button type="button" class="main" @click=${this.take}>Take</button>
        <button type="button" @click=${this.toggleTaking}>Leave it</button>
      </div>`;
  }

  private renderError(field: Field) {
    const refusal = this.refused[field];
    return refusal ? html`<p class="error" id="${field}-error" role="alert">${refusal.sentence}</p>` : nothing;
  }

  /** Takes a change over and says so, if it makes another scheme. `field` is the one it was typed in. */
  private change(change: Partial<ColourScheme>, field?: Field) {
    const before = this.undragged ?? this.scheme;
    this.undragged = null;
    if (field) this.refuse(field, null);
    const scheme = createColourScheme({ ...this.scheme, ...change });
    this.scheme = renamed(scheme, before);
    this.done = "";
    if (schemeToJson(this.scheme) !== schemeToJson(before)) this.dispatchEvent(new SchemeChangeEvent(this.scheme));
    else this.scheme = before;
  }

  /** Shows a colour while it is being picked; it is said when the picking ends. */
  private drag(change: Partial<ColourScheme>) {
    this.undragged ??= this.scheme;
    this.scheme = createColourScheme({ ...this.scheme, ...change });
    for (const field of ["less", "middle", "more"] as const) if (field in change) this.refuse(field, null);
  }

  private drop() {
    this.change({});
  }

  private typeColour(place: Place, text: string) {
    const colour = readColour(text);
    if (colour === null) this.refuse(place, { text, sentence: COLOUR_RULE });
    else this.change({ [place]: colour }, place);
  }

  private typeName(event: Event) {
    const text = (event.target as HTMLInputElement).value;
    if (text.trim() === "") this.refuse("name", { text, sentence: "Give the scheme a name." });
    else this.change({ name: text.trim() }, "name");
  }

  private restoreOnEscape(event: KeyboardEvent, field: Place | "name") {
    const input = event.target as HTMLInputElement;
    const kept = this.scheme[field];
    if (event.key !== "Escape" || input.value === kept) return;
    event.preventDefault();
    event.stopPropagation();
    this.refuse(field, null);
    input.value = kept;
  }

  private refuse(field: Field, refusal: Refusal | null) {
    const { [field]: _, ...others } = this.refused;
    this.refused = refusal === null ? others : { ...others, [field]: refusal };
  }

  private readonly pick = (preset: Preset) => {
    this.refused = {};
    this.change({ ...preset.scheme, span: this.scheme.span });
  };

  private useAsDefault() {
    this.dispatchEvent(new SchemeDefaultEvent(this.scheme));
    this.done = "Kept as your default.";
  }

  private async copy() {
    const text = schemeToJson(this.scheme);
    try {
      await navigator.clipboard.writeText(text);
      this.done = "Copied.";
    } catch {
      // A page may not be allowed to write to the clipboard; its reader always is.
      this.taking = true;
      this.done = "Copy the text below.";
      await this.updateComplete;
      this.textArea!.value = text;
      this.textArea!.select();
    }
  }

  private async toggleTaking() {
    this.taking = !this.taking;
    this.refuse("json", null);
    await this.updateComplete;
    this.textArea?.focus();
  }

  private take() {
    const { value } = this.textArea!;
    try {
      const scheme = schemeFromJson(value.trim());
      this.refused = {};
      this.change(scheme);
      this.taking = false;
      this.done = `Took ${scheme.name}.`;
    } catch (error) {
      if (!(error instanceof FuelwrightError)) throw error;
      this.refuse("json", { text: value, sentence: `${sentence(error.message.replace(/^schemeFromJson: /, ""))}.` });
    }
  }
}

/** A changed preset no longer carries the preset's name, unless its reader gave it that. */
function renamed(scheme: ColourScheme, before: ColourScheme): ColourScheme {
  const named = presets.find((preset) => preset.scheme.name === scheme.name)?.scheme;
  const same = (["less", "middle", "more"] as const).every((key) => named?.[key] === scheme[key]);
  if (!named || same || scheme.name !== before.name) return scheme;
  return createColourScheme({ ...scheme, name: `${scheme.name}, changed` });
}

const sentence = (words: string) => words.charAt(0).toUpperCase() + words.slice(1);

declare global {
  interface HTMLElementTagNameMap {
    "fw-scheme-editor": SchemeEditor;
  }
  interface HTMLElementEventMap {
    "fw-scheme-change": SchemeChangeEvent;
    "fw-scheme-default": SchemeDefaultEvent;
  }
}
