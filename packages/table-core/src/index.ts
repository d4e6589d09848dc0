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

// fuel

// air

// build

// evidence

// learn

// job
export { type ColourScheme, createColourScheme, type SchemeSpan } from "./job/colour-scheme.ts";

// exchange

// numeric
