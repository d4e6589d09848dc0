import type {
  Build,
  ColourScheme,
  FuelTable,
  Job,
  NamedState,
  Step,
  Storage,
  TableRoles,
} from "@fuelwright/table-core";
import { checkStep, createJob, createStorage, FuelwrightError, type JobSpec } from "@fuelwright/table-core";

/** A change to the job as a value: what it is called when it is undone, and the function that makes it. */
export interface Command {
  readonly label: string;
  readonly change: (job: Job) => Job;
}

const remake = (job: Job, parts: Partial<JobSpec>): Job => createJob({ ...job, ...parts });

const withSteps = (job: Job, steps: readonly Step[]): Job => remake(job, { steps });

/** An id that no step of the job has. */
export function freshStepId(job: Job): string {
  const taken = new Set(job.steps.map(({ id }) => id));
  let number = job.steps.length + 1;
  while (taken.has(`s${number}`)) number++;
  return `s${number}`;
}

/** A step of today, checked; `settings` in the library's own units. */
export function makeStep<K extends Step["kind"]>(
  job: Job,
  kind: K,
  table: string | undefined,
  settings: Extract<Step, { kind: K }>["settings"],
  note = "",
): Step {
  return checkStep({
    id: freshStepId(job),
    kind,
    ...(table !== undefined && { table }),
    settings,
    on: true,
    note,
    time: new Date().toISOString(),
  });
}

/** Puts the step in after the step `after`, or at the end. */
export const addStep = (step: Step, label: string, after?: string): Command => ({
  label,
  change: (job) => {
    const at = after === undefined ? job.steps.length : after === "source" ? 0 : placeOf(job, after) + 1;
    return withSteps(job, job.steps.toSpliced(at, 0, step));
  },
});

/** Puts a changed step in the place of the one of the same id. */
export const changeStep = (step: Step, label: string): Command => ({
  label,
  change: (job) => withSteps(job, job.steps.with(placeOf(job, step.id), checkStep(step))),
});

export const switchStep = (id: string, on: boolean, name: string): Command => ({
  label: `${on ? "Switch on" : "Switch off"} ${name}`,
  change: (job) => amend(job, id, { on }),
});

export const annotateStep = (id: string, note: string, name: string): Command => ({
  label: `Note on ${name}`,
  change: (job) => amend(job, id, { note }),
});

export const deleteStep = (id: string, name: string): Command => ({
  label: `Delete ${name}`,
  change: (job) => {
    const at = placeOf(job, id);
    const before = job.steps[at - 1]?.id ?? "source";
    return remake(job, {
      steps: job.steps.toSpliced(at, 1),
      // A named state that stood after the step now stands where it was.
      named: job.named.map((state) => (state.after === id ? { ...state, after: before } : state)),
    });
  },
});

/** Moves a step so that it stands at place `to` (0 is first). */
export const moveStep = (id: string, to: number, name: string): Command => ({
  label: `Move ${name}`,
  change: (job) => {
    const at = placeOf(job, id);
    return withSteps(job, job.steps.toSpliced(at, 1).toSpliced(to, 0, job.steps[at]!));
  },
});

export const nameState = (name: string, after: string): Command => ({
  label: `Name a state ${name}`,
  change: (job) => {
    const state: NamedState = { name, after };
    return remake(job, { named: [...job.named.filter((other) => other.name !== name), state] });
  },
});

export const forgetNamedState = (name: string): Command => ({
  label: `Forget the name ${name}`,
  change: (job) => remake(job, { named: job.named.filter((state) => state.name !== name) }),
});

/** Adds a table, or puts it in the place of the one of the same id; steps stay and are done again on it. */
export const bringInTable = (table: FuelTable, roles: TableRoles = {}): Command => ({
  label: `Bring in ${table.name}`,
  change: (job) => {
    const at = job.tables.findIndex(({ id }) => id === table.id);
    const tables = at < 0 ? [...job.tables, table] : job.tables.with(at, table);
    return remake(job, { tables, roles: { ...job.roles, ...roles } });
  },
});

export const takeOutTable = (id: string, name: string): Command => ({
  label: `Take out ${name}`,
  change: (job) => remake(job, { tables: job.tables.filter((table) => table.id !== id) }),
});

/** Says what the controller can store of a table that was brought in; null: nothing is said. */
export const changeStorage = ({ id, name }: Pick<FuelTable, "id" | "name">, storage: Storage | null): Command => ({
  label: `Change the storage of ${name}`,
  change: (job) => {
    const given = storage && createStorage("storage", storage);
    const tables = job.tables.map((table) => {
      if (table.id !== id) return table;
      const { storage: _, ...rest } = table;
      return Object.freeze({ ...rest, ...(given && { storage: given }) });
    });
    return remake(job, { tables });
  },
});

export const changeBuild = (build: Build, what: string): Command => ({
  label: `Change ${what}`,
  change: (job) => remake(job, { build }),
});

export const changeScheme = (scheme: ColourScheme): Command => ({
  label: `Colours: ${scheme.name}`,
  change: (job) => remake(job, { scheme }),
});

export const changeRoles = (roles: TableRoles): Command => ({
  label: "Change what a table is for",
  change: (job) => remake(job, { roles }),
});

export const renameJob = (name: string, about: string): Command => ({
  label: `Rename the job to ${name}`,
  change: (job) => remake(job, { name, about }),
});

/** A job of its own with the steps up to and with `after`. */
export function branchJob(job: Job, after: string, id: string): Job {
  const count = after === "source" ? 0 : placeOf(job, after) + 1;
  const steps = job.steps.slice(0, count);
  const places = new Set(["source", ...steps.map((step) => step.id)]);
  return remake(job, {
    id,
    name: `${job.name}, branch`.slice(0, 200),
    created: new Date().toISOString(),
    steps,
    named: job.named.filter((state) => places.has(state.after)),
  });
}

function amend(job: Job, id: string, part: Partial<Pick<Step, "on" | "note">>): Job {
  const at = placeOf(job, id);
  return withSteps(job, job.steps.with(at, checkStep({ ...job.steps[at]!, ...part })));
}

function placeOf(job: Job, id: string): number {
  const at = job.steps.findIndex((step) => step.id === id);
  if (at < 0)
    throw new FuelwrightError(
      "no-such-step",
      `step ${JSON.stringify(id)} is not in the job; it may have been deleted`,
      {
        id,
      },
    );
  return at;
}
