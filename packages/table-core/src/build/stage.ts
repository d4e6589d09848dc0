import { createFuel, type FuelSpec } from "../fuel/fuel.ts";
import { createInjector, type InjectorSpec } from "../fuel/injector.ts";
import { createRail, type Rail } from "../fuel/rail.ts";
import { FuelwrightError } from "../values/errors.ts";
import { requirePlausible } from "../values/plausible.ts";
import { requireFinite, requireText, requireWithin, say } from "../values/require.ts";
import {
  createIntake,
  createManifold,
  createPump,
  createThrottleBody,
  type Intake,
  type Manifold,
  type Pump,
  type ThrottleBody,
} from "./parts.ts";

/** What a cam, a head or an exhaust is expected to do to the air drawn: a factor over rpm, drawn by the user. */
export interface AirCurvePoint {
  readonly rpm: number;
  /** 1: as before. */
  readonly factor: number;
}

/** A candidate set of parts: only what differs from the build it belongs to. Plain data. */
export interface Stage {
  readonly name: string;
  readonly note?: string;
  readonly displacementCc?: number;
  readonly revLimitRpm?: number;
  readonly fuel?: FuelSpec;
  readonly injectors?: InjectorSpec;
  readonly rail?: Rail;
  readonly throttleBody?: ThrottleBody;
  readonly manifold?: Manifold;
  readonly intake?: Intake;
  readonly pump?: Pump;
  /** Straight lines between points, held outside; estimated, whatever it was drawn from. */
  readonly airCurve?: readonly AirCurvePoint[];
}

/** A checked, frozen copy. @throws FuelwrightError naming the field (`build.stages[1].displacementCc`) */
export function createStage(stage: Stage, where = "stage"): Stage {
  if (typeof stage !== "object" || stage === null)
    throw new FuelwrightError("bad-stage", `${where} must be an object, got ${say(stage)}; give it a name`, { where });
  return Object.freeze({
    name: requireText(`${where}.name`, stage.name, 100),
    ...(stage.note !== undefined && stage.note !== "" && { note: requireText(`${where}.note`, stage.note, 2000) }),
    ...(stage.displacementCc !== undefined && {
      displacementCc: requirePlausible(`${where}.displacementCc`, stage.displacementCc, {
        low: 20,
        high: 20_000,
        unit: "cc",
        mixUps: [{ unit: "L", toOwn: (litres) => litres * 1000 }],
      }),
    }),
    ...(stage.revLimitRpm !== undefined && {
      revLimitRpm: requireWithin(`${where}.revLimitRpm`, stage.revLimitRpm, 1000, 25_000),
    }),
    ...(stage.fuel !== undefined && { fuel: createFuel(stage.fuel, `${where}.fuel`) }),
    ...(stage.injectors !== undefined && { injectors: createInjector(stage.injectors, `${where}.injectors`) }),
    ...(stage.rail !== undefined && { rail: createRail(stage.rail, `${where}.rail`) }),
    ...(stage.throttleBody !== undefined && {
      throttleBody: createThrottleBody(stage.throttleBody, `${where}.throttleBody`),
    }),
    ...(stage.manifold !== undefined && { manifold: createManifold(stage.manifold, `${where}.manifold`) }),
    ...(stage.intake !== undefined && { intake: createIntake(stage.intake, `${where}.intake`) }),
    ...(stage.pump !== undefined && { pump: createPump(stage.pump, `${where}.pump`) }),
    ...(stage.airCurve !== undefined && { airCurve: createAirCurve(stage.airCurve, `${where}.airCurve`) }),
  });
}

/** A checked, frozen copy, sorted by rpm. @throws FuelwrightError `bad-air-curve`, `out-of-range` */
export function createAirCurve(points: readonly AirCurvePoint[], where: string): readonly AirCurvePoint[] {
  if (!Array.isArray(points) || points.length === 0)
    throw new FuelwrightError(
      "bad-air-curve",
      `${where} must be a list of points, got ${say(points)}; or leave it out`,
      {
        where,
      },
    );
  const copy = points
    .map((point: AirCurvePoint, at) =>
      Object.freeze({
        rpm: requireFinite(`${where}[${at}].rpm`, point?.rpm),
        factor: requireWithin(`${where}[${at}].factor`, point.factor, 0.2, 3),
      }),
    )
    .sort((a, b) => a.rpm - b.rpm);
  copy.forEach((point, at) => {
    if (copy[at - 1]?.rpm === point.rpm)
      throw new FuelwrightError("bad-air-curve", `${where} has ${point.rpm} rpm twice; drop one of them`, { where });
  });
  return Object.freeze(copy);
}
