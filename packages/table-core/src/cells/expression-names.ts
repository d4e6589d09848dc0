/** What an expression can use in each cell: the cell, where it stands, and the region's weight there. */
export const expressionVariables = ["cell", "rpm", "load", "weight"] as const;

interface ExpressionFunction {
  readonly least: number;
  readonly most: number;
  /** One line for those who type. */
  readonly help: string;
  readonly run: (...args: number[]) => number;
}

const MOST_ARGUMENTS = 20;

const roundTo = (x: number, decimals = 0) => (Math.sign(x) * Math.round(Math.abs(x) * 10 ** decimals)) / 10 ** decimals;

/** The functions of an expression. A Map, so that no name can reach what every object inherits. */
export const functions: ReadonlyMap<string, ExpressionFunction> = new Map([
  ["abs", { least: 1, most: 1, help: "abs(x): x without its sign", run: Math.abs }],
  ["ceil", { least: 1, most: 1, help: "ceil(x): the next whole number above", run: Math.ceil }],
  ["exp", { least: 1, most: 1, help: "exp(x): e to the power of x", run: Math.exp }],
  ["floor", { least: 1, most: 1, help: "floor(x): the next whole number below", run: Math.floor }],
  [
    "log",
    {
      least: 1,
      most: 2,
      help: "log(x) or log(x, base): the natural logarithm, or to a base",
      run: (x: number, base?: number) => (base === undefined ? Math.log(x) : Math.log(x) / Math.log(base)),
    },
  ],
  ["log10", { least: 1, most: 1, help: "log10(x): the logarithm to base 10", run: Math.log10 }],
  ["max", { least: 1, most: MOST_ARGUMENTS, help: "max(a, b, …): the greatest", run: Math.max }],
  ["min", { least: 1, most: MOST_ARGUMENTS, help: "min(a, b, …): the least", run: Math.min }],
  [
    "mod",
    {
      least: 2,
      most: 2,
      help: "mod(x, y): what is left of x after whole y, with the sign of y",
      run: (x: number, y: number) => x - y * Math.floor(x / y),
    },
  ],
  ["pow", { least: 2, most: 2, help: "pow(x, y): x to the power of y, as x ^ y", run: Math.pow }],
  [
    "round",
    {
      least: 1,
      most: 2,
      help: "round(x) or round(x, decimals): nearest, halves away from zero",
      run: roundTo,
    },
  ],
  ["sign", { least: 1, most: 1, help: "sign(x): -1, 0 or 1", run: Math.sign }],
  ["sqrt", { least: 1, most: 1, help: "sqrt(x): the square root", run: Math.sqrt }],
]);

/** The functions by name, each with a line of help. */
export const expressionFunctions: readonly { readonly name: string; readonly help: string }[] = Array.from(
  functions,
  ([name, { help }]) => ({ name, help }),
);

/** Words that stand between or before values. `mod` is a function too. */
export const wordOperators: ReadonlySet<string> = new Set(["and", "or", "xor", "not", "mod"]);

/** Words that mean something else to the parser; no table can have them as its name. */
const taken = new Set<string>([
  ...expressionVariables,
  ...functions.keys(),
  ...wordOperators,
  ...["true", "false", "null", "undefined", "NaN", "Infinity", "to", "in", "end"],
]);

/**
 * The name under which a table is used in an expression, made from its id (or whatever it is called).
 *
 * Accents are dropped, every run of other characters than letters a–z, A–Z and digits becomes one `_`, and `_` at either
 * end goes. A name that begins with a digit gets `t_` before it, one that means something else `_table` behind it, and
 * one of which nothing is left is `table`.
 *
 * @example expressionName("ve-map 2") // "ve_map_2"
 */
export function expressionName(id: string): string {
  const plain = id
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .replace(/[^A-Za-z0-9]+/g, "_")
    .replace(/^_|_$/g, "");
  if (plain === "") return "table";
  if (/^[0-9]/.test(plain)) return `t_${plain}`;
  return taken.has(plain) ? `${plain}_table` : plain;
}

/** Where the value of each variable stands while an expression runs. */
export type Slots = ReadonlyMap<string, number>;

/** The slot of a name that more than one table has: it can be there, but not be used. */
export const AMBIGUOUS = -1;

/** The four variables of every cell first, then the tables in order. */
export function expressionSlots(tables: readonly string[]): Slots {
  const slots = new Map<string, number>(expressionVariables.map((name, slot) => [name, slot]));
  tables.forEach((id, at) => {
    const name = expressionName(id);
    slots.set(name, slots.has(name) ? AMBIGUOUS : expressionVariables.length + at);
  });
  return slots;
}
