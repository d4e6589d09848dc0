// values

export { type Axis, type AxisSpec, createAxis, MOST_BREAKPOINTS, sameAxis, singleRow } from "./values/axis.ts";
export type { Assumption, Basis } from "./values/basis.ts";
export { type ErrorDetails, FuelwrightError, within } from "./values/errors.ts";
export {
  cellPlace,
  cellRows,
  createStorage,
  createTable,
  type FuelTable,
  type FuelTableSpec,
  type Storage,
  withCells,
} from "./values/fuel-table.ts";
export {
  type AxisQuantity,
  axisQuantities,
  type CellQuantity,
  cellQuantities,
  loadQuantities,
  type QuantityInfo,
} from "./values/quantities.ts";
export {
  createRegion,
  editWeights,
  everywhere,
  type Range,
  type Region,
  type RegionBox,
  regionWeight,
  regionWeights,
} from "./values/region.ts";
export { canonicalUnit, convertUnit, type Dimension, dimensionOf, knownUnits } from "./values/units.ts";

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
export { type SeriesFlow, seriesFlow } from "./air/restriction.ts";
export { pressureAltitude, type StandardAir, standardAtmosphere } from "./air/standard-atmosphere.ts";

// build

export { type Build, type BuildSpec, createBuild, type Planning } from "./build/build.ts";
export type { Ceiling, CeilingKind, PartId, PartVerdict, Verdict } from "./build/ceiling.ts";
export { type CellDemand, cellDemand, type DemandSettings } from "./build/cell-demand.ts";
export { type CeilingReport, checkCeilings } from "./build/check-ceilings.ts";
export type { Engine } from "./build/engine.ts";
export type { FlowBenchFigure, Intake, Manifold, Pump, PumpPoint, ThrottleBody } from "./build/parts.ts";
export {
  COMMON_CONSUMPTION_G_PER_KWH,
  estimatePower,
  type FullLoadPoint,
  fuelConsumption,
  fullLoadCurve,
  type PowerEstimate,
} from "./build/power.ts";
export { type PumpFlow, pumpFlow } from "./build/pump-flow.ts";
export {
  type InjectorSizing,
  type PowerSizing,
  type RailAlternative,
  type SizeInjectors,
  type SizingEnd,
  sizeInjectors,
  sizeInjectorsForPower,
} from "./build/size-injectors.ts";
export { type PumpSizing, sizePump } from "./build/size-pump.ts";
export {
  type EfficiencyCurve,
  type IntakeParts,
  type IntakePoint,
  type IntakeSolution,
  passageArea,
  type SolveIntake,
  solveIntake,
  throttleArea,
} from "./build/solve-intake.ts";
export type { AirCurvePoint, Stage } from "./build/stage.ts";

// evidence

// learn

// job
export { type ColourScheme, createColourScheme, type SchemeSpan } from "./job/colour-scheme.ts";

// exchange

// numeric
