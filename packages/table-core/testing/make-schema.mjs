// Writes job.schema.json from the shapes that readJob checks by. Build the library before: the shapes are taken from dist.
import { writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { toJsonSchema } from "@valibot/to-json-schema";
import { axisQuantities, cellQuantities } from "../dist/index.js";
import { jobText } from "../dist/job/job-text.js";
import { region } from "../dist/job/shapes.js";
import { definitions } from "../dist/job/step-kinds.js";
import { envelope } from "../dist/job/step-schema.js";
import { buildShape, schemeShape } from "./build-shape.mjs";

export const schemaFile = fileURLToPath(new URL("../job.schema.json", import.meta.url));

const config = {
  target: "draft-2020-12",
  // JSON knows no other numbers; the one transform there is only rids zero of its sign, so rules behind it hold for what is read.
  ignoreActions: ["finite", "transform"],
};
const shape = (schema) => {
  const { $schema: _, $defs: __, ...rest } = toJsonSchema(schema, { ...config, definitions: { region } });
  return rest;
};

/** The JSON Schema of a job, as text. */
export function makeSchema() {
  const { properties, ...job } = shape(jobText);
  const { properties: outer, ...step } = shape(envelope);
  const { properties: table } = properties.tables.items;
  const axis = { enum: Object.keys(axisQuantities) };
  table.quantity = { enum: Object.keys(cellQuantities) };
  for (const side of [table.rpm, table.load]) side.properties.quantity = axis;
  const { $schema: _, ...regionShape } = toJsonSchema(region, config);
  const document = {
    $schema: "https://json-schema.org/draft/2020-12/schema",
    $id: "urn:fuelwright:job:1",
    title: "Fuelwright job",
    description:
      "A build, its source tables and the steps made on them. This says what keys there are and what kinds of values they " +
      "hold; readJob also checks ranges, references and parts that contradict each other.",
    ...job,
    properties: {
      ...properties,
      build: loose(shape(buildShape)),
      steps: {
        type: "array",
        maxItems: 10_000,
        items: { anyOf: definitions.map(({ kind }) => ({ $ref: `#/$defs/${kind}` })) },
      },
      scheme: loose(shape(schemeShape)),
    },
    $defs: {
      region: regionShape,
      ...Object.fromEntries(
        definitions.map(({ kind, schema }) => [
          kind,
          { ...step, properties: { ...outer, kind: { const: kind }, settings: shape(schema) } },
        ]),
      ),
    },
  };
  return `${JSON.stringify(document, null, 1)}\n`;
}

/** Without the rule that no other keys may stand there: build and scheme drop what they do not know. */
function loose(value) {
  if (Array.isArray(value)) return value.map(loose);
  if (typeof value !== "object" || value === null) return value;
  const entries = Object.entries(value).filter(([key, rule]) => !(key === "additionalProperties" && rule === false));
  return Object.fromEntries(entries.map(([key, rule]) => [key, loose(rule)]));
}

if (process.argv[1] === fileURLToPath(import.meta.url)) writeFileSync(schemaFile, makeSchema());
