import type { Assumption, Basis } from "../values/basis.ts";
import { FuelwrightError } from "../values/errors.ts";
import { createTable } from "../values/fuel-table.ts";
import { sayFigure, sayPercent } from "../values/plausible.ts";
import { requirePositive } from "../values/require.ts";
import type { PartId } from "./ceiling.ts";
import { type CellDemand, cellDemand, type DemandSettings } from "./cell-demand.ts";
import { fullLoadEfficiency } from "./full-load-efficiency.ts";
import { fullLoadCurve } from "./power.ts";
import { type InjectorSizing, sizeInjectors } from "./size-injectors.ts";
import { type PumpSizing, sizePump } from "./size-pump.ts";
import { efficiencyOf, intakeAreas, intakeSolver, rpmOfLoss } from "./solve-intake.ts";

/** What is wished for: a power at the crank, or a displacement. */
export type Wish = { readonly powerKw: number } | { readonly displacementCc: number };

/** What {@link whatWouldItTake} works with. */
export interface WhatWouldItTake extends DemandSettings {
  readonly wish: Wish;
}

/** A part against a wish. */
export interface PartNeed {
  readonly part: PartId;
  /** Null when the part isn't described. */
  readonly enough: boolean | null;
  readonly sentence: string;
}

/** What a wish asks of every part. */
export interface WishReport {
  /** Fuel and air wanted over those of the table. */
  readonly factor: number;
  readonly powerKw: number;
  readonly powerNowKw: number;
  readonly injectors: InjectorSizing;
  readonly pump: PumpSizing;
  /** Null when neither throttle body nor manifold is described. */
  readonly intake: {
    /** Area wanted over what is there, for no more than 5 % of the air lost at the rev limit. */
    readonly areaFactor: number;
    readonly throttleDiameterMm: number | null;
  } | null;
  readonly parts: readonly PartNeed[];
  readonly basis: Basis;
  readonly assumptions: readonly Assumption[];
}

/** Air lost at full throttle that is taken for granted; common practice. */
const COMMON_LOSS_PERCENT = 5;

/**
 * What a wished power or displacement would take of injectors, pump and intake.
 *
 * Every cell's fuel is taken to grow by the same factor: wished power over the table's peak power, or the ratio of
 * displacements. That the engine can burn it (cams, valves, cooling, strength) is not looked at.
 *
 * @throws FuelwrightError `not-positive`, `no-fuel-asked`, and as `cellDemand`
 */
export function whatWouldItTake(settings: WhatWouldItTake): WishReport {
  const { build, table, wish, target, manifoldKpa } = settings;
  const now = fullLoadCurve(settings);
  const powerNowKw = now.points.reduce((most, { powerKw }) => Math.max(most, powerKw), 0);
  if (!(powerNowKw > 0))
    throw new FuelwrightError(
      "no-fuel-asked",
      `whatWouldItTake: ${table.id} asks for no fuel at full load; give a table that does`,
      {
        table: table.id,
      },
    );
  const factor =
    "powerKw" in wish
      ? requirePositive("whatWouldItTake: wish.powerKw", wish.powerKw) / powerNowKw
      : requirePositive("whatWouldItTake: wish.displacementCc", wish.displacementCc) / build.engine.displacementCc;
  const demand = cellDemand(settings);
  const wished = createTable({
    id: `${table.id}-wished`,
    name: table.name,
    quantity: "fuel-mass",
    rpm: table.rpm,
    load: table.load,
    cells: demand.askedMg.map((mg) => mg * factor),
  });
  const given = {
    build,
    table: wished,
    ...(target !== undefined && { target }),
    ...(manifoldKpa !== undefined && { manifoldKpa }),
  };
  const injectors = sizeInjectors(given);
  const pump = sizePump(given);
  const intake = intakeNeed(settings, demand, factor);
  return {
    factor,
    powerKw: powerNowKw * factor,
    powerNowKw,
    injectors,
    pump,
    intake,
    parts: [injectorNeed(settings, injectors), pumpNeed(pump), areaNeed(settings, intake)],
    basis: "estimated",
    assumptions: [
      ...now.assumptions,
      {
        id: "same-shape",
        text: "Fuel is taken to grow by the same factor in every cell.",
        basis: "estimated",
        matters: "More power mostly comes from the upper rpm; idle then needs less than told here.",
      },
    ],
  };
}

function injectorNeed({ build }: WhatWouldItTake, { smallest, rail, sentence }: InjectorSizing): PartNeed {
  if (!smallest) return { part: "injectors", enough: false, sentence };
  const enough = build.injectors.flowGramsPerSecond >= smallest.flowGramsPerSecond;
  const need = `${sayFigure(smallest.flowGramsPerSecond)} g/s (${sayFigure(smallest.flowCcPerMinute)} cc/min)`;
  return {
    part: "injectors",
    enough,
    sentence: enough
      ? `The injectors do: ${need} would be enough.`
      : `Injectors of at least ${need} are wanted.${rail ? ` Or: ${rail.sentence}` : ""}`,
  };
}

function pumpNeed({ pump, needLitresPerHour, wantedLitresPerHour, pressureKpa }: PumpSizing): PartNeed {
  const need = `${sayFigure(needLitresPerHour)} L/h at ${sayFigure(pressureKpa)} kPa, with the usual spare ${sayFigure(wantedLitresPerHour)} L/h`;
  if (!pump) return { part: "pump", enough: null, sentence: `The pump has to give ${need}.` };
  const enough = pump.inHandPercent >= 0;
  return {
    part: "pump",
    enough,
    sentence: enough
      ? `The pump gives ${sayFigure(pump.litresPerHour)} L/h; it has to give ${need}.`
      : `A larger pump is wanted: ${need}.`,
  };
}

function areaNeed({ build }: WhatWouldItTake, intake: WishReport["intake"]): PartNeed {
  if (!intake) return { part: "intake", enough: null, sentence: "Neither throttle body nor manifold is described." };
  const enough = intake.areaFactor <= 1;
  const body = intake.throttleDiameterMm;
  return {
    part: "intake",
    enough,
    sentence: enough
      ? `The intake passes it with less than ${COMMON_LOSS_PERCENT} % lost.`
      : `The intake wants ${sayPercent((intake.areaFactor - 1) * 100)} % more area` +
        (body === null
          ? "."
          : `: a throttle body of ${sayFigure(body)} mm, and a manifold to match${build.manifold ? "" : " (none is described)"}.`),
  };
}

/** What a restriction loses depends on air over area alone, so that area follows from the rpm at which the loss is as common. */
function intakeNeed(settings: WhatWouldItTake, demand: CellDemand, factor: number): WishReport["intake"] {
  const { build } = settings;
  if (!build.throttleBody && !build.manifold) return null;
  const { revLimitRpm } = build.engine;
  const percent = efficiencyOf(fullLoadEfficiency(settings, demand), build.engine).at(revLimitRpm) * factor;
  const areaFactor = revLimitRpm / rpmOfLoss(intakeSolver(build, intakeAreas(build)), COMMON_LOSS_PERCENT, percent);
  return {
    areaFactor,
    throttleDiameterMm: build.throttleBody ? build.throttleBody.diameterMm * Math.sqrt(areaFactor) : null,
  };
}
