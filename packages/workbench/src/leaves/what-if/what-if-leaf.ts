import { html, LitElement, nothing } from "lit";
import { customElement, property } from "lit/decorators.js";
import { elementTokens } from "../../elements/tokens.ts";
import type { Desk } from "../../store/desk.ts";
import { DeskController } from "../../store/desk-controller.ts";
import { pageStyles } from "../page-styles.ts";
import { injectorView } from "./injector-view.ts";
import { movingView } from "./moving-view.ts";
import { questionsView } from "./questions-view.ts";
import { steadyView } from "./steady-view.ts";
import { temperatureView } from "./temperature-view.ts";
import { type Experiment, experiments, keepTrial, type Scene, sceneOf, trialOf } from "./trial.ts";
import { whatIfStyles } from "./what-if.styles.ts";

const views: Readonly<Record<Experiment, { readonly name: string; readonly view: (scene: Scene) => unknown }>> = {
  steady: { name: "Steady", view: steadyView },
  moving: { name: "Moving", view: movingView },
  temperature: { name: "Cold and hot", view: temperatureView },
  injector: { name: "Too small an injector", view: injectorView },
  questions: { name: "Questions", view: questionsView },
};

/**
 * The place for trying out what enrichment does: with the tables and parts of the job, and without changing any of them.
 *
 * Every figure comes from the library; what is set here lasts as long as the page.
 */
@customElement("fw-what-if-leaf")
export class WhatIfLeaf extends LitElement {
  static override styles = [elementTokens, pageStyles, whatIfStyles];
  @property({ attribute: false }) desk!: Desk;

  constructor() {
    super();
    new DeskController(this, () => this.desk);
  }

  protected override render() {
    const trial = trialOf(this.desk);
    const scene = sceneOf(this.desk, trial, (part) => {
      keepTrial(this.desk, { ...trialOf(this.desk), ...part });
      this.requestUpdate();
    });
    return html`
      <nav class="experiments" aria-label="Experiments">
        ${experiments.map(
          (experiment) =>
            html`<button aria-current=${experiment === trial.experiment ? "true" : nothing}
              @click=${() => scene.change({ experiment })}>${views[experiment].name}</button>`,
        )}
      </nav>
      ${views[trial.experiment].view(scene)}
      <p class="quiet foot">Models, to learn from: nothing here changes the job, and no figure here is a measurement. A lean mixture
        under load detonates and destroys engines; set one only with a wideband, on a dyno or with a passenger who reads it.</p>
    `;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "fw-what-if-leaf": WhatIfLeaf;
  }
}
