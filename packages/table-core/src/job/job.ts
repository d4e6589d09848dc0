import type { Build } from "../build/build.ts";
import { createBuild } from "../build/build.ts";
import { FuelwrightError } from "../values/errors.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import { requireText } from "../values/require.ts";
import { type ColourScheme, createColourScheme, defaultScheme } from "./colour-scheme.ts";
import type { Step } from "./step.ts";
import { checkSteps } from "./step-schema.ts";

/** Which table of the job serves as what, by id. */
export interface TableRoles {
  /** The lambda table that fuel tables are carried to, and that volumetric efficiencies are read with. */
  readonly target?: string;
  /** The factory's pulse widths that an in-line unit trims. */
  readonly basePulse?: string;
}

/** A state of the job that was given a name, to come back to and to compare with. */
export interface NamedState {
  readonly name: string;
  /** The id of the step after which it stands; `source` before all steps. */
  readonly after: string;
}

/**
 * The whole document: what the build is, the tables as they were brought in, and what was done to them, in order.
 *
 * Plain values all the way down; `writeJob` makes text of it and `readJob` a job of the text.
 */
export interface Job {
  readonly id: string;
  readonly name: string;
  readonly about: string;
  /** Whether its figures are invented, as a demo's are. */
  readonly invented: boolean;
  readonly created: string;
  readonly build: Build;
  readonly tables: readonly FuelTable[];
  readonly roles: TableRoles;
  readonly steps: readonly Step[];
  readonly named: readonly NamedState[];
  readonly scheme: ColourScheme;
}

/** What {@link createJob} takes; all but the name and the build may be left out. */
export type JobSpec = Pick<Job, "name" | "build"> & Partial<Job>;

/**
 * A checked job, frozen.
 *
 * @example createJob({ name: "Sidecar twin", build: createBuild({…}), tables: [front] })
 * @throws FuelwrightError `bad-job`, `repeated-id`, `no-such-table`, or what a part of it throws, naming the place
 */
export function createJob(spec: JobSpec): Job {
  // Frozen lists and checked parts are taken over as they are: replay tells by identity what did not change.
  const given = spec.tables ?? [];
  const tables = Object.isFrozen(given) ? given : Object.freeze([...given]);
  requireDistinct(
    "job.tables",
    tables.map(({ id }) => id),
  );
  const steps = checkSteps(spec.steps ?? []);
  requireDistinct(
    "job.steps",
    steps.map(({ id }) => id),
  );
  const name = requireText("job.name", spec.name);
  return Object.freeze({
    id: requireText("job.id", spec.id ?? "job", 100),
    name,
    about: spec.about ?? "",
    invented: spec.invented ?? false,
    created: spec.created ?? new Date().toISOString(),
    build: once(createBuild, spec.build),
    tables,
    roles: checkRoles(spec.roles ?? {}),
    steps,
    named: Object.freeze((spec.named ?? []).map((state) => Object.freeze({ ...state }))),
    scheme: once((scheme) => createColourScheme(scheme, "job.scheme"), spec.scheme ?? defaultScheme),
  });
}

const checked = new WeakSet<object>();

/** A part that was checked before is taken over as it is. */
function once<T extends object>(check: (part: T) => T, part: T): T {
  if (checked.has(part)) return part;
  const result = check(part);
  checked.add(result);
  return result;
}

/** Roles may name a table that a step makes, or that was taken out: that is told where the table is needed. */
function checkRoles({ target, basePulse }: TableRoles): TableRoles {
  return Object.freeze({
    ...(target !== undefined && { target: requireText("job.roles.target", target, 100) }),
    ...(basePulse !== undefined && { basePulse: requireText("job.roles.basePulse", basePulse, 100) }),
  });
}

function requireDistinct(where: string, ids: readonly string[]): void {
  const repeated = ids.find((id, at) => ids.indexOf(id) !== at);
  if (repeated !== undefined)
    throw new FuelwrightError(
      "repeated-id",
      `${where} must have an id of its own each, got ${JSON.stringify(repeated)} twice; rename one`,
      { where, id: repeated },
    );
}
