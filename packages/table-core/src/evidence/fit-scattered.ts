import { chooseStrengths, fitAt } from "../numeric/restricted-likelihood.ts";
import type { Axis } from "../values/axis.ts";
import { FuelwrightError } from "../values/errors.ts";
import { requireWithin } from "../values/require.ts";
import { evenStiffness, gridBends, gridPenalty } from "./bends.ts";
import { createGrid, gridOrder } from "./dynamics-pass.ts";
import { sumScattered } from "./scattered-sums.ts";

/** Scattered samples of a quantity over two others, and the table to fit. */
export interface FitScattered {
  readonly rpm: Axis;
  readonly load: Axis;
  /** As many of each: where, in the axes' units, and the value there, in that of the table. */
  readonly samples: {
    readonly rpm: ArrayLike<number>;
    readonly load: ArrayLike<number>;
    readonly value: ArrayLike<number>;
    /** Left out: all 1. */
    readonly weight?: ArrayLike<number>;
  };
  /** How much bends along rpm, bends along load, and values themselves are held down; left out: found from the samples. */
  readonly strengths?: { readonly rpm: number; readonly load: number; readonly zero: number };
  /** Standard deviation of a sample of weight 1; left out: found from the samples. */
  readonly noise?: number;
}

/** A table fitted to samples, row-major [load][rpm]. */
export interface ScatteredFit {
  /** In the unit of the samples' values. */
  readonly cells: Float64Array;
  /** Standard deviation of each cell, in the same unit. */
  readonly deviation: Float64Array;
  /** Weight of the samples that speak for each cell. */
  readonly weight: Float64Array;
  /** Those used, see {@link FitScattered}. */
  readonly strengths: { readonly rpm: number; readonly load: number; readonly zero: number };
  /** How many free numbers the result is worth; at most the number of cells. */
  readonly effectiveDimension: number;
  /** Σ weight·(value − table)². */
  readonly weightedSquares: number;
  /** Standard deviation of a sample of weight 1. */
  readonly noise: number;
}

/**
 * A table from scattered samples: penalised least squares on second divided differences, with a deviation for each cell.
 *
 * Minimises Σ w·(value − table)² + rpm·‖Dx c‖² + load·‖Dy c‖² + zero·‖c‖², D on axes whose mean spacing is 1; samples
 * beyond an axis are held to its end. Strengths left out are found by restricted maximum likelihood. A million samples on
 * 32 × 32 cells take some tens of milliseconds.
 *
 * @throws FuelwrightError `not-finite` naming the sample, `lengths-differ`, `out-of-range`, `not-definite` if strengths of 0
 *   leave cells open
 * @see Eilers, A perfect smoother, Anal. Chem. 75 (2003) 3631
 */
export function fitScattered(settings: FitScattered): ScatteredFit {
  const { samples, strengths: given } = settings;
  const grid = createGrid(settings.rpm, settings.load);
  const x = Float64Array.from(samples.rpm);
  const y = Float64Array.from(samples.load);
  const k = Float64Array.from(samples.value);
  const weight = samples.weight && Float64Array.from(samples.weight);
  if (k.length !== x.length || y.length !== x.length || (weight && weight.length !== x.length))
    throw new FuelwrightError(
      "lengths-differ",
      `fitScattered: samples must have as many values and weights as places, got ${x.length} places, ${k.length} values; give one for each`,
      { places: x.length, values: k.length },
    );
  for (const [name, values] of Object.entries({ rpm: x, load: y, value: k, ...(weight && { weight }) }))
    values.forEach((value, at) => {
      if (!Number.isFinite(value) || (name === "weight" && value < 0))
        throw new FuelwrightError(
          "not-finite",
          `fitScattered: samples.${name}[${at}] must be a finite number${name === "weight" ? " not below 0" : ""}, ` +
            `got ${value}; leave the sample out`,
          { name, at, value },
        );
    });
  for (const side of ["rpm", "load", "zero"] as const)
    if (given) requireWithin(`fitScattered: strengths.${side}`, given[side], 0, 1e12);
  const equations = sumScattered(grid, { x, y, k, ...(weight && { weight }) });
  const bends = gridBends(grid);
  const penalties = gridPenalty(grid, bends, evenStiffness(bends));
  const fit = given
    ? fitAt(equations, penalties, [given.rpm, given.load, given.zero])
    : chooseStrengths(equations, penalties, [1, 1, 0.01], { rounds: 40, tolerance: 1e-3 });
  const residuals = squaresLeft(equations, fit.cells);
  const degrees = Math.max(1e-9, equations.count - fit.effectiveDimension());
  const noise = settings.noise ?? Math.sqrt(residuals / degrees);
  const order = gridOrder(grid);
  const { band, values } = fit.inverse();
  const [rpm, load, zero] = fit.strengths as [number, number, number];
  return {
    cells: Float64Array.from(order, (at) => fit.cells[at]!),
    deviation: Float64Array.from(order, (at) => noise * Math.sqrt(values[at * (band + 1) + band]!)),
    weight: Float64Array.from(order, (at) => equations.weights[at]!),
    strengths: { rpm, load, zero },
    effectiveDimension: fit.effectiveDimension(),
    weightedSquares: residuals,
    noise,
  };
}

/** Σ w·(k − Bc)² = Σ w·k² − 2·cᵀb + cᵀAc. */
function squaresLeft({ matrix, right, square, cells }: ReturnType<typeof sumScattered>, c: Float64Array): number {
  let sum = square;
  for (let i = 0; i < cells; i++) {
    sum -= 2 * c[i]! * right[i]!;
    const row = i * matrix.band + matrix.band;
    for (let j = Math.max(0, i - matrix.band); j < i; j++) sum += 2 * c[i]! * c[j]! * matrix.values[row + j]!;
    sum += c[i]! * c[i]! * matrix.values[row + i]!;
  }
  return Math.max(0, sum);
}
