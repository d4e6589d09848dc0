import { FuelwrightError } from "../values/errors.ts";
import { requireOneOf, requireText, requireWhole, requireWithin, say } from "../values/require.ts";

/**
 * How far a change must go to take the full colour of an end.
 *
 * `automatic`: each side to its own greatest change in the table. `symmetrical`: both sides to the greater of the two.
 * `fixed`: both sides to `percent`.
 */
export type SchemeSpan =
  | { readonly kind: "automatic" }
  | { readonly kind: "symmetrical" }
  | { readonly kind: "fixed"; readonly percent: number };

/** Colours that show change: plain data, drawn by whoever shows the table. */
export interface ColourScheme {
  readonly name: string;
  /** `#rrggbb` of the greatest fall. */
  readonly less: string;
  /** `#rrggbb` of no change, or `paper`: whatever lies under the cells, light or dark. */
  readonly middle: string;
  /** `#rrggbb` of the greatest rise. */
  readonly more: string;
  readonly span: SchemeSpan;
  /** 0: smooth; otherwise the number of steps on each side, 1..10. */
  readonly steps: number;
}

/**
 * A checked, frozen copy of a scheme given as plain data.
 *
 * @throws FuelwrightError `bad-colour`, `bad-text`, `unknown-choice`, `out-of-range`, each naming its place
 */
export function createColourScheme(scheme: ColourScheme, where = "scheme"): ColourScheme {
  if (typeof scheme !== "object" || scheme === null)
    throw new FuelwrightError("bad-scheme", `${where} must be an object, got ${say(scheme)}; start from a preset`);
  const kind = requireOneOf(`${where}.span.kind`, scheme.span?.kind, ["automatic", "symmetrical", "fixed"]);
  return Object.freeze({
    name: requireText(`${where}.name`, scheme.name, 60),
    less: requireColour(`${where}.less`, scheme.less),
    middle: scheme.middle === "paper" ? "paper" : requireColour(`${where}.middle`, scheme.middle),
    more: requireColour(`${where}.more`, scheme.more),
    span: Object.freeze(
      kind === "fixed"
        ? {
            kind,
            percent: requireWithin(`${where}.span.percent`, (scheme.span as { percent?: number }).percent, 0.1, 1000),
          }
        : { kind },
    ),
    steps: requireWhole(`${where}.steps`, scheme.steps, 0, 10),
  });
}

function requireColour(where: string, value: unknown): string {
  if (typeof value !== "string" || !/^#[0-9a-f]{6}$/i.test(value))
    throw new FuelwrightError("bad-colour", `${where} must be a colour as #rrggbb, got ${say(value)}; pick one`, {
      where,
      value,
    });
  return value.toLowerCase();
}

/** The scheme a new job starts with. */
export const defaultScheme: ColourScheme = createColourScheme({
  name: "Verdigris and rust",
  less: "#3f9c8c",
  middle: "paper",
  more: "#d0693a",
  span: { kind: "symmetrical" },
  steps: 0,
});
