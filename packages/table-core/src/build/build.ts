import { createPlace, type Place } from "../air/place.ts";
import { COMMON_PLANNING_DUTY_PERCENT } from "../fuel/conditions.ts";
import { requireVolts } from "../fuel/dead-time.ts";
import { createFuel, type Fuel, type FuelSpec } from "../fuel/fuel.ts";
import { createInjector, type Injector, type InjectorSpec } from "../fuel/injector.ts";
import { createRail, type Rail } from "../fuel/rail.ts";
import { FuelwrightError } from "../values/errors.ts";
import { requirePlausible } from "../values/plausible.ts";
import { say } from "../values/require.ts";
import { createEngine, type Engine } from "./engine.ts";
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
import { requirePlausibleFlow } from "./plausible-flow.ts";
import { createStage, type Stage } from "./stage.ts";

/** What is planned with, as the trade does. */
export interface Planning {
  /** Most of the cycle that an injector may be open; 80 to 85 is common practice. */
  readonly dutyPercent: number;
}

/** The engine with its fuel and parts, and where it runs: plain data, frozen. */
export interface Build {
  readonly engine: Engine;
  readonly fuel: Fuel;
  /** All injectors are of this kind; `engine.injectorsPerCylinder` says how many. */
  readonly injectors: Injector;
  readonly rail: Rail;
  /** At the injectors and the pump, engine running. */
  readonly battery: { readonly volts: number };
  readonly place: Place;
  readonly planning: Planning;
  readonly throttleBody?: ThrottleBody;
  readonly manifold?: Manifold;
  readonly intake?: Intake;
  readonly pump?: Pump;
  /** Sets of parts considered beside the one above. */
  readonly stages?: readonly Stage[];
}

/** What {@link createBuild} takes; a {@link Build} is one. Left out: `planning` 85 %. */
export interface BuildSpec extends Omit<Build, "fuel" | "injectors" | "planning"> {
  readonly fuel: FuelSpec;
  readonly injectors: InjectorSpec;
  readonly planning?: Planning;
}

/**
 * A checked, frozen build. Fields it does not know are dropped.
 *
 * @throws FuelwrightError naming the field as `build.injectors.flowGramsPerSecond`; figures that no such part has are
 *   `implausible`, with a "did you mean" sentence where another unit explains them
 */
export function createBuild(spec: BuildSpec, where = "build"): Build {
  if (typeof spec !== "object" || spec === null)
    throw new FuelwrightError("bad-build", `${where} must be an object, got ${say(spec)}; give engine, fuel and parts`);
  const engine = createEngine(spec.engine, `${where}.engine`);
  const fuel = createFuel(spec.fuel, `${where}.fuel`);
  const injectors = createInjector(spec.injectors, `${where}.injectors`);
  requirePlausibleFlow(`${where}.injectors.flowGramsPerSecond`, injectors.flowGramsPerSecond, { engine, fuel });
  return Object.freeze({
    engine,
    fuel,
    injectors,
    rail: createRail(spec.rail, `${where}.rail`),
    battery: Object.freeze({ volts: requireVolts(`${where}.battery.volts`, spec.battery?.volts) }),
    place: createPlace(spec.place, `${where}.place`),
    planning: createPlanning(spec.planning, `${where}.planning`),
    ...(spec.throttleBody !== undefined && {
      throttleBody: createThrottleBody(spec.throttleBody, `${where}.throttleBody`),
    }),
    ...(spec.manifold !== undefined && { manifold: createManifold(spec.manifold, `${where}.manifold`) }),
    ...(spec.intake !== undefined && { intake: createIntake(spec.intake, `${where}.intake`) }),
    ...(spec.pump !== undefined && { pump: createPump(spec.pump, `${where}.pump`) }),
    ...(spec.stages !== undefined && { stages: createStages(spec.stages, `${where}.stages`) }),
  });
}

function createPlanning(planning: Planning | undefined, where: string): Planning {
  return Object.freeze({
    dutyPercent: requirePlausible(
      `${where}.dutyPercent`,
      planning === undefined ? COMMON_PLANNING_DUTY_PERCENT : planning?.dutyPercent,
      {
        low: 10,
        high: 100,
        unit: "%",
        mixUps: [{ unit: "as a fraction", toOwn: (fraction) => fraction * 100 }],
      },
    ),
  });
}

function createStages(stages: readonly Stage[], where: string): readonly Stage[] {
  if (!Array.isArray(stages) || stages.length > 50)
    throw new FuelwrightError(
      "bad-stages",
      `${where} must be a list of at most 50 stages, got ${say(stages)}; leave some out`,
      { where },
    );
  return Object.freeze(stages.map((stage, at) => createStage(stage, `${where}[${at}]`)));
}
