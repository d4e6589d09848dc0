import { readFileSync } from "node:fs";
import { Ajv2020 } from "ajv/dist/2020.js";
import fc from "fast-check";
import { expect, test } from "vitest";
import { jobs } from "../../testing/jobs.ts";
import { jobData } from "./job-text.ts";

const schema = JSON.parse(readFileSync(new URL("../../job.schema.json", import.meta.url), "utf8"));
const validate = new Ajv2020({ strictTypes: false, strictRequired: false }).compile(schema);

test("any job of steps on a table is valid by the published schema", () => {
  fc.assert(
    fc.property(jobs(), (job) => {
      expect(validate(JSON.parse(JSON.stringify(jobData(job)))), JSON.stringify(validate.errors)).toBe(true);
    }),
    { numRuns: 100 },
  );
});
