import { chargeTemperature, DRY_AIR_GAS_CONSTANT, ZERO_CELSIUS_K } from "../air/air-charge.ts";
import { steadyRatio } from "../air/intake-fill.ts";
import { massFlux } from "../air/nozzle.ts";
import { barometricPressure } from "../air/place.ts";
import type { ManifoldPressures } from "../fuel/conditions.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import { sayPercent, sayRpm } from "../values/plausible.ts";
import type { Region } from "../values/region.ts";
import type { Build } from "./build.ts";
import { changeAir, type PartChangeReport } from "./change-displacement.ts";
import {
  createIntake,
  createManifold,
  createThrottleBody,
  type Intake,
  type Manifold,
  type ThrottleBody,
} from "./parts.ts";
import {
  type EfficiencyCurve,
  efficiencyOf,
  type IntakeParts,
  intakeAreas,
  intakeSolver,
  layoutOf,
  solveIntake,
} from "./solve-intake.ts";

/** The parts that come in; what is left out stays as the build has it. */
export interface IntakeChange {
  readonly throttleBody?: ThrottleBody;
  readonly manifold?: Manifold;
  readonly intake?: Intake;
}

/** What {@link changeIntake} works with. */
export interface ChangeIntake {
  /** With the parts that come out. */
  readonly build: Build;
  readonly to: IntakeChange;
  /** Of the engine behind the restrictions; default the build's own figure, or an assumed one. */
  readonly volumetricEfficiencyPercent?: EfficiencyCurve;
  readonly region?: Region;
  readonly basePulse?: FuelTable;
  readonly manifoldKpa?: ManifoldPressures;
}

/** A change of throttle body or manifold, and full throttle before and after it. */
export interface ChangeIntakeReport extends PartChangeReport {
  /** For each speed: pressure behind the parts in kPa, absolute, and by how much the air grows. */
  readonly fullThrottle: readonly {
    readonly rpm: number;
    readonly manifoldKpaBefore: number;
    readonly manifoldKpaAfter: number;
    readonly airChangePercent: number;
  }[];
}

const operation = "changeIntake";

/**
 * Carries a table over to another throttle body or manifold, by solving both intakes: a first guess, until a log says better.
 *
 * Over throttle position: each cell's opening and rpm is solved with the old and the new parts. Over manifold pressure the
 * sensor takes the throttle in: cells stay unless the sensor sits before a manifold that changes, and higher rows are reached.
 * Over air charge cells stay.
 *
 * @throws FuelwrightError `intake-unknown` when the build has neither part, `implausible`, and as `rescaleForInjectors`
 */
export function changeIntake(
  table: FuelTable,
  settings: ChangeIntake,
): { readonly table: FuelTable; readonly report: ChangeIntakeReport } {
  const { build, to } = settings;
  const next = withParts(build, to);
  const efficiency = efficiencyOf(settings.volumetricEfficiencyPercent, build.engine);
  const solved = airFactors(table, build, next, efficiency.at);
  const given =
    settings.volumetricEfficiencyPercent === undefined
      ? {}
      : { volumetricEfficiencyPercent: settings.volumetricEfficiencyPercent };
  const rpm = table.rpm.quantity === "rpm" ? table.rpm.breakpoints : [build.engine.revLimitRpm];
  const before = solveIntake({ build, rpm, ...given });
  const after = solveIntake({ build: next, rpm, ...given });
  const fullThrottle = after.points.map((point, at) => ({
    rpm: point.rpm,
    manifoldKpaBefore: before.points[at]!.manifoldKpa,
    manifoldKpaAfter: point.manifoldKpa,
    airChangePercent: (point.airMg / before.points[at]!.airMg - 1) * 100,
  }));
  const top = fullThrottle.at(-1)!;
  const kept = solved === null || table.quantity === "lambda";
  const changed = changeAir(operation, table, settings, {
    airFactor: solved ?? new Float64Array(table.cells.length).fill(1),
    changed: kept ? "nothing" : "cells",
    kept,
    basis: "estimated",
    firstGuess: !kept,
    sentence:
      `At full throttle and ${sayRpm(top.rpm)} rpm the engine draws ${sayPercent(top.airChangePercent)} % more air.` +
      (kept
        ? " The load axis takes the change in: the cells stay, others are reached."
        : " A first guess until a log says better."),
    assumptions: after.assumptions,
  });
  return { table: changed.table, report: { ...changed.report, fullThrottle } };
}

/** The build with other intake parts, checked. */
export function withParts(build: Build, to: IntakeChange): Build {
  return {
    ...build,
    ...(to.throttleBody && { throttleBody: createThrottleBody(to.throttleBody, `${operation}: to.throttleBody`) }),
    ...(to.manifold && { manifold: createManifold(to.manifold, `${operation}: to.manifold`) }),
    ...(to.intake && { intake: createIntake(to.intake, `${operation}: to.intake`) }),
  };
}

/** New air over old in each cell, or null where the load axis takes it in. */
export function airFactors(
  table: FuelTable,
  build: IntakeParts,
  next: IntakeParts,
  efficiencyAt: (rpm: number) => number,
): Float64Array | null {
  const columns = table.rpm.breakpoints.length;
  const rpms = table.rpm.quantity === "rpm" ? table.rpm.breakpoints : null;
  const overThrottle = table.load.quantity === "throttle-position" || table.load.quantity === "single-row";
  if (rpms && overThrottle) {
    const factors = new Float64Array(table.cells.length);
    table.load.breakpoints.forEach((load, row) => {
      const opening = table.load.quantity === "single-row" ? 100 : Math.min(Math.max(load, 0), 100);
      const old = intakeSolver(build, intakeAreas(build, opening));
      const fresh = intakeSolver(next, intakeAreas(next, opening));
      rpms.forEach((rpm, column) => {
        const percent = efficiencyAt(rpm);
        factors[row * columns + column] = fresh.fillAt(rpm, percent) / old.fillAt(rpm, percent);
      });
    });
    return factors;
  }
  if (
    rpms &&
    table.load.quantity === "manifold-pressure" &&
    next.intake?.sensor === "before-manifold" &&
    layoutOf(next) === "shared-plenum"
  )
    return behindSensor(table, build, next, efficiencyAt);
  return null;
}

/** A sensor before the manifold doesn't see what the manifold takes: the engine draws from behind it. */
function behindSensor(
  table: FuelTable,
  build: IntakeParts,
  next: IntakeParts,
  efficiencyAt: (rpm: number) => number,
): Float64Array {
  const { engine, place } = build;
  const kelvin = place.temperatureC + ZERO_CELSIUS_K;
  const chargeKelvin = chargeTemperature(engine, place).temperatureC + ZERO_CELSIUS_K;
  const columns = table.rpm.breakpoints.length;
  const ratioWith = (parts: IntakeParts, kpa: number, rpm: number) => {
    const { manifoldMm2 } = intakeAreas(parts);
    if (manifoldMm2 === null) return 1;
    const fullMg = (kpa * 1000 * engine.displacementCc) / (DRY_AIR_GAS_CONSTANT * chargeKelvin);
    const demand = ((fullMg * efficiencyAt(rpm)) / 100) * (rpm / 120);
    return steadyRatio((ratio) => manifoldMm2 * massFlux(kpa, kelvin, ratio * kpa), demand);
  };
  return Float64Array.from(table.cells, (_, at) => {
    const rpm = table.rpm.breakpoints[at % columns]!;
    const kpa = Math.min(table.load.breakpoints[Math.floor(at / columns)]!, barometricPressure(place));
    return ratioWith(next, kpa, rpm) / ratioWith(build, kpa, rpm);
  });
}
