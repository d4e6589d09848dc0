import {
  type Build,
  type Fuel,
  type FuelFilm,
  type FuelTable,
  FuelwrightError,
  fuels,
  type SteadySettings,
  type SteadyState,
  steadyState,
  typicalFilms,
} from "@fuelwright/table-core";
import type { Desk } from "../../store/desk.ts";
import { plainRefusal } from "../../store/plain-refusal.ts";

/** The experiments, in the order in which they build on each other. */
export const experiments = ["steady", "moving", "temperature", "injector", "questions"] as const;
export type Experiment = (typeof experiments)[number];

/** Everything the learner has set. Null: as the job has it. */
export interface Trial {
  readonly experiment: Experiment;
  readonly table: string | null;
  readonly rpm: number | null;
  readonly load: number | null;
  readonly lambda: number | null;
  readonly fuel: string | null;
  readonly evaporatedPercent: number;
  readonly airC: number | null;
  readonly flameFuelState: "vapour" | "liquid";
  readonly flameInletC: number;
  readonly flamePressureKpa: number;
  readonly move: "tip-in" | "lift-off";
  readonly lowLoad: number | null;
  readonly highLoad: number | null;
  readonly rampS: number;
  readonly wall: "warm" | "cold";
  readonly films: Readonly<Record<"warm" | "cold", FuelFilm>>;
  readonly enriched: boolean;
  readonly tipInPercent: number;
  readonly tipInDecayS: number;
  readonly delayS: number;
  readonly lagS: number;
  readonly outsideC: number;
  readonly coolantC: number;
  readonly demand: number;
  readonly flowPercent: number;
  readonly answers: Readonly<Record<string, number>>;
}

const startTrial: Trial = {
  experiment: "steady",
  table: null,
  rpm: null,
  load: null,
  lambda: null,
  fuel: null,
  evaporatedPercent: 100,
  airC: null,
  flameFuelState: "vapour",
  flameInletC: 25,
  flamePressureKpa: 101.325,
  move: "tip-in",
  lowLoad: null,
  highLoad: null,
  rampS: 0.1,
  wall: "warm",
  films: typicalFilms,
  enriched: false,
  tipInPercent: 10,
  tipInDecayS: 0.2,
  delayS: 0.15,
  lagS: 0.1,
  outsideC: 5,
  coolantC: 20,
  demand: 1,
  flowPercent: 100,
  answers: {},
};

/** What was set lasts as long as the page, so that a look at another leaf loses nothing. */
const kept = new WeakMap<Desk, Trial>();

export const trialOf = (desk: Desk): Trial => kept.get(desk) ?? startTrial;
export const keepTrial = (desk: Desk, trial: Trial): void => void kept.set(desk, trial);

/** Load and speed axis of what is tried, as ranges. */
export interface Span {
  readonly from: number;
  readonly to: number;
}

/** The trial with the job it is tried on, ready for the library. */
export interface Scene {
  readonly desk: Desk;
  readonly trial: Trial;
  readonly build: Build;
  /** Tables of the job that meter fuel over rpm. */
  readonly tables: readonly FuelTable[];
  /** Null: the air is estimated. */
  readonly table: FuelTable | null;
  /** Why the table could not be used, or an empty sentence. */
  readonly problem: string;
  readonly fuel: Fuel;
  readonly rpm: Span;
  readonly load: Span;
  /** Unit of the load axis. */
  readonly loadUnit: string;
  /** As the job has it at this point: its own fuel and mixture. */
  readonly own: SteadyState;
  /** With the learner's mixture and fuel. */
  readonly tried: SteadyState;
  /** The same with another load, mixture or fuel. */
  at(part: Partial<SteadySettings>): SteadyState;
  change(part: Partial<Trial>): void;
}

const metering = new Set(["pulse-width", "fuel-mass", "volumetric-efficiency", "trim"]);

/** What is set, on the tables and parts that the desk shows. */
export function sceneOf(desk: Desk, trial: Trial, change: Scene["change"]): Scene {
  const { build, tables } = desk.shown;
  const { roles } = desk.job;
  const usable = Object.values(tables).filter(
    (table) => metering.has(table.quantity) && table.rpm.quantity === "rpm" && table.id !== roles.basePulse,
  );
  const wanted = usable.find(({ id }) => id === (trial.table ?? desk.view.table)) ?? usable[0] ?? null;
  const target = roles.target === undefined ? undefined : tables[roles.target];
  const basePulse = roles.basePulse === undefined ? undefined : tables[roles.basePulse];
  const fuel = fuelChoices(build.fuel).find(({ name }) => name === trial.fuel) ?? build.fuel;
  const withTable = (table: FuelTable | null): Scene => {
    const rpm = spanOf(table?.rpm.breakpoints ?? [build.engine.idleRpm ?? 1000, build.engine.revLimitRpm]);
    const load = spanOf(table && table.load.quantity !== "single-row" ? table.load.breakpoints : [20, 100]);
    const settings: SteadySettings = {
      build,
      rpm: within(trial.rpm ?? Math.round((rpm.from + 0.6 * (rpm.to - rpm.from)) / 100) * 100, rpm),
      load: within(trial.load ?? Math.round(load.from + 0.9 * (load.to - load.from)), load),
      ...(table && { table }),
      ...(table && target && { target }),
      ...(basePulse && { basePulse }),
    };
    const own = steadyState(settings);
    const at = (part: Partial<SteadySettings>) =>
      steadyState({ ...settings, fuel, lambda: trial.lambda ?? own.targetLambda, ...part });
    return {
      ...{ desk, trial, build, tables: usable, table, problem: "", fuel, rpm, load, own, at, change },
      loadUnit: table && table.load.quantity !== "single-row" ? table.load.unit : "kPa",
      tried: at({}),
    };
  };
  try {
    return withTable(wanted);
  } catch (error) {
    if (!(error instanceof FuelwrightError)) throw error;
    return { ...withTable(null), problem: plainRefusal(error.message) };
  }
}

/** The job's own fuel, and those to compare it with. */
export function fuelChoices(own: Fuel): readonly Fuel[] {
  return [own, ...Object.values(fuels).filter(({ name }) => name !== own.name)];
}

const spanOf = (values: readonly number[]): Span => ({ from: values[0]!, to: values.at(-1)! });
const within = (value: number, { from, to }: Span) => Math.min(to, Math.max(from, value));
