import { FuelwrightError } from "../values/errors.ts";
import { applyStep } from "./apply-step.ts";
import type { Job } from "./job.ts";
import type { JobState, Step } from "./step.ts";
import type { StepContext } from "./step-definition.ts";

/** What became of one step. */
export interface StepOutcome {
  readonly id: string;
  /** `passed-over`: it does not apply to the state it met, for the reason given; later steps went on without it. */
  readonly status: "applied" | "off" | "passed-over";
  readonly reason?: FuelwrightError;
  /** What the operation has to say about it; worked out when it is read. */
  readonly report?: unknown;
}

/** A job with all its steps carried out. */
export interface Replay {
  readonly job: Job;
  /** `states[0]` is before all steps, `states[n]` after the n-th. */
  readonly states: readonly JobState[];
  readonly outcomes: readonly StepOutcome[];
  /** The last of `states`. */
  readonly state: JobState;
}

/**
 * Carries out the steps of a job in order, from its source tables.
 *
 * A step that is off or no longer applies is passed over with its reason; the rest goes on. Given the `previous` replay
 * of an earlier form of the job, steps before the first difference (by identity) are not done again.
 *
 * @returns every state in between, sharing what did not change; O(steps · cells)
 */
export function replayJob(job: Job, { previous }: { readonly previous?: Replay } = {}): Replay {
  const same = previous?.job.build === job.build && previous.job.tables === job.tables ? previous : undefined;
  const states: JobState[] = [same?.states[0] ?? sourceState(job)];
  const outcomes: StepOutcome[] = [];
  let kept = 0;
  while (same && kept < job.steps.length && same.job.steps[kept] === job.steps[kept]) {
    states.push(same.states[kept + 1]!);
    outcomes.push(same.outcomes[kept]!);
    kept++;
  }
  const places = new Map<string, number>([["source", 0]]);
  job.steps.forEach((step, at) => {
    if (at < kept) places.set(step.id, at + 1);
  });
  const context: StepContext = {
    stateAt(place) {
      const at = places.get(place);
      if (at === undefined)
        throw new FuelwrightError(
          "no-such-state",
          `replayJob: ${JSON.stringify(place)} is not an earlier step; choose an earlier step, or "source"`,
          { place },
        );
      return states[at]!;
    },
  };
  for (const step of job.steps.slice(kept)) {
    const { state, outcome } = carryOut(states.at(-1)!, step, context);
    states.push(state);
    outcomes.push(outcome);
    places.set(step.id, states.length - 1);
  }
  return Object.freeze({ job, states, outcomes, state: states.at(-1)! });
}

/** The state before all steps. */
export function sourceState(job: Pick<Job, "tables" | "build">): JobState {
  return Object.freeze({
    tables: Object.freeze(Object.fromEntries(job.tables.map((table) => [table.id, table]))),
    build: job.build,
  });
}

function carryOut(state: JobState, step: Step, context: StepContext): { state: JobState; outcome: StepOutcome } {
  if (!step.on) return { state, outcome: { id: step.id, status: "off" } };
  try {
    const effect = applyStep(state, step, context);
    const outcome: StepOutcome = {
      id: step.id,
      status: "applied",
      get report() {
        return effect.report;
      },
    };
    return { state: effect.state, outcome };
  } catch (reason) {
    if (!(reason instanceof FuelwrightError)) throw reason;
    return { state, outcome: { id: step.id, status: "passed-over", reason } };
  }
}
