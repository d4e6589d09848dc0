import * as v from "valibot";
import { FuelwrightError } from "../values/errors.ts";
import { definitionOf } from "./apply-step.ts";
import { checkShape, identifier } from "./shapes.ts";
import type { Step } from "./step.ts";

export const envelope = v.strictObject({
  id: identifier,
  kind: v.pipe(v.string(), v.maxLength(60)),
  table: v.exactOptional(identifier),
  settings: v.record(v.string(), v.unknown()),
  on: v.boolean(),
  note: v.pipe(v.string(), v.maxLength(10_000)),
  time: v.pipe(v.string(), v.maxLength(40)),
});

export const MOST_STEPS = 10_000;

/**
 * Steps read from outside, each checked by its kind's own shape and frozen.
 *
 * @throws FuelwrightError `bad-job` or `unknown-step-kind`, naming the place (`steps[3].settings.factor`)
 */
export function checkSteps(steps: unknown, where = "job.steps"): readonly Step[] {
  if (!Array.isArray(steps) || steps.length > MOST_STEPS)
    throw new FuelwrightError("bad-job", `${where} must be a list of at most ${MOST_STEPS} steps; check the file`, {
      where,
    });
  return Object.freeze(steps.map((step, at) => (isChecked(step) ? step : checkStep(step, `${where}[${at}]`))));
}

const checked = new WeakSet<object>();
const isChecked = (step: unknown): step is Step => typeof step === "object" && step !== null && checked.has(step);

/** One step, checked by its kind's own shape and frozen. */
export function checkStep(step: unknown, where = "step"): Step {
  const outer = checkShape(where, envelope, step);
  const settings = checkShape(`${where}.settings`, definitionOf(outer.kind, `${where}.kind`).schema, outer.settings);
  const whole = deepFreeze({ ...outer, settings }) as Step;
  checked.add(whole);
  return whole;
}

function deepFreeze<T>(value: T): T {
  if (typeof value === "object" && value !== null && !Object.isFrozen(value)) {
    for (const part of Object.values(value)) deepFreeze(part);
    Object.freeze(value);
  }
  return value;
}
