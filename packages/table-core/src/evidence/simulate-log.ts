import { seededRandom } from "../numeric/seeded-random.ts";
import type { Axis } from "../values/axis.ts";
import { FuelwrightError } from "../values/errors.ts";
import { requirePositive, requireWhole, requireWithin } from "../values/require.ts";
import { flowReference } from "./flow-reference.ts";
import type { LogSamples, SampleChunk } from "./samples.ts";

/** What {@link simulateLog} takes; every figure has a default, and all of them are invented. */
export interface SimulatedLogOptions {
  /** Any whole number; the same gives the same log. */
  readonly seed: number;
  /** The table the truth belongs to: its rpm axis and a manifold-pressure axis. */
  readonly rpm: Axis;
  readonly load: Axis;
  readonly name?: string;
  readonly minutes?: number;
  readonly hertz?: number;
  /** Log-corrections of each cell, row-major [load][rpm]; left out: a random surface. */
  readonly truth?: Float64Array;
  /** The random surface: root mean square, and how many single cells stand out by how much. */
  readonly surface?: {
    readonly amplitude?: number;
    readonly length?: number;
    readonly outOfLine?: number;
    readonly outBy?: number;
  };
  /** Standard deviation of one lambda reading, as a share. */
  readonly noise?: number;
  /** Mixture scatter in the cylinder, as a share; it passes the lag, so that readings hang together in time. */
  readonly cylinderNoise?: number;
  /** Seconds: a constant part, and the part at the reference air flow that grows as the flow falls (plug flow). */
  readonly delay?: { readonly constant?: number; readonly flow?: number };
  /** Seconds, the sensor's time constant. */
  readonly lag?: number;
  /** Share of the fuel that goes to the wall, and seconds it stays there; null: no film. */
  readonly film?: { readonly share: number; readonly time: number } | null;
  readonly fuelCut?: boolean;
  readonly warmUp?: boolean;
  readonly closedLoop?: boolean;
  /** Share of rows spoilt: unreadable, wild, repeated, or with time running backwards. */
  readonly corrupted?: number;
  /** Whether rows come at uneven steps. */
  readonly uneven?: boolean;
  /** Milliseconds by which the injectors' dead time is longer than the controller thinks. */
  readonly deadTimeError?: number;
  /** What the sensor can show. */
  readonly sensorRange?: readonly [number, number];
}

/** A made log with the truth it was made from. */
export interface SimulatedLog {
  readonly log: LogSamples;
  /** What {@link SimulatedLogOptions} says of each, in the same units. */
  readonly truth: {
    /** Log-corrections, row-major [load][rpm]: the table's cells times exp of these would be right. */
    readonly corrections: Float64Array;
    readonly delay: { readonly constant: number; readonly flow: number };
    readonly lag: number;
    readonly film: { readonly share: number; readonly time: number } | null;
    readonly noise: number;
  };
}

/** Seconds between the moments at which engine, film, exhaust and sensor are computed. */
const STEP = 0.005;
const ROWS_A_CHUNK = 4096;
/** Engine speed a metre per second of road speed, by gear. */
const RPM_PER_SPEED = [430, 290, 220, 180, 155] as const;
const DEAD_TIME_MS = 0.9;

/**
 * A made log of a ride on an invented machine, and the truth behind it: for demonstrations, tests and learners.
 *
 * A rider model holds speeds, rolls on and off, shifts and idles. The cylinder's mixture follows the true surface and the
 * fuel film, travels to the sensor as a plug at the speed of the exhaust flow, and is seen through a first-order lag with
 * noise. The same seed gives the same log. All figures are invented; the log is marked as simulated.
 *
 * @example simulateLog({ seed: 1, rpm, load, minutes: 5, film: { share: 0.18, time: 0.18 } })
 * @throws FuelwrightError `out-of-range`, `not-positive`, `wrong-cell-count`
 */
export function simulateLog(options: SimulatedLogOptions): SimulatedLog {
  const ride = checkOptions(options);
  const corrections = options.truth?.slice() ?? randomSurface(options);
  if (corrections.length !== options.rpm.breakpoints.length * options.load.breakpoints.length)
    throw new FuelwrightError(
      "wrong-cell-count",
      `simulateLog: truth must have one log-correction for each cell, got ${corrections.length}; check the axes`,
      { got: corrections.length },
    );
  return {
    log: {
      name: options.name ?? `simulated log ${options.seed}`,
      simulated: true,
      open: () => rideChunks(ride, options, corrections),
    },
    truth: { corrections, delay: ride.delay, lag: ride.lag, film: ride.film, noise: ride.noise },
  };
}

type Ride = ReturnType<typeof checkOptions>;

function checkOptions(options: SimulatedLogOptions) {
  const film = options.film ?? null;
  return {
    seed: requireWhole("simulateLog: seed", options.seed, 0, 4_294_967_295),
    seconds: 60 * requireWithin("simulateLog: minutes", options.minutes ?? 20, 0.01, 1440),
    hertz: requireWithin("simulateLog: hertz", options.hertz ?? 50, 1, 200),
    noise: requireWithin("simulateLog: noise", options.noise ?? 0.015, 0, 0.5),
    cylinderNoise: requireWithin("simulateLog: cylinderNoise", options.cylinderNoise ?? 0, 0, 0.5),
    delay: {
      constant: requireWithin("simulateLog: delay.constant", options.delay?.constant ?? 0.06, 0, 2),
      flow: requireWithin("simulateLog: delay.flow", options.delay?.flow ?? 0.25, 0, 2),
    },
    lag: requirePositive("simulateLog: lag", options.lag ?? 0.12),
    film: film && {
      share: requireWithin("simulateLog: film.share", film.share, 0, 0.9),
      time: requirePositive("simulateLog: film.time", film.time),
    },
    corrupted: requireWithin("simulateLog: corrupted", options.corrupted ?? 0.002, 0, 0.5),
    range: options.sensorRange ?? ([0.65, 1.6] as const),
    deadTimeError: requireWithin("simulateLog: deadTimeError", options.deadTimeError ?? 0, -0.5, 0.5),
  };
}

/** A smooth random surface (a sum of waves), with single cells standing out if asked. */
function randomSurface({ seed, rpm, load, surface = {} }: SimulatedLogOptions): Float64Array {
  const { amplitude = 0.035, length = 0.3, outOfLine = 0, outBy = 0.08 } = surface;
  const random = seededRandom(seed ^ 0x5eed);
  const waves = Array.from({ length: 24 }, () => ({
    x: random.normal() / (2 * Math.PI * length),
    y: random.normal() / (2 * Math.PI * length),
    phase: random.uniform(),
  }));
  const place = ({ breakpoints }: Axis, at: number) =>
    (breakpoints[at]! - breakpoints[0]!) / (breakpoints[breakpoints.length - 1]! - breakpoints[0]! || 1);
  const cells = Float64Array.from({ length: rpm.breakpoints.length * load.breakpoints.length }, (_, at) => {
    const u = place(rpm, at % rpm.breakpoints.length);
    const v = place(load, Math.floor(at / rpm.breakpoints.length));
    return waves.reduce((sum, w) => sum + Math.cos(2 * Math.PI * (w.x * u + w.y * v + w.phase)), 0);
  });
  const mean = cells.reduce((sum, cell) => sum + cell, 0) / cells.length;
  const spread = Math.sqrt(cells.reduce((sum, cell) => sum + (cell - mean) ** 2, 0) / cells.length) || 1;
  const offset = 0.4 * amplitude * random.normal();
  for (let at = 0; at < cells.length; at++) cells[at] = ((cells[at]! - mean) / spread) * amplitude + offset;
  for (let out = 0; out < outOfLine; out++) {
    const at = Math.floor(random.uniform() * cells.length);
    cells[at] = cells[at]! + (random.uniform() < 0.5 ? -1 : 1) * outBy * (0.75 + 0.5 * random.uniform());
  }
  return cells;
}

function* rideChunks(ride: Ride, options: SimulatedLogOptions, truth: Float64Array): Generator<SampleChunk> {
  const engine = simulateEngine(ride, options, truth);
  const noise = seededRandom(ride.seed ^ 0x10c5);
  const keys = [
    "time",
    "rpm",
    "manifold-pressure",
    "throttle-position",
    "lambda",
    "lambda-commanded",
    "pulse-width",
    "coolant-temperature",
    "battery-voltage",
    "trim-short",
    "gear",
    "speed",
  ] as const;
  type Key = (typeof keys)[number];
  let first = 0;
  let at = 0;
  const fresh = () =>
    Object.fromEntries(keys.map((key) => [key, new Float64Array(ROWS_A_CHUNK)])) as Record<Key, Float64Array>;
  let columns = fresh();
  const chunk = (): SampleChunk => ({
    count: at,
    first,
    columns: Object.fromEntries(
      keys.map((key) => [key, columns[key].slice(0, at)]),
    ) as unknown as SampleChunk["columns"],
  });
  const every = 1 / ride.hertz;
  let due = 0;
  const put = (moment: Moment, time: number, spoil: number) => {
    const lambda = Math.min(
      ride.range[1],
      Math.max(ride.range[0], Math.exp(moment.seen + ride.noise * noise.normal())),
    );
    const row: Record<Key, number> = {
      time,
      rpm: Math.round(moment.rpm + 3 * noise.normal()),
      "manifold-pressure": round(moment.pressure + 0.2 * noise.normal(), 1),
      "throttle-position": round(moment.throttle, 1),
      lambda: round(lambda, 4),
      "lambda-commanded": round(moment.commanded, 4),
      "pulse-width": round(moment.pulse, 3),
      "coolant-temperature": round(moment.coolant, 1),
      "battery-voltage": round(moment.volts, 2),
      "trim-short": round(100 * moment.trim, 2),
      gear: moment.gear,
      speed: round(3.6 * moment.speed, 1),
    };
    if (spoil === 1) row.rpm = 65_535;
    if (spoil === 2) row.lambda = Number.NaN;
    if (spoil === 3) row["manifold-pressure"] = Number.NaN;
    if (spoil === 4) row.lambda = 0;
    for (const key of keys) columns[key][at] = row[key];
    at++;
  };
  for (const moment of engine) {
    if (moment.time + 1e-9 < due) continue;
    due += options.uneven ? every * (0.4 + 1.2 * noise.uniform()) : every;
    const spoilt = noise.uniform() < ride.corrupted;
    const spoil = spoilt ? Math.floor(7 * noise.uniform()) : -1;
    put(moment, spoil === 5 ? Math.max(0, moment.time - 3) : moment.time, spoil);
    if (spoil === 6 && at < ROWS_A_CHUNK) put(moment, moment.time, -1);
    if (at === ROWS_A_CHUNK) {
      yield chunk();
      first += at;
      at = 0;
      columns = fresh();
    }
  }
  if (at > 0) yield chunk();
}

const round = (value: number, decimals: number) => Math.round(value * 10 ** decimals) / 10 ** decimals;

/** What engine and sensor are doing at one moment. */
interface Moment {
  time: number;
  rpm: number;
  pressure: number;
  throttle: number;
  commanded: number;
  pulse: number;
  coolant: number;
  volts: number;
  trim: number;
  gear: number;
  speed: number;
  /** ln of the lambda the sensor would show without noise. */
  seen: number;
}

function* simulateEngine(ride: Ride, options: SimulatedLogOptions, truth: Float64Array): Generator<Moment> {
  const { warmUp = true, fuelCut = true, closedLoop = false } = options;
  const random = seededRandom(ride.seed);
  const rider = createRider(random);
  const surface = surfaceLookup(options.rpm, options.load, truth);
  // What left the cylinder, kept long enough for the slowest gas to arrive.
  const kept = 2048;
  const mixtures = new Float64Array(kept);
  const volumes = new Float64Array(kept);
  let volume = 0;
  let arriving = 0;
  let seen = 0;
  let arrivedBefore = 0;
  let film = -1;
  let trim = 0;
  let cutFor = 0;
  let scatter = 0;
  const constantSteps = ride.delay.constant / STEP;
  const lagShare = 1 - Math.exp(-STEP / ride.lag);
  const steps = Math.floor(ride.seconds / STEP);
  for (let step = 0; step < steps; step++) {
    const time = step * STEP;
    const { rpm, pressure, throttle, gear, speed } = rider(time);
    const coolant = warmUp ? 88 - 66 * Math.exp(-time / 110) : 88;
    const cold = Math.max(0, (70 - coolant) / 50);
    const volts = (rpm > 1400 ? 13.9 : 13.1) + 0.05 * Math.sin(time / 7);
    const rich = Math.min(1, Math.max(0, (pressure - 70) / 20));
    const commanded = (1 - 0.12 * rich) * (1 - 0.1 * cold);
    cutFor = throttle < 0.5 && rpm > (cutFor > 0.3 ? 1700 : 2000) ? cutFor + STEP : 0;
    const cut = fuelCut && cutFor > 0.3;
    const efficiency = 0.78 + 0.14 * Math.sin((rpm - 1500) / 2600);
    const open = (0.1 * pressure * efficiency * (1 + trim)) / commanded;
    const dead = DEAD_TIME_MS - 0.12 * (volts - 13.5);
    const pulse = cut ? 0 : open + dead;
    const injected = cut ? 0 : open * rpm;
    let delivered = injected;
    if (ride.film) {
      const share = Math.min(0.9, ride.film.share * (1 + 0.5 * cold));
      if (film < 0) film = share * ride.film.time * injected;
      const keep = Math.exp(-STEP / ride.film.time);
      const next = keep * film + (1 - keep) * share * ride.film.time * injected;
      delivered = injected - (next - film) / STEP;
      film = next;
    }
    scatter += (random.normal() * ride.cylinderNoise - scatter) * 0.2;
    const deadTimeShare = ride.deadTimeError === 0 ? 0 : Math.log(open / Math.max(0.2, open - ride.deadTimeError));
    const air =
      Math.log(commanded) + surface(rpm, pressure) - Math.log(1 + trim) + 0.06 * cold + deadTimeShare + 3 * scatter;
    const mixture = delivered > 0.05 * open * rpm ? air + Math.log((open * rpm) / delivered) : 1.4;
    volume += (STEP * rpm * pressure) / (flowReference.rpm * flowReference.pressure);
    const slot = step % kept;
    mixtures[slot] = Math.min(1.4, mixture);
    volumes[slot] = volume;
    // The sensor's dead time counts back from now, the plug from there.
    const past = step - constantSteps;
    const from = Math.floor(past);
    const share = past - from;
    const volumeAt = (at: number) => volumes[Math.max(0, at) % kept]!;
    const passed = from < 0 ? 0 : volumeAt(from) * (1 - share) + volumeAt(Math.min(step, from + 1)) * share;
    const leaving = passed - ride.delay.flow;
    arriving = Math.max(arriving, step - kept + 2, 0);
    while (arriving < step && volumeAt(arriving + 1) < leaving) arriving++;
    const before = volumeAt(arriving);
    const after = volumeAt(Math.min(step, arriving + 1));
    const part = after > before ? Math.min(1, Math.max(0, (leaving - before) / (after - before))) : 0;
    const arrived = mixtures[arriving % kept]! * (1 - part) + mixtures[Math.min(step, arriving + 1) % kept]! * part;
    // The gas between two moments is taken as halfway between what arrives at either.
    seen += (0.5 * (arrived + arrivedBefore) - seen) * lagShare;
    arrivedBefore = arrived;
    if (closedLoop && coolant > 60 && pressure < 75 && !cut)
      trim = Math.min(0.12, Math.max(-0.12, trim + 0.35 * STEP * (Math.min(seen, 0.3) - Math.log(commanded))));
    yield { time, rpm, pressure, throttle, commanded, pulse, coolant, volts, trim, gear, speed, seen };
  }
}

/** Bilinear lookup of the truth, edges held: written out here so that the made log owes nothing to what reads it. */
function surfaceLookup(rpm: Axis, load: Axis, cells: Float64Array) {
  const columns = rpm.breakpoints.length;
  const locate = ({ breakpoints }: Axis, value: number): [number, number] => {
    const last = breakpoints.length - 1;
    if (value <= breakpoints[0]!) return [0, 0];
    if (value >= breakpoints[last]!) return [Math.max(0, last - 1), last > 0 ? 1 : 0];
    let at = 0;
    while (breakpoints[at + 1]! <= value) at++;
    return [at, (value - breakpoints[at]!) / (breakpoints[at + 1]! - breakpoints[at]!)];
  };
  return (rpmNow: number, loadNow: number) => {
    const [c, u] = locate(rpm, rpmNow);
    const [r, v] = locate(load, loadNow);
    const at = r * columns + c;
    const below = cells[at]! * (1 - u) + (u > 0 ? cells[at + 1]! * u : 0);
    if (v === 0) return below;
    return below * (1 - v) + (cells[at + columns]! * (1 - u) + (u > 0 ? cells[at + columns + 1]! * u : 0)) * v;
  };
}

/** A rider: holds speeds, pulls, rolls off, shifts and waits; gives the engine's state every step. */
function createRider(random: ReturnType<typeof seededRandom>) {
  let speed = 0;
  let gear = 1;
  let throttle = 0;
  let wanted = 0;
  let rate = 100;
  let pressure = 40;
  let until = 4;
  let mode: "idle" | "hold" | "pull" | "overrun" | "ramp" = "idle";
  let holdSpeed = 0;
  let wiggle = 0;
  let slope = 0;
  let shiftUp = 5200;
  let shiftDown = 2100;
  let shifting = 0;
  let idleSpeed = 1100;
  let rampTo = 0;
  const between = (low: number, high: number) => low + (high - low) * random.uniform();
  const choose = (time: number) => {
    const dice = random.uniform();
    if (dice < 0.06) mode = "idle";
    else if (dice < 0.58) mode = "hold";
    else if (dice < 0.74) mode = "pull";
    else if (dice < 0.86) mode = "overrun";
    else mode = "ramp";
    until =
      time +
      {
        idle: between(4, 12),
        hold: between(5, 22),
        pull: between(1.5, 6),
        overrun: between(1.5, 4),
        ramp: between(5, 12),
      }[mode];
    holdSpeed = between(7, 38);
    rate = between(90, 420);
    shiftUp = between(3600, 7100);
    shiftDown = between(1500, 2900);
    rampTo = between(15, 95);
    wanted = mode === "pull" ? between(45, 100) : 0;
  };
  return (time: number) => {
    if (time >= until) choose(time);
    wiggle += -wiggle * STEP * 0.8 + 2.2 * Math.sqrt(STEP) * random.normal();
    slope += -slope * STEP * 0.03 + 60 * Math.sqrt(STEP) * random.normal();
    if (mode === "hold")
      wanted = Math.min(70, Math.max(2, 8 + 0.35 * holdSpeed + 4 * (holdSpeed - speed) + 2 * wiggle));
    if (mode === "ramp") wanted += ((rampTo - wanted) * STEP) / Math.max(0.5, until - time);
    if (mode === "idle" || mode === "overrun") wanted = 0;
    if (shifting > 0) shifting -= STEP;
    const asked = shifting > 0 ? 0 : wanted;
    throttle += Math.max(-rate * STEP, Math.min(rate * STEP, asked - throttle));
    const linked = speed > 2.8 || (mode !== "idle" && speed > 1);
    idleSpeed += (1100 - idleSpeed) * STEP + 12 * Math.sqrt(STEP) * random.normal();
    const geared = speed * RPM_PER_SPEED[gear - 1]!;
    const rpm = linked ? Math.max(geared, 1000) : idleSpeed + 20 * throttle;
    if (linked && shifting <= 0) {
      if (geared > shiftUp && gear < 5) {
        gear++;
        shifting = 0.3;
      } else if (geared < shiftDown && gear > 1) {
        gear--;
        shifting = 0.3;
      }
    }
    const still = 100 - 72 * Math.exp(-(throttle + 1.6) / (5 + (16 * rpm) / 6000));
    pressure += (still - pressure) * (1 - Math.exp(-STEP / 0.025));
    const torque = 88 * Math.min(1, (pressure - 33) / 68);
    const pullForce = ((torque * RPM_PER_SPEED[gear - 1]! * 2 * Math.PI) / 60) * (shifting > 0 ? 0 : 1);
    const brake = mode === "idle" ? 1400 : mode === "ramp" || rpm > 7000 ? 900 * Math.max(0, (rpm - 6400) / 600) : 0;
    const force = (speed > 0.5 || pullForce > 0 ? pullForce : 0) - 90 - 0.5 * speed * speed - slope - brake;
    speed = Math.max(0, speed + (STEP * force) / 420);
    return { rpm: Math.min(rpm, 7600), pressure, throttle, gear, speed };
  };
}
