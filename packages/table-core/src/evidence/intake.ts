import { FuelwrightError } from "../values/errors.ts";
import { type CancelSignal, throwIfCancelled } from "./cancel.ts";
import type { SensorSeries } from "./find-dynamics.ts";
import type { LogQuantity, LogSamples, SampleKey } from "./samples.ts";
import { SeriesBuilder, type SeriesSetup } from "./series.ts";

/** Rows of a log that are worked on in one piece; a longer log is cut, each piece with a lead of its own. */
const PART_ROWS = 100_000;
/** Rows a sensor that are kept in memory; of longer logs, every second, fourth, … piece. */
const HELD_ROWS = 800_000;
/** Seconds before a piece that bring delay, film and lag to where they would be. */
const LEAD_SECONDS = 20;

/** What taking logs in gave. */
export interface Intake {
  readonly parts: readonly SensorSeries[];
  /** Whether pieces were left out of memory, so that the last sums must go through the logs again. */
  readonly partly: boolean;
  /** Lambda sensors that were found, from 1. */
  readonly channels: readonly number[];
  readonly rows: number;
  readonly readings: number;
  /** Readings in rows that could not be used at all, by the gates that say why. */
  readonly dropped: ReadonlyMap<number, number>;
  readonly found: ReadonlySet<LogQuantity>;
}

export interface IntakeOptions {
  readonly logs: readonly LogSamples[];
  readonly setup: Omit<SeriesSetup, "channel">;
  /** Which sensors; null: all that there are. */
  readonly channels: readonly number[] | null;
  readonly signal: CancelSignal | undefined;
  readonly onRows: (rows: number) => void | Promise<void>;
}

/** Calls `take` with each piece of each log, for each sensor, in order. */
export async function eachPart(
  options: IntakeOptions,
  take: (part: SensorSeries) => void,
): Promise<Omit<Intake, "parts" | "partly">> {
  const { logs, setup, signal } = options;
  let channels = options.channels;
  let rows = 0;
  let readings = 0;
  const dropped = new Map<number, number>();
  const found = new Set<LogQuantity>();
  for (const log of logs) {
    let builders: SeriesBuilder[] | null = null;
    for await (const chunk of log.open()) {
      throwIfCancelled(signal);
      channels ??= lambdaChannels(Object.keys(chunk.columns) as SampleKey[]);
      builders ??= channels.map((channel) => new SeriesBuilder({ ...setup, channel }));
      rows += chunk.count;
      builders.forEach((builder, sensor) => {
        builder.append(chunk);
        if (builder.fresh >= PART_ROWS) take({ sensor, series: builder.take(LEAD_SECONDS) });
      });
      await options.onRows(rows);
    }
    for (const [sensor, builder] of (builders ?? []).entries()) {
      if (builder.fresh > 0) take({ sensor, series: builder.take() });
      readings += builder.readings;
      for (const [mask, count] of builder.dropped) dropped.set(mask, (dropped.get(mask) ?? 0) + count);
      for (const quantity of builder.found) found.add(quantity);
    }
  }
  return { channels: channels ?? [], rows, readings, dropped, found };
}

/** Takes all logs in, keeping in memory what is needed to find the dynamics: all of an ordinary log. */
export async function takeIn(options: IntakeOptions): Promise<Intake> {
  let parts: SensorSeries[] = [];
  let held = 0;
  let stride = 1;
  let seen = 0;
  const taken = await eachPart(options, (part) => {
    if (part.sensor === 0) seen++;
    if ((seen - 1) % stride !== 0) return;
    parts.push(part);
    held += part.series.count;
    while (held > HELD_ROWS * Math.max(1, new Set(parts.map(({ sensor }) => sensor)).size) && parts.length > 2) {
      // Pieces stay in order, so every second one of each sensor is every second moment.
      stride *= 2;
      const counts = new Map<number, number>();
      parts = parts.filter(({ sensor }) => {
        const nth = counts.get(sensor) ?? 0;
        counts.set(sensor, nth + 1);
        return nth % 2 === 0;
      });
      held = parts.reduce((sum, { series }) => sum + series.count, 0);
    }
  });
  if (taken.rows === 0)
    throw new FuelwrightError(
      "evidence-no-rows",
      "fitEvidence: the logs hold no rows; choose logs with samples in them",
    );
  return { ...taken, parts, partly: stride > 1 };
}

/** The lambda sensors among the columns, from 1. */
export function lambdaChannels(keys: readonly SampleKey[]): number[] {
  return keys
    .map((key) => (key === "lambda" ? 1 : /^lambda-\d+$/.test(key) ? Number(key.slice(7)) : 0))
    .filter((channel) => channel > 0)
    .sort((a, b) => a - b);
}
