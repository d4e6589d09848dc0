import {
  checkSteps,
  createJob,
  FuelwrightError,
  readJob,
  replayJob,
  tableData,
  writeTableText,
} from "../../dist/index.js";
import { choose, tableHelp, tableHints, tableOfText, tableOptions } from "../choose-table.mjs";
import { UsageError } from "../usage-error.mjs";

const help = `fuelwright replay JOB [--table ID] [--steps FILE] [--table-file CSV]
fuelwright replay --steps FILE --table-file CSV [--table ID]

A table after all steps, as CSV. What a step was passed over for is said on standard error.

  --table ID          which table; left out: the first
  --steps FILE        a JSON list of steps to carry out in place of the job's
  --table-file CSV    a table to work on in place of the job's of that id; without a job it has the id "main"
  --strict            a step that does not apply is a refusal
  --stored            round to what the controller stores, where the table says it
${tableHelp}  --json              the table, and what became of each step
  --out FILE
`;

export const replay = {
  help,
  options: {
    ...tableOptions,
    steps: { type: "string" },
    "table-file": { type: "string" },
    strict: { type: "boolean" },
    stored: { type: "boolean" },
  },
  least: 0,
  most: 1,
  async run({ values, positionals: [path], files, remark }) {
    const { table: id, steps: stepsPath, "table-file": tablePath } = values;
    if (path === undefined && (stepsPath === undefined || tablePath === undefined))
      throw new UsageError("without a job, --steps and --table-file must both be given");
    const given = path === undefined ? null : readJob(await files.text(path));
    const steps = stepsPath === undefined ? given.steps : checkSteps(readJson(await files.text(stepsPath)), "steps");
    let tables = given?.tables ?? [];
    if (tablePath !== undefined) {
      const fileId = id ?? tables[0]?.id ?? "main";
      const own = tableOfText(await files.text(tablePath), { id, fileId, hints: tableHints(values) });
      tables = tables.some((table) => table.id === own.id)
        ? tables.map((table) => (table.id === own.id ? own : table))
        : [...tables, own];
    }
    const job = given ? createJob({ ...given, tables, steps }) : { tables, steps, build: noBuild };
    const { state, outcomes } = replayJob(job);
    const told = outcomes.map(({ id: step, status, reason }, at) => ({
      ...{ id: step, kind: steps[at].kind, status },
      ...(reason && { code: reason.code, reason: reason.message }),
    }));
    for (const { id: step, kind, status, reason } of told) {
      if (status !== "passed-over") continue;
      if (values.strict)
        throw new FuelwrightError("passed-over", `fuelwright: step ${step} (${kind}) does not apply: ${reason}`);
      remark(`step ${step} (${kind}) was passed over: ${reason}`);
    }
    const table = choose(state.tables, id);
    return {
      data: () => ({ table: tableData(table), steps: told }),
      text: () => {
        const { text, rounding } = writeTableText(table, {
          lineEnd: "\n",
          ...(values.stored && table.storage && { storage: table.storage }),
        });
        if (rounding)
          remark(`rounded to ${table.storage.step} ${table.unit}, root mean square ${rounding.rootMeanSquare}`);
        return text;
      },
    };
  },
};

function readJson(text) {
  try {
    return JSON.parse(text);
  } catch (error) {
    throw new FuelwrightError(
      "bad-steps",
      `fuelwright: the list of steps is not whole JSON (${error.message.replace(/\s+/g, " ")}); check the file`,
    );
  }
}

/** Stands where no job says the parts: a step that asks for any of them is refused, and not carried out with made-up ones. */
const refuse = () => {
  throw new FuelwrightError(
    "no-build",
    "fuelwright: this step needs the engine and its parts, got none; give the job that says them",
  );
};
const noBuild = new Proxy({}, { get: refuse, ownKeys: refuse, has: refuse });
