import { describe, expect, test } from "vitest";
import { held, nearestCell, type RideKind, randomRide, rideLoad, rideOf, rideRpm } from "../../testing/rides.ts";
import { seededRandom } from "../numeric/seeded-random.ts";
import { createAxis, singleRow } from "../values/axis.ts";
import { createTable } from "../values/fuel-table.ts";
import { type EvidenceFit, fitEvidence, fitEvidenceApart } from "./fit-evidence.ts";
import type { Gate } from "./gates.ts";
import { usualGates } from "./gates.ts";
import { readLog } from "./read-log.ts";
import type { LogSamples, SampleChunk, SampleKey } from "./samples.ts";
import { type SimulatedLogOptions, simulateLog } from "./simulate-log.ts";
import { simulatedCsv } from "./simulated-csv.ts";

const table = { rpm: rideRpm, load: rideLoad };
const code = (error: string) => expect.objectContaining({ code: error });

/** How well a fit found the truth of a simulated ride. */
async function recover(options: SimulatedLogOptions) {
  const simulated = rideOf(options);
  const { log, truth } = simulated;
  const fit = await fitEvidence({ logs: [log], table });
  const plain = nearestCell(log, truth.corrections, options.hertz ?? 50);
  const off = plain.visited.map((at) => Math.log(fit.corrections.cells[at]!) - truth.corrections[at]!);
  const covered = plain.visited.filter((at, k) => Math.abs(off[k]!) <= 1.96 * fit.deviation[at]!).length;
  const square = off.reduce((sum, value) => sum + value * value, 0);
  return { fit, truth, square, covered, cells: off.length, error: Math.sqrt(square / off.length), plain };
}

type Recovery = Awaited<ReturnType<typeof recover>>;

const root = (rides: readonly Recovery[], value: (ride: Recovery) => number) =>
  Math.sqrt(
    rides.reduce((sum, ride) => sum + ride.cells * value(ride) ** 2, 0) /
      rides.reduce((sum, ride) => sum + ride.cells, 0),
  );

/** Delay, lag and film within what the log can tell; film shares to 0.05, times to 30 %. */
function expectDynamics({ fit, truth }: Recovery) {
  const [{ constant, flow, lag, total }] = fit.delay.sensors as [EvidenceFit["delay"]["sensors"][number]];
  const near = (found: number, real: number, least: number) =>
    expect(Math.abs(found - real)).toBeLessThanOrEqual(Math.max(least, 0.1 * real));
  near(total.value, truth.delay.constant + truth.delay.flow, 0.02);
  // The two parts make up for one another; in a quarter of a full log they are known a little less well.
  near(constant.value, truth.delay.constant, 0.03);
  near(flow.value, truth.delay.flow, 0.03);
  expect(Math.abs(lag.value / truth.lag - 1)).toBeLessThanOrEqual(0.25);
  if (!truth.film) expect(fit.delay.film).toBeNull();
  else {
    expect(Math.abs(fit.delay.film!.share.value - truth.film.share)).toBeLessThanOrEqual(0.05);
    expect(Math.abs(fit.delay.film!.time.value / truth.film.time - 1)).toBeLessThanOrEqual(0.3);
  }
  expect(Math.abs(fit.report.noise.value / truth.noise - 1)).toBeLessThan(0.03);
}

/** Rides of a kind, shorter and at half the rate of the full-size study, so that the tests stay quick. */
async function rides(kind: RideKind, seeds: readonly number[]): Promise<Recovery[]> {
  const all: Recovery[] = [];
  for (const seed of seeds) all.push(await recover({ ...randomRide(seed, kind), minutes: 12, hertz: 25 }));
  return all;
}

function expectCoverage(all: readonly Recovery[]) {
  const share = all.reduce((sum, { covered }) => sum + covered, 0) / all.reduce((sum, { cells }) => sum + cells, 0);
  expect(share).toBeGreaterThanOrEqual(0.9);
  expect(share).toBeLessThanOrEqual(0.995);
}

describe("twenty-two random truths and rides are found again", { timeout: 300_000 }, () => {
  test("smooth truths, without a film", async () => {
    const all = await rides({}, [1, 2, 3, 4, 5, 6, 7]);
    for (const ride of all) {
      expectDynamics(ride);
      expect(ride.error).toBeLessThanOrEqual(0.004);
    }
    expect(root(all, ({ error }) => error)).toBeLessThanOrEqual(root(all, ({ plain }) => plain.best) / 5);
    expectCoverage(all);
  });

  test("single cells out of line, half of the rides with a film", async () => {
    const all = [
      ...(await rides({ outOfLine: true }, [11, 12, 13, 14])),
      ...(await rides({ outOfLine: true, film: true }, [15, 16, 17, 18])),
    ];
    for (const ride of all) {
      expectDynamics(ride);
      expect(ride.error).toBeLessThanOrEqual(ride.plain.best / 2);
    }
    expectCoverage(all);
  });

  test("a film in the truth, and a quiet sensor", async () => {
    const all = await rides({ film: true, quiet: true }, [21, 22, 23, 24, 25, 26, 27]);
    for (const ride of all) {
      expectDynamics(ride);
      expect(ride.error).toBeLessThanOrEqual(ride.plain.best / 3);
      expect(ride.error).toBeLessThanOrEqual(0.004);
    }
    expectCoverage(all);
  });
});

describe("fitEvidence", { timeout: 180_000 }, () => {
  const options: SimulatedLogOptions = {
    seed: 2,
    rpm: rideRpm,
    load: rideLoad,
    minutes: 8,
    hertz: 25,
    film: { share: 0.2, time: 0.2 },
    corrupted: 0.005,
  };
  const made = rideOf(options);
  let fitted: Promise<EvidenceFit> | undefined;
  /** The fit of that ride, made once for all tests that look at it. */
  const fitOfMade = () => (fitted ??= fitEvidence({ logs: [made.log], table: { ...table, id: "main", name: "Main" } }));

  test("at full size: twenty minutes at 50 Hz, 1.5 % noise", async () => {
    const all = [
      await recover(randomRide(31)),
      await recover(randomRide(32)),
      await recover(randomRide(33, { film: true })),
    ];
    for (const ride of all) {
      expectDynamics(ride);
      expect(ride.error).toBeLessThanOrEqual(0.002);
      expect(ride.fit.report.inflation).toBeLessThan(1.2);
    }
    expect(root(all, ({ error }) => error)).toBeLessThanOrEqual(root(all, ({ plain }) => plain.best) / 5);
  });

  test("says what it rests on", async () => {
    const { corrections, deviation, coverage, report, delay } = await fitOfMade();
    expect(corrections).toMatchObject({
      id: "main-correction",
      quantity: "factor",
      rpm: { breakpoints: rideRpm.breakpoints },
    });
    expect(deviation.length).toBe(256);
    expect(deviation.every((value) => value > 0 && Number.isFinite(value))).toBe(true);
    expect(report.simulated).toBe(true);
    expect(report.warnings[0]).toMatchObject({ code: "simulated" });
    const total = coverage.samples.reduce((sum, value) => sum + value, 0);
    expect(total / report.used).toBeGreaterThan(0.97);
    expect(total / report.used).toBeLessThan(1.001);
    expect(coverage.seconds.reduce((sum, value) => sum + value, 0) / report.usedSeconds).toBeGreaterThan(0.97);
    expect(report.usedSeconds).toBeCloseTo(report.used / 25, -1);
    const structural = report.gates.filter(({ at }) => at === null);
    expect(structural.map(({ kind }) => kind)).toEqual(["unreadable", "repeated", "backwards", "settling"]);
    expect(structural.every(({ removed }) => removed > 0)).toBe(true);
    expect(report.used + Math.max(...report.gates.map(({ removed }) => removed))).toBeLessThanOrEqual(report.readings);
    // Where nothing was seen, doubt is large; where much was seen, small.
    const most = coverage.samples.indexOf(Math.max(...coverage.samples));
    const least = coverage.samples.indexOf(Math.min(...coverage.samples));
    expect(deviation[least]! / deviation[most]!).toBeGreaterThan(5);
    // The residual's picture has its bottom at the delay found, its middle.
    const bottom = delay.profile.reduce((a, b) => (b.residual < a.residual ? b : a));
    expect(delay.profile.indexOf(bottom)).toBe(6);
    expect(bottom.delay).toBeCloseTo(delay.sensors[0]!.total.value, 9);
    // Plain data: it can be sent to and from a worker.
    expect(structuredClone({ corrections, deviation, coverage, report, delay }).report.used).toBe(report.used);
  });

  test("gives the same result for chunks of any size, and for a log read as text", async () => {
    const whole = await fitOfMade();
    const chunks = [...(made.log.open() as Iterable<SampleChunk>)];
    const cut = chunks.flatMap(({ count, first, columns }) =>
      Array.from({ length: Math.ceil(count / 333) }, (_, at) => ({
        count: Math.min(333, count - at * 333),
        first: first + at * 333,
        columns: Object.fromEntries(
          Object.entries(columns).map(([key, values]) => [key, values!.slice(at * 333, (at + 1) * 333)]),
        ) as SampleChunk["columns"],
      })),
    );
    const small = await fitEvidence({ logs: [{ ...made.log, open: () => cut }], table });
    const text = await fitEvidence({ logs: [await readLog(() => simulatedCsv(made))], table });
    for (const other of [small, text])
      other.corrections.cells.forEach((cell, at) => {
        // Times come back a rounding apart, and the search stops a little elsewhere.
        expect(Math.abs(cell - whole.corrections.cells[at]!)).toBeLessThan(
          other === small ? 1e-10 : 0.1 * whole.deviation[at]!,
        );
      });
    expect(small.delay).toEqual(whole.delay);
  });

  test("two logs are worth more than one, in whatever order", async () => {
    const other = rideOf({ ...options, seed: 3, truth: made.truth.corrections });
    const one = await fitOfMade();
    const both = await fitEvidence({ logs: [made.log, other.log], table });
    const turned = await fitEvidence({ logs: [other.log, made.log], table });
    const error = ({ corrections }: EvidenceFit) =>
      Math.sqrt(
        corrections.cells.reduce((sum, cell, at) => sum + (Math.log(cell) - made.truth.corrections[at]!) ** 2, 0) / 256,
      );
    expect(error(both)).toBeLessThan(error(one));
    expect(both.report.used).toBeGreaterThan(1.5 * one.report.used);
    const sumOf = (values: Float64Array) => values.reduce((sum, value) => sum + value, 0);
    expect(sumOf(both.deviation)).toBeLessThan(sumOf(one.deviation));
    turned.corrections.cells.forEach((cell, at) => {
      expect(Math.abs(cell - both.corrections.cells[at]!)).toBeLessThan(0.25 * both.deviation[at]!);
    });
  });

  test("a log too long for memory streams through: forty-five times the same ride, each with noise of its own", async () => {
    const ride = rideOf({ ...options, minutes: 14, warmUp: false, corrupted: 0, noise: 0 });
    const chunks = [...(ride.log.open() as Iterable<SampleChunk>)];
    const rides = (count: number): LogSamples => ({
      name: "long",
      simulated: true,
      *open() {
        const random = seededRandom(6);
        for (let time = 0; time < count; time++)
          for (const chunk of chunks) {
            const { lambda, time: times } = chunk.columns;
            const noisy = lambda!.map((value) => value * Math.exp(0.015 * random.normal()));
            yield {
              ...chunk,
              columns: { ...chunk.columns, lambda: noisy, time: times.map((value) => value + 845 * time) },
            };
          }
      },
    });
    const once = await fitEvidence({ logs: [rides(1)], table });
    const over = await fitEvidence({ logs: [rides(45)], table });
    expect(over.report.rows).toBe(45 * once.report.rows);
    expect(over.report.used / once.report.used).toBeGreaterThan(44.5);
    expect(over.report.used / once.report.used).toBeLessThan(46.5);
    expect(Math.abs(over.delay.sensors[0]!.total.value - 0.31)).toBeLessThan(0.01);
    expect(over.report.noise.value).toBeCloseTo(0.015, 3);
    const seen = Array.from(once.coverage.samples.keys()).filter((at) => once.coverage.samples[at]! > 50);
    const error = ({ corrections }: EvidenceFit) =>
      Math.sqrt(
        seen.reduce((sum, at) => sum + (Math.log(corrections.cells[at]!) - ride.truth.corrections[at]!) ** 2, 0) /
          seen.length,
      );
    expect(error(over)).toBeLessThan(0.6 * error(once));
  });

  test("known delay, lag and film are taken as they are", async () => {
    const { delay, corrections } = await fitEvidence({
      logs: [made.log],
      table,
      known: { constant: 0.06, flow: 0.25, lag: 0.12, film: { share: 0.2, time: 0.2 } },
    });
    expect(delay.sensors[0]).toEqual({
      sensor: 1,
      constant: { value: 0.06, deviation: 0 },
      flow: { value: 0.25, deviation: 0 },
      lag: { value: 0.12, deviation: 0 },
      total: { value: 0.31, deviation: 0 },
    });
    expect(delay.film).toMatchObject({ share: { value: 0.2, deviation: 0 } });
    expect(delay.profile).toEqual([]);
    expect(corrections.cells.every(Number.isFinite)).toBe(true);
  });

  test("two sensors are fitted together, or apart", async () => {
    // The second sensor sits farther down and its cylinder is 3 % leaner.
    const leaner = made.truth.corrections.map((value) => value + 0.03);
    const second = rideOf({ ...options, truth: leaner, delay: { constant: 0.06, flow: 0.4 }, lag: 0.2 });
    const chunks = [...(made.log.open() as Iterable<SampleChunk>)].map((chunk, at) => ({
      ...chunk,
      columns: { ...chunk.columns, "lambda-2": [...(second.log.open() as Iterable<SampleChunk>)][at]!.columns.lambda! },
    }));
    const log: LogSamples = { name: "two", simulated: true, open: () => chunks as SampleChunk[] };
    const together = await fitEvidence({ logs: [log], table });
    expect(together.report.sensors).toEqual([1, 2]);
    expect(together.delay.sensors.map(({ flow }) => Math.abs(flow.value - 0.25) < 0.03)).toEqual([true, false]);
    expect(Math.abs(together.delay.sensors[1]!.flow.value - 0.4)).toBeLessThan(0.04);
    expect(Math.abs(together.delay.sensors[1]!.lag.value / 0.2 - 1)).toBeLessThan(0.25);
    const apart = await fitEvidenceApart({ logs: [log], table });
    expect(apart.map(({ corrections }) => corrections.cylinder)).toEqual([1, 2]);
    const mean = ({ corrections, coverage }: EvidenceFit, than: Float64Array) => {
      let sum = 0;
      let weight = 0;
      coverage.samples.forEach((samples, at) => {
        sum += samples * (Math.log(corrections.cells[at]!) - than[at]!);
        weight += samples;
      });
      return sum / weight;
    };
    expect(mean(apart[0]!, made.truth.corrections)).toBeCloseTo(0, 2);
    expect(mean(apart[1]!, made.truth.corrections)).toBeCloseTo(0.03, 2);
    expect(mean(together, made.truth.corrections)).toBeCloseTo(0.015, 2);
    const only = await fitEvidence({ logs: [log], table, sensors: [2] });
    expect(mean(only, made.truth.corrections)).toBeCloseTo(0.03, 2);
  });

  test("a log without pulses is fitted with moving throttle left out, and says so", async () => {
    const { report, delay } = await fitEvidence({ logs: [without(made.log, "pulse-width")], table });
    expect(delay.film).toBeNull();
    expect(report.warnings.map((warning) => warning.code)).toContain("no-pulse-width");
    expect(report.gates.find(({ kind }) => kind === "throttle-rate")!.removed).toBeGreaterThan(100);
  });

  test("commanded lambda comes from the log, or a target, or is assumed and said", async () => {
    const bare = without(made.log, "lambda-commanded");
    const assumed = await fitEvidence({ logs: [bare], table });
    expect(assumed.report.warnings.map((warning) => warning.code)).toContain("no-commanded");
    const target = createTable({
      id: "target",
      name: "target",
      quantity: "lambda",
      ...table,
      cells: Float64Array.from(
        { length: 256 },
        (_, at) => 1 - 0.12 * Math.min(1, Math.max(0, (rideLoad.breakpoints[Math.floor(at / 16)]! - 70) / 20)),
      ),
    });
    const given = await fitEvidence({ logs: [bare], table, commanded: target });
    expect(given.report.warnings.map((warning) => warning.code)).not.toContain("no-commanded");
    const own = await fitOfMade();
    let most = 0;
    given.corrections.cells.forEach((cell, at) => {
      if (own.coverage.samples[at]! > 50) most = Math.max(most, Math.abs(cell - own.corrections.cells[at]!));
    });
    expect(most).toBeLessThan(0.01);
  });

  test("a dead time that is longer than assumed is found, and not applied", async () => {
    const short = await fitEvidence({
      logs: [
        rideOf({ ...options, seed: 7, minutes: 15, surface: { amplitude: 0.012, length: 0.6 }, deadTimeError: 0.2 })
          .log,
      ],
      table,
    });
    expect(short.report.deadTime).toMatchObject({ supported: true });
    expect(Math.abs(short.report.deadTime!.value - 0.2)).toBeLessThan(
      Math.max(0.06, 3 * short.report.deadTime!.deviation),
    );
    expect(short.report.warnings.map((warning) => warning.code)).toContain("dead-time");
    const sound = await fitOfMade();
    expect(sound.report.deadTime!.supported).toBe(false);
  });

  test("a cold engine's error shows as warmth when its gate is open", async () => {
    const open: Gate[] = usualGates.filter(
      (gate) => !(gate.kind === "within" && gate.quantity === "coolant-temperature"),
    );
    const { report } = await fitEvidence({ logs: [made.log], table, gates: open });
    // The simulated engine is 6 % lean for each 50 °C below 70 °C.
    expect(report.warmth!.value).toBeLessThan(-0.004);
    expect(report.warnings.map((warning) => warning.code)).toContain("warmth");
  });

  test("readings that hang together widen deviations", async () => {
    const plain = await fitEvidence({ logs: [rideOf({ ...options, film: null }).log], table });
    const scattered = await fitEvidence({ logs: [rideOf({ ...options, film: null, cylinderNoise: 0.02 }).log], table });
    expect(scattered.report.inflation).toBeGreaterThan(1.5 * plain.report.inflation);
  });

  test("tells how far it is, and stops when told, the log left as it was", async () => {
    const phases: string[] = [];
    const signal = { aborted: false };
    await expect(
      fitEvidence({
        logs: [made.log],
        table,
        signal,
        onProgress: ({ phase }) => {
          phases.push(phase);
          signal.aborted = phases.filter((seen) => seen === "searching").length === 5;
        },
      }),
    ).rejects.toEqual(code("cancelled"));
    expect(new Set(phases)).toEqual(new Set(["reading", "searching"]));
    signal.aborted = false;
    const done = await fitEvidence({
      logs: [made.log],
      table,
      signal,
      onProgress: ({ phase }) => void phases.push(phase),
    });
    expect(phases).toContain("fitting");
    expect(done.report.used).toBeGreaterThan(1000);
  });

  test("serves one-row tables and tables finer than evidence can tell apart", async () => {
    const row = await fitEvidence({
      logs: [made.log],
      table: { rpm: rideRpm, load: singleRow },
    });
    expect(row.corrections.cells.length).toBe(16);
    const many = (axis: typeof rideRpm, count: number) => {
      const [from, to] = [axis.breakpoints[0]!, axis.breakpoints.at(-1)!];
      return createAxis({
        ...axis,
        breakpoints: Array.from({ length: count }, (_, at) => from + ((to - from) * at) / (count - 1)),
      });
    };
    const short = rideOf({ ...options, minutes: 3, warmUp: false });
    const fine = await fitEvidence({ logs: [short.log], table: { rpm: many(rideRpm, 50), load: many(rideLoad, 10) } });
    expect(fine.corrections.cells.length).toBe(500);
    expect(fine.report.warnings.map((warning) => warning.code)).toContain("coarse");
  });
});

function without(log: LogSamples, ...keys: SampleKey[]): LogSamples {
  const chunks = [...(log.open() as Iterable<SampleChunk>)].map((chunk) => ({
    ...chunk,
    columns: Object.fromEntries(
      Object.entries(chunk.columns).filter(([key]) => !keys.includes(key as SampleKey)),
    ) as SampleChunk["columns"],
  }));
  return { ...log, open: () => chunks };
}

describe("logs that cannot be fitted are refused with a reason", { timeout: 180_000 }, () => {
  const { log } = rideOf({ seed: 9, rpm: rideRpm, load: rideLoad, minutes: 3, hertz: 20, warmUp: false });
  const refused = (logs: LogSamples[], more: object = {}) => fitEvidence({ logs, table, ...more });
  const changed = (key: SampleKey, change: (value: number, at: number) => number): LogSamples => {
    const chunks = [...(log.open() as Iterable<SampleChunk>)].map((chunk) => ({
      ...chunk,
      columns: { ...chunk.columns, [key]: chunk.columns[key]!.map(change) },
    }));
    return { ...log, open: () => chunks };
  };

  test("no log, no rows, no lambda, no load", async () => {
    await expect(refused([])).rejects.toEqual(code("evidence-no-logs"));
    await expect(refused([{ ...log, open: () => [] }])).rejects.toEqual(code("evidence-no-rows"));
    await expect(refused([without(log, "lambda")])).rejects.toEqual(code("evidence-no-lambda"));
    await expect(refused([changed("lambda", () => Number.NaN)])).rejects.toEqual(code("evidence-no-lambda"));
    await expect(refused([without(log, "manifold-pressure")])).rejects.toEqual(code("evidence-no-column"));
  });

  test("all samples gated out, and which gates did it", async () => {
    const gates: Gate[] = [{ kind: "within", quantity: "rpm", low: 30_000 }];
    await expect(refused([log], { gates })).rejects.toThrow(/gates leave 0 of \d+ readings \(out of range \d+/);
    await expect(refused([log], { gates })).rejects.toEqual(code("evidence-all-gated"));
  });

  test("lambda stuck", async () => {
    await expect(refused([changed("lambda", () => 1.02)])).rejects.toThrow(/sensor stuck/);
    const { report } = await refused([changed("lambda", (value, at) => (at % 4096 < 2000 ? 1.02 : value))]);
    expect(report.gates.find(({ kind }) => kind === "stuck-sensor")!.removed).toBeGreaterThan(1000);
  });

  test("one sample", async () => {
    const one: SampleChunk = {
      count: 1,
      first: 0,
      columns: Object.fromEntries(
        Object.entries([...(log.open() as Iterable<SampleChunk>)][0]!.columns).map(([key, values]) => [
          key,
          values!.slice(600, 601),
        ]),
      ) as SampleChunk["columns"],
    };
    await expect(refused([{ ...log, open: () => [one] }], { gates: [] })).rejects.toEqual(code("evidence-too-few"));
  });

  test("a constant column and a truth that says nothing of the delay are told", async () => {
    const still = changed("manifold-pressure", () => 60);
    const { corrections } = await refused([still]);
    expect(corrections.cells.every(Number.isFinite)).toBe(true);
    const flat = held(
      simulateLog({
        seed: 9,
        rpm: rideRpm,
        load: rideLoad,
        minutes: 3,
        hertz: 20,
        warmUp: false,
        fuelCut: false,
        truth: new Float64Array(256),
      }),
    );
    const level = [...(flat.log.open() as Iterable<SampleChunk>)].map((chunk) => ({
      ...chunk,
      columns: {
        ...chunk.columns,
        lambda: chunk.columns.lambda!.map((value, at) => value / chunk.columns["lambda-commanded"]![at]!),
        "lambda-commanded": new Float64Array(chunk.count).fill(1),
      },
    }));
    // Without enrichment nor error to see, the mixture never moves; what little is left of the transients is taken out.
    const calm = level.map((chunk) => ({
      ...chunk,
      columns: { ...chunk.columns, lambda: chunk.columns.lambda!.map((_, at) => 1 + 0.01 * Math.sin(at * 12.9898)) },
    }));
    const { report } = await refused([{ ...flat.log, open: () => calm as unknown as SampleChunk[] }]);
    expect(report.warnings.map((warning) => warning.code)).toContain("delay-uncertain");
  });

  test("time running backwards, and time standing still, cost a moment each and no more", async () => {
    const back = changed("time", (value, at) => (at % 1000 === 500 ? value - 2 : value));
    const { report } = await refused([back]);
    const before = await refused([log]);
    expect(report.gates.find(({ kind }) => kind === "backwards")!.removed).toBeGreaterThan(1);
    expect(report.used).toBeGreaterThan(0.85 * before.report.used);
    expect(report.warnings.map((warning) => warning.code)).toContain("time-backwards");
  });

  test("a log that fails half-way fails the fit, and nothing is half done", async () => {
    const breaks: LogSamples = {
      ...log,
      async *open() {
        yield [...(log.open() as Iterable<SampleChunk>)][0]!;
        throw new Error("the file is gone");
      },
    };
    await expect(refused([breaks])).rejects.toThrow("the file is gone");
    expect((await refused([log])).report.used).toBeGreaterThan(1000);
  });

  test("settings that make no sense", async () => {
    await expect(refused([log], { known: { lag: -1 } })).rejects.toEqual(code("out-of-range"));
    await expect(refused([log], { commanded: 14.7 })).rejects.toEqual(code("out-of-range"));
    await expect(refused([log], { sensors: [0] })).rejects.toEqual(code("out-of-range"));
  });
});
