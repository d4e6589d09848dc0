import type { Build } from "../build/build.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import type { StepDefinition } from "./step-definition.ts";
import type { definitions } from "./step-kinds.ts";

type Definition = (typeof definitions)[number];

/** What every step carries beside its kind and settings. */
interface StepEnvelope {
  readonly id: string;
  /** The table it changes; left out where the settings name the tables or the step is about the build. */
  readonly table?: string;
  /** A step that is off is passed over, and kept. */
  readonly on: boolean;
  readonly note: string;
  /** When it was made, ISO 8601. */
  readonly time: string;
}

/** Plain data that nobody writes to, all the way down. */
type DeepReadonly<T> = T extends object ? { readonly [K in keyof T]: DeepReadonly<T[K]> } : T;

type StepOf<D> =
  D extends StepDefinition<infer K, infer S>
    ? StepEnvelope & { readonly kind: K; readonly settings: DeepReadonly<S> }
    : never;

/**
 * One recorded change: JSON values only, in the library's own units.
 *
 * `kind` says which operation, `settings` what it is given ({@link SettingsOf}), `table` the id of the table it changes
 * (left out where the settings name tables, or where it is about the build). `id` is the step's own; `on: false` passes it
 * over; `note` is the user's, `time` when it was made, ISO 8601. {@link createJob} and {@link checkSteps} check all of it.
 */
export type Step = StepOf<Definition>;
/** The kinds of step, each named after its operation: `scale-cells` calls {@link scaleCells}. All of them: {@link stepKinds}. */
export type StepKind = Step["kind"];
/** The settings of one kind of step, as plain JSON. */
export type SettingsOf<K extends StepKind> = Extract<Step, { kind: K }>["settings"];

/** The values that steps work on: all tables by id, and the build. */
export interface JobState {
  readonly tables: Readonly<Record<string, FuelTable>>;
  readonly build: Build;
}
