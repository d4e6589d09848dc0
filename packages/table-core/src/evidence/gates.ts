import { FuelwrightError } from "../values/errors.ts";
import { requireFinite, requireOneOf, requireWithin, say } from "../values/require.ts";
import { type LogQuantity, type SampleChunk, sampleKey } from "./samples.ts";

/**
 * A rule that removes samples, as plain data. A gate only ever removes; what two gates remove, both remove.
 *
 * Engine gates (`within` on anything but lambda, `run-time`, `fuel-cut`, `throttle-rate`) say that the cylinder was in no
 * state to learn from; what the sensor shows later of such moments is removed too, as "settling". The others judge the
 * reading itself. `on` left out means on; `"without-pulse"`: only in logs without pulse widths.
 *
 * - `within`: keeps readings with the quantity between `low` and `high`, in its unit.
 * - `run-time`: removes so many `seconds` after the engine starts turning.
 * - `fuel-cut`: by the log's own fuel-cut column; without one, a pulse below `pulseMs`; without either, a throttle
 *   below `throttle` % above `rpm`.
 * - `throttle-rate`: removes where the throttle is faster than `most` % a second, and `settle` seconds after it.
 * - `sensor-range`: keeps lambda between `low` and `high`.
 * - `sensor-warm-up`: removes so many `seconds` from the beginning of the log.
 * - `stuck-sensor`: removes the very same reading for longer than `seconds`.
 * - `time-window`: keeps readings from `from` to `to`, in seconds of the log.
 * - `cylinder`: keeps rows that belong to one cylinder, in logs that say so row by row.
 */
export type Gate = { readonly on?: boolean | "without-pulse" } & (
  | { readonly kind: "within"; readonly quantity: LogQuantity; readonly low?: number; readonly high?: number }
  | { readonly kind: "run-time"; readonly seconds: number }
  | { readonly kind: "fuel-cut"; readonly pulseMs: number; readonly throttle: number; readonly rpm: number }
  | { readonly kind: "throttle-rate"; readonly most: number; readonly settle: number }
  | { readonly kind: "sensor-range"; readonly low: number; readonly high: number }
  | { readonly kind: "sensor-warm-up"; readonly seconds: number }
  | { readonly kind: "stuck-sensor"; readonly seconds: number }
  | { readonly kind: "time-window"; readonly from: number; readonly to: number }
  | { readonly kind: "cylinder"; readonly cylinder: number }
);

/** What a gate is called and why it is there, in words for the user. */
export const gateReasons: Readonly<Record<Gate["kind"] | StructuralGate, { label: string; reason: string }>> = {
  within: { label: "out of range", reason: "The engine was not in its normal working range." },
  "run-time": { label: "just started", reason: "After a start the mixture is not yet the table's." },
  "fuel-cut": { label: "fuel cut", reason: "No fuel was injected; the sensor sees air." },
  "throttle-rate": {
    label: "throttle moving",
    reason: "While the throttle moves, fuel on the intake wall bends lambda.",
  },
  "sensor-range": {
    label: "sensor at its stop",
    reason: "Near its ends the sensor no longer tells rich or lean apart.",
  },
  "sensor-warm-up": { label: "sensor warming up", reason: "A cold sensor does not read true." },
  "stuck-sensor": { label: "sensor stuck", reason: "A live reading never stays the very same for so long." },
  "time-window": { label: "outside the chosen time", reason: "You chose a part of the log." },
  cylinder: { label: "other cylinder", reason: "The row belongs to another cylinder." },
  unreadable: { label: "unreadable", reason: "Rpm, load or commanded mixture is missing or not a number." },
  repeated: { label: "same time again", reason: "The row has the time of the row before." },
  backwards: { label: "time running backwards", reason: "The row is earlier than the row before." },
  settling: {
    label: "settling",
    reason: "The sensor still shows gas from before, or the log had just begun or paused.",
  },
};

/** Removals that are always in force. */
export type StructuralGate = "unreadable" | "repeated" | "backwards" | "settling";

/** How many samples a gate removes, and how many of these no other gate would remove. */
export interface GateCount {
  readonly kind: Gate["kind"] | StructuralGate;
  /** Where it stands in the list of gates; null for those always in force. */
  readonly at: number | null;
  readonly label: string;
  readonly reason: string;
  /** Samples that it removes. */
  readonly removed: number;
  /** Those of them that no other gate removes. */
  readonly alone: number;
}

/**
 * The usual gates, as a list to change: coolant, run time, fuel cut, sensor range and warm-up, battery, rpm, stuck sensor.
 *
 * The throttle gate is on only where a log has no pulse widths; otherwise the fuel film is modelled instead.
 */
export const usualGates: readonly Gate[] = Object.freeze([
  { kind: "within", quantity: "rpm", low: 400, high: 20_000 },
  { kind: "within", quantity: "coolant-temperature", low: 65, high: 125 },
  { kind: "within", quantity: "battery-voltage", low: 11, high: 16 },
  { kind: "run-time", seconds: 20 },
  { kind: "fuel-cut", pulseMs: 0.3, throttle: 1, rpm: 1800 },
  { kind: "sensor-range", low: 0.68, high: 1.45 },
  { kind: "sensor-warm-up", seconds: 20 },
  { kind: "stuck-sensor", seconds: 3 },
  { kind: "throttle-rate", most: 60, settle: 0.6, on: "without-pulse" },
] as const);

/** The most gates in one list: each has one bit of a sample's mask. */
const MOST_GATES = 26;

/** Bits above those of the listed gates. */
export const structuralBits = {
  unreadable: 1 << 26,
  repeated: 1 << 27,
  backwards: 1 << 28,
  settling: 1 << 29,
} as const;

/** The longest sensor-side kinds: they judge the reading, not the engine. */
const sensorKinds: ReadonlySet<Gate["kind"]> = new Set([
  "sensor-range",
  "sensor-warm-up",
  "stuck-sensor",
  "time-window",
  "cylinder",
]);

/** Whether a gate judges the state of the engine (rather than the reading). */
export const isEngineGate = (gate: Gate): boolean =>
  !sensorKinds.has(gate.kind) && !(gate.kind === "within" && gate.quantity.startsWith("lambda"));

/** A checked copy of a list of gates. @throws FuelwrightError `bad-gate`, `out-of-range`, `unknown-choice` */
export function createGates(gates: readonly Gate[], where = "gates"): readonly Gate[] {
  if (!Array.isArray(gates) || gates.length > MOST_GATES)
    throw new FuelwrightError("bad-gate", `${where} must be a list of at most ${MOST_GATES} gates, got ${say(gates)}`);
  return Object.freeze(gates.map((gate, at) => checkGate(gate, `${where}[${at}]`)));
}

function checkGate(gate: Gate, where: string): Gate {
  const kinds = Object.keys(gateReasons) as Gate["kind"][];
  requireOneOf(`${where}.kind`, gate?.kind, kinds);
  const seconds = (value: unknown, name: string) => requireWithin(`${where}.${name}`, value, 0, 86_400);
  switch (gate.kind) {
    case "within":
      for (const end of ["low", "high"] as const)
        if (gate[end] !== undefined) requireFinite(`${where}.${end}`, gate[end]);
      break;
    case "run-time":
    case "sensor-warm-up":
    case "stuck-sensor":
      seconds(gate.seconds, "seconds");
      break;
    case "fuel-cut":
      for (const name of ["pulseMs", "throttle", "rpm"] as const) requireFinite(`${where}.${name}`, gate[name]);
      break;
    case "throttle-rate":
      requireWithin(`${where}.most`, gate.most, 0, 1e6);
      seconds(gate.settle, "settle");
      break;
    case "sensor-range":
      requireFinite(`${where}.low`, gate.low);
      requireFinite(`${where}.high`, gate.high);
      break;
    case "time-window":
      requireFinite(`${where}.from`, gate.from);
      requireFinite(`${where}.to`, gate.to);
      break;
    case "cylinder":
      requireFinite(`${where}.cylinder`, gate.cylinder);
      break;
    default:
      throw new FuelwrightError(
        "bad-gate",
        `${where}: ${String((gate as Gate).kind)} is always in force; leave it out`,
      );
  }
  return Object.freeze({ ...gate });
}

/** What gates remember from row to row, so that a log can be gated chunk by chunk. */
export interface GateState {
  startedAt: number;
  stoppedAt: number;
  throttleAt: number;
  throttle: number;
  fastUntil: number;
  logBegan: number;
  stuckSince: number;
  stuckAt: number;
}

export const gateStateAtStart = (): GateState => ({
  startedAt: Number.NaN,
  stoppedAt: Number.NEGATIVE_INFINITY,
  throttleAt: Number.NaN,
  throttle: Number.NaN,
  fastUntil: Number.NEGATIVE_INFINITY,
  logBegan: Number.NaN,
  stuckSince: Number.NaN,
  stuckAt: Number.NaN,
});

/**
 * For each sample of a chunk the gates that remove it, one bit a gate in their order; 0 is kept.
 *
 * @param channel - which lambda sensor, from 1
 * @param state - of the samples before; carried on in place
 */
export function gateMasks(chunk: SampleChunk, gates: readonly Gate[], state: GateState, channel = 1): Uint32Array {
  const masks = new Uint32Array(chunk.count);
  const column = (quantity: LogQuantity) =>
    chunk.columns[sampleKey(quantity, channel)] ?? chunk.columns[sampleKey(quantity)];
  const { time } = chunk.columns;
  gates.forEach((gate, at) => {
    if (gate.on === false || (gate.on === "without-pulse" && column("pulse-width"))) return;
    const bit = (1 << at) >>> 0;
    // NaN compares false both ways, so that what was not sampled removes nothing.
    const removeOutside = (values: Float64Array | undefined, low: number, high: number) => {
      if (values) for (let i = 0; i < chunk.count; i++) if (values[i]! < low || values[i]! > high) masks[i]! |= bit;
    };
    switch (gate.kind) {
      case "within":
        removeOutside(column(gate.quantity), gate.low ?? -Infinity, gate.high ?? Infinity);
        break;
      case "sensor-range":
        removeOutside(column("lambda"), gate.low, gate.high);
        break;
      case "time-window":
        removeOutside(time, gate.from, gate.to);
        break;
      case "cylinder": {
        const cylinder = column("cylinder");
        if (cylinder) for (let i = 0; i < chunk.count; i++) if (cylinder[i] !== gate.cylinder) masks[i]! |= bit;
        break;
      }
      case "sensor-warm-up":
        for (let i = 0; i < chunk.count; i++) {
          if (Number.isNaN(state.logBegan)) state.logBegan = time[i]!;
          const since = time[i]! - state.logBegan;
          if (since >= 0 && since < gate.seconds) masks[i]! |= bit;
        }
        break;
      case "run-time":
        gateRunTime(time, column("rpm"), gate.seconds, bit, state, masks);
        break;
      case "fuel-cut":
        gateFuelCut(chunk, column, gate, bit, masks);
        break;
      case "throttle-rate":
        gateThrottleRate(time, column("throttle-position"), gate, bit, state, masks);
        break;
      case "stuck-sensor":
        gateStuck(time, column("lambda"), gate.seconds, bit, state, masks);
        break;
    }
  });
  return masks;
}

function gateRunTime(
  time: Float64Array,
  rpm: Float64Array | undefined,
  seconds: number,
  bit: number,
  state: GateState,
  masks: Uint32Array,
): void {
  if (!rpm) return;
  for (let i = 0; i < masks.length; i++) {
    if (rpm[i]! < 300) {
      // One spoilt row is not a stop: the engine must stand for half a second.
      if (!(time[i]! - state.stoppedAt < 2)) state.stoppedAt = time[i]!;
      if (time[i]! - state.stoppedAt > 0.5) state.startedAt = Number.NaN;
    } else if (rpm[i]! >= 300) {
      state.stoppedAt = Number.NEGATIVE_INFINITY;
      if (Number.isNaN(state.startedAt)) state.startedAt = time[i]!;
    }
    const since = time[i]! - state.startedAt;
    if (since >= 0 && since < seconds) masks[i]! |= bit;
  }
}

function gateFuelCut(
  chunk: SampleChunk,
  column: (quantity: LogQuantity) => Float64Array | undefined,
  gate: Gate & { kind: "fuel-cut" },
  bit: number,
  masks: Uint32Array,
): void {
  const flag = column("fuel-cut");
  const pulse = column("pulse-width");
  const throttle = column("throttle-position");
  const rpm = column("rpm");
  for (let i = 0; i < chunk.count; i++) {
    const cut = flag
      ? flag[i]! > 0.5
      : pulse
        ? pulse[i]! < gate.pulseMs
        : throttle !== undefined && rpm !== undefined && throttle[i]! < gate.throttle && rpm[i]! > gate.rpm;
    if (cut) masks[i]! |= bit;
  }
}

function gateThrottleRate(
  time: Float64Array,
  throttle: Float64Array | undefined,
  gate: Gate & { kind: "throttle-rate" },
  bit: number,
  state: GateState,
  masks: Uint32Array,
): void {
  if (!throttle) return;
  for (let i = 0; i < masks.length; i++) {
    const since = time[i]! - state.throttleAt;
    // Over a tenth of a second or so, so that the sensor's own steps do not count as fast.
    if (!Number.isNaN(throttle[i]) && !(since >= 0 && since < 0.08)) {
      if (since > 0 && since < 1 && Math.abs(throttle[i]! - state.throttle) > gate.most * since)
        state.fastUntil = time[i]! + gate.settle;
      state.throttle = throttle[i]!;
      state.throttleAt = time[i]!;
    }
    if (time[i]! <= state.fastUntil && time[i]! > state.fastUntil - gate.settle - 1) masks[i]! |= bit;
  }
}

function gateStuck(
  time: Float64Array,
  lambda: Float64Array | undefined,
  seconds: number,
  bit: number,
  state: GateState,
  masks: Uint32Array,
): void {
  if (!lambda) return;
  for (let i = 0; i < masks.length; i++) {
    if (Number.isNaN(lambda[i])) continue;
    if (lambda[i] !== state.stuckAt) {
      state.stuckAt = lambda[i]!;
      state.stuckSince = time[i]!;
    }
    if (time[i]! - state.stuckSince > seconds) masks[i]! |= bit;
  }
}
