import { createFuel } from "../fuel/fuel.ts";
import { createInjector } from "../fuel/injector.ts";
import { heldLinear } from "../numeric/held-linear.ts";
import type { Assumption, Basis } from "../values/basis.ts";
import { createTable, type FuelTable } from "../values/fuel-table.ts";
import { sayFigure } from "../values/plausible.ts";
import type { Build } from "./build.ts";
import type { PartVerdict } from "./ceiling.ts";
import { cellDemand, type DemandSettings } from "./cell-demand.ts";
import { airFactors } from "./change-intake.ts";
import { type CeilingReport, checkCeilings } from "./check-ceilings.ts";
import { fullLoadCurve } from "./power.ts";
import { type InjectorSizing, sizeInjectors } from "./size-injectors.ts";
import { type PumpSizing, sizePump } from "./size-pump.ts";
import { efficiencyOf } from "./solve-intake.ts";
import { createAirCurve, createStage, type Stage } from "./stage.ts";

/** One set of parts, and what the engine asks of it. */
export interface StageReport {
  readonly name: string;
  readonly note?: string;
  readonly build: Build;
  /** Fuel masses the stage asks, over the axes of the given table. A first guess for any stage but the first. */
  readonly demand: FuelTable;
  readonly ceilings: CeilingReport;
  /** The part with the least in hand. */
  readonly first: PartVerdict | null;
  readonly injectors: InjectorSizing;
  readonly pump: PumpSizing;
  /** Along the highest load row. */
  readonly greatestFuelGramsPerSecond: number;
  readonly greatestAirGramsPerSecond: number | null;
  readonly peakPowerKw: number;
  readonly peakRpm: number;
  /** What to change so that every part is in hand, one sentence each; empty when nothing has to. */
  readonly toChange: readonly string[];
  readonly basis: Basis;
  readonly assumptions: readonly Assumption[];
}

/** What {@link compareStages} works with. */
export interface CompareStages extends DemandSettings {
  /** Default: those of the build. */
  readonly stages?: readonly Stage[];
}

/**
 * The build as it is and every set of parts considered, side by side: fuel and air needed, ceilings, first part to give out,
 * what to change.
 *
 * A stage's demand is the table's, by displacement (exact), by the drawn air curve, by the stoichiometric ratios, and over
 * throttle position by the solved intake.
 *
 * @returns one report for the build as it is, then one a stage
 * @throws FuelwrightError as `createStage` and `cellDemand`
 */
export function compareStages(settings: CompareStages): readonly StageReport[] {
  const stages = settings.stages ?? settings.build.stages ?? [];
  const asItIs: Stage = { name: "as it is" };
  return [asItIs, ...stages.map((stage, at) => createStage(stage, `stages[${at}]`))].map((stage) =>
    reportOn(settings, stage),
  );
}

/** The build with a stage's parts in it. */
export function buildOfStage(build: Build, stage: Stage): Build {
  const { displacementCc, revLimitRpm, fuel, injectors, rail, throttleBody, manifold, intake, pump } = stage;
  return {
    ...build,
    engine: {
      ...build.engine,
      ...(displacementCc !== undefined && { displacementCc }),
      ...(revLimitRpm !== undefined && { revLimitRpm }),
    },
    ...(fuel && { fuel: createFuel(fuel) }),
    ...(injectors && { injectors: createInjector(injectors) }),
    ...(rail && { rail }),
    ...(throttleBody && { throttleBody }),
    ...(manifold && { manifold }),
    ...(intake && { intake }),
    ...(pump && { pump }),
  };
}

/** Fuel masses that a stage asks, over the table's own axes. */
export function demandOfStage(settings: DemandSettings, stage: Stage): FuelTable {
  const { build, table } = settings;
  const next = buildOfStage(build, stage);
  const asked = cellDemand(settings).askedMg;
  const columns = table.rpm.breakpoints.length;
  const displaced = next.engine.displacementCc / build.engine.displacementCc;
  const burnt = build.fuel.stoichiometricRatio / next.fuel.stoichiometricRatio;
  const curve = stage.airCurve && createAirCurve(stage.airCurve, "stage.airCurve");
  const rpms = curve?.map(({ rpm }) => rpm) ?? [];
  const drawn = curve?.map(({ factor }) => factor) ?? [];
  const intake = intakeFactors(table, build, next);
  return createTable({
    id: `${table.id}-demand`,
    name: table.name,
    quantity: "fuel-mass",
    rpm: table.rpm,
    load: table.load,
    cells: asked.map((mg, at) => {
      const breathed = curve ? heldLinear(rpms, drawn, table.rpm.breakpoints[at % columns]!) : 1;
      return mg * displaced * burnt * breathed * (intake?.[at] ?? 1);
    }),
  });
}

function intakeFactors(table: FuelTable, build: Build, next: Build): Float64Array | null {
  const described = (parts: Build) => parts.throttleBody !== undefined || parts.manifold !== undefined;
  if (!described(build) || !described(next)) return null;
  return airFactors(table, build, next, efficiencyOf(undefined, build.engine).at);
}

function reportOn(settings: CompareStages, stage: Stage): StageReport {
  const { target, manifoldKpa } = settings;
  const build = buildOfStage(settings.build, stage);
  const demand = demandOfStage(settings, stage);
  const given = {
    build,
    table: demand,
    ...(target !== undefined && { target }),
    ...(manifoldKpa !== undefined && { manifoldKpa }),
  };
  const ceilings = checkCeilings(given);
  const injectors = sizeInjectors(given);
  const pump = sizePump(given);
  const curve = fullLoadCurve(given);
  const peak = curve.points.reduce((best, point) => (point.powerKw > best.powerKw ? point : best));
  const airs = curve.points.flatMap(({ airGramsPerSecond }) => airGramsPerSecond ?? []);
  return {
    name: stage.name,
    ...(stage.note !== undefined && { note: stage.note }),
    build,
    demand,
    ceilings,
    first: ceilings.first,
    injectors,
    pump,
    greatestFuelGramsPerSecond: Math.max(...ceilings.demand.fuelGramsPerSecond),
    greatestAirGramsPerSecond: airs.length > 0 ? Math.max(...airs) : null,
    peakPowerKw: peak.powerKw,
    peakRpm: peak.rpm,
    toChange: whatToChange(ceilings, injectors, pump),
    basis: "estimated",
    assumptions: [...curve.assumptions, ...(stage.airCurve ? [drawnCurve] : [])],
  };
}

/** One sentence for each part that isn't in hand. */
export function whatToChange(ceilings: CeilingReport, injectors: InjectorSizing, pump: PumpSizing): readonly string[] {
  return ceilings.parts.flatMap(({ part, verdict }) => {
    if (verdict === "in-hand" || verdict === "unknown") return [];
    switch (part) {
      case "injectors":
        return [
          injectors.smallest
            ? `Injectors of at least ${sayFigure(injectors.smallest.flowGramsPerSecond)} g/s (${sayFigure(injectors.smallest.flowCcPerMinute)} cc/min).`
            : injectors.sentence,
          ...(injectors.rail ? [`Or: ${injectors.rail.sentence}`] : []),
        ];
      case "pump":
        return [`A pump of at least ${sayFigure(pump.wantedLitresPerHour)} L/h at ${sayFigure(pump.pressureKpa)} kPa.`];
      case "intake":
        return ["More area in the intake, at the tighter of throttle body and manifold first."];
      default:
        return ["Fewer or smaller cells than the controller can store: a larger scale, if it has one."];
    }
  });
}

const drawnCurve: Assumption = {
  id: "air-curve-drawn",
  text: "What cam, head or exhaust do to the air is a curve that was drawn, not measured.",
  basis: "estimated",
  matters: "Every figure of this stage moves with it, one for one.",
};
