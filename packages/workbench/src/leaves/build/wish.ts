import { whatWouldItTake } from "@fuelwright/table-core";
import { html, LitElement } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { elementTokens } from "../../elements/tokens.ts";
import type { Desk } from "../../store/desk.ts";
import { DeskController } from "../../store/desk-controller.ts";
import { figure } from "../../store/display.ts";
import { pageStyles } from "../page-styles.ts";
import { choiceField, numberField } from "../table/forms/fields.ts";
import { type Asked, attempt } from "./asked.ts";
import { assumptionList } from "./assumptions.ts";
import { buildStyles } from "./build-leaf.styles.ts";
import { partNames } from "./part-names.ts";
import { say } from "./say.ts";

const marks = { true: "do", false: "fall short", null: "not described" } as const;

/** What a wished power or displacement would take of injectors, pump and intake. */
@customElement("fw-wish")
export class WishTool extends LitElement {
  static override styles = [elementTokens, pageStyles, buildStyles];

  @property({ attribute: false }) desk!: Desk;
  @property({ attribute: false }) asked!: Asked;
  @state() private kind: "power" | "displacement" = "power";
  @state() private powerKw: number | null = null;
  @state() private displacementCc: number | null = null;

  constructor() {
    super();
    new DeskController(this, () => this.desk);
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
      )}
      ${
        kind === "power"
          ? numberField({
              label: "Power wished, at the crank",
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
    const { asked, desk, kind, powerKw, displacementCc } = this;
    const { settings } = asked;
    if (!settings) return html`<p class="quiet">${asked.nothing}</p>`;
    const wish = kind === "power" ? powerKw !== null && { powerKw } : displacementCc !== null && { displacementCc };
    if (!wish)
      return html`<p class="quiet">Say what is wished for, and what each part would have to give stands here.</p>`;
    const report = attempt(() => whatWouldItTake({ ...settings, wish }));
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
