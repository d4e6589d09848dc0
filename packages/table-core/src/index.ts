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

export { prepareExpressions } from "#expression-engine";
export { type BlendTables, blendTables, type WeightRamp } from "./cells/blend-tables.ts";
export type { CellWeight } from "./cells/cell-weights.ts";
export { checkExpression } from "./cells/check-expression.ts";
export { type BreakpointChoice, chooseBreakpoints } from "./cells/choose-breakpoints.ts";
export { compareSurfaces, type SurfaceComparison } from "./cells/compare-surfaces.ts";
export { type CellChange, type Comparison, compareTables } from "./cells/compare-tables.ts";
export { type CylinderComparison, compareCylinders } from "./cells/cylinders/compare-cylinders.ts";
export { type CopyCylinder, copyCylinder } from "./cells/cylinders/copy-cylinder.ts";
export type { CylinderTable } from "./cells/cylinders/cylinder-tables.ts";
export { type JoinedCylinders, joinCylinders } from "./cells/cylinders/join-cylinders.ts";
export { type SplitByCylinder, splitByCylinder } from "./cells/cylinders/split-by-cylinder.ts";
export { type EvaluateCells, evaluateCells } from "./cells/evaluate-cells.ts";
export type { ExpressionFault } from "./cells/expression-fault.ts";
export { expressionFunctions, expressionName, expressionVariables } from "./cells/expression-names.ts";
export { type ExtrapolateCells, type Extrapolated, extrapolateCells } from "./cells/extrapolate-cells.ts";
export { type FillCells, fillCells } from "./cells/fill-cells.ts";
export { type FoundStrengths, findSmoothStrengths } from "./cells/find-smooth-strengths.ts";
export type { Finding, FindingKind, Remedy } from "./cells/inspect/finding.ts";
export { type InspectTable, inspectTable } from "./cells/inspect-table.ts";
export { type LimitCells, limitCells } from "./cells/limit-cells.ts";
export { lockCells, unlockCells } from "./cells/lock-cells.ts";
export { type OffsetCells, offsetCells } from "./cells/offset-cells.ts";
export { type PasteCells, pasteCells } from "./cells/paste-cells.ts";
export { percentChange } from "./cells/percent-change.ts";
export { type QuantiseReport, quantiseReport, type StoredCell } from "./cells/quantise-report.ts";
export { type QuantiseTable, quantiseTable } from "./cells/quantise-table.ts";
export { type RebinTable, rebinReport, rebinTable } from "./cells/rebin-table.ts";
export { regionOfCells } from "./cells/region-of-cells.ts";
export { roughness } from "./cells/roughness.ts";
export { type ScaleCells, scaleCells } from "./cells/scale-cells.ts";
export { type SetCells, setCells } from "./cells/set-cells.ts";
export { type ShapeCells, shapeCells } from "./cells/shape-cells.ts";
export { describeSmoothing, type SmoothCells, type SmoothingDescription, smoothCells } from "./cells/smooth-cells.ts";
export { type SmoothReport, smoothReport } from "./cells/smooth-report.ts";
export { MOST_STRENGTH, type SmoothStrength } from "./cells/smooth-strength.ts";
export type { SmoothPart } from "./cells/smoothed-grid.ts";

// fuel

export type { CellNote } from "./fuel/cell-note.ts";
export { type ChangeFuel, type ChangeFuelReport, changeFuel } from "./fuel/change-fuel.ts";
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
export type { InjectorLimits } from "./fuel/injector-limits.ts";
export { injectionPressure, type Rail } from "./fuel/rail.ts";
export {
  type RescaledCells,
  type RescaleForInjectors,
  type RescaleReport,
  rescaleForInjectors,
} from "./fuel/rescale-for-injectors.ts";
export { type RetargetMixture, type RetargetReport, retargetMixture } from "./fuel/retarget-mixture.ts";
export { type MixtureScale, readMixture, sayMixture } from "./fuel/say-mixture.ts";
export type { Fuelling } from "./fuel/scale-fuel.ts";
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
export {
  type ChangeDisplacement,
  changeDisplacement,
  type PartChangeReport,
} from "./build/change-displacement.ts";
export {
  type ChangeIntake,
  type ChangeIntakeReport,
  changeIntake,
  type IntakeChange,
  withParts,
} from "./build/change-intake.ts";
export type { CeilingReport } from "./build/check-ceilings.ts";
export {
  type ComparePlaces,
  type ControllerEffect,
  type ControllerKind,
  comparePlaces,
  type PlaceComparison,
} from "./build/compare-places.ts";
export {
  buildOfStage,
  type CompareStages,
  compareStages,
  demandOfStage,
  type StageReport,
} from "./build/compare-stages.ts";
export { type ConvertFuelTable, convertFuelTable, type MeteringQuantity } from "./build/convert-fuel-table.ts";
export { demandOverRpm, type PartDemand } from "./build/demand-over-rpm.ts";
export type { Engine } from "./build/engine.ts";
export { fullLoadEfficiency } from "./build/full-load-efficiency.ts";
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
export {
  type PartNeed,
  type WhatWouldItTake,
  type Wish,
  type WishReport,
  whatWouldItTake,
} from "./build/what-would-it-take.ts";

// plots

export { type AxisScale, axisScale } from "./plots/axis-scale.ts";
export type { DrawnCeiling } from "./plots/ceiling-hatches.ts";
export { type Changes, changesOf } from "./plots/changes.ts";
export { type ChangeBin, type ChangeCount, countChanges } from "./plots/count-changes.ts";
export { type ChartField, type ChartScales, chartScales, drawChart, strokeSample } from "./plots/draw-chart.ts";
export { drawSliceStrip, type SliceStrip } from "./plots/draw-slice.ts";
export {
  type AxesShownAs,
  breakpointTexts,
  breakpointWords,
  figureText,
  type ShownAs,
} from "./plots/figures.ts";
export { darkInks, type Inks, lightInks, printInks } from "./plots/inks.ts";
export type { Picture, PictureNode, PictureTag } from "./plots/picture.ts";
export { type PlotCeilings, plotCeilings } from "./plots/plot-ceilings.ts";
export { type PlotChangeHistogram, plotChangeHistogram } from "./plots/plot-change-histogram.ts";
export { type PlotChart, plotChart } from "./plots/plot-chart.ts";
export { demandChart, type PlotDemand, plotDemand } from "./plots/plot-demand.ts";
export type { PlotOptions, ShownOptions } from "./plots/plot-options.ts";
export { type PlotSlice, plotSlice } from "./plots/plot-slice.ts";
export { type PlotTable, plotTable } from "./plots/plot-table.ts";
export { type PlotTableMap, plotTableMap } from "./plots/plot-table-map.ts";
export { type PlotTableParts, plotTableParts } from "./plots/plot-table-parts.ts";
export { sayChart, tablePlaces } from "./plots/say-chart.ts";
export { type SaidSlice, sayCut, saySlice } from "./plots/say-slice.ts";
export { sayTableMap } from "./plots/say-table-map.ts";
export {
  type Chart,
  type ChartAxis,
  type ChartMark,
  type ChartRange,
  type ChartRule,
  type ChartSeries,
  coordinates,
  type SeriesLook,
  valueAt,
} from "./plots/series.ts";
export type { Note } from "./plots/sheet.ts";
export { type SliceDirection, type SliceScale, sliceCells } from "./plots/slice.ts";
export type { TableFigures } from "./plots/table-figures.ts";
export type { TablePart } from "./plots/table-part.ts";
export type { Tint } from "./plots/tints.ts";
export { writeSvg } from "./plots/write-svg.ts";

// evidence

export {
  type AppliedEvidence,
  type ApplyEvidence,
  applyEvidence,
  type EvidenceManner,
} from "./evidence/apply-evidence.ts";
export type { CancelSignal } from "./evidence/cancel.ts";
export { compareEvidence, type EvidenceOutcome, type OutcomeCell } from "./evidence/compare-evidence.ts";
export { countGates, type GatePreview } from "./evidence/count-gates.ts";
export type { DelayReport, Figure, SensorDelay } from "./evidence/describe-dynamics.ts";
export type { Dynamics } from "./evidence/dynamics-pass.ts";
export { createEvidenceSummary, type EvidenceSummary, summariseEvidence } from "./evidence/evidence-summary.ts";
export {
  type EvidenceFit,
  type EvidenceReport,
  type FitEvidenceOptions,
  type FitProgress,
  fitEvidence,
  fitEvidenceApart,
} from "./evidence/fit-evidence.ts";
export { type FitScattered, fitScattered, type ScatteredFit } from "./evidence/fit-scattered.ts";
export {
  createGates,
  type Gate,
  type GateCount,
  gateReasons,
  type StructuralGate,
  usualGates,
} from "./evidence/gates.ts";
export type { BlobLike, LogBytes } from "./evidence/log-bytes.ts";
export type { LogDialect } from "./evidence/log-dialect.ts";
export {
  type LogColumn,
  type LogQuantityInfo,
  logQuantities,
  recogniseColumns,
} from "./evidence/log-quantities.ts";
export {
  type ColumnSummary,
  type Log,
  type LogSummary,
  type ReadLogOptions,
  type ReadProgress,
  readLog,
} from "./evidence/read-log.ts";
export { type LogQuantity, type LogSamples, type SampleChunk, type SampleKey, sampleKey } from "./evidence/samples.ts";
export { type SimulatedLog, type SimulatedLogOptions, simulateLog } from "./evidence/simulate-log.ts";
export { simulatedCsv } from "./evidence/simulated-csv.ts";
export { suggestTipIn, type TipInSuggestion } from "./evidence/suggest-tip-in.ts";
export type { EvidenceWarning, Suspect } from "./evidence/warnings.ts";
export { type RideOptions, type RidePlan, type RideStage, whereToRideNext } from "./evidence/where-to-ride-next.ts";

// learn

export { type ChargeCooling, chargeCooling } from "./learn/charge-cooling.ts";
export { type FlameFuel, type FuelState, flameFuel } from "./learn/flame-fuel.ts";
export { type Flame, type FlameSettings, flameTemperature } from "./learn/flame-temperature.ts";
export {
  compensateFilm,
  type FilmRun,
  type FuelFilm,
  type SimulateFilm,
  simulateFilm,
  steadyFilm,
  typicalFilms,
} from "./learn/fuel-film.ts";
export { type FlameSpecies, flameSpecies } from "./learn/gas-data.ts";
export {
  type MixtureResponse,
  mixtureOptima,
  mixtureResponse,
  mixtureResponseRange,
} from "./learn/mixture-response.ts";
export { type DemandPoint, type RaiseDemand, type RaisedDemand, raiseDemand } from "./learn/raise-demand.ts";
export { type SteadySettings, type SteadyState, steadyState } from "./learn/steady-state.ts";
export {
  airTemperatureFactors,
  type CorrectedFuel,
  correctForTemperature,
  type TemperatureCorrection,
  typicalWarmUp,
} from "./learn/temperature-corrections.ts";
export {
  type Enrichment,
  enrichmentFor,
  type ThrottleTransient,
  type TransientRun,
  throttleTransient,
} from "./learn/throttle-transient.ts";
export { typicalWidebandRange, type WidebandView, widebandView } from "./learn/wideband-view.ts";

// job

export { applyStep, stepKinds } from "./job/apply-step.ts";
export { checkCeilings } from "./job/check-job-ceilings.ts";
export { type ColourScheme, createColourScheme, defaultScheme, type SchemeSpan } from "./job/colour-scheme.ts";
export { createJob, type Job, type JobSpec, type NamedState, type TableRoles } from "./job/job.ts";
export { JOB_VERSION, jobData, readJob, readTable, tableData, writeJob } from "./job/job-text.ts";
export { type Replay, replayJob, type StepOutcome, sourceState } from "./job/replay-job.ts";
export type { JobState, SettingsOf, Step, StepKind } from "./job/step.ts";
export type { StepContext, StepEffect } from "./job/step-definition.ts";
export { checkStep, checkSteps } from "./job/step-schema.ts";

// exchange

export { axisUnits, cellUnits } from "./exchange/exchange-unit.ts";
export type { Layout } from "./exchange/find-block.ts";
export { guardText } from "./exchange/guard-text.ts";
export type { DecimalSign } from "./exchange/number-text.ts";
export { type LineEnd, LONGEST_TEXT } from "./exchange/plain-text.ts";
export { type BlockAxes, type BlockText, type BlockTextHints, readBlockText } from "./exchange/read-block-text.ts";
export { readDecimal } from "./exchange/read-decimal.ts";
export { type ReadTableText, readTableText } from "./exchange/read-table-text.ts";
export type { Direction, Orientation } from "./exchange/recognise-axes.ts";
export type { ThousandsSign } from "./exchange/recognise-decimal.ts";
export { type RecognisedTableText, recogniseTableText, type TableTextHints } from "./exchange/recognise-table-text.ts";
export type { Recognised } from "./exchange/recognised.ts";
export type { Delimiter } from "./exchange/split-fields.ts";
export { type WriteBlockText, writeBlockText } from "./exchange/write-block-text.ts";
export { type WriteTableText, type WrittenTable, writeTableText } from "./exchange/write-table-text.ts";

// numeric

export { type BandFactor, type BandMatrix, factorBand } from "./numeric/banded-cholesky.ts";
export { dividedDifferences, unitMeanSpacing } from "./numeric/divided-differences.ts";
export type { CurvePoint } from "./numeric/monotone-curve.ts";
