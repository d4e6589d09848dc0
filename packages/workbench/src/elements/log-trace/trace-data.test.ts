import fc from "fast-check";
import { expect, test } from "vitest";
import { TraceBuilder, traceColumns, usualRange } from "./trace-data.ts";

/** A builder fed in chunks of the given size. */
function traceOf(times: readonly number[], values: readonly number[], most: number, chunk = times.length) {
  const builder = new TraceBuilder(most);
  for (let at = 0; at < times.length; at += chunk)
    builder.add(
      { time: Float64Array.from(times.slice(at, at + chunk)), rpm: Float64Array.from(values.slice(at, at + chunk)) },
      Math.min(chunk, times.length - at),
    );
  return builder.take();
}

test("however long the log, it keeps within its room and loses no extreme", () => {
  fc.assert(
    fc.property(
      fc.array(fc.tuple(fc.double({ min: 0, max: 30, noNaN: true }), fc.integer({ min: -1000, max: 1000 })), {
        minLength: 1,
        maxLength: 300,
      }),
      fc.integer({ min: 1, max: 40 }),
      (steps, chunk) => {
        let now = 5;
        const times = steps.map(([step]) => (now += step));
        const values = steps.map(([, value]) => value);
        const { lanes, count, step, start } = traceOf(times, values, 64, chunk);
        const { low, high } = lanes.rpm!;
        expect(start).toBe(times[0]);
        expect(count).toBeLessThanOrEqual(64);
        expect(count * step).toBeGreaterThan(times.at(-1)! - start);
        const known = (numbers: Float32Array) => numbers.filter((value) => !Number.isNaN(value));
        expect(Math.min(...known(low))).toBe(Math.min(...values));
        expect(Math.max(...known(high))).toBe(Math.max(...values));
        // In any view the columns hold all that the stretches under them do.
        const seen = traceColumns(lanes.rpm!, step, 0, count * step, 17);
        expect(Math.max(...known(seen.high))).toBe(Math.max(...values));
        expect(Math.min(...known(seen.low))).toBe(Math.min(...values));
      },
    ),
    { numRuns: 200 },
  );
});

test("a spike of one sample stands in its column, and an empty stretch is a gap", () => {
  const times = Array.from({ length: 1000 }, (_, at) => at * 0.1);
  const values = times.map((_, at) => (at === 500 ? 9000 : 2000));
  const { lanes, step } = traceOf([...times, 200], [...values, 2000], 1 << 12);
  const { high } = traceColumns(lanes.rpm!, step, 0, 200, 100);
  expect(high[25]).toBe(9000);
  expect(high[24]).toBe(2000);
  expect(high[75]).toBeNaN();
});

test("a spoilt time does not squeeze the log, and time running backwards is left out", () => {
  const times = Array.from({ length: 400 }, (_, at) => (at === 100 ? 1e9 : at === 200 ? -50 : at * 0.1));
  const { count, step } = traceOf(
    times,
    times.map(() => 1),
    1 << 12,
  );
  expect(count * step).toBeCloseTo(39.9 + step, 1);
});

test("a few wild values do not set the scale", () => {
  const values = Float32Array.from({ length: 2000 }, (_, at) => (at % 1000 === 0 ? 65_535 : 2000 + at));
  const [low, high] = usualRange([{ low: values, high: values }]);
  expect(low).toBeGreaterThan(1000);
  expect(high).toBeLessThan(5000);
});
