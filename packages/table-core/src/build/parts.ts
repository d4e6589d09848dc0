import { requireVolts } from "../fuel/dead-time.ts";
import { pressureMixUps } from "../fuel/rail.ts";
import { FuelwrightError } from "../values/errors.ts";
import { requirePlausible } from "../values/plausible.ts";
import { requireOneOf, requireText, requireWhole, requireWithin, say } from "../values/require.ts";

/** One or more equal butterfly bodies. */
export interface ThrottleBody {
  readonly name?: string;
  /** Of the bore at the plate. */
  readonly diameterMm: number;
  /** How many bodies the engine has in all; default 1. */
  readonly count?: number;
  /** Diameter of the shaft that crosses the bore; left out: an assumed share of the bore. */
  readonly shaftMm?: number;
  /** Flow through the open body over that of an ideal nozzle of its free area; left out: common practice. */
  readonly dischargeCoefficient?: number;
}

/** What lies between throttle body and valve, told as an ideal nozzle or as a flow bench figure. */
export interface Manifold {
  readonly name?: string;
  /** Area of the ideal nozzle that flows as much as one passage. */
  readonly effectiveAreaMm2?: number;
  /** What one passage flows on a bench. */
  readonly flowBench?: FlowBenchFigure;
  /** How many such passages the engine has; default: one for each cylinder. */
  readonly passages?: number;
}

/** Air drawn through a part at a stated depression. */
export interface FlowBenchFigure {
  /** Of air as it is in the room. */
  readonly litresPerSecond: number;
  /** 28 inches of water are 6.97 kPa. */
  readonly depressionKpa: number;
  /** Of the room; default 20. */
  readonly temperatureC?: number;
  /** Of the room; default 101.325. */
  readonly barometricKpa?: number;
}

/** How the cylinders draw: from a volume that evens the flow out, or each stroke straight through the parts. */
export interface Intake {
  readonly layout: "shared-plenum" | "separate-pulses";
  /** Crank degrees a stroke draws for; default 220 (common practice). Counts for separate pulses only. */
  readonly openDegrees?: number;
  /** Where the pressure sensor sits; default `after-manifold`, at the valve. */
  readonly sensor?: "before-manifold" | "after-manifold";
}

/** One measured point of a pump. */
export interface PumpPoint {
  readonly pressureKpa: number;
  readonly litresPerHour: number;
  /** Left out at every point: the pump's rated voltage. */
  readonly volts?: number;
}

/** A fuel pump by its curve: flow falls as pressure rises. */
export interface Pump {
  readonly name?: string;
  readonly curve: readonly PumpPoint[];
  /** Voltage of the points that say none; left out: the battery's. */
  readonly ratedVolts?: number;
  /** Pressure lost in filter and line at full flow. */
  readonly lossKpa?: number;
}

/** A checked, frozen copy. @throws FuelwrightError `implausible` (500 mm: "did you mean"), naming the field */
export function createThrottleBody(body: ThrottleBody, where = "throttleBody"): ThrottleBody {
  requireObject(where, body, "give its diameter");
  const diameterMm = requirePlausible(`${where}.diameterMm`, body.diameterMm, {
    low: 8,
    high: 130,
    unit: "mm",
    mixUps: [
      { unit: "in", toOwn: (inches) => inches * 25.4 },
      { unit: "cm", toOwn: (centimetres) => centimetres * 10 },
      { unit: "× 0.1 mm", toOwn: (tenths) => tenths / 10 },
    ],
  });
  return Object.freeze({
    ...named(where, body),
    diameterMm,
    ...(body.count !== undefined && { count: requireWhole(`${where}.count`, body.count, 1, 16) }),
    ...(body.shaftMm !== undefined && {
      shaftMm: requireWithin(`${where}.shaftMm`, body.shaftMm, 0, diameterMm * 0.6),
    }),
    ...(body.dischargeCoefficient !== undefined && {
      dischargeCoefficient: requirePlausible(`${where}.dischargeCoefficient`, body.dischargeCoefficient, {
        low: 0.3,
        high: 1,
        unit: "as a fraction",
        mixUps: [{ unit: "%", toOwn: (percent) => percent / 100 }],
      }),
    }),
  });
}

/** A checked, frozen copy. @throws FuelwrightError `bad-manifold` without an area or a bench figure, `implausible` */
export function createManifold(manifold: Manifold, where = "manifold"): Manifold {
  requireObject(where, manifold, "give its effective area or a flow bench figure");
  const { effectiveAreaMm2, flowBench } = manifold;
  if ((effectiveAreaMm2 === undefined) === (flowBench === undefined))
    throw new FuelwrightError(
      "bad-manifold",
      `${where} must say either effectiveAreaMm2 or flowBench, got ${flowBench ? "both" : "neither"}; ` +
        "leave the manifold out if nothing is known of it",
      { where },
    );
  return Object.freeze({
    ...named(where, manifold),
    ...(effectiveAreaMm2 !== undefined && {
      effectiveAreaMm2: requirePlausible(`${where}.effectiveAreaMm2`, effectiveAreaMm2, {
        low: 20,
        high: 15_000,
        unit: "mm²",
        mixUps: [{ unit: "cm²", toOwn: (area) => area * 100 }],
      }),
    }),
    ...(flowBench !== undefined && { flowBench: createFlowBench(flowBench, `${where}.flowBench`) }),
    ...(manifold.passages !== undefined && {
      passages: requireWhole(`${where}.passages`, manifold.passages, 1, 32),
    }),
  });
}

function createFlowBench(bench: FlowBenchFigure, where: string): FlowBenchFigure {
  requireObject(where, bench, "give litresPerSecond and depressionKpa");
  return Object.freeze({
    litresPerSecond: requirePlausible(`${where}.litresPerSecond`, bench.litresPerSecond, {
      low: 1,
      high: 1000,
      unit: "L/s",
      mixUps: [{ unit: "ft3/min", toOwn: (flow) => flow * 0.4719474432 }],
    }),
    depressionKpa: requirePlausible(`${where}.depressionKpa`, bench.depressionKpa, {
      low: 0.2,
      high: 26,
      unit: "kPa",
      mixUps: [{ unit: "inH2O", toOwn: (inches) => inches * 0.24908891 }],
    }),
    ...(bench.temperatureC !== undefined && {
      temperatureC: requireWithin(`${where}.temperatureC`, bench.temperatureC, -20, 60),
    }),
    ...(bench.barometricKpa !== undefined && {
      barometricKpa: requireWithin(`${where}.barometricKpa`, bench.barometricKpa, 45, 110),
    }),
  });
}

/** A checked, frozen copy. @throws FuelwrightError `unknown-choice`, `out-of-range`, naming the field */
export function createIntake(intake: Intake, where = "intake"): Intake {
  requireObject(where, intake, "give its layout");
  return Object.freeze({
    layout: requireOneOf(`${where}.layout`, intake.layout, ["shared-plenum", "separate-pulses"]),
    ...(intake.openDegrees !== undefined && {
      openDegrees: requireWithin(`${where}.openDegrees`, intake.openDegrees, 180, 340),
    }),
    ...(intake.sensor !== undefined && {
      sensor: requireOneOf(`${where}.sensor`, intake.sensor, ["before-manifold", "after-manifold"]),
    }),
  });
}

/**
 * A checked, frozen copy, points sorted by voltage, then pressure.
 *
 * @throws FuelwrightError `pump-curve-rises` naming the point, `bad-pump`, `not-positive` (zero volts), `implausible`
 */
export function createPump(pump: Pump, where = "pump"): Pump {
  requireObject(where, pump, "give its curve");
  if (!Array.isArray(pump.curve) || pump.curve.length === 0)
    throw new FuelwrightError(
      "bad-pump",
      `${where}.curve must be a list of points, got ${say(pump.curve)}; give at least one pressure with its flow`,
      { where },
    );
  const curve: PumpPoint[] = pump.curve.map((point: PumpPoint, at) => ({
    pressureKpa: requirePlausible(`${where}.curve[${at}].pressureKpa`, point?.pressureKpa, {
      low: 0,
      high: 2000,
      unit: "kPa",
      mixUps: pressureMixUps,
    }),
    litresPerHour: requirePlausible(`${where}.curve[${at}].litresPerHour`, point.litresPerHour, {
      low: 0,
      high: 2000,
      unit: "L/h",
      mixUps: [{ unit: "cc/min", toOwn: (flow) => flow * 0.06 }],
    }),
    ...(point.volts !== undefined && { volts: requireVolts(`${where}.curve[${at}].volts`, point.volts) }),
  }));
  const withVolts = curve.filter((point) => point.volts !== undefined).length;
  if (withVolts !== 0 && withVolts !== curve.length)
    throw new FuelwrightError(
      "bad-pump",
      `${where}.curve must give volts at every point or at none, got ${withVolts} of ${curve.length}; fill in the others`,
      { where },
    );
  curve.sort((a, b) => (a.volts ?? 0) - (b.volts ?? 0) || a.pressureKpa - b.pressureKpa);
  curve.forEach((point, at) => {
    const before = curve[at - 1];
    if (!before || before.volts !== point.volts) return;
    const atVolts = point.volts === undefined ? "" : ` at ${point.volts} V`;
    if (point.pressureKpa === before.pressureKpa)
      throw new FuelwrightError(
        "bad-pump",
        `${where}.curve has ${point.pressureKpa} kPa twice${atVolts}; drop one of them`,
        { where, pressureKpa: point.pressureKpa },
      );
    if (point.litresPerHour > before.litresPerHour)
      throw new FuelwrightError(
        "pump-curve-rises",
        `${where}.curve must not rise with pressure, got ${before.litresPerHour} L/h at ${before.pressureKpa} kPa and ` +
          `${point.litresPerHour} L/h at ${point.pressureKpa} kPa${atVolts}; a pump gives less against more pressure, check both points`,
        { where, pressureKpa: point.pressureKpa },
      );
  });
  return Object.freeze({
    ...named(where, pump),
    curve: Object.freeze(curve.map((point) => Object.freeze(point))),
    ...(pump.ratedVolts !== undefined && { ratedVolts: requireVolts(`${where}.ratedVolts`, pump.ratedVolts) }),
    ...(pump.lossKpa !== undefined && { lossKpa: requireWithin(`${where}.lossKpa`, pump.lossKpa, 0, 500) }),
  });
}

function requireObject(where: string, value: unknown, advice: string): void {
  if (typeof value !== "object" || value === null)
    throw new FuelwrightError("bad-part", `${where} must be an object, got ${say(value)}; ${advice}`, { where });
}

function named(where: string, part: { readonly name?: string }): { readonly name?: string } {
  return part.name === undefined ? {} : { name: requireText(`${where}.name`, part.name, 100) };
}
