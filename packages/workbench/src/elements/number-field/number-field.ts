import { canonicalUnit, convertUnit } from "@fuelwright/table-core";
import { html, LitElement, nothing, type PropertyValues } from "lit";
import { customElement, property, query, state } from "lit/decorators.js";
import { live } from "lit/directives/live.js";
import { elementTokens } from "../tokens.ts";
import { numberFieldStyles } from "./number-field.styles.ts";
import { readNumber } from "./read-number.ts";
import { shownDecimals, shownNumber } from "./shown-decimals.ts";

/** A new value was given; `value` is in the field's own unit, null where the field was emptied. */
export class ValueChangeEvent extends CustomEvent<{
  readonly value: number | null;
  readonly unit: string;
  readonly shownUnit: string;
}> {
  constructor(value: number | null, unit: string, shownUnit: string) {
    super("fw-value-change", { bubbles: true, composed: true, detail: { value, unit, shownUnit } });
  }
}

/** Another unit was chosen to show and type the value in; the value is the same. */
export class UnitChangeEvent extends CustomEvent<{ readonly shownUnit: string }> {
  constructor(shownUnit: string) {
    super("fw-unit-change", { bubbles: true, composed: true, detail: { shownUnit } });
  }
}

type Reading = { readonly value: number | null; readonly sentence: string | null };

/** An attribute that is missing or empty is no value, not 0. */
const numberOrNull = (text: string | null) => (text === null || text.trim() === "" ? null : Number(text));

/**
 * Asks for one figure with its unit: `Flow, new set [4.85] g/s`.
 *
 * The value is kept in one unit (`unit`) and shown in another (`shownUnit`) of the reader's choice. A figure is taken
 * over when the field is left or Enter is pressed, and only if it is a number within `min` and `max`; otherwise a
 * sentence at the field says why and the value stays. Escape brings the value back. "1,5", "1.5" and "43.5 psi" are
 * understood. In a form the element takes part under `name` with the value in `unit`; Enter sends the form as usual.
 *
 * @event {ValueChangeEvent} fw-value-change - A valid, different value was given: `detail.value`, in `unit`.
 * @event {UnitChangeEvent} fw-unit-change - Another unit was chosen: `detail.shownUnit`.
 * @slot help - Stands behind the label: a `fw-help`.
 * @csspart input - The text field.
 * @csspart unit - The unit, as text or as a choice.
 * @cssproperty --fw-number-width - Width of the text field.
 * @cssproperty --fw-number-unit-width - Least width kept for the unit, so that fields above each other line up.
 */
@customElement("fw-number-field")
export class NumberField extends LitElement {
  static readonly formAssociated = true;
  static override readonly shadowRootOptions = { ...LitElement.shadowRootOptions, delegatesFocus: true };
  static override styles = [elementTokens, numberFieldStyles];

  /** What the figure is, in a few words. */
  @property() label = "";
  /** The value in `unit`; null where there is none. */
  @property({ converter: numberOrNull }) value: number | null = null;
  /** The unit the value is kept in. */
  @property() unit = "";
  /** Units to choose from; with one or none the unit is plain text. */
  @property({ attribute: false }) units: readonly string[] = [];
  /** The unit shown and typed; empty for `unit`. */
  @property({ attribute: "shown-unit" }) shownUnit = "";
  /** Decimals worth showing in `unit`; other units get as many as say the same. A figure is shown as it was typed. */
  @property({ type: Number }) decimals = 2;
  /** Least and greatest value taken, in `unit`. */
  @property({ converter: numberOrNull }) min: number | null = null;
  /** See `min`. */
  @property({ converter: numberOrNull }) max: number | null = null;
  /** Values between which a figure is plausible, in `unit`; one outside is taken, with a word of doubt. */
  @property({ attribute: false }) usual: readonly [number, number] | null = null;
  /** One quiet sentence under the field. */
  @property() hint = "";
  /** A sentence from outside that says what is wrong with the value; what was typed comes first. */
  @property() error = "";
  /** Where the figure comes from, in a word: "estimated", "measured", "from the maker's sheet". */
  @property() basis = "";
  /** Density that turns mass flow into volume flow; without it those units cannot be chosen. */
  @property({ type: Number, attribute: "density-kg-per-l" }) densityKgPerL: number | null = null;
  /** Name under which a form gets the value. */
  @property({ reflect: true }) name = "";
  /** Only whole numbers are taken. */
  @property({ type: Boolean }) whole = false;
  /** An empty field is refused. */
  @property({ type: Boolean }) required = false;
  /** Nothing can be typed. */
  @property({ type: Boolean }) disabled = false;
  /** The figure can be read and copied only. */
  @property({ type: Boolean, attribute: "readonly" }) readOnly = false;

  /** What is being typed; null while the field shows its value. */
  @state() private draft: string | null = null;
  /** Why the draft was not taken. */
  @state() private refusal: string | null = null;
  @state() private formDisabled = false;
  @query("input") private input!: HTMLInputElement;

  /** The last figure taken, as typed: so that 300.5 does not come back as 301. */
  private typed: { readonly number: number; readonly value: number; readonly unit: string } | null = null;
  private initial: number | null = null;
  private readonly internals = this.attachInternals();

  /** The form this field belongs to, if any. */
  get form(): HTMLFormElement | null {
    return this.internals.form;
  }

  protected override firstUpdated() {
    this.initial = this.value;
  }

  protected override willUpdate(changed: PropertyValues<this>) {
    // A value from outside ends what was being typed, unless the field is at that moment being typed in.
    if (changed.has("value") && this.hasUpdated && !this.matches(":focus-within")) this.restore();
  }

  protected override updated() {
    const sentence = this.refusal ?? (this.error || this.missing());
    this.internals.setFormValue(this.value === null ? null : String(this.value));
    if (sentence) this.internals.setValidity({ customError: true }, sentence, this.input);
    else this.internals.setValidity({});
  }

  protected override render() {
    const sentence = this.refusal ?? this.error;
    const doubt = sentence ? "" : this.doubt();
    const note = [this.basis, this.hint].filter(Boolean).join(" · ");
    const described = [note && "note", doubt && "doubt", "unit"].filter(Boolean).join(" ");
    return html`
      <div class="line">
        <span class="name"><label for="value">${this.label}</label><slot name="help"></slot></span>
        <input
          id="value"
          part="input"
          type="text"
          autocomplete="off"
          spellcheck="false"
          enterkeyhint="done"
          inputmode=${this.min !== null && this.min >= 0 ? "decimal" : "text"}
          .value=${this.draft ?? this.shown()}
          ?disabled=${this.disabled || this.formDisabled}
          ?readonly=${this.readOnly}
          aria-required=${this.required ? "true" : nothing}
          aria-invalid=${sentence ? "true" : "false"}
          aria-describedby=${sentence ? `error ${described}` : described}
          @input=${this.onInput}
          @change=${this.commit}
          @keydown=${this.onKeyDown}
        />
        ${this.renderUnit()}
      </div>
      ${sentence ? html`<p class="error" id="error" role="alert">${sentence}</p>` : nothing}
      ${doubt ? html`<p class="unusual" id="doubt">${doubt}</p>` : nothing}
      ${note ? html`<p class="note" id="note">${note}</p>` : nothing}
    `;
  }

  private renderUnit() {
    const choices = this.choices();
    if (choices.length < 2) return html`<span class="unit" id="unit" part="unit">${sayUnit(this.typedUnit)}</span>`;
    return html`<select
      id="unit"
      part="unit"
      aria-label="Unit of ${this.label}"
      ?disabled=${this.disabled || this.formDisabled}
      @change=${this.onUnit}
    >
      ${choices.map(
        (unit) => html`<option
          value=${unit}
          .selected=${live(unit === this.typedUnit)}
          ?disabled=${!this.converts(unit)}
          title=${this.converts(unit) ? nothing : "needs the fuel's density"}
        >
          ${sayUnit(unit)}
        </option>`,
      )}
    </select>`;
  }

  /** Units to choose from, the shown one among them. */
  private choices(): readonly string[] {
    const units = this.units.map((unit) => canonicalUnit(unit) ?? unit);
    return units.length > 0 && !units.includes(this.typedUnit) ? [this.typedUnit, ...units] : units;
  }

  private get density(): { densityKgPerL?: number } {
    return this.densityKgPerL === null ? {} : { densityKgPerL: this.densityKgPerL };
  }

  /** The unit shown: the chosen one if the value can be said in it, otherwise the value's own. */
  private get typedUnit(): string {
    const chosen = canonicalUnit(this.shownUnit) ?? this.unit;
    return this.converts(chosen) ? chosen : this.unit;
  }

  private converts(unit: string): boolean {
    if (unit === this.unit) return true;
    try {
      convertUnit(1, this.unit, unit, this.density);
      return true;
    } catch {
      return false;
    }
  }

  private toShown(value: number): number {
    return this.typedUnit === this.unit ? value : convertUnit(value, this.unit, this.typedUnit, this.density);
  }

  private get shownDecimals(): number {
    return shownDecimals(this.decimals, this.unit, this.typedUnit, this.density);
  }

  /** The value as it stands in the field. */
  private shown(): string {
    if (this.value === null || !Number.isFinite(this.value)) return "";
    const unit = this.typedUnit;
    if (this.typed?.value === this.value && this.typed.unit === unit)
      return shownNumber(this.typed.number, Math.max(this.shownDecimals, decimalsOf(this.typed.number)));
    return shownNumber(this.toShown(this.value), this.shownDecimals);
  }

  private missing(): string {
    return this.required && this.value === null ? "Give a number." : "";
  }

  /** What a draft says, without taking it over. */
  private read(text: string): Reading {
    const refuse = (sentence: string): Reading => ({ value: null, sentence });
    if (text.trim() === "") return this.required ? refuse("Give a number.") : { value: null, sentence: null };
    const typed = readNumber(text);
    if (!typed.ok) return refuse(typed.sentence);
    const unit = typed.unit ?? this.typedUnit;
    if (!this.converts(unit))
      return refuse(`${sayUnit(unit)} does not say ${this.label || "this"}; use ${sayUnit(this.typedUnit)}.`);
    const value = unit === this.unit ? typed.number : convertUnit(typed.number, unit, this.unit, this.density);
    const { min, max } = this;
    if (this.whole && !Number.isInteger(value)) return refuse("Give a whole number.");
    if (min !== null && value < min)
      return refuse(`At least ${this.limit(min, Math.ceil)}. Check the figure and its unit.`);
    if (max !== null && value > max)
      return refuse(`At most ${this.limit(max, Math.floor)}. Check the figure and its unit.`);
    return { value, sentence: null };
  }

  /** A limit in the shown unit, rounded to the side that is inside, so that typing it is taken. */
  private limit(value: number, round: (x: number) => number): string {
    const scale = 10 ** this.shownDecimals;
    const shown = this.toShown(value) * scale;
    const near = Math.abs(shown - Math.round(shown)) < 1e-9 * Math.abs(shown) ? Math.round(shown) : round(shown);
    return `${shownNumber(near / scale, this.shownDecimals)} ${sayUnit(this.typedUnit)}`.trim();
  }

  private doubt(): string {
    if (this.usual === null || this.value === null) return "";
    const [low, high] = this.usual;
    if (this.value >= low && this.value <= high) return "";
    const [from, to] = [low, high].map((end) => shownNumber(this.toShown(end), this.shownDecimals));
    return `Unusual: mostly ${from} to ${to} ${sayUnit(this.typedUnit)}. Check the unit.`;
  }

  private onInput() {
    this.draft = this.input.value;
    // A sentence at a field is put right while typing, but does not appear before the field is left.
    if (this.refusal !== null) this.refusal = this.read(this.draft).sentence;
  }

  /** Takes the draft over, or says why not. Returns whether the field is in order. */
  private commit(): boolean {
    const { draft } = this;
    if (draft === null || draft.trim() === this.shown()) {
      this.restore();
      return this.missing() === "";
    }
    const { value, sentence } = this.read(draft);
    this.refusal = sentence;
    if (sentence !== null) return false;
    const before = this.value;
    const typed = readNumber(draft);
    this.typed = typed.ok && typed.unit === null && value !== null ? { ...typed, value, unit: this.typedUnit } : null;
    this.value = value;
    this.restore();
    if (value !== before) this.dispatchEvent(new ValueChangeEvent(value, this.unit, this.typedUnit));
    return true;
  }

  private restore() {
    this.draft = null;
    this.refusal = null;
    if (this.input) this.input.value = this.shown();
  }

  private onKeyDown(event: KeyboardEvent) {
    if (event.key === "Escape" && this.draft !== null) {
      // This Escape is the field's: a dialog around it stays open.
      event.preventDefault();
      event.stopPropagation();
      this.restore();
      this.input.select();
    }
    if (event.key === "Enter" && this.commit()) this.sendForm();
  }

  /** Enter sends the form as from a native field: by its first submit button, if it has one. */
  private sendForm() {
    const form = this.internals.form;
    const button =
      form &&
      [...form.elements].find((element) => element.matches(":is(button, input)[type=submit], button:not([type])"));
    if (button && !button.matches(":disabled"))
      void this.updateComplete.then(() => form.requestSubmit(button as HTMLElement));
  }

  private onUnit(event: Event) {
    this.shownUnit = (event.target as HTMLSelectElement).value;
    this.dispatchEvent(new UnitChangeEvent(this.shownUnit));
    // A figure that was refused may have been meant in the other unit.
    if (this.draft !== null) this.commit();
    else this.restore();
  }

  formResetCallback() {
    this.value = this.initial;
    this.restore();
  }

  formDisabledCallback(disabled: boolean) {
    this.formDisabled = disabled;
  }
}

/** Digits behind the point that a number was given with, as far as a double tells. */
const decimalsOf = (value: number) => Math.min(10, /\.(\d+)$/.exec(String(value))?.[1]?.length ?? 0);

/** Units as they are read; the library's "us", "factor" and "lambda" are spelled for typing. */
function sayUnit(unit: string): string {
  return unit === "us" ? "µs" : unit === "factor" ? "×" : unit;
}

declare global {
  interface HTMLElementTagNameMap {
    "fw-number-field": NumberField;
  }
  interface HTMLElementEventMap {
    "fw-value-change": ValueChangeEvent;
    "fw-unit-change": UnitChangeEvent;
  }
}
