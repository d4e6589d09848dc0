import * as v from "valibot";
import { createBuild } from "../build/build.ts";
import { type Axis, createAxis } from "../values/axis.ts";
import { FuelwrightError, within } from "../values/errors.ts";
import { cellRows, createTable, type FuelTable } from "../values/fuel-table.ts";
import { say } from "../values/require.ts";
import { createJob, type Job } from "./job.ts";
import { checkShape, finite, identifier, region, shortened } from "./shapes.ts";

/** The version this library writes; older ones are carried forward on reading. */
export const JOB_VERSION = 1;
const FORMAT = "fuelwright-job";
const LONGEST_TEXT = 256 * 1024 * 1024;

const axis = v.strictObject({ quantity: v.string(), unit: v.string(), breakpoints: v.array(finite) });

const tableText = v.strictObject({
  id: identifier,
  name: v.string(),
  quantity: v.string(),
  unit: v.string(),
  rpm: axis,
  load: v.exactOptional(axis),
  cells: v.array(v.array(finite)),
  storage: v.exactOptional(v.strictObject({ min: finite, max: finite, step: finite })),
  cylinder: v.exactOptional(finite),
  locked: v.array(region),
});

const shortText = v.pipe(v.string(), v.maxLength(10_000));

export const jobText = v.strictObject({
  format: v.literal(FORMAT),
  version: v.literal(JOB_VERSION),
  id: identifier,
  name: shortText,
  about: shortText,
  invented: v.boolean(),
  created: shortText,
  build: v.record(v.string(), v.unknown()),
  tables: v.pipe(v.array(tableText), v.maxLength(256)),
  roles: v.strictObject({ target: v.exactOptional(identifier), basePulse: v.exactOptional(identifier) }),
  steps: v.array(v.unknown()),
  named: v.pipe(v.array(v.strictObject({ name: shortText, after: identifier })), v.maxLength(1000)),
  scheme: v.record(v.string(), v.unknown()),
});

/** `migrations[n]` carries a document of version n to n + 1. */
const migrations: Readonly<Record<number, (document: Record<string, unknown>) => Record<string, unknown>>> = {};

/**
 * The job as plain JSON data, in full precision.
 *
 * @see readJob for the way back; `readJob(jobData(job))` equals `job`
 */
export function jobData(job: Job): Record<string, unknown> {
  const { id, name, about, invented, created, build, tables, roles, steps, named, scheme } = job;
  return {
    format: FORMAT,
    version: JOB_VERSION,
    ...{ id, name, about, invented, created, build },
    tables: tables.map(tableData),
    ...{ roles, steps, named, scheme },
  };
}

/** The job as JSON text; a number comes back as the same number. */
export function writeJob(job: Job): string {
  return `${JSON.stringify(jobData(job), null, 1)}\n`;
}

/**
 * The job that a text or plain JSON data describes.
 *
 * Every part is checked before any of it is used; keys that do not belong are refused by name.
 *
 * @throws FuelwrightError `not-a-job`, `future-version`, `bad-job`, or what a part throws, naming the place
 */
export function readJob(source: string | object): Job {
  const document = migrate(typeof source === "string" ? parse(source) : source);
  const { build, steps, scheme, tables, ...rest } = checkShape("job", jobText, document);
  return createJob({
    ...rest,
    tables: tables.map((table, at) => within(`job.tables[${at}]`, () => readTable(table))),
    // Each of these is checked in full by the function that makes it.
    build: createBuild(build as unknown as Parameters<typeof createBuild>[0]),
    steps: steps as Job["steps"],
    scheme: scheme as unknown as Job["scheme"],
  });
}

function parse(text: string): unknown {
  if (text.length > LONGEST_TEXT)
    throw new FuelwrightError(
      "job-too-large",
      `readJob: the text must be at most ${LONGEST_TEXT} characters, got ${text.length}; check that it is a job`,
    );
  try {
    return JSON.parse(text.charCodeAt(0) === 0xfeff ? text.slice(1) : text, refuseProto);
  } catch (error) {
    if (error instanceof FuelwrightError) throw error;
    throw new FuelwrightError(
      "not-a-job",
      `readJob: the text is not whole JSON (${error instanceof Error ? shortened(error.message) : "unreadable"}); ` +
        "it may be cut short or not be a job, save it again where it came from",
    );
  }
}

/** That key sets what an object inherits once it is copied; no job has it, at any depth. */
function refuseProto(key: string, value: unknown): unknown {
  if (key === "__proto__")
    throw new FuelwrightError("bad-job", "readJob: a key __proto__ does not belong in a job; take it out", { key });
  return value;
}

function migrate(document: unknown): unknown {
  if (typeof document !== "object" || document === null || (document as { format?: unknown }).format !== FORMAT)
    throw new FuelwrightError(
      "not-a-job",
      `readJob: format must be ${JSON.stringify(FORMAT)}, got ${say((document as { format?: unknown } | null)?.format)}; ` +
        "choose a file that was saved as a job",
    );
  let current = document as Record<string, unknown>;
  const version = current.version;
  if (typeof version !== "number" || !Number.isInteger(version) || version < 1)
    throw new FuelwrightError(
      "bad-job",
      `readJob: version must be a whole number from 1, got ${say(version)}; check the file`,
    );
  if (version > JOB_VERSION)
    throw new FuelwrightError(
      "future-version",
      `readJob: the job is of version ${version}, this library reads up to version ${JOB_VERSION}; open it with a newer one`,
      { version, known: JOB_VERSION },
    );
  for (let at = version; at < JOB_VERSION; at++) current = migrations[at]!(current);
  return current;
}

/** A table as plain JSON data; rows [load][rpm]. */
export function tableData(table: FuelTable): v.InferInput<typeof tableText> {
  const { id, name, quantity, unit, rpm, load, storage, cylinder, locked } = table;
  return {
    ...{ id, name, quantity, unit, rpm: axisData(rpm) },
    ...(load.quantity !== "single-row" && { load: axisData(load) }),
    cells: cellRows(table),
    ...(storage && { storage }),
    ...(cylinder !== undefined && { cylinder }),
    locked: locked as v.InferInput<typeof tableText>["locked"],
  };
}

const axisData = ({ quantity, unit, breakpoints }: Axis) => ({ quantity, unit, breakpoints: [...breakpoints] });

/** The table that plain JSON data describes. @throws FuelwrightError naming the place */
export function readTable(data: unknown): FuelTable {
  const { rpm, load, quantity, ...rest } = checkShape("table", tableText, data);
  type Spec = Parameters<typeof createTable>[0];
  return createTable({
    ...rest,
    quantity: quantity as Spec["quantity"],
    rpm: createAxis(rpm as Parameters<typeof createAxis>[0]),
    ...(load && { load: createAxis(load as Parameters<typeof createAxis>[0]) }),
  });
}
