import type { Inks } from "@fuelwright/table-core";

/** An element's tokens as the inks of pictures: drawn by them, light and dark follow the page. */
export const elementInks: Inks = Object.freeze({
  ink: "var(--ink)",
  quiet: "var(--ink-2)",
  rule: "var(--rule)",
  axis: "var(--rule-2)",
  paper: "var(--sheet)",
  before: "var(--ink-2)",
  after: "var(--ink)",
  more: "var(--more)",
  less: "var(--less)",
  warn: "var(--warn)",
  hatch: "var(--rule-2)",
});
