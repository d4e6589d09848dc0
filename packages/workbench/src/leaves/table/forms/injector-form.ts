import { html, nothing } from "lit";
import type { Desk } from "../../../store/desk.ts";
import { injectorFields } from "../../injector-fields.ts";
import { checkField, choiceField } from "./fields.ts";
import { injectorOutcome } from "./injector-outcome.ts";
import { defineForm } from "./step-form.ts";

/** Tables that fuel is injected by: all but the mixtures, and the factory's own pulses under an in-line unit. */
const fuelTables = (desk: Desk) =>
  Object.values(desk.shown.tables).filter(
    ({ id, quantity }) => quantity !== "lambda" && quantity !== "factor" && id !== desk.job.roles.basePulse,
  );

export const injectorForm = defineForm({
  kind: "rescale-for-injectors",
  title: "Change the injectors",
  about: "Same fuel in each cell through the new set.",
  group: "parts",
  start(desk) {
    const tables = fuelTables(desk);
    if (tables.length === 0) return "Bring in a fuel table first.";
    const base = desk.job.roles.basePulse;
    const now = desk.shown.build.injectors;
    return {
      settings: {
        tables: tables.map(({ id }) => id),
        to: { ...structuredClone(now), name: "new set" } as never,
        ...(base !== undefined && { basePulse: base }),
      },
    };
  },
  fields({ desk, step, settings, change }) {
    const before = desk.bench.stateBefore(step.id).build;
    const out = before.injectors;
    const all = fuelTables(desk);
    const pulses = Object.values(desk.shown.tables).filter(({ quantity }) => quantity === "pulse-width");
    const trims = settings.tables.some((id) => desk.shown.tables[id]?.quantity === "trim");
    return html`
      <p class="quiet">Out: ${out.name}, ${out.flowGramsPerSecond.toFixed(2)} g/s at ${out.ratedPressureKpa} kPa. Change it on the Build leaf.</p>
      ${injectorFields(desk, settings.to as never, before.fuel, (to) => change({ ...settings, to: to as never }))}
      ${
        trims
          ? choiceField<string>(
              "Factory pulse that is trimmed",
              settings.basePulse ?? "",
              [["", "not known: estimate"], ...pulses.map(({ id, name }) => [id, name] as const)],
              (basePulse) => {
                const { basePulse: _, ...rest } = settings;
                change(basePulse ? { ...rest, basePulse } : rest);
              },
            )
          : nothing
      }
      ${
        all.length > 1
          ? html`<h3>Tables carried over</h3>${all.map(({ id, name }) =>
              checkField(name, settings.tables.includes(id), (on) =>
                change({
                  ...settings,
                  tables: all
                    .map((table) => table.id)
                    .filter((other) => (other === id ? on : settings.tables.includes(other))),
                }),
              ),
            )}`
          : nothing
      }`;
  },
  outcome: ({ desk, report, settings }) => injectorOutcome(desk, report, settings.tables),
});
