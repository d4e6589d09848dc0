import { FuelwrightError } from "../values/errors.ts";
import { say } from "../values/require.ts";
import type { JobState, Step, StepKind } from "./step.ts";
import type { StepContext, StepDefinition, StepEffect } from "./step-definition.ts";
import { definitions } from "./step-kinds.ts";

const byKind = new Map<string, StepDefinition<string, unknown>>(
  definitions.map((definition) => [definition.kind, definition as unknown as StepDefinition<string, unknown>]),
);

/** Every kind of step there is. */
export const stepKinds: readonly StepKind[] = definitions.map(({ kind }) => kind);

/** The definition of a kind. @throws FuelwrightError `unknown-step-kind`, naming `where` the kind stands */
export function definitionOf(kind: string, where = "applyStep: kind"): StepDefinition<string, unknown> {
  const definition = byKind.get(kind);
  if (!definition)
    throw new FuelwrightError(
      "unknown-step-kind",
      `${where} must be a kind of step, got ${say(kind)}; this version knows ${stepKinds.join(", ")}`,
      { kind, where },
    );
  return definition;
}

/** A context for a step that stands alone: there are no earlier states to look at but the one it meets. */
const alone = (state: JobState): StepContext => ({ stateAt: () => state });

/**
 * The state after one step.
 *
 * @param context - what earlier states there are; left out: every place means `state` itself
 * @throws FuelwrightError when the step does not apply; the state given is never changed
 */
export function applyStep(state: JobState, step: Step, context: StepContext = alone(state)): StepEffect {
  return definitionOf(step.kind).apply(state, step, context);
}
