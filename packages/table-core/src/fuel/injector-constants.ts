import type { Assumption } from "../values/basis.ts";
import { ratedWithTheFuel } from "./cell-fuel.ts";
import type { FuellingConditions } from "./conditions.ts";
import { deadTimeLookup } from "./dead-time.ts";
import { type InjectorSpec, massFlow } from "./injector.ts";

/** What a controller is told of one set of injectors. */
export interface InjectorFigures {
  readonly name: string;
  /** Held open, with this fuel, at the stated pressure. */
  readonly flowGramsPerSecond: number;
  readonly flowCcPerMinute: number;
  /** At the build's voltage and the stated pressure. */
  readonly deadTimeMs: number;
  readonly smallestPulseMs?: number;
  readonly shortPulse?: InjectorSpec["shortPulse"];
}

/** The constants of both sets, at the rail pressure of the build. */
export interface InjectorConstants {
  readonly from: InjectorFigures;
  readonly to: InjectorFigures;
  /** Old flow over new: what a plain rescale would multiply pulses by. */
  readonly flowRatio: number;
  readonly pressureKpa: number;
  readonly volts: number;
  /** Dead time over battery voltage, old and new. */
  readonly deadTimes: readonly { readonly volts: number; readonly fromMs: number; readonly toMs: number }[];
}

const VOLTS = [8, 9, 10, 11, 12, 13, 14, 15, 16];

/** The constants that change in the controller when injectors change. */
export function injectorConstants(from: InjectorSpec, to: InjectorSpec, build: FuellingConditions): InjectorConstants {
  const pressureKpa = build.rail.pressureKpa;
  const { volts } = build.battery;
  const { densityKgPerL } = build.fuel;
  const figures = (injector: InjectorSpec): InjectorFigures => {
    const flowGramsPerSecond = massFlow(injector, { pressureKpa, densityKgPerL });
    return {
      name: injector.name,
      flowGramsPerSecond,
      flowCcPerMinute: (flowGramsPerSecond * 60) / densityKgPerL,
      deadTimeMs: deadTimeLookup(injector.deadTime)(volts, pressureKpa),
      ...(injector.smallestPulseMs !== undefined && { smallestPulseMs: injector.smallestPulseMs }),
      ...(injector.shortPulse && { shortPulse: injector.shortPulse }),
    };
  };
  const [old, next] = [figures(from), figures(to)];
  const [oldDead, newDead] = [deadTimeLookup(from.deadTime), deadTimeLookup(to.deadTime)];
  return {
    from: old,
    to: next,
    flowRatio: old.flowGramsPerSecond / next.flowGramsPerSecond,
    pressureKpa,
    volts,
    deadTimes: VOLTS.map((at) => ({ volts: at, fromMs: oldDead(at, pressureKpa), toMs: newDead(at, pressureKpa) })),
  };
}

/** What is assumed when one set, or neither, says which fluid it was rated with. */
export function ratingAssumptions(
  from: InjectorSpec,
  to: InjectorSpec,
  build: Pick<FuellingConditions, "fuel">,
): readonly Assumption[] {
  const missing = [from, to].filter((injector) => injector.testDensityKgPerL === undefined);
  if (missing.length === 0) return [];
  const one = ratedWithTheFuel(build.fuel.densityKgPerL);
  if (missing.length === 1) return [{ ...one, text: `${one.text} (${missing[0]!.name})` }];
  return [
    {
      ...one,
      id: "rated-with-one-fluid",
      text: "Both sets are taken as rated with the same fluid; no test density is given.",
      matters: `Had one been rated with n-heptane and the other with the fuel, the result would be ${one.mattersPercent!.toFixed(1)} % off.`,
    },
  ];
}
