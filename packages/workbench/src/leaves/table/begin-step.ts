import type { StepKind } from "@fuelwright/table-core";
import { makeStep } from "../../store/commands.ts";
import type { Desk } from "../../store/desk.ts";
import type { StepForm } from "./forms/step-form.ts";

/**
 * Starts a step of that form at the end of the job, as a preview; where it can't be started, why is told.
 *
 * @param settings - what it starts with in the place of the form's own settings
 * @returns whether it was started
 */
export async function beginStep(desk: Desk, form: StepForm<StepKind>, settings: object = {}): Promise<boolean> {
  await form.prepare?.();
  const start = form.start(desk);
  if (typeof start === "string") {
    desk.say(start, "refused");
    return false;
  }
  return desk.attempt(() => {
    const given = { ...start.settings, ...settings } as never;
    desk.bench.preview(makeStep(desk.job, form.kind, start.table, given));
    if (start.table !== undefined) desk.look({ table: start.table });
  });
}
