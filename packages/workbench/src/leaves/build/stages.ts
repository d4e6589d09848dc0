import type { Stage } from "@fuelwright/table-core";
import { html, nothing, type TemplateResult } from "lit";
import type { BuildContext } from "./context.ts";
import { stageFields } from "./stage-fields.ts";

/** Sets of parts considered beside the build: compared in one table, added, changed and taken out under it. */
export function stagesSheet(
  context: BuildContext,
  open: number | null,
  toggle: (at: number | null) => void,
  comparison: () => TemplateResult,
) {
  const { editor } = context;
  const stages = editor.build.stages ?? [];
  const put = (next: readonly Stage[], what: string) =>
    next.length > 0 ? editor.putParts({ stages: next }, what) : editor.drop("stages", what);
  return html`<section class="sheet across" aria-label="Stages"><h2>Stages</h2>
    <p class="quiet">Sets of parts that are considered. A stage says only what differs from the build; its demand is a first guess.</p>
    ${stages.length > 0 ? comparison() : nothing}
    ${stages.map((stage, at) => {
      const shown = open === at;
      return html`<div class="stage"><div class="line">
          <h3 class="first"><button class="opens" aria-expanded=${shown} @click=${() => toggle(shown ? null : at)}>${stage.name}</button></h3>
          <button class="word" aria-label="Take out ${stage.name}" @click=${() => {
            toggle(null);
            put(stages.toSpliced(at, 1), `the stages: ${stage.name} taken out`);
          }}>take out</button></div>
        ${shown ? html`<div class="body">${stageFields(context, at, stage, (next) => put(stages.with(at, next), `the stage ${stage.name}`))}</div>` : nothing}</div>`;
    })}
    ${editor.sentence("stages")}
    <div class="do"><button @click=${() => {
      put([...stages, { name: freshName(stages) }], "the stages: one more");
      toggle(stages.length);
    }}>Add a stage</button></div>
  </section>`;
}

/** A name that no stage has. */
function freshName(stages: readonly Stage[]): string {
  let number = stages.length + 1;
  while (stages.some(({ name }) => name === `stage ${number}`)) number++;
  return `stage ${number}`;
}
