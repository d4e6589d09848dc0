import * as v from "valibot";
import { applyEvidence } from "../evidence/apply-evidence.ts";
import type { EvidenceSummary } from "../evidence/evidence-summary.ts";
import { finite, identifier, positive, region } from "./shapes.ts";
import { defineStep, requireTable, withTable } from "./step-definition.ts";

const words = v.pipe(v.string(), v.maxLength(2000));
const atLeastZero = v.pipe(finite, v.minValue(0));
const share = v.pipe(finite, v.minValue(0), v.maxValue(1));

/** One number for each cell; that they are as many as cells is checked where they are used. */
const cells = <T extends v.GenericSchema<number, number>>(number: T) => v.pipe(v.array(number), v.maxLength(65_536));
const side = v.strictObject({
  quantity: v.pipe(v.string(), v.maxLength(60)),
  breakpoints: v.pipe(v.array(finite), v.minLength(1), v.maxLength(256)),
});
const figure = v.strictObject({ value: finite, deviation: atLeastZero });
const suspect = v.nullable(v.strictObject({ value: finite, deviation: atLeastZero, supported: v.boolean() }));
const count = v.strictObject({ kind: words, label: words, removed: atLeastZero, alone: atLeastZero });
const delay = v.strictObject({
  sensors: v.pipe(
    v.array(v.strictObject({ sensor: finite, constant: figure, flow: figure, lag: figure, total: figure })),
    v.maxLength(64),
  ),
  film: v.nullable(v.strictObject({ share: figure, time: figure, covariance: finite })),
  reference: v.strictObject({ rpm: positive, manifoldKpa: positive }),
  found: v.boolean(),
  profile: v.pipe(v.array(v.strictObject({ delay: finite, residual: finite })), v.maxLength(1000)),
});
const warning = v.strictObject({
  code: words,
  text: words,
  details: v.record(v.string(), v.union([finite, words])),
});

/** What a log says of a table, as `summariseEvidence` gives it: the size of the table, and not of the log. */
export const evidenceShape = v.strictObject({
  version: v.literal(1),
  name: v.pipe(v.string(), v.minLength(1), v.maxLength(400)),
  logs: v.pipe(v.array(words), v.maxLength(1000)),
  simulated: v.boolean(),
  rpm: side,
  load: side,
  cylinder: v.exactOptional(finite),
  factors: cells(positive),
  deviations: cells(atLeastZero),
  samples: cells(atLeastZero),
  seconds: cells(atLeastZero),
  residuals: cells(finite),
  spreads: cells(atLeastZero),
  delay,
  noise: atLeastZero,
  inflation: atLeastZero,
  used: atLeastZero,
  usedSeconds: atLeastZero,
  gates: v.pipe(v.array(count), v.maxLength(100)),
  deadTime: suspect,
  warmth: suspect,
  warnings: v.pipe(v.array(warning), v.maxLength(1000)),
});

/** Steps that bring into a table what a log has shown. */
export const evidenceSteps = [
  defineStep({
    kind: "apply-evidence",
    schema: v.strictObject({
      region: v.exactOptional(region),
      evidence: evidenceShape,
      fraction: v.exactOptional(share),
      cap: v.exactOptional(share),
      deviations: v.exactOptional(v.pipe(finite, v.minValue(0), v.maxValue(10))),
      manner: v.exactOptional(v.picklist(["shrunk", "excess", "whole"])),
      smooth: v.exactOptional(v.pipe(finite, v.minValue(0), v.maxValue(1e6))),
      leastSamples: v.exactOptional(atLeastZero),
      /** The factory's pulses, for trims of an in-line unit. */
      basePulse: v.exactOptional(identifier),
    }),
    apply(state, { table: id, settings }) {
      const { evidence, basePulse, ...rest } = settings;
      const { table, report } = applyEvidence(requireTable("apply-evidence", state, id), {
        ...rest,
        // Quantities and codes are checked by words here, and by meaning where they are used.
        evidence: evidence as EvidenceSummary,
        build: state.build,
        ...(basePulse !== undefined && { basePulse: requireTable("apply-evidence", state, basePulse) }),
      });
      return { state: withTable(state, table), report };
    },
  }),
] as const;
