// values

export { prepareExpressions } from "#expression-engine";
export { type BlendTables, blendTables, type WeightRamp } from "./cells/blend-tables.ts";
export { checkExpression } from "./cells/check-expression.ts";
export { compareSurfaces, type SurfaceComparison } from "./cells/compare-surfaces.ts";
export { type CellChange, type Comparison, compareTables } from "./cells/compare-tables.ts";
export { type EvaluateCells, evaluateCells } from "./cells/evaluate-cells.ts";
export type { ExpressionFault } from "./cells/expression-fault.ts";
export { expressionFunctions, expressionName, expressionVariables } from "./cells/expression-names.ts";
export { type LimitCells, limitCells } from "./cells/limit-cells.ts";
export { lockCells, unlockCells } from "./cells/lock-cells.ts";
export { type OffsetCells, offsetCells } from "./cells/offset-cells.ts";
export { type PasteCells, pasteCells } from "./cells/paste-cells.ts";
export { percentChange } from "./cells/percent-change.ts";
export { regionOfCells } from "./cells/region-of-cells.ts";
export { roughness } from "./cells/roughness.ts";
export { type ScaleCells, scaleCells } from "./cells/scale-cells.ts";
export { type SetCells, setCells } from "./cells/set-cells.ts";
// lookup
export { type AxisIndex, axisIndex, findBreakpoint } from "./lookup/axis-index.ts";
export { type BilinearWeights, bilinearWeights } from "./lookup/bilinear-weights.ts";
export { type LocatedPoints, locateMany } from "./lookup/locate-many.ts";
export { type LookupPoint, lookup } from "./lookup/lookup.ts";
export { type LookupPoints, lookupMany } from "./lookup/lookup-many.ts";
export type { Outside } from "./lookup/outside.ts";

// cells

// fuel
export type { CellNote } from "./fuel/cell-note.ts";
export {
  ASSUMED_VOLUMETRIC_EFFICIENCY_PERCENT,
  COMMON_PLANNING_DUTY_PERCENT,
  type FuellingConditions,
  type ManifoldPressures,
} from "./fuel/conditions.ts";
export type { DeadTime, DeadTimePoint } from "./fuel/dead-time.ts";
export { dutyCycle } from "./fuel/duty-cycle.ts";
export { blendFuel, createFuel, type EthanolShare, type Fuel, type FuelSpec, fuels } from "./fuel/fuel.ts";
export {
  createInjector,
  deadTimeMs,
  deliveredMass,
  type InjectionConditions,
  type InjectionRhythm,
  type Injector,
  type InjectorSpec,
  massFlow,
  pulseWidth,
  type ShortPulsePoint,
} from "./fuel/injector.ts";
export type { InjectorConstants, InjectorFigures } from "./fuel/injector-constants.ts";
export { injectionPressure, type Rail } from "./fuel/rail.ts";
export {
  type RescaledCells,
  type RescaleForInjectors,
  type RescaleReport,
  rescaleForInjectors,
} from "./fuel/rescale-for-injectors.ts";
export { type RetargetMixture, type RetargetReport, retargetMixture } from "./fuel/retarget-mixture.ts";
export { type MixtureScale, readMixture, sayMixture } from "./fuel/say-mixture.ts";
export { type AirDescription, type Composition, stoichiometricRatio } from "./fuel/stoichiometric-ratio.ts";
// air
export { airCharge, type ChargeConditions, volumetricEfficiency } from "./air/air-charge.ts";
export { type CorrectedPower, correctPower, type PowerStandard } from "./air/correct-power.ts";
export { saturationPressure, vapourPressure, vapourShare } from "./air/humidity.ts";
export {
  CHOKED_FLUX_COEFFICIENT,
  CRITICAL_PRESSURE_RATIO,
  type IsentropicRatios,
  isentropicRatios,
  type NozzleFlow,
  nozzleFlow,
} from "./air/nozzle.ts";
export { barometricPressure, type Place } from "./air/place.ts";
export { pressureAltitude, type StandardAir, standardAtmosphere } from "./air/standard-atmosphere.ts";
export { type Build, type BuildSpec, createBuild, type Planning } from "./build/build.ts";
// build
export { type CellDemand, cellDemand, type DemandSettings } from "./build/cell-demand.ts";
export {
  type Ceiling,
  type CeilingKind,
  type CeilingReport,
  checkCeilings,
  type PartId,
  type PartVerdict,
  type Verdict,
} from "./build/check-ceilings.ts";
export type { Engine } from "./build/engine.ts";
export type { FlowBenchFigure, Intake, Manifold, Pump, PumpPoint, ThrottleBody } from "./build/parts.ts";
export type { AirCurvePoint, Stage } from "./build/stage.ts";
// evidence

// learn

// job
export { type ColourScheme, createColourScheme, type SchemeSpan } from "./job/colour-scheme.ts";

// exchange

// numeric
