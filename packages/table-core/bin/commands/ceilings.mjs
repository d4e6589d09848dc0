import { checkCeilings, readJob } from "../../dist/index.js";

const help = `fuelwright ceilings JOB [--table ID]

Which cells of a job's table pass what the parts can give after all steps, and which part gives out first.

  --table ID          left out: the first that meters fuel
  --json, --out FILE
`;

export const ceilings = {
  help,
  options: { table: { type: "string" } },
  least: 1,
  most: 1,
  async run({ values, positionals: [path], files }) {
    const job = readJob(await files.text(path));
    const report = checkCeilings(job, values.table === undefined ? {} : { table: values.table });
    const { parts, ceilings: met, first, leaner } = report;
    const list = (numbers) => (numbers === null ? null : Array.from(numbers, orNull));
    return {
      data: () => ({
        parts: parts.map(({ share, ...part }) => ({ ...part, share: list(share) })),
        ceilings: met,
        first: first?.part ?? null,
        leaner,
        deliveredMg: list(report.deliveredMg),
        deliveredLambda: list(report.deliveredLambda),
        railDropKpa: list(report.railDropKpa),
      }),
      text: () =>
        `${[
          ...parts.map(({ part, verdict, sentence }) => `${part}: ${verdict}. ${sentence}`),
          ...met.map(({ sentence, cells }) => `${cells.length} ${cells.length === 1 ? "cell" : "cells"}: ${sentence}`),
          `first to give out: ${first ? first.part : "no part is described"}`,
          ...(leaner.length > 0
            ? [`${leaner.length} cells get a leaner mixture than asked. Lean under load destroys engines.`]
            : []),
          ...new Set(parts.flatMap(({ assumptions }) => assumptions.map(({ text }) => `assumed: ${text}`))),
        ].join("\n")}\n`,
    };
  },
};

/** JSON has no infinity. */
const orNull = (value) => (Number.isFinite(value) ? value : null);
