// values
export { type Axis, type AxisSpec, createAxis, MOST_BREAKPOINTS, sameAxis, singleRow } from "./values/axis.ts";
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

// cells
export { type LimitCells, limitCells } from "./cells/limit-cells.ts";
export { lockCells, unlockCells } from "./cells/lock-cells.ts";
export { type OffsetCells, offsetCells } from "./cells/offset-cells.ts";
export { type PasteCells, pasteCells } from "./cells/paste-cells.ts";
export { regionOfCells } from "./cells/region-of-cells.ts";
export { type ScaleCells, scaleCells } from "./cells/scale-cells.ts";
export { type SetCells, setCells } from "./cells/set-cells.ts";

// fuel

// air

// build

// evidence

// learn

// job
export { type ColourScheme, createColourScheme, type SchemeSpan } from "./job/colour-scheme.ts";

// exchange

// numeric
