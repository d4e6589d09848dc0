import { cellFuel } from "../fuel/cell-fuel.ts";
import {
  ASSUMED_VOLUMETRIC_EFFICIENCY_PERCENT,
  type FuellingConditions,
  lambdaCells,
  type ManifoldPressures,
} from "../fuel/conditions.ts";
import { cycleTimeMs } from "../fuel/duty-cycle.ts";
import type { Fuel } from "../fuel/fuel.ts";
import { deliveryOf, type InjectorSpec } from "../fuel/injector.ts";
import { sayMixture } from "../fuel/say-mixture.ts";
import { lookup } from "../lookup/lookup.ts";
import { createAxis } from "../values/axis.ts";
import type { Assumption } from "../values/basis.ts";
import { createTable, type FuelTable } from "../values/fuel-table.ts";
import { requirePositive, requireWithin } from "../values/require.ts";

/** A point of an engine's work, and what is tried there. */
export interface SteadySettings {
  readonly build: FuellingConditions & { readonly injectors: InjectorSpec };
  readonly rpm: number;
  /** On the table's load axis; without a table, manifold pressure in kPa. */
  readonly load: number;
  /** Meters fuel. Left out: the air is estimated from the build's volumetric efficiency. */
  readonly table?: FuelTable;
  /** The mixture the table was made for; left out: lambda 1, stated. */
  readonly target?: number | FuelTable;
  /** For trims: the factory's pulses. */
  readonly basePulse?: FuelTable;
  /** Where the load axis doesn't say it. */
  readonly manifoldKpa?: ManifoldPressures;
  /** The mixture tried; left out: the target's. */
  readonly lambda?: number;
  /** The fuel tried; left out: the build's. */
  readonly fuel?: Fuel;
}

/** What the engine gets at that point; masses for one cylinder and cycle. */
export interface SteadyState {
  readonly rpm: number;
  readonly load: number;
  readonly manifoldKpa: number;
  /** Across the injectors. */
  readonly pressureKpa: number;
  readonly airMg: number;
  /** Air into the whole engine. */
  readonly airGramsPerSecond: number;
  /** What the table is made for. */
  readonly targetLambda: number;
  /** The mixture asked for, said as lambda, as air–fuel ratio and as equivalence ratio. */
  readonly mixture: { readonly lambda: number; readonly afr: number; readonly equivalence: number };
  readonly askedMg: number;
  /** Of each injection. */
  readonly pulseMs: number;
  /** Two revolutions. */
  readonly cycleMs: number;
  /** As a fraction; 1 and above is static. */
  readonly duty: number;
  readonly deliveredMg: number;
  readonly deliveredLambda: number;
  /** Delivered to the whole engine. */
  readonly kilogramsPerHour: number;
  readonly litresPerHour: number;
  readonly assumptions: readonly Assumption[];
}

/**
 * Fuel, pulse, duty and flow at one point of a table, with the mixture and the fuel one likes: the table says how much air
 * there is, the injectors what another mixture takes. O(1).
 *
 * @throws FuelwrightError as `cellDemand`, `not-positive`, `out-of-range`
 */
export function steadyState(settings: SteadySettings): SteadyState {
  const { build, rpm, load } = settings;
  const operation = "steadyState";
  requireWithin(`${operation}: rpm`, rpm, 50, 30_000);
  const fuel = settings.fuel ?? build.fuel;
  const point = pointTable(settings);
  const target = settings.target ?? 1;
  const targetLambda = lambdaCells(operation, "target", target, point)[0]!;
  const asked = cellFuel(operation, point, {
    build,
    injectors: build.injectors,
    target,
    ...(settings.basePulse && { basePulse: settings.basePulse }),
    ...(settings.manifoldKpa !== undefined && { manifoldKpa: settings.manifoldKpa }),
  });
  const airMg = asked.askedMg[0]! * build.fuel.stoichiometricRatio * targetLambda;
  requirePositive(`${operation}: fuel of the table at ${rpm} rpm and load ${load}`, airMg);
  const lambda = requirePositive(`${operation}: lambda`, settings.lambda ?? targetLambda);
  const askedMg = airMg / (lambda * fuel.stoichiometricRatio);
  const pressureKpa = asked.pressureKpa[0]!;
  const given = throughInjectors(build, fuel, { rpm, pressureKpa, massMg: askedMg });
  const cycles = (build.engine.cylinders * rpm) / 120_000;
  const kilogramsPerHour = given.deliveredMg * cycles * 3.6;
  return {
    rpm,
    load,
    manifoldKpa: asked.manifoldKpa[0]!,
    pressureKpa,
    airMg,
    airGramsPerSecond: airMg * cycles,
    targetLambda,
    mixture: { lambda, afr: sayMixture(lambda, "afr", fuel), equivalence: sayMixture(lambda, "equivalence", fuel) },
    askedMg,
    cycleMs: cycleTimeMs(rpm),
    ...given,
    deliveredLambda: (lambda * askedMg) / given.deliveredMg,
    kilogramsPerHour,
    litresPerHour: kilogramsPerHour / fuel.densityKgPerL,
    assumptions: [
      ...asked.assumptions,
      ...(settings.table ? [tableGivesItsTarget(settings.target === undefined)] : [estimatedAir(build)]),
    ],
  };
}

/** Pulse, duty and what arrives for a mass of fuel to one cylinder in a cycle; an injector that never closes gives its all. */
export function throughInjectors(
  build: Pick<FuellingConditions, "engine" | "battery"> & { readonly injectors: InjectorSpec },
  fuel: Pick<Fuel, "densityKgPerL">,
  { rpm, pressureKpa, massMg }: { readonly rpm: number; readonly pressureKpa: number; readonly massMg: number },
): { readonly pulseMs: number; readonly duty: number; readonly deliveredMg: number } {
  const delivery = deliveryOf(build.injectors)(build.battery.volts, pressureKpa, fuel.densityKgPerL);
  const { injectionsPerCycle, injectorsPerCylinder = 1 } = build.engine;
  const cycleMs = cycleTimeMs(rpm);
  const pulseMs = delivery.pulseMs(massMg / injectorsPerCylinder, injectionsPerCycle);
  const duty = (pulseMs * injectionsPerCycle) / cycleMs;
  return { pulseMs, duty, deliveredMg: duty >= 1 ? delivery.flow * cycleMs * injectorsPerCylinder : massMg };
}

/** The point as a table of its own that is the same all over: so that every quantity is read as in the whole table. */
function pointTable({ build, table, rpm, load }: SteadySettings): FuelTable {
  const oneRow = table?.load.quantity === "single-row";
  const value = table
    ? lookup(table, { rpm, load })
    : (build.engine.volumetricEfficiencyPercent ?? ASSUMED_VOLUMETRIC_EFFICIENCY_PERCENT);
  return createTable({
    id: table?.id ?? "estimate",
    name: table?.name ?? "Estimate",
    quantity: table?.quantity ?? "volumetric-efficiency",
    rpm: createAxis({ quantity: table?.rpm.quantity ?? "rpm", breakpoints: [rpm, rpm + 1] }),
    ...(!oneRow && {
      load: createAxis({ quantity: table?.load.quantity ?? "manifold-pressure", breakpoints: [load, load + 1] }),
    }),
    cells: new Float64Array(oneRow ? 2 : 4).fill(value),
  });
}

const tableGivesItsTarget = (assumed: boolean): Assumption => ({
  id: "table-gives-its-target",
  text: assumed
    ? "The table is taken to give lambda 1; no target mixture is known."
    : "The table is taken to give the mixture of the target table; the air follows from that.",
  basis: "estimated",
});

const estimatedAir = ({ engine }: FuellingConditions): Assumption => ({
  id: "air-from-efficiency",
  text: `No table: the air is worked out from a volumetric efficiency of ${engine.volumetricEfficiencyPercent ?? ASSUMED_VOLUMETRIC_EFFICIENCY_PERCENT} % everywhere.`,
  basis: "estimated",
});
