import * as v from "valibot";
import { FuelwrightError } from "../values/errors.ts";
import { say } from "../values/require.ts";

/**
 * The shapes that job documents are made of: one description for checking what is read, for the types, and for the
 * published JSON Schema.
 */
export const finite = v.pipe(
  v.number(),
  v.finite(),
  // JSON has no −0: without this a step would not equal itself after saving.
  v.transform((value) => value + 0),
);
export const positive = v.pipe(finite, v.gtValue(0));
export const identifier = v.pipe(v.string(), v.minLength(1), v.maxLength(100));
export const range = v.strictTuple([finite, finite]);

const boxEntries = { rpm: v.exactOptional(range), load: v.exactOptional(range) };

export const region = v.strictObject({
  ...boxEntries,
  feather: v.exactOptional(
    v.strictObject({
      rpm: v.exactOptional(v.pipe(finite, v.minValue(0))),
      load: v.exactOptional(v.pipe(finite, v.minValue(0))),
    }),
  ),
  also: v.exactOptional(v.pipe(v.array(v.strictObject(boxEntries)), v.maxLength(65_536))),
});

/** Settings of an edit that may be kept to a part of the table. */
export const withRegion = <T extends v.ObjectEntries>(entries: T) =>
  v.strictObject({ region: v.exactOptional(region), ...entries });

/**
 * What `schema` makes of `value`.
 *
 * @throws FuelwrightError `bad-job` naming the first bad place as `where.path[to].it`
 */
export function checkShape<T>(where: string, schema: v.GenericSchema<unknown, T>, value: unknown): T {
  const result = v.safeParse(schema, value, { abortEarly: true });
  if (result.success) return result.output;
  const issue = result.issues[0];
  const path = (issue.path ?? []).map(({ key }) => placeOf(key)).join("");
  const said = shortened(issue.message.replace(/^Invalid (\w+): /, "").replace(/^Expected /, "expected "));
  throw new FuelwrightError("bad-job", `${where}${path} does not fit: ${said}; put it right or take it out`, {
    where: `${where}${path}`,
    expected: issue.expected,
    received: shortened(issue.received),
  });
}

/** Names of fields as they are; any other key, which may be of any length and hold anything, quoted and short. */
function placeOf(key: unknown): string {
  if (typeof key === "number") return `[${key}]`;
  return typeof key === "string" && /^\w{1,40}$/.test(key) ? `.${key}` : `[${say(key)}]`;
}

/** What a document holds, as a sentence can show it: short, on one line, and without signs that would steer a terminal. */
export const shortened = (text: string): string =>
  (text.length > 120 ? `${text.slice(0, 120)}…` : text).replace(/\p{Cc}/gu, " ");
