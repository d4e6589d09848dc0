import type { FuellingConditions, ManifoldPressures } from "../fuel/conditions.ts";
import type { InjectorSpec } from "../fuel/injector.ts";
import { type RetargetReport, retargetMixture } from "../fuel/retarget-mixture.ts";
import { bilinearWeights } from "../lookup/bilinear-weights.ts";
import { fitAt } from "../numeric/restricted-likelihood.ts";
import { createAxis } from "../values/axis.ts";
import type { Assumption } from "../values/basis.ts";
import { FuelwrightError } from "../values/errors.ts";
import { type FuelTable, withCells } from "../values/fuel-table.ts";
import { editWeights, type Region } from "../values/region.ts";
import { requireFinite, requireOneOf, requireWithin } from "../values/require.ts";
import { evenStiffness, gridBends, gridPenalty } from "./bends.ts";
import { createGrid, gridOrder } from "./dynamics-pass.ts";
import { createEvidenceSummary, type EvidenceSummary } from "./evidence-summary.ts";

/** How much of a correction is taken, c and its deviation s: see {@link ApplyEvidence.manner}. */
export type EvidenceManner = "shrunk" | "excess" | "whole";

/** What {@link applyEvidence} takes. All but `build` and `basePulse` are JSON values. */
export interface ApplyEvidence {
  readonly evidence: EvidenceSummary;
  /** Share of what is proven that is taken in this pass, 0..1; 1 unless said. */
  readonly fraction?: number;
  /** The largest change of a cell in this pass, as a share; 0.1 unless said. */
  readonly cap?: number;
  /** How many of its standard deviations a correction must exceed; 1 unless said. */
  readonly deviations?: number;
  /**
   * What is taken of a correction c that exceeds z deviations s. `shrunk` (unless said): c·(1 − (z·s/c)²). `excess`: only
   * what lies beyond z·s. `whole`: all of c.
   */
  readonly manner?: EvidenceManner;
  /** Strength of smoothing of what is applied; 0 unless said. 1 is gentle. */
  readonly smooth?: number;
  /** Readings without which a cell counts as not supported; 25 unless said. */
  readonly leastSamples?: number;
  /** Where; left out: the whole table. Its feather and the table's locks count. */
  readonly region?: Region;
  /** For pulse widths, and for trims with their base pulse: what turns pulses into fuel. */
  readonly build?: FuellingConditions & { readonly injectors: InjectorSpec };
  /** For trims: the factory's pulses. Without them trims are changed by the ratio alone. */
  readonly basePulse?: FuelTable;
  /** Where the load axis doesn't say it. */
  readonly manifoldKpa?: ManifoldPressures;
}

/** What was applied, and what was held back. */
export interface AppliedEvidence {
  /** Natural logarithm of what each cell's fuel was multiplied by, row-major; 0 where nothing was changed. */
  readonly applied: Float64Array;
  /** Cells that were changed. */
  readonly changed: number;
  /** Cells that no or too few readings support. */
  readonly unsupported: number;
  /** Supported cells whose correction does not exceed its doubt. */
  readonly doubtful: number;
  /** Cells that the cap held back. */
  readonly capped: number;
  /** Whether the evidence is of a simulated log. */
  readonly simulated: boolean;
  readonly assumptions: readonly Assumption[];
  /** Cells with more than the ceiling of duty, too short pulses and the like, where pulses were changed. */
  readonly fuel: RetargetReport | null;
}

const operation = "applyEvidence";

/**
 * The table with what the evidence proves applied: cell by cell a share of the correction, capped.
 *
 * Cells without support, outside the region or locked come out bit for bit. Fuel masses, efficiencies and factors are
 * multiplied; pulse widths change through the injector, so that dead time stays dead; trims through their base pulse. Where
 * the table has other axes than the evidence (after a rebin), corrections are interpolated, and a cell is supported if all
 * that it is interpolated from is.
 *
 * @returns the new table, same axes and unit, and what was applied
 * @throws FuelwrightError `bad-evidence`, `wrong-axis`, `wrong-quantity` for a lambda table, `build-missing`, `out-of-range`
 */
export function applyEvidence(
  table: FuelTable,
  settings: ApplyEvidence,
): { readonly table: FuelTable; readonly report: AppliedEvidence } {
  const evidence = createEvidenceSummary(settings.evidence, `${operation}: evidence`);
  if (table.quantity === "lambda")
    throw new FuelwrightError(
      "wrong-quantity",
      `${operation}: ${table.id} is a target, which evidence does not correct; choose the table that meters the fuel`,
      { table: table.id },
    );
  if (evidence.rpm.quantity !== table.rpm.quantity || evidence.load.quantity !== table.load.quantity)
    throw new FuelwrightError(
      "wrong-axis",
      `${operation}: the evidence runs along ${evidence.rpm.quantity} and ${evidence.load.quantity}, ${table.id} along ${table.rpm.quantity} and ${table.load.quantity}; fit the log for this table`,
      { table: table.id },
    );
  const weights = editWeights(table, settings.region);
  const plan = planChange(table, evidence, settings);
  const applied = plan.change.map((change, at) => (weights[at]! > 0 ? change : 0));
  const { cells, fuel, assumptions } = multiplyFuel(table, applied, settings);
  const result = cells.map((cell, at) => {
    const weight = weights[at]!;
    const old = table.cells[at]!;
    return applied[at] === 0 ? old : weight === 1 ? cell : old + weight * (cell - old);
  });
  let changed = 0;
  for (let at = 0; at < result.length; at++) {
    if (applied[at] !== 0) {
      changed++;
      applied[at]! *= weights[at]!;
    }
  }
  return {
    table: withCells(table, result, operation),
    report: { applied, changed, ...plan.counts, simulated: evidence.simulated, assumptions, fuel },
  };
}

/** The change of each cell's fuel, as a logarithm, before the region's weights. */
function planChange(table: FuelTable, evidence: EvidenceSummary, settings: ApplyEvidence) {
  const fraction = requireWithin(`${operation}: fraction`, settings.fraction ?? 1, 0, 1);
  const cap = Math.log1p(requireWithin(`${operation}: cap`, settings.cap ?? 0.1, 0, 1));
  const z = requireWithin(`${operation}: deviations`, settings.deviations ?? 1, 0, 10);
  const manner = requireOneOf(`${operation}: manner`, settings.manner ?? "shrunk", ["shrunk", "excess", "whole"]);
  const smooth = requireWithin(`${operation}: smooth`, settings.smooth ?? 0, 0, 1e6);
  const least = requireFinite(`${operation}: leastSamples`, settings.leastSamples ?? 25);
  const { logs, deviations, supported } = onTable(table, evidence, least);
  let unsupported = 0;
  let doubtful = 0;
  let capped = 0;
  const change = logs.map((c, at) => {
    if (!supported[at]) {
      unsupported++;
      return 0;
    }
    const doubt = z * deviations[at]!;
    if (!(Math.abs(c) > doubt)) {
      doubtful++;
      return 0;
    }
    const proven = manner === "whole" ? c : manner === "excess" ? c - Math.sign(c) * doubt : c * (1 - (doubt / c) ** 2);
    return fraction * proven;
  });
  const even = smooth > 0 ? smoothed(table, change, deviations, supported, smooth) : change;
  for (let at = 0; at < even.length; at++)
    if (Math.abs(even[at]!) > cap) {
      even[at] = Math.sign(even[at]!) * cap;
      capped++;
    }
  return { change: even, counts: { unsupported, doubtful, capped } };
}

/** The evidence at the table's own cells. */
function onTable(table: FuelTable, evidence: EvidenceSummary, least: number) {
  const grid = { rpm: createAxis(evidence.rpm), load: createAxis(evidence.load) };
  const [low, high] = [grid.rpm, grid.load].map(
    ({ breakpoints }) => [breakpoints[0]!, breakpoints[breakpoints.length - 1]!] as const,
  ) as [readonly [number, number], readonly [number, number]];
  const count = table.cells.length;
  const logs = new Float64Array(count);
  const deviations = new Float64Array(count);
  const supported = new Uint8Array(count);
  let at = 0;
  for (const load of table.load.breakpoints)
    for (const rpm of table.rpm.breakpoints) {
      const { cells, weights } = bilinearWeights(grid, { rpm, load });
      let sound = rpm >= low[0] && rpm <= low[1] && load >= high[0] && load <= high[1];
      for (let k = 0; k < 4; k++) {
        const weight = weights[k]!;
        if (weight === 0) continue;
        const cell = cells[k]!;
        logs[at]! += weight * Math.log(evidence.factors[cell]!);
        // Neighbours are uncertain together, so deviations are mixed as they are.
        deviations[at]! += weight * evidence.deviations[cell]!;
        sound &&= evidence.samples[cell]! >= least;
      }
      supported[at++] = sound ? 1 : 0;
    }
  return { logs, deviations, supported };
}

/** What is applied, smoothed among supported cells, each held the more the surer it is; the others stay 0. */
function smoothed(
  table: FuelTable,
  change: Float64Array,
  deviations: Float64Array,
  supported: Uint8Array,
  strength: number,
): Float64Array {
  const grid = createGrid(table.rpm, table.load);
  const bends = gridBends(grid);
  const order = gridOrder(grid);
  const weights = new Float64Array(grid.cells);
  const right = new Float64Array(grid.cells);
  const sure = Float64Array.from(deviations).sort()[0]! || 1;
  change.forEach((value, at) => {
    const weight = supported[at] ? Math.max(1e-3, (sure / Math.max(deviations[at]!, sure)) ** 2) : 0;
    weights[order[at]!] = weight;
    right[order[at]!] = weight * value;
  });
  const equations = { cells: grid.cells, matrix: { band: 0, values: weights }, right, square: 1, count: 1 };
  // A trace of pull to zero keeps it solvable where few cells are supported.
  const fit = fitAt(equations, gridPenalty(grid, bends, evenStiffness(bends)), [
    strength,
    strength,
    1e-9 * strength + 1e-9,
  ]);
  return change.map((_, at) => (supported[at] ? fit.cells[order[at]!]! : 0));
}

/** The cells that make the fuel exp(change) times what it was; unchanged where change is 0. */
function multiplyFuel(
  table: FuelTable,
  change: Float64Array,
  settings: ApplyEvidence,
): { cells: Float64Array; fuel: RetargetReport | null; assumptions: readonly Assumption[] } {
  const factors = change.map((value) => (value === 0 ? 1 : Math.exp(value)));
  switch (table.quantity) {
    case "fuel-mass":
    case "volumetric-efficiency":
    case "factor":
      return { cells: table.cells.map((cell, at) => cell * factors[at]!), fuel: null, assumptions: [] };
    case "trim":
      if (!settings.basePulse || !settings.build)
        return {
          cells: table.cells.map((cell, at) => (factors[at] === 1 ? cell : (100 + cell) * factors[at]! - 100)),
          fuel: null,
          assumptions: [trimsByRatio],
        };
      break;
    default:
      if (!settings.build)
        throw new FuelwrightError(
          "build-missing",
          `${operation}: ${table.id} holds pulse widths, which change through the injector; give build, with its injectors`,
          { table: table.id },
        );
  }
  // More fuel by a factor is what a leaner mixture than wanted calls for: the factor is the lambda that was, 1 what is wanted.
  const from: FuelTable = { ...table, quantity: "lambda", unit: "lambda", cells: factors, locked: [] };
  const { table: next, report } = retargetMixture(
    { ...table, locked: [] },
    {
      from,
      to: 1,
      build: settings.build!,
      ...(settings.basePulse && { basePulse: settings.basePulse }),
      ...(settings.manifoldKpa !== undefined && { manifoldKpa: settings.manifoldKpa }),
    },
  );
  return { cells: next.cells, fuel: report, assumptions: report.assumptions };
}

const trimsByRatio: Assumption = {
  id: "trims-by-ratio",
  text: "Trims are taken to multiply fuel; they multiply the pulse, dead time included. Give the base pulse to be exact.",
  basis: "estimated",
  matters: "Changes come out too small by the share of dead time in the pulse, a tenth to a third at idle.",
};
