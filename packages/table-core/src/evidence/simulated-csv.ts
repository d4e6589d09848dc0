import { logQuantities } from "./log-quantities.ts";
import type { LogQuantity, SampleChunk } from "./samples.ts";
import type { SimulatedLog } from "./simulate-log.ts";

/** Decimals that a simulated log is written with. */
const decimals: Partial<Record<LogQuantity, number>> = { time: 3, lambda: 4, "lambda-commanded": 4, "pulse-width": 3 };

/**
 * A simulated log as text, piece by piece, as a logger would write it: CSV with headings and units, and a first line that
 * says that it is made. What is not a number is written as `?`.
 */
export function* simulatedCsv({ log }: SimulatedLog): Generator<string> {
  let keys: LogQuantity[] | null = null;
  for (const chunk of log.open() as Iterable<SampleChunk>) {
    if (!keys) {
      keys = Object.keys(chunk.columns) as LogQuantity[];
      const headings = keys.map((key) => {
        const { label, unit } = logQuantities[key];
        return unit === "" ? label : `${label} (${unit})`;
      });
      yield `# Simulated log: the machine and every figure are invented\n${headings.join(",")}\n`;
    }
    const lines: string[] = [];
    for (let at = 0; at < chunk.count; at++)
      lines.push(
        keys
          .map((key) => {
            const value = chunk.columns[key]![at]!;
            return Number.isNaN(value) ? "?" : String(Number(value.toFixed(decimals[key] ?? 2)));
          })
          .join(","),
      );
    yield `${lines.join("\n")}\n`;
  }
}
