import type { ColourScheme } from "@fuelwright/table-core";

/** Percent of change at which each side has its full colour; both above zero. */
export interface Span {
  readonly less: number;
  readonly more: number;
}

/** What an automatic or symmetrical span is while nothing has changed, in percent. */
const WITHOUT_CHANGE = 10;
/** The least span, in percent: below it the rounding of a controller would take full colours. */
const LEAST = 0.1;

/**
 * How far the colours of a scheme reach over these changes.
 *
 * `automatic`: each side to its own greatest change; a side without any takes the other's. `symmetrical`: both to the
 * greater. `fixed`: as the scheme says. Changes that are not finite (a cell that was 0 before) do not count.
 *
 * @param percents - change of each cell in percent, in any order
 * @example resolveSpan(scheme, [-12, 0, 3]) // automatic: { less: 12, more: 3 }
 */
export function resolveSpan({ span }: Pick<ColourScheme, "span">, percents: Iterable<number>): Span {
  if (span.kind === "fixed") return { less: span.percent, more: span.percent };
  let [less, more] = [0, 0];
  for (const percent of percents) {
    if (percent > more && percent < Infinity) more = percent;
    else if (-percent > less && percent > -Infinity) less = -percent;
  }
  const greatest = Math.max(less, more) || WITHOUT_CHANGE;
  const side = (own: number) => Math.max(LEAST, span.kind === "symmetrical" ? greatest : own || greatest);
  return { less: side(less), more: side(more) };
}
