import { chargeTemperature, ZERO_CELSIUS_K } from "../air/air-charge.ts";
import { correctPower } from "../air/correct-power.ts";
import { vapourShare } from "../air/humidity.ts";
import { barometricPressure, createPlace, type Place } from "../air/place.ts";
import type { ManifoldPressures } from "../fuel/conditions.ts";
import type { Assumption, Basis } from "../values/basis.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import { sayPercent } from "../values/plausible.ts";
import type { Build } from "./build.ts";
import { type CeilingReport, checkCeilings } from "./check-ceilings.ts";

/** How a controller comes to its fuel, as far as the weather counts. */
export type ControllerKind =
  | "throttle-uncorrected"
  | "throttle-corrected"
  | "manifold-pressure-uncorrected"
  | "manifold-pressure-corrected"
  | "measured-air";

/** What the other place does to the mixture of a kind of controller. */
export interface ControllerEffect {
  readonly kind: ControllerKind;
  /** New lambda over old with nothing changed; below 1 is richer. */
  readonly lambdaFactor: number;
  readonly sentence: string;
}

/** What {@link comparePlaces} works with. */
export interface ComparePlaces {
  /** With the place it is set up for. */
  readonly build: Build;
  readonly to: Place;
  /** For the ceilings at both places. */
  readonly table?: FuelTable;
  /** Lambda the engine should get: one for all cells, or a table. */
  readonly target?: number | FuelTable;
  readonly basePulse?: FuelTable;
  readonly manifoldKpa?: ManifoldPressures;
}

/** One job at two places. */
export interface PlaceComparison {
  /** At the first place and at the second, absolute. */
  readonly barometricKpa: { readonly from: number; readonly to: number };
  /** Of the charge, at the first place and at the second. */
  readonly chargeTemperatureC: { readonly from: number; readonly to: number };
  /** Dry air a cylinder draws at full throttle, new over old. */
  readonly airFactor: number;
  /** Full-throttle power, new over old, by SAE J1349 (2004). */
  readonly powerFactor: number;
  /** False when either place is outside that standard's own range. */
  readonly powerWithinRange: boolean;
  /** Flow of the injectors at one manifold pressure (half of outside pressure at the first place), new over old. */
  readonly injectorFlowFactor: number;
  readonly controllers: readonly ControllerEffect[];
  /** The table's ceilings at both places; null without a table. */
  readonly ceilings: { readonly from: CeilingReport; readonly to: CeilingReport } | null;
  readonly basis: Basis;
  readonly assumptions: readonly Assumption[];
}

/**
 * The same job at the shop and elsewhere (on a pass, on a hot day): air, power, injector flow, ceilings, and what happens to the
 * mixture with which kind of controller.
 *
 * @throws FuelwrightError `implausible` or `out-of-range` for the place, and as `checkCeilings`
 */
export function comparePlaces(settings: ComparePlaces): PlaceComparison {
  const { build, table, target, basePulse, manifoldKpa } = settings;
  const to = createPlace(settings.to, "comparePlaces: to");
  const from = build.place;
  const outside = { from: barometricPressure(from), to: barometricPressure(to) };
  const atHome = chargeTemperature(build.engine, from);
  // The engine warms its air by the same at both places.
  const charge = { from: atHome.temperatureC, to: atHome.temperatureC + to.temperatureC - from.temperatureC };
  const kelvin = { from: charge.from + ZERO_CELSIUS_K, to: charge.to + ZERO_CELSIUS_K };
  const dry = { from: outside.from * (1 - vapourShare(from)), to: outside.to * (1 - vapourShare(to)) };
  const airFactor = (dry.to / dry.from) * (kelvin.from / kelvin.to);
  const powerAt = (place: Place, barometricKpa: number) =>
    correctPower({
      standard: "sae-j1349-2004",
      temperatureC: place.temperatureC,
      barometricKpa,
      relativeHumidityPercent: place.relativeHumidityPercent ?? 0,
    });
  const [powerFrom, powerTo] = [powerAt(from, outside.from), powerAt(to, outside.to)];
  const moved: Build = { ...build, engine: { ...build.engine, chargeTemperatureC: charge.to }, place: to };
  const ceilingsAt = (here: Build) =>
    checkCeilings({
      build: here,
      table: table!,
      ...(target !== undefined && { target }),
      ...(basePulse && { basePulse }),
      ...(manifoldKpa !== undefined && { manifoldKpa }),
    });
  return {
    barometricKpa: outside,
    chargeTemperatureC: charge,
    airFactor,
    powerFactor: powerFrom.factor / powerTo.factor,
    powerWithinRange: powerFrom.withinRange && powerTo.withinRange,
    injectorFlowFactor: flowFactor(build, outside),
    controllers: effects(airFactor, kelvin.from / kelvin.to, (1 - vapourShare(to)) / (1 - vapourShare(from))),
    ceilings: table ? { from: ceilingsAt(build), to: ceilingsAt(moved) } : null,
    basis: "estimated",
    assumptions: [
      ...atHome.assumptions,
      {
        id: "exhaust-pressure",
        text: "What a lower pressure behind the exhaust does to the filling is left out.",
        basis: "estimated",
        matters:
          "At one manifold pressure an engine draws a few percent more air on a high pass than at sea level: leaner there.",
        mattersPercent: 3,
      },
    ],
  };
}

/** A fixed rail pushes from outside pressure: less of it, less flow at one manifold pressure. */
function flowFactor({ rail }: Build, outside: { readonly from: number; readonly to: number }): number {
  if (rail.kind === "manifold-referenced") return 1;
  const manifoldKpa = outside.from / 2;
  return Math.sqrt((rail.pressureKpa + outside.to - manifoldKpa) / (rail.pressureKpa + outside.from - manifoldKpa));
}

function effects(airFactor: number, warmth: number, dryness: number): readonly ControllerEffect[] {
  const say = (factor: number) => {
    const percent = sayPercent(Math.abs(factor - 1) * 100);
    if (Math.abs(factor - 1) < 0.0005) return "the mixture stays";
    return factor < 1 ? `${percent} % richer` : `${percent} % leaner: watch detonation under load`;
  };
  const uncorrected = warmth * dryness;
  return [
    {
      kind: "throttle-uncorrected",
      lambdaFactor: airFactor,
      sentence: `By throttle position without barometric and air-temperature correction: ${say(airFactor)}.`,
    },
    {
      kind: "throttle-corrected",
      lambdaFactor: dryness,
      sentence: `By throttle position with both corrections: ${say(dryness)} (they don't see humidity).`,
    },
    {
      kind: "manifold-pressure-uncorrected",
      lambdaFactor: uncorrected,
      sentence: `By manifold pressure without air-temperature correction: ${say(uncorrected)}.`,
    },
    {
      kind: "manifold-pressure-corrected",
      lambdaFactor: dryness,
      sentence: `By manifold pressure with air-temperature correction: ${say(dryness)} (it doesn't see humidity).`,
    },
    {
      kind: "measured-air",
      lambdaFactor: dryness,
      sentence: `By measured air: ${say(dryness)} (vapour is measured with it).`,
    },
  ];
}
