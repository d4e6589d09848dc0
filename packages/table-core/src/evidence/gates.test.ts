import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { rideLoad, rideOf, rideRpm } from "../../testing/rides.ts";
import { countGates } from "./count-gates.ts";
import { createGates, type Gate, gateMasks, gateStateAtStart, usualGates } from "./gates.ts";
import type { LogSamples, SampleChunk, SampleKey } from "./samples.ts";

function chunkOf(columns: Partial<Record<SampleKey, number[]>> & { time: number[] }): SampleChunk {
  const typed = Object.fromEntries(Object.entries(columns).map(([key, values]) => [key, Float64Array.from(values!)]));
  return { count: columns.time.length, first: 0, columns: typed as SampleChunk["columns"] };
}

const removed = (chunk: SampleChunk, ...gates: Gate[]) =>
  Array.from(gateMasks(chunk, createGates(gates), gateStateAtStart()), (mask) => mask !== 0);

const steps = (count: number, step = 0.1) => Array.from({ length: count }, (_, i) => i * step);

describe("a gate", () => {
  test("on a range removes what lies outside, and nothing that was not sampled", () => {
    const chunk = chunkOf({ time: steps(4), "coolant-temperature": [20, 65, Number.NaN, 130] });
    expect(removed(chunk, { kind: "within", quantity: "coolant-temperature", low: 65, high: 125 })).toEqual([
      true,
      false,
      false,
      true,
    ]);
    expect(removed(chunk, { kind: "within", quantity: "battery-voltage", low: 11 })).toEqual([
      false,
      false,
      false,
      false,
    ]);
    expect(removed(chunk, { kind: "within", quantity: "coolant-temperature", low: 65, on: false })).toEqual([
      false,
      false,
      false,
      false,
    ]);
  });

  test("on run time counts from when the engine turns, and again after it stood", () => {
    const rpm = [0, 0, ...new Array(10).fill(1200), ...new Array(8).fill(0), ...new Array(6).fill(1200)];
    const out = removed(chunkOf({ time: steps(rpm.length), rpm }), { kind: "run-time", seconds: 0.45 });
    expect(out.slice(2, 12)).toEqual([true, true, true, true, true, false, false, false, false, false]);
    expect(out.slice(20)).toEqual([true, true, true, true, true, false]);
    // One spoilt row is no stop.
    const spoilt = [...new Array(8).fill(1200), 0, ...new Array(5).fill(1200)];
    expect(removed(chunkOf({ time: steps(14), rpm: spoilt }), { kind: "run-time", seconds: 0.45 }).slice(8)).toEqual(
      new Array(6).fill(false),
    );
  });

  test("on fuel cut goes by its column, else by the pulse, else by throttle and rpm", () => {
    const gate: Gate = { kind: "fuel-cut", pulseMs: 0.3, throttle: 1, rpm: 1800 };
    const time = steps(3);
    const throttle = [0, 0, 40];
    const rpm = [3000, 1000, 3000];
    expect(removed(chunkOf({ time, "throttle-position": throttle, rpm }), gate)).toEqual([true, false, false]);
    const pulse = { "pulse-width": [2, 0, 2] };
    expect(removed(chunkOf({ time, "throttle-position": throttle, rpm, ...pulse }), gate)).toEqual([
      false,
      true,
      false,
    ]);
    expect(removed(chunkOf({ time, ...pulse, "fuel-cut": [0, 0, 1] }), gate)).toEqual([false, false, true]);
  });

  test("on throttle rate removes the movement and what follows it; without pulses only, if so asked", () => {
    const throttle = [10, 10, 10, 30, 50, 50, 50, 50, 50, 50, 50, 50];
    const gate: Gate = { kind: "throttle-rate", most: 60, settle: 0.35 };
    const time = steps(12);
    expect(removed(chunkOf({ time, "throttle-position": throttle }), gate)).toEqual([
      false,
      false,
      false,
      true,
      true,
      true,
      true,
      true,
      false,
      false,
      false,
      false,
    ]);
    const auto: Gate = { ...gate, on: "without-pulse" };
    expect(removed(chunkOf({ time, "throttle-position": throttle }), auto)[4]).toBe(true);
    expect(
      removed(chunkOf({ time, "throttle-position": throttle, "pulse-width": new Array(12).fill(3) }), auto)[4],
    ).toBe(false);
  });

  test("on the sensor removes stops, its warm-up, and what never changes", () => {
    const lambda = [0.6, 1, 1, 1, 1, 1, 1.6, 1.1];
    const chunk = chunkOf({ time: steps(8), lambda });
    expect(removed(chunk, { kind: "sensor-range", low: 0.68, high: 1.45 })).toEqual([
      true,
      false,
      false,
      false,
      false,
      false,
      true,
      false,
    ]);
    expect(removed(chunk, { kind: "sensor-warm-up", seconds: 0.15 })).toEqual([
      true,
      true,
      false,
      false,
      false,
      false,
      false,
      false,
    ]);
    expect(removed(chunk, { kind: "stuck-sensor", seconds: 0.25 })).toEqual([
      false,
      false,
      false,
      false,
      true,
      true,
      false,
      false,
    ]);
    expect(removed(chunk, { kind: "time-window", from: 0.2, to: 0.35 })).toEqual([
      true,
      true,
      false,
      false,
      true,
      true,
      true,
      true,
    ]);
    expect(removed(chunkOf({ time: steps(3), cylinder: [1, 2, 1] }), { kind: "cylinder", cylinder: 2 })).toEqual([
      true,
      false,
      true,
    ]);
  });

  test("that is none is refused by name", () => {
    const refuse = (gate: unknown) => () => createGates([gate as Gate]);
    expect(refuse({ kind: "settling" })).toThrow(/gates\[0\].*always in force/);
    expect(refuse({ kind: "mood" })).toThrow(/gates\[0\]\.kind must be one of/);
    expect(refuse({ kind: "run-time", seconds: -1 })).toThrow(/gates\[0\]\.seconds/);
    expect(() => createGates(new Array(40).fill({ kind: "run-time", seconds: 1 }))).toThrow(/at most/);
  });
});

describe("gates together", () => {
  const { log } = rideOf({ seed: 3, rpm: rideRpm, load: rideLoad, minutes: 4, hertz: 20, corrupted: 0.01 });

  test("only ever remove samples: one more, or a tighter one, keeps a part of what was kept", async () => {
    const extra = fc.oneof(
      fc.record({
        kind: fc.constant("within" as const),
        quantity: fc.constantFrom("rpm" as const, "throttle-position" as const),
        low: fc.integer({ min: 0, max: 3000 }),
      }),
      fc.record({
        kind: fc.constant("throttle-rate" as const),
        most: fc.integer({ min: 1, max: 200 }),
        settle: fc.double({ min: 0, max: 3, noNaN: true }),
      }),
      fc.record({ kind: fc.constant("stuck-sensor" as const), seconds: fc.double({ min: 0, max: 3, noNaN: true }) }),
      fc.record({ kind: fc.constant("run-time" as const), seconds: fc.double({ min: 0, max: 300, noNaN: true }) }),
    ) as fc.Arbitrary<Gate>;
    const masks = (gates: readonly Gate[]) => {
      const state = gateStateAtStart();
      return [...(log.open() as Iterable<SampleChunk>)].flatMap((chunk) => Array.from(gateMasks(chunk, gates, state)));
    };
    const before = masks(usualGates);
    fc.assert(
      fc.property(extra, fc.integer({ min: 65, max: 90 }), (gate, low) => {
        const tighter = usualGates.map((usual) =>
          usual.kind === "within" && usual.quantity === "coolant-temperature" ? { ...usual, low } : usual,
        );
        const after = masks([...tighter, gate]);
        after.forEach((mask, at) => {
          if (before[at] !== 0) expect(mask).not.toBe(0);
        });
      }),
      { numRuns: 25 },
    );
  });

  test("say what each removes, and what no other would; chunk by chunk as in one", async () => {
    let passed = 0;
    const whole = await countGates([log], usualGates, 1, (chunk, masks) => {
      const lambda = chunk.columns.lambda!;
      passed += masks.filter((mask, at) => mask === 0 && !Number.isNaN(lambda[at])).length;
    });
    expect(passed).toBe(whole.kept);
    const by = Object.fromEntries(whole.gates.map(({ kind, removed: count }) => [kind, count]));
    expect(by["fuel-cut"]).toBeGreaterThan(50);
    expect(by["sensor-warm-up"]).toBeGreaterThan(350);
    expect(whole.kept + Math.max(...whole.gates.map(({ removed: count }) => count))).toBeLessThanOrEqual(
      whole.readings,
    );
    for (const { removed: all, alone } of whole.gates) expect(alone).toBeLessThanOrEqual(all);
    const small = [...(log.open() as Iterable<SampleChunk>)].flatMap(({ count, columns }) =>
      Array.from({ length: Math.ceil(count / 100) }, (_, at) => ({
        count: Math.min(100, count - 100 * at),
        first: 0,
        columns: Object.fromEntries(
          Object.entries(columns).map(([key, values]) => [key, values!.slice(100 * at, 100 * at + 100)]),
        ) as SampleChunk["columns"],
      })),
    );
    const cut: LogSamples = { ...log, open: () => small };
    expect(await countGates([cut], usualGates)).toEqual(whole);
  });
});
