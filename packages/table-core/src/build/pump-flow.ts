import { barometricPressure } from "../air/place.ts";
import { requireVolts } from "../fuel/dead-time.ts";
import { heldLinear } from "../numeric/held-linear.ts";
import type { Assumption } from "../values/basis.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import { requireWithin } from "../values/require.ts";
import type { Build } from "./build.ts";
import type { Pump, PumpPoint } from "./parts.ts";

/** Flow of a pump at a pressure and voltage. */
export interface PumpFlow {
  readonly litresPerHour: number;
  readonly assumptions: readonly Assumption[];
}

/** Where one point alone is known: pressure, times that of the point, at which flow is taken to have fallen to nothing. */
const ONE_POINT_DEAD_HEAD = 2;

/**
 * Flow of a pump in L/h against a pressure, at a voltage.
 *
 * Over pressure: straight lines between the points, the first held below, the last slope followed to no flow above. Over
 * voltage: straight lines between the measured ones; outside them flow goes with voltage, which is stated.
 *
 * @param conditions - `pressureKpa` at the pump's outlet against the tank, `volts` at the pump
 * @throws FuelwrightError `not-positive` (zero volts), `out-of-range`
 */
export function pumpFlow(
  pump: Pump,
  { pressureKpa, volts }: { readonly pressureKpa: number; readonly volts: number },
): PumpFlow {
  requireVolts("pumpFlow: volts", volts);
  requireWithin("pumpFlow: pressureKpa", pressureKpa, 0, 10_000);
  return { litresPerHour: pumpCurve(pump, volts)(pressureKpa), assumptions: pumpAssumptions(pump, volts) };
}

/** The pump at one voltage, ready to be asked at many pressures. */
export function pumpCurve(pump: Pump, volts: number): (pressureKpa: number) => number {
  const ownVolts = (point: PumpPoint) => point.volts ?? pump.ratedVolts ?? volts;
  const measured = [...new Set(pump.curve.map(ownVolts))].sort((a, b) => a - b);
  const curves = measured.map((at) => overPressure(pump.curve.filter((point) => ownVolts(point) === at)));
  const nearest = Math.min(Math.max(volts, measured[0]!), measured.at(-1)!);
  const share = volts / nearest;
  return (pressureKpa) =>
    share *
    heldLinear(
      measured,
      curves.map((curve) => curve(pressureKpa)),
      nearest,
    );
}

function overPressure(points: readonly PumpPoint[]): (pressureKpa: number) => number {
  const sorted = [...points].sort((a, b) => a.pressureKpa - b.pressureKpa);
  const pressures = sorted.map((point) => point.pressureKpa);
  const flows = sorted.map((point) => point.litresPerHour);
  const last = sorted.at(-1)!;
  const before = sorted.at(-2);
  // A flat end says nothing of where the flow ends: then as with one point.
  const slope =
    before && before.litresPerHour > last.litresPerHour
      ? (last.litresPerHour - before.litresPerHour) / (last.pressureKpa - before.pressureKpa)
      : -last.litresPerHour / Math.max(last.pressureKpa * (ONE_POINT_DEAD_HEAD - 1), 1);
  return (pressureKpa) =>
    pressureKpa <= last.pressureKpa
      ? heldLinear(pressures, flows, pressureKpa)
      : Math.max(0, last.litresPerHour + slope * (pressureKpa - last.pressureKpa));
}

/** What is taken for granted of a pump whose curve says little. */
export function pumpAssumptions(pump: Pump, volts: number): readonly Assumption[] {
  const assumptions: Assumption[] = [];
  const known = pump.curve.map((point) => point.volts ?? pump.ratedVolts);
  if (known[0] === undefined)
    assumptions.push({
      id: "pump-volts",
      text: "The pump's curve says no voltage; it is taken at the battery's.",
      basis: "estimated",
      matters: "A volt less is about 8 % less flow.",
      mattersPercent: 8,
    });
  else {
    const measured = known as number[];
    const nearest = Math.min(Math.max(volts, Math.min(...measured)), Math.max(...measured));
    if (nearest !== volts)
      assumptions.push({
        id: "pump-voltage-scaled",
        text: `The pump is known at ${nearest} V only; its flow is taken to go with voltage to ${volts} V.`,
        basis: "estimated",
        matters: "Under pressure a pump loses more with voltage than that.",
        mattersPercent: Math.abs(volts / nearest - 1) * 100,
      });
  }
  if (pump.curve.length === 1)
    assumptions.push({
      id: "pump-one-point",
      text: "One point of the pump is known; above its pressure the flow is taken to end at twice that pressure.",
      basis: "estimated",
      matters: "Give a second point where the pressure gets higher.",
    });
  return assumptions;
}

/** What the pump is asked in a cell. */
export interface PumpLoad {
  readonly needLitresPerHour: number;
  /** At the pump's outlet, against the tank: rail pressure and what filter and line take. */
  readonly pumpKpa: number;
}

/** What each cell asks of the pump, for masses of one cylinder and cycle. */
export function pumpLoad({
  build,
  table,
  askedMg,
  manifoldKpa,
}: {
  readonly build: Pick<Build, "engine" | "fuel" | "rail" | "place" | "pump">;
  readonly table: Pick<FuelTable, "rpm">;
  readonly askedMg: Float64Array;
  readonly manifoldKpa: Float64Array;
}): readonly PumpLoad[] {
  const { breakpoints } = table.rpm;
  const loss = build.pump?.lossKpa ?? 0;
  const outsideKpa = barometricPressure(build.place);
  // mg a cycle to L/h: · cylinders · rpm/120 a second, · 3600 s, / 1e6 mg, / density.
  const perCycle = (build.engine.cylinders * 3600) / 120 / 1e6 / build.fuel.densityKgPerL;
  return Array.from(askedMg, (mg, at) => ({
    needLitresPerHour: mg * perCycle * breakpoints[at % breakpoints.length]!,
    pumpKpa:
      build.rail.pressureKpa + loss + (build.rail.kind === "manifold-referenced" ? manifoldKpa[at]! - outsideKpa : 0),
  }));
}
