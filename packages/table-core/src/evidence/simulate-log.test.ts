import { describe, expect, test } from "vitest";
import { rideLoad, rideRpm } from "../../testing/rides.ts";
import { readLog } from "./read-log.ts";
import type { SampleChunk } from "./samples.ts";
import { type SimulatedLogOptions, simulateLog } from "./simulate-log.ts";
import { simulatedCsv } from "./simulated-csv.ts";

const options: SimulatedLogOptions = { seed: 4, rpm: rideRpm, load: rideLoad, minutes: 3, hertz: 20 };
const chunksOf = (of: SimulatedLogOptions) => [...(simulateLog(of).log.open() as Iterable<SampleChunk>)];
const column = (chunks: SampleChunk[], key: keyof SampleChunk["columns"]) =>
  chunks.flatMap((chunk) => Array.from(chunk.columns[key]!));

describe("simulateLog", () => {
  test("makes the same log for the same seed, another for another, and marks it", () => {
    expect(simulateLog(options).log.simulated).toBe(true);
    expect(chunksOf(options)).toEqual(chunksOf(options));
    expect(column(chunksOf(options), "rpm")).not.toEqual(column(chunksOf({ ...options, seed: 5 }), "rpm"));
  });

  test("looks like a ride: idle to high revs, cut on overrun, a warm-up", () => {
    const chunks = chunksOf({ ...options, minutes: 10, corrupted: 0 });
    const rpm = column(chunks, "rpm");
    const pressure = column(chunks, "manifold-pressure");
    const pulse = column(chunks, "pulse-width");
    const coolant = column(chunks, "coolant-temperature");
    expect(Math.min(...rpm)).toBeGreaterThan(700);
    expect(Math.max(...rpm)).toBeGreaterThan(5000);
    expect(Math.min(...pressure)).toBeGreaterThan(20);
    expect(Math.max(...pressure)).toBeLessThan(102);
    expect(pulse.filter((ms) => ms === 0).length).toBeGreaterThan(100);
    expect(coolant[0]).toBeLessThan(25);
    expect(coolant.at(-1)).toBeGreaterThan(85);
    expect(new Set(column(chunks, "gear"))).toEqual(new Set([1, 2, 3, 4, 5]));
    const times = column(chunks, "time");
    expect(times.length).toBeGreaterThan(11_900);
    for (let at = 1; at < times.length; at++) expect(times[at]! - times[at - 1]!).toBeCloseTo(0.05, 6);
  });

  test("spoils as many rows as asked, and no truth", () => {
    const clean = chunksOf({ ...options, corrupted: 0 });
    const spoilt = chunksOf({ ...options, corrupted: 0.1 });
    expect(column(clean, "lambda").some(Number.isNaN)).toBe(false);
    expect(column(spoilt, "lambda").filter((value) => Number.isNaN(value) || value === 0).length).toBeGreaterThan(40);
    expect(simulateLog({ ...options, corrupted: 0.1 }).truth.corrections).toEqual(
      simulateLog(options).truth.corrections,
    );
  });

  test("takes a truth of one's own, and refuses one of another size", () => {
    const truth = new Float64Array(256).fill(0.02);
    expect(simulateLog({ ...options, truth }).truth.corrections).toEqual(truth);
    expect(() => simulateLog({ ...options, truth: new Float64Array(4) })).toThrow(/one log-correction for each cell/);
    expect(() => simulateLog({ ...options, lag: 0 })).toThrow(/lag must be above 0/);
  });

  test("as text comes back as the same samples, marked as simulated", async () => {
    const simulated = simulateLog({ ...options, minutes: 1, corrupted: 0 });
    const log = await readLog(() => simulatedCsv(simulated));
    expect(log.simulated).toBe(true);
    const chunks: SampleChunk[] = [];
    for await (const chunk of log.open()) chunks.push(chunk);
    for (const key of ["time", "rpm", "lambda", "lambda-commanded", "pulse-width", "manifold-pressure"] as const) {
      const made = column([...(simulated.log.open() as Iterable<SampleChunk>)], key);
      column(chunks, key).forEach((value, at) => {
        expect(value).toBeCloseTo(made[at]!, 9);
      });
    }
  });
});
