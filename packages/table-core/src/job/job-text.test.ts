import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { inventedBuild, jobs } from "../../testing/jobs.ts";
import { FuelwrightError } from "../values/errors.ts";
import { createJob } from "./job.ts";
import { jobData, readJob, writeJob } from "./job-text.ts";
import { replayJob } from "./replay-job.ts";

const plain = createJob({ id: "j", name: "invented", created: "2026-01-05T09:00:00.000Z", build: inventedBuild });
const refusal = (source: unknown) => {
  try {
    readJob(source as string);
  } catch (error) {
    if (error instanceof FuelwrightError) return error;
    throw error;
  }
  throw new Error("it was read");
};
const changed = (part: Record<string, unknown>) => ({ ...(jobData(plain) as object), ...part });

test("a job survives being written and read, and replays to the same tables", () => {
  fc.assert(
    fc.property(jobs(), (job) => {
      const back = readJob(writeJob(job));
      expect(back).toEqual(job);
      expect(replayJob(back).state.tables.t!.cells).toEqual(replayJob(job).state.tables.t!.cells);
      expect(writeJob(back)).toBe(writeJob(job));
    }),
    { numRuns: 300 },
  );
});

test("a minus zero in the build comes back as the zero it was taken for", () => {
  const { fuel, place } = inventedBuild;
  const composition = { carbon: -0, hydrogen: 1.87, oxygen: -0 };
  const job = createJob({
    ...plain,
    build: { ...inventedBuild, fuel: { ...fuel, composition }, place: { ...place, temperatureC: -0 } },
  });
  expect(readJob(writeJob(job))).toEqual(job);
});

describe("what does not fit is refused with its place", () => {
  test("a future version, by its number", () => {
    const error = refusal(changed({ version: 7 }));
    expect(error.code).toBe("future-version");
    expect(error.message).toContain("version 7");
  });
  test("a text cut short", () => {
    const text = writeJob(plain);
    for (const share of [0.1, 0.5, 0.99]) expect(refusal(text.slice(0, text.length * share)).code).toBe("not-a-job");
  });
  test("a text that is none, in one line", () => {
    // The reason quotes the text, line ends and all.
    expect(refusal("\n\n# Simulated log\u001b[2J\n").message).toMatch(/^readJob: [^\p{Cc}]+$/u);
  });
  test("other JSON, and other things", () => {
    for (const source of ["[]", "null", "3", '"x"', "{}", '{"format":"other"}', ""])
      expect(refusal(source).code).toBe("not-a-job");
  });
  test("keys that do not belong, __proto__ among them", () => {
    const text = writeJob(plain).replace('"about"', '"__proto__": { "polluted": 1 }, "about"');
    expect(refusal(text).message).toContain("__proto__");
    expect(({} as { polluted?: number }).polluted).toBeUndefined();
    const deep = writeJob(plain).replace('"engine": {', '"engine": { "__proto__": { "polluted": 1 },');
    expect(deep).not.toBe(writeJob(plain));
    expect(refusal(deep).message).toContain("__proto__");
    expect(refusal(changed({ abuot: "" })).message).toContain("job.abuot");
  });
  test("a key of any length or content, shortened and quoted", () => {
    const { message, details } = refusal(changed({ ["n".repeat(1e6)]: 1 }));
    expect(message).toMatch(/^job\["n{40}…"\] does not fit: expected never but received "n+…; put it right/);
    expect(JSON.stringify(details).length).toBeLessThan(400);
    expect(refusal(changed({ "a\u001b[2Jb": 1 })).message).not.toContain("\u001b");
  });
  test("a step of an unknown kind, and one with a wrong setting", () => {
    const step = { id: "s", kind: "scale-cells", table: "t", settings: { factor: 1 }, on: true, note: "", time: "" };
    const unknown = refusal(changed({ steps: [step, { ...step, id: "s2", kind: "melt" }] }));
    expect(unknown.code).toBe("unknown-step-kind");
    expect(unknown.message).toMatch(/^job\.steps\[1\]\.kind must be a kind of step, got "melt"; this version knows /);
    expect(refusal(changed({ steps: [step, { ...step, id: "s2", settings: { factor: "1" } }] })).message).toContain(
      "job.steps[1].settings.factor",
    );
    expect(refusal(changed({ steps: [step, step] })).code).toBe("repeated-id");
  });
  test("a part of the build that can't be, by its path", () => {
    const { build } = jobData(plain) as { build: typeof inventedBuild };
    const error = refusal(changed({ build: { ...build, injectors: { ...build.injectors, flowGramsPerSecond: 0 } } }));
    expect(error.message).toContain("build.injectors.flowGramsPerSecond");
  });
  test("a table with a hole, by its cell", () => {
    const axis = (quantity: string, unit: string, breakpoints: number[]) => ({ quantity, unit, breakpoints });
    const table = {
      id: "t",
      name: "t",
      quantity: "pulse-width",
      unit: "ms",
      rpm: axis("rpm", "rpm", [1000, 2000]),
      load: axis("manifold-pressure", "kPa", [40, 80]),
      cells: [
        [1, 2],
        [3, null],
      ],
      locked: [],
    };
    expect(refusal(changed({ tables: [table] })).message).toContain("job.tables[0].cells[1][1]");
  });
});

test("whatever is changed in a job's text, it is read or refused by this library's own error", () => {
  const text = writeJob(plain);
  fc.assert(
    fc.property(fc.nat(text.length - 1), fc.nat(20), fc.string({ maxLength: 6 }), (at, length, put) => {
      const broken = text.slice(0, at) + put + text.slice(at + length);
      try {
        expect(readJob(broken).name).toBeTypeOf("string");
      } catch (error) {
        expect(error).toBeInstanceOf(FuelwrightError);
      }
    }),
    { numRuns: 2000 },
  );
});
