import { chargeTemperature, DRY_AIR_GAS_CONSTANT, ZERO_CELSIUS_K } from "../air/air-charge.ts";
import { vapourShare } from "../air/humidity.ts";
import { steadyRatio, strokeFill } from "../air/intake-fill.ts";
import { CRITICAL_PRESSURE_RATIO, nozzleFlow } from "../air/nozzle.ts";
import { barometricPressure, type Place } from "../air/place.ts";
import { betweenPressure, type Restriction, restriction } from "../air/restriction.ts";
import { ASSUMED_VOLUMETRIC_EFFICIENCY_PERCENT } from "../fuel/conditions.ts";
import { findRoot } from "../numeric/find-root.ts";
import { heldLinear } from "../numeric/held-linear.ts";
import type { Assumption, Basis } from "../values/basis.ts";
import { FuelwrightError } from "../values/errors.ts";
import { sayPercent, sayRpm } from "../values/plausible.ts";
import { requirePositive, requireWithin } from "../values/require.ts";
import type { Engine } from "./engine.ts";
import type { Intake, Manifold, ThrottleBody } from "./parts.ts";

/** The parts that air passes, and where. A `Build` fits. */
export interface IntakeParts {
  readonly engine: Engine;
  readonly place: Place;
  readonly throttleBody?: ThrottleBody;
  readonly manifold?: Manifold;
  readonly intake?: Intake;
}

/** Efficiency of the engine behind the restrictions, in percent: one figure, or points over rpm (held outside). */
export type EfficiencyCurve = number | readonly { readonly rpm: number; readonly percent: number }[];

/** What {@link solveIntake} works with. */
export interface SolveIntake {
  readonly build: IntakeParts;
  /** One or more. */
  readonly rpm: number | readonly number[];
  /** Against the air at the valve; default the engine's own figure, or an assumed one. */
  readonly volumetricEfficiencyPercent?: EfficiencyCurve;
  /** Of the throttle, 0..100; default fully open. */
  readonly openingPercent?: number;
}

/** The intake at one rpm. */
export interface IntakePoint {
  readonly rpm: number;
  /** All cylinders, as it is drawn (with its vapour). */
  readonly airGramsPerSecond: number;
  /** Dry, one cylinder and cycle. */
  readonly airMg: number;
  /** Between throttle body and manifold; null with separate pulses, where it swings with every stroke. */
  readonly betweenKpa: number | null;
  /** At the valve; with separate pulses the steady pressure that would fill as well. */
  readonly manifoldKpa: number;
  /** Air lost to the restrictions, in percent of what would be drawn without. */
  readonly lossPercent: number;
  /** Most that the parts pass, whatever draws. */
  readonly capacityGramsPerSecond: number;
  readonly choked: "throttle-body" | "manifold" | null;
}

/** What {@link solveIntake} gives: a point for each speed, and the areas that the air goes through. */
export interface IntakeSolution {
  readonly points: readonly IntakePoint[];
  /** Area of the ideal nozzle that flows as much, in mm², for what one stroke (or the plenum) draws through. */
  readonly throttleAreaMm2: number | null;
  readonly manifoldAreaMm2: number | null;
  /** Estimated: discharge coefficients and efficiencies always are. */
  readonly basis: Basis;
  readonly assumptions: readonly Assumption[];
}

/** Flow through an open throttle body over that of an ideal nozzle of its free area; common practice. */
const THROTTLE_DISCHARGE = 0.85;
/** Diameter of the shaft over that of the bore; common practice. */
const SHAFT_SHARE = 0.18;
/** Crank degrees a stroke effectively draws for; common practice for a road cam. */
const OPEN_DEGREES = 220;
/** Plate angle, from across the bore, of a closed throttle. */
const CLOSED_DEGREES = 6;
/** Free area of a closed throttle over the open one: leak and idle air. */
const CLOSED_LEAK = 0.003;

/**
 * Pressure and air at full throttle (or an opening) over rpm, through throttle body and manifold.
 *
 * Both are compressible orifices in series with the engine's demand, choked cases included. `shared-plenum`: the flow through
 * both is steady, and the pressures settle where parts and engine agree. `separate-pulses`: air flows only during the intake
 * strokes, through parts that no other stroke draws through at the time, so that the same parts restrict more. Tuning by
 * pressure waves is left out.
 *
 * @throws FuelwrightError `intake-unknown` when neither throttle body nor manifold is described, `not-positive`, `out-of-range`
 */
export function solveIntake(settings: SolveIntake): IntakeSolution {
  const { build, openingPercent = 100 } = settings;
  requireWithin("solveIntake: openingPercent", openingPercent, 0, 100);
  const rpms = typeof settings.rpm === "number" ? [settings.rpm] : settings.rpm;
  for (const [at, rpm] of rpms.entries()) requirePositive(`solveIntake: rpm[${at}]`, rpm);
  const efficiency = efficiencyOf(settings.volumetricEfficiencyPercent, build.engine);
  const areas = intakeAreas(build, openingPercent);
  const solver = intakeSolver(build, areas);
  const points = rpms.map((rpm) => solver.at(rpm, efficiency.at(rpm)));
  const worst = rpms.reduce((most, rpm) => Math.max(most, rpm), 0);
  return {
    points,
    throttleAreaMm2: areas.throttleMm2,
    manifoldAreaMm2: areas.manifoldMm2,
    basis: "estimated",
    assumptions: [
      ...dischargeAssumptions(build, openingPercent, worst, efficiency.at(worst)),
      ...areas.assumptions,
      ...efficiency.assumptions,
      ...chargeTemperature(build.engine, build.place).assumptions,
    ],
  };
}

/** Effective areas that one draw of air passes, in mm²; null where the part isn't described. */
export interface IntakeAreas {
  readonly throttleMm2: number | null;
  readonly manifoldMm2: number | null;
  readonly assumptions: readonly Assumption[];
}

/** @throws FuelwrightError `intake-unknown` */
export function intakeAreas(build: IntakeParts, openingPercent = 100): IntakeAreas {
  const { engine, throttleBody, manifold } = build;
  if (!throttleBody && !manifold)
    throw new FuelwrightError(
      "intake-unknown",
      "solveIntake: build.throttleBody or build.manifold must be described, got neither; give at least the throttle's diameter",
      {},
    );
  const layout = layoutOf(build);
  const openDegrees = build.intake?.openDegrees ?? OPEN_DEGREES;
  // A plenum draws through all of a part at once; a stroke through its own, shared with the strokes that overlap it.
  const drawnThrough = (count: number) => {
    if (layout === "shared-plenum") return count;
    const strokesAtOnce = Math.max(1, ((engine.cylinders / count) * openDegrees) / 720);
    return count >= engine.cylinders ? count / engine.cylinders : 1 / strokesAtOnce;
  };
  const assumptions: Assumption[] = [];
  if (build.intake === undefined)
    assumptions.push({
      id: "intake-layout",
      text:
        layout === "separate-pulses"
          ? "With few cylinders each stroke is taken to draw straight through the parts, without a plenum."
          : "The cylinders are taken to draw from a shared plenum.",
      basis: "estimated",
      matters: "Separate pulses lose several times the air of a plenum through the same parts.",
    });
  return {
    throttleMm2: throttleBody
      ? throttleArea(throttleBody, openingPercent) * drawnThrough(throttleBody.count ?? 1)
      : null,
    manifoldMm2: manifold ? passageArea(manifold) * drawnThrough(manifold.passages ?? engine.cylinders) : null,
    assumptions,
  };
}

/** Up to three cylinders rarely have a volume worth the name between throttle and valve. */
export function layoutOf({ engine, intake }: Pick<IntakeParts, "engine" | "intake">): Intake["layout"] {
  return intake?.layout ?? (engine.cylinders <= 3 ? "separate-pulses" : "shared-plenum");
}

/**
 * Effective area of one butterfly body in mm²: what the shaft leaves of the bore, times the discharge coefficient, times the
 * share that the plate leaves at its angle.
 *
 * @see Heywood, Internal Combustion Engine Fundamentals (1988), ch. 7, throttle plate open area
 */
export function throttleArea(body: ThrottleBody, openingPercent = 100): number {
  const radius = body.diameterMm / 2;
  const half = (body.shaftMm ?? body.diameterMm * SHAFT_SHARE) / 2;
  // The strip of the circle that the shaft covers.
  const covered = 2 * (half * Math.sqrt(radius * radius - half * half) + radius * radius * Math.asin(half / radius));
  const free = Math.PI * radius * radius - covered;
  const closed = (CLOSED_DEGREES * Math.PI) / 180;
  const angle = closed + (openingPercent / 100) * (Math.PI / 2 - closed);
  const open = 1 - Math.cos(angle) / Math.cos(closed);
  return free * (body.dischargeCoefficient ?? THROTTLE_DISCHARGE) * (CLOSED_LEAK + (1 - CLOSED_LEAK) * open);
}

/** Effective area of one manifold passage in mm²: as given, or from its flow bench figure. */
export function passageArea({ effectiveAreaMm2, flowBench }: Manifold): number {
  if (effectiveAreaMm2 !== undefined) return effectiveAreaMm2;
  const { litresPerSecond, depressionKpa, temperatureC = 20, barometricKpa = 101.325 } = flowBench!;
  const density = (barometricKpa * 1000) / (DRY_AIR_GAS_CONSTANT * (temperatureC + ZERO_CELSIUS_K));
  const { massFlux } = nozzleFlow({
    upstreamKpa: barometricKpa,
    temperatureC,
    downstreamKpa: barometricKpa - depressionKpa,
  });
  // L/s · kg/m³ is g/s; g/s over kg/(s m²) is 1000 mm².
  return (litresPerSecond * density * 1000) / massFlux;
}

/** The intake ready to be solved at many rpm and efficiencies. */
export interface IntakeSolver {
  at(rpm: number, efficiencyPercent: number): IntakePoint;
  /** The share of the unrestricted air that is drawn, 0..1, read off characteristics: quick, to about 0.1 %. */
  fillAt(rpm: number, efficiencyPercent: number): number;
}

/** Prepares the characteristic of the parts; `areas` come from {@link intakeAreas}. */
export function intakeSolver(build: IntakeParts, { throttleMm2, manifoldMm2 }: IntakeAreas): IntakeSolver {
  const { engine, place } = build;
  const outsideKpa = barometricPressure(place);
  const kelvin = place.temperatureC + ZERO_CELSIUS_K;
  const parts: Restriction = restriction(
    [throttleMm2, manifoldMm2].filter((area) => area !== null),
    outsideKpa,
    kelvin,
  );
  const layout = layoutOf(build);
  const openDegrees = build.intake?.openDegrees ?? OPEN_DEGREES;
  const chargeKelvin = chargeTemperature(engine, place).temperatureC + ZERO_CELSIUS_K;
  const dryShare = 1 - vapourShare(place);
  // One cylinder filled at outside pressure and charge temperature, mg with its vapour.
  const cylinderMg =
    (outsideKpa * 1000 * (engine.displacementCc / engine.cylinders)) / (DRY_AIR_GAS_CONSTANT * chargeKelvin);
  const strokesPerSecond = (rpm: number) => (rpm / 120) * engine.cylinders;
  const strokeOf = (rpm: number, percent: number) => ({
    fullMg: (cylinderMg * percent) / 100,
    seconds: openDegrees / (6 * rpm),
  });
  const fillAt = (rpm: number, percent: number) => {
    const stroke = strokeOf(rpm, percent);
    return layout === "shared-plenum"
      ? steadyRatio(parts.flowAt, stroke.fullMg * strokesPerSecond(rpm))
      : strokeFill(parts, stroke).fill;
  };
  return {
    fillAt,
    at(rpm, percent) {
      const stroke = strokeOf(rpm, percent);
      const steady = layout === "shared-plenum";
      const pulse = steady ? null : strokeFill(parts, stroke);
      const fill = pulse?.fill ?? steadyRatio(parts.solvedAt, stroke.fullMg * strokesPerSecond(rpm));
      const manifoldKpa = fill * outsideKpa;
      const both = throttleMm2 !== null && manifoldMm2 !== null;
      const betweenKpa = !steady
        ? null
        : both
          ? betweenPressure(throttleMm2, manifoldMm2, outsideKpa, kelvin, manifoldKpa)
          : throttleMm2 === null
            ? outsideKpa
            : manifoldKpa;
      const drawn = stroke.fullMg * fill;
      return {
        rpm,
        airGramsPerSecond: (drawn * strokesPerSecond(rpm)) / 1000,
        airMg: drawn * dryShare,
        betweenKpa,
        manifoldKpa,
        lossPercent: (1 - fill) * 100,
        capacityGramsPerSecond: capacity(parts, steady ? 1 : Math.min(1, (openDegrees / 720) * engine.cylinders)),
        choked: !pulse
          ? chokedPart(outsideKpa, betweenKpa!, manifoldKpa)
          : pulse.choked
            ? tighterPart(throttleMm2, manifoldMm2)
            : null,
      };
    },
  };
}

function chokedPart(outsideKpa: number, betweenKpa: number, manifoldKpa: number): IntakePoint["choked"] {
  if (betweenKpa <= CRITICAL_PRESSURE_RATIO * outsideKpa) return "throttle-body";
  return manifoldKpa <= CRITICAL_PRESSURE_RATIO * betweenKpa ? "manifold" : null;
}

/** g/s at most; strokes draw for a share of the time only. */
const capacity = (parts: Restriction, share: number) => (parts.most * share) / 1000;

/** Of two parts in series the tighter one chokes first. */
function tighterPart(throttleMm2: number | null, manifoldMm2: number | null): "throttle-body" | "manifold" {
  return manifoldMm2 === null || (throttleMm2 !== null && throttleMm2 <= manifoldMm2) ? "throttle-body" : "manifold";
}

/** The highest rpm up to which no more than `lossPercent` of the air is lost. */
export function rpmOfLoss(
  solver: IntakeSolver,
  lossPercent: number,
  efficiencyPercent: number,
  mostRpm = 60_000,
): number {
  const excess = (rpm: number) => (1 - solver.fillAt(rpm, efficiencyPercent)) * 100 - lossPercent;
  if (excess(mostRpm) <= 0) return mostRpm;
  return findRoot(excess, 1, mostRpm, 0.5);
}

/** The engine's efficiency over rpm, and what is assumed of it. */
export function efficiencyOf(
  given: EfficiencyCurve | undefined,
  engine: Pick<Engine, "volumetricEfficiencyPercent">,
): { readonly at: (rpm: number) => number; readonly assumptions: readonly Assumption[] } {
  if (typeof given === "number") {
    requireWithin("solveIntake: volumetricEfficiencyPercent", given, 1, 300);
    return { at: () => given, assumptions: [] };
  }
  if (given !== undefined) {
    const points = [...given].sort((a, b) => a.rpm - b.rpm);
    if (points.length === 0)
      throw new FuelwrightError(
        "bad-curve",
        "solveIntake: volumetricEfficiencyPercent must have at least one point, got none; give a figure or a point",
        {},
      );
    for (const [at, { percent }] of points.entries())
      requireWithin(`solveIntake: volumetricEfficiencyPercent[${at}].percent`, percent, 1, 300);
    const rpms = points.map(({ rpm }) => rpm);
    const percents = points.map(({ percent }) => percent);
    return { at: (rpm) => heldLinear(rpms, percents, rpm), assumptions: [] };
  }
  const percent = engine.volumetricEfficiencyPercent ?? ASSUMED_VOLUMETRIC_EFFICIENCY_PERCENT;
  return {
    at: () => percent,
    assumptions:
      engine.volumetricEfficiencyPercent !== undefined
        ? []
        : [
            {
              id: "efficiency",
              text: `Volumetric efficiency behind the restrictions is taken as ${percent} % at every rpm.`,
              basis: "common-practice",
              matters: "Ten points more or less draw about that much more or less air, and lose twice as much of it.",
            },
          ],
  };
}

/** What is assumed of the throttle body, and how much air that moves at the highest rpm. */
function dischargeAssumptions(
  build: IntakeParts,
  openingPercent: number,
  rpm: number,
  percent: number,
): readonly Assumption[] {
  const { throttleBody: body } = build;
  if (!body || body.dischargeCoefficient !== undefined) return [];
  const airWith = (dischargeCoefficient: number) => {
    const other = { ...build, throttleBody: { ...body, dischargeCoefficient } };
    return intakeSolver(other, intakeAreas(other, openingPercent)).fillAt(rpm, percent);
  };
  const mattersPercent = (airWith(0.95) / airWith(0.75) - 1) * 100;
  return [
    {
      id: "discharge-coefficient",
      text: `The throttle body's discharge coefficient is taken as ${THROTTLE_DISCHARGE}.`,
      basis: "common-practice",
      matters: `From 0.75 to 0.95 the air at ${sayRpm(rpm)} rpm would move by ${sayPercent(mattersPercent)} %.`,
      mattersPercent,
    },
  ];
}
