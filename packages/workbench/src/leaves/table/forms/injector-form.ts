import { html, nothing } from "lit";
import { injectorFields } from "../../injector-fields.ts";
import { carriedFields, fuelTables } from "./carried-fields.ts";
import { checkField } from "./fields.ts";
import { injectorOutcome } from "./injector-outcome.ts";
import { defineForm } from "./step-form.ts";

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
    const { status, reason } = desk.bench.draft!.outcome;
    const code = reason?.code;
    return html`
      <p class="quiet">Out: ${out.name}, ${out.flowGramsPerSecond.toFixed(2)} g/s at ${out.ratedPressureKpa} kPa. Change it on the Build leaf.</p>
      ${injectorFields(desk, settings.to as never, before.fuel, (to) => change({ ...settings, to: to as never }))}
      ${carriedFields(desk, settings, ({ tables, basePulse }) => {
        const { basePulse: _, ...rest } = settings;
        change({ ...rest, tables, ...(basePulse !== undefined && { basePulse }) });
      })}
      ${
        status === "passed-over" && code === "pulse-under-dead-time"
          ? checkField("Carry over cells that deliver nothing as they are (a fuel cut)", false, () =>
              change({ ...settings, closedCells: "keep" }),
            )
          : nothing
      }`;
  },
  outcome: ({ desk, report, settings }) => injectorOutcome(desk, report, settings.tables),
});
