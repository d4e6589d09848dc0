import {
  createAxis,
  deadTimeMs,
  fitEvidence,
  readJob,
  readLog,
  replayJob,
  summariseEvidence,
  writeTableText,
} from "../../dist/index.js";
import { choose, figure, tableHelp, tableHints, tableOfText, tableOptions } from "../choose-table.mjs";
import { UsageError } from "../usage-error.mjs";

const help = `fuelwright fit LOG… [--job JOB | --table-file CSV] [--table ID]

What each cell of a table should be multiplied by, from wideband logs of one machine, as CSV of factors. Delay, noise and
warnings are said on standard error. A lean mixture under load destroys engines: look at a correction before you ride on it.

  --job JOB           the table's axes, the target and the dead time are the job's after its steps
  --table-file CSV    the table's axes are those of this file
  --table ID          which table of the job; left out: the first
  --rpm A,B,…         axes without a table: breakpoints of rpm; left out: 1000 to 8000 in steps of 500
  --map A,B,…         and of manifold pressure in kPa; left out: 20 to 100 in steps of 10
  --commanded L       commanded lambda where the logs do not say it
  --gauge-afr R       what a log's air-fuel ratios call lambda 1; left out: 14.7
  --hertz H           rows a second, for logs without a time
${tableHelp}  --json              the whole summary, as a job keeps it
  --out FILE
`;

export const fit = {
  help,
  options: {
    ...tableOptions,
    job: { type: "string" },
    "table-file": { type: "string" },
    rpm: { type: "string" },
    map: { type: "string" },
    commanded: { type: "string" },
    "gauge-afr": { type: "string" },
    hertz: { type: "string" },
  },
  least: 1,
  most: Number.POSITIVE_INFINITY,
  async run({ values, positionals, files, remark, progress }) {
    const plan = await planFit(values, files);
    const reading = {
      ...(values.hertz !== undefined && { hertz: figure("--hertz", values.hertz) }),
      ...(values["gauge-afr"] !== undefined && { gaugeAfr: figure("--gauge-afr", values["gauge-afr"]) }),
    };
    const logs = [];
    for (const path of positionals) logs.push(await readLog(await files.log(path), { name: path, ...reading }));
    const found = await fitEvidence({
      logs,
      ...plan,
      onProgress: ({ phase, done }) => void progress(`${phase} ${done}`),
    });
    progress("");
    const { report, delay } = found;
    const said = ({ value, deviation }) => `${value.toFixed(3)} ± ${deviation.toFixed(3)}`;
    for (const { sensor, total, lag } of delay.sensors)
      remark(`sensor ${sensor}: delay ${said(total)} s at ${delay.reference.rpm} rpm, lag ${said(lag)} s`);
    remark(
      `${report.used} of ${report.readings} readings used, ${Math.round(report.usedSeconds)} s; noise ${said(report.noise)}`,
    );
    for (const { text } of report.warnings) remark(`warning: ${text}`);
    return {
      data: () => summariseEvidence(found),
      text: () => writeTableText(found.corrections, { lineEnd: "\n" }).text,
    };
  },
};

/** What is known of the table and of what was commanded. */
async function planFit(values, files) {
  const { job: jobPath, "table-file": tablePath, table: id } = values;
  if (jobPath !== undefined && tablePath !== undefined) throw new UsageError("give --job or --table-file, not both");
  const said = values.commanded === undefined ? {} : { commanded: figure("--commanded", values.commanded) };
  if (tablePath !== undefined)
    return {
      table: tableOfText(await files.text(tablePath), { id, fileId: id ?? "main", hints: tableHints(values) }),
      ...said,
    };
  if (jobPath === undefined)
    return {
      table: {
        rpm: createAxis({ quantity: "rpm", breakpoints: breakpoints("--rpm", values.rpm) ?? evenly(1000, 8000, 500) }),
        load: createAxis({
          quantity: "manifold-pressure",
          breakpoints: breakpoints("--map", values.map) ?? evenly(20, 100, 10),
        }),
      },
      ...said,
    };
  const job = readJob(await files.text(jobPath));
  const { tables, build } = replayJob(job).state;
  const { target } = job.roles;
  return {
    table: choose(tables, id),
    deadTime: deadTimeOf(build),
    ...(target !== undefined && { commanded: choose(tables, target) }),
    ...said,
  };
}

/** Worked out once for each hundredth of a volt: it is asked for in every row. */
function deadTimeOf({ injectors, rail: { pressureKpa } }) {
  const known = new Map();
  return (volts) => {
    const at = Math.round(100 * Math.min(30, Math.max(5, volts)));
    if (!known.has(at)) known.set(at, deadTimeMs(injectors, { volts: at / 100, pressureKpa }));
    return known.get(at);
  };
}

const evenly = (from, to, step) => Array.from({ length: (to - from) / step + 1 }, (_, at) => from + at * step);
const breakpoints = (option, text) => text?.split(",").map((part) => figure(option, part));
