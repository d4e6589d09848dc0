import { html, nothing } from "lit";
import { figure } from "../../store/display.ts";
import { choiceField } from "../table/forms/fields.ts";
import { type Asking, fuelTables, type When } from "./asked.ts";
import type { BuildContext } from "./context.ts";
import { partNames } from "./part-names.ts";

/** Which part gives out first, and what is asked: the table, and the parts before or after the steps. */
export function askedChoices({ desk, asked }: BuildContext, asking: Asking, redraw: () => void) {
  const tables = fuelTables(asked.state, desk.job.roles.basePulse);
  const { states } = desk.bench.replay;
  const stepped = states[0]!.build !== desk.bench.replay.state.build;
  return html`<div class="asked"><p>${firstWords(asked)}</p>
    ${
      tables.length > 1 && asked.table
        ? choiceField(
            "Asked by",
            asked.table.id,
            tables.map(({ id, name }) => [id, name] as const),
            (id) => {
              asking.table = id;
              redraw();
            },
          )
        : nothing
    }
    ${
      stepped
        ? choiceField<When>(
            "Verdicts on",
            asking.when,
            [
              ["after", "the parts going in"],
              ["before", "the parts as they were"],
            ],
            (when) => {
              asking.when = when;
              redraw();
            },
            "",
            "verdicts-when",
          )
        : nothing
    }
  </div>`;
}

function firstWords({ ceilings }: BuildContext["asked"]) {
  if (!ceilings.ok) return html`<span class="quiet">${ceilings.sentence}</span>`;
  const { first } = ceilings.value;
  if (!first) return html`<span class="quiet">No part is described well enough for a verdict.</span>`;
  const name = partNames[first.part].toLowerCase();
  const hand = first.inHandPercent ?? 0;
  if (first.verdict === "gives-out") return html`First to give out: <strong>${name}</strong>.`;
  return hand >= 0
    ? html`First to give out, if anything: <strong>${name}</strong>, with ${figure(hand, 0)} % in hand.`
    : html`First to give out: <strong>${name}</strong>, ${figure(-hand, 0)} % short of what is common practice.`;
}
