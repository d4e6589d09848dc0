import { axisQuantities, cellQuantities, FuelwrightError, readJob, readTableText, replayJob } from "../dist/index.js";
import { UsageError } from "./usage-error.mjs";

/** Options of commands that read tables as text, for what the text does not say. */
export const tableOptions = {
  table: { type: "string" },
  quantity: { type: "string" },
  load: { type: "string" },
  stoichiometric: { type: "string" },
};

export const tableHelp = `  --quantity Q        what the cells of a CSV are, where it does not say: pulse-width, lambda, …
  --load Q            what its load is: manifold-pressure, throttle-position, air-charge
  --stoichiometric R  of the fuel, for a CSV of air-fuel ratios
`;

/** The hints for `readTableText` that the options give. @throws UsageError for words that are none */
export function tableHints({ quantity, load, stoichiometric }) {
  return {
    ...(quantity !== undefined && { quantity: oneOf("--quantity", quantity, Object.keys(cellQuantities)) }),
    ...(load !== undefined && { loadQuantity: oneOf("--load", load, Object.keys(axisQuantities)) }),
    ...(stoichiometric !== undefined && { stoichiometricRatio: figure("--stoichiometric", stoichiometric) }),
  };
}

/** The number that an option gives. @throws UsageError */
export function figure(option, text) {
  const value = text.trim() === "" ? Number.NaN : Number(text);
  if (!Number.isFinite(value)) throw new UsageError(`${option} must be a number, got ${JSON.stringify(text)}`);
  return value;
}

function oneOf(option, word, words) {
  if (!words.includes(word))
    throw new UsageError(`${option} must be one of ${words.join(", ")}, got ${JSON.stringify(word)}`);
  return word;
}

/** The table of that id among those of a state; left out: the first. @throws FuelwrightError `no-such-table` */
export function choose(tables, id) {
  const table = id === undefined ? Object.values(tables)[0] : Object.hasOwn(tables, id) ? tables[id] : undefined;
  if (table) return table;
  throw new FuelwrightError(
    "no-such-table",
    `fuelwright: table ${JSON.stringify(id ?? null)} is not in the job; choose one of ${Object.keys(tables).join(", ") || "none"}`,
    { id, tables: Object.keys(tables) },
  );
}

/** The table that a text holds: a CSV, or a job as it stands after its steps. */
export function tableOfText(text, { id, fileId, hints }) {
  if (!/^\uFEFF?\s*\{/.test(text)) return readTableText(text, { id: fileId, ...hints }).table;
  return choose(replayJob(readJob(text)).state.tables, id);
}
