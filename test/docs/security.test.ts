import { readFileSync } from "node:fs";
import {
  checkExpression,
  createAxis,
  createJob,
  jobData,
  readJob,
  readLog,
  readTableText,
} from "@fuelwright/table-core";
import { expect, test } from "vitest";
import { inventedBuild } from "../../packages/table-core/testing/jobs.ts";
import { schemeFromJson } from "../../packages/workbench/src/colour/scheme-json.ts";

const document = readFileSync(new URL("../../SECURITY.md", import.meta.url), "utf8");

/** The bounds that are promised: what, and how much of it. */
const promised = [...document.matchAll(/^ *\| ([^|]+) \| ([\d,]+)[^|]* \|$/gm)].map(
  ([, what, most]) => [what!, Number(most!.replaceAll(",", ""))] as const,
);

const emptyJob = jobData(createJob({ name: "invented", build: inventedBuild }));

/** Reads something that is so large; it may be refused for what else is wrong with it. */
const readers: Readonly<Record<string, (size: number) => unknown>> = {
  "text of a table": (size) =>
    readTableText("rpm\\kPa,1000,3000\n30,2,3\n60,4,5".padEnd(size, "\n"), { id: "main", quantity: "pulse-width" }),
  "breakpoints of an axis": (size) => createAxis({ quantity: "rpm", breakpoints: [...Array(size).keys()] }),
  "text of a job": (size) => readJob("{}".padEnd(size)),
  "steps of a job": (size) => readJob({ ...emptyJob, steps: Array(size).fill(0) }),
  "text of a colour scheme": (size) => schemeFromJson("{}".padEnd(size)),
  "an expression": (size) => {
    const fault = checkExpression("cell".padEnd(size));
    if (fault) throw new Error(fault.message);
  },
  "a line of a log": async (size) => {
    const head = "time,rpm\n".concat("0,0\n".repeat(20_000));
    const log = await readLog(async function* () {
      yield new TextEncoder().encode(head);
      for (let left = size; left > 0; left -= 1 << 20) yield new Uint8Array(Math.min(left, 1 << 20)).fill(0x20);
    });
    for await (const _ of log.open());
  },
};
/** How each says that something is too large. */
const tooLarge = /at most|can have 500 characters|longer than 16 MB/;

const answer = async (work: () => unknown): Promise<string> => {
  try {
    await work();
    return "taken";
  } catch (error) {
    return (error as Error).message;
  }
};

test("SECURITY.md tells a bound of everything that is tried here", () => {
  expect(promised.map(([what]) => what).sort()).toEqual(Object.keys(readers).sort());
});

test.each(promised)("%s: the bound is %i, no less and no more", async (what, most) => {
  const read = readers[what]!;
  expect(await answer(() => read(most))).not.toMatch(tooLarge);
  expect(await answer(() => read(most + 1))).toMatch(tooLarge);
});
