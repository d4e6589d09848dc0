import { type Wish, type WishReport, whatWouldItTake } from "@fuelwright/table-core";
import { html, LitElement, type PropertyValues } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { elementTokens } from "../../elements/tokens.ts";
import type { Desk } from "../../store/desk.ts";
import { DeskController } from "../../store/desk-controller.ts";
import { figure } from "../../store/display.ts";
import { pageStyles } from "../page-styles.ts";
import { choiceField, numberField } from "../table/forms/fields.ts";
import { type Asked, attempt, type Outcome } from "./asked.ts";
import { assumptionList } from "./assumptions.ts";
import { buildStyles } from "./build-tools.styles.ts";
import { partNames } from "./part-names.ts";
import { say } from "./say.ts";

const marks = { true: "enough", false: "not enough", null: "not described" } as const;

/** What a wished power or displacement would take of injectors, pump and intake. */
@customElement("fw-wish")
export class WishTool extends LitElement {
  static override styles = [elementTokens, pageStyles, buildStyles];

  @property({ attribute: false }) desk!: Desk;
  @property({ attribute: false }) asked!: Asked;
  @state() private kind: "power" | "displacement" = "power";
  @state() private powerKw: number | null = null;
  @state() private displacementCc: number | null = null;

  /** What was found for the present wish; worked out anew when wish, table or build change, and only then. */
  private report: Outcome<WishReport> | null = null;

  constructor() {
    super();
    new DeskController(this, () => this.desk);
  }

  protected override willUpdate(changed: PropertyValues): void {
    if (!["asked", "kind", "powerKw", "displacementCc"].some((key) => changed.has(key))) return;
    const { settings } = this.asked;
    const { wish } = this;
    this.report = settings && wish && attempt(() => whatWouldItTake({ ...settings, wish }));
  }

  private get wish(): Wish | null {
    const { kind, powerKw, displacementCc } = this;
    if (kind === "power") return powerKw === null ? null : { powerKw };
    return displacementCc === null ? null : { displacementCc };
  }

  protected override render() {
    const { desk, kind } = this;
    return html`
      ${choiceField(
        "Wished for",
        kind,
        [
          ["power", "a power"],
          ["displacement", "a displacement"],
        ],
        (choice) => (this.kind = choice),
        "",
        "wished-what",
      )}
      ${
        kind === "power"
          ? numberField({
              label: "Power wished, at the crank",
              explain: "wished-power",
              value: this.powerKw,
              unit: "kW",
              desk,
              decimals: 0,
              min: 0.1,
              max: 2000,
              change: (value) => (this.powerKw = value),
              clear: () => (this.powerKw = null),
            })
          : numberField({
              label: "Displacement wished",
              explain: "wished-displacement",
              value: this.displacementCc,
              unit: "cc",
              desk,
              decimals: 0,
              min: 20,
              max: 20_000,
              change: (value) => (this.displacementCc = value),
              clear: () => (this.displacementCc = null),
            })
      }
      <div role="status">${this.answer()}</div>`;
  }

  private answer() {
    const { asked, desk, report } = this;
    if (!asked.settings) return html`<p class="quiet">${asked.nothing}</p>`;
    if (!report)
      return html`<p class="quiet">Say what is wished for, and what each part would have to give stands here.</p>`;
    if (!report.ok) return html`<div class="warns">${report.sentence}</div>`;
    const { factor, parts, powerNowKw, powerKw: wished, assumptions } = report.value;
    return html`<p>${figure(factor, 2)} times the fuel and air of now: about ${say(desk, wished, "kW", 0)} in the place of about
        ${say(desk, powerNowKw, "kW", 0)}.</p>
      <dl class="needs">${parts.map(
        ({ part, enough, sentence }) =>
          html`<dt>${partNames[part]}: <span class=${enough === false ? "short" : ""}>${marks[String(enough) as keyof typeof marks]}</span></dt><dd>${sentence}</dd>`,
      )}</dl>
      <p class="quiet">That cams, valves, cooling and the strength of the engine go along is not looked at.</p>
      ${assumptionList(assumptions)}`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "fw-wish": WishTool;
  }
}
