import { html } from "lit";
import { customElement, property } from "lit/decorators.js";
import { live } from "lit/directives/live.js";
import type { HelpId } from "../leaves/field-help.ts";
import { helpOn } from "../leaves/help-on.ts";
import { PageDialog } from "../leaves/page-dialog.ts";
import type { Desk } from "../store/desk.ts";
import { DeskController } from "../store/desk-controller.ts";
import type { Preferences } from "../store/preferences.ts";

type Choice<K extends keyof Preferences> = readonly (readonly [Preferences[K], string])[];

/** How this person likes to see things, on this machine. */
@customElement("fw-preferences-dialog")
export class PreferencesDialog extends PageDialog {
  protected override heading = "Units and view";
  @property({ attribute: false }) override desk!: Desk;

  constructor() {
    super();
    new DeskController(this, () => this.desk);
  }

  protected override content() {
    return html`
      ${this.choice("units", "Units", "units-shown", [
        ["metric", "metric: kPa, g/s, °C"],
        ["imperial", "imperial: psi, lb/h, °F"],
      ])}
      ${this.choice("mixture", "Mixture is said as", "mixture-said", [
        ["lambda", "lambda"],
        ["afr", "air–fuel ratio of the job's fuel"],
        ["equivalence", "equivalence ratio"],
      ])}
      ${this.choice("theme", "Light or dark", "theme", [
        ["system", "as the machine has it"],
        ["light", "light"],
        ["dark", "dark"],
      ])}
      ${this.choice("density", "Grid", "grid-density", [
        ["comfortable", "comfortable"],
        ["compact", "compact"],
      ])}
      ${this.choice("shading", "Cells are shaded by", "cell-shading", [
        ["change", "their change"],
        ["value", "their value, in one ink"],
        ["none", "nothing"],
      ])}
      <label class="check"><input type="checkbox" .checked=${this.desk.preferences.flipLoad}
        @change=${(event: Event) => this.desk.prefer({ flipLoad: checked(event) })} />Load runs downward</label>
      <label class="check"><input type="checkbox" .checked=${this.desk.preferences.flipRpm}
        @change=${(event: Event) => this.desk.prefer({ flipRpm: checked(event) })} />Rpm runs to the left</label>
      <p class="quiet">Kept on this machine; the job stays as it is.</p>
    `;
  }

  private choice<K extends keyof Preferences>(key: K, label: string, help: HelpId, choices: Choice<K>) {
    const now = this.desk.preferences[key];
    return html`<div class="row"><span class="named">${label} ${helpOn(help, label)}</span>
      <select aria-label=${label} @change=${(event: Event) => this.pick(key, choices, (event.target as HTMLSelectElement).selectedIndex)}>
        ${choices.map(([value, words]) => html`<option .selected=${live(value === now)}>${words}</option>`)}
      </select></div>`;
  }

  private pick<K extends keyof Preferences>(key: K, choices: Choice<K>, at: number) {
    this.desk.prefer({ [key]: choices[at]![0], ...(key === "units" && { shownUnits: {} }) });
  }
}

const checked = (event: Event) => (event.target as HTMLInputElement).checked;
