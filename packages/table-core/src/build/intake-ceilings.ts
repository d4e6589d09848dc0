import { vapourShare } from "../air/humidity.ts";
import { cellNote, notesOf } from "../fuel/cell-note.ts";
import { sayPercent, sayRpm } from "../values/plausible.ts";
import { type PartCeilings, unknownPart, worstOf } from "./ceiling.ts";
import type { CellDemand, DemandSettings } from "./cell-demand.ts";
import { fullLoadEfficiency } from "./full-load-efficiency.ts";
import { efficiencyOf, intakeAreas, intakeSolver, rpmOfLoss, solveIntake } from "./solve-intake.ts";

/** Air lost to the parts at full throttle that is taken for granted, and that is too much; common practice. */
const COMMON_LOSS_PERCENT = 5;
const GREAT_LOSS_PERCENT = 15;

/** A row is out of reach when the intake leaves less than it by more than this. */
const REACH_KPA = 1;

/**
 * Throttle body and manifold against the air of each cell.
 *
 * A part never simply ends: it takes more and more. What counts as all it can give is the air at which 5 % are lost.
 */
export function intakeCeilings(settings: DemandSettings, demand: CellDemand): PartCeilings {
  const { build, table } = settings;
  if (!build.throttleBody && !build.manifold)
    return unknownPart("intake", "Neither throttle body nor manifold is described.");
  const curve = fullLoadEfficiency(settings, demand);
  const efficiency = efficiencyOf(curve, build.engine);
  const { revLimitRpm } = build.engine;
  const { breakpoints } = table.rpm;
  const given = curve === undefined ? {} : { volumetricEfficiencyPercent: curve };
  const solution = solveIntake({ build, rpm: [...breakpoints, revLimitRpm], ...given });
  const limit = solution.points.at(-1)!;
  const solver = intakeSolver(build, intakeAreas(build));
  const freeRpm = rpmOfLoss(solver, COMMON_LOSS_PERCENT, efficiency.at(revLimitRpm));
  const drawn = solver.at(freeRpm, efficiency.at(revLimitRpm)).airGramsPerSecond;
  // A row of manifold pressure asks for its air as if nothing were lost on the way; any other table for what was drawn.
  const allowed = table.load.quantity === "manifold-pressure" ? drawn / (1 - COMMON_LOSS_PERCENT / 100) : drawn;
  const dryShare = 1 - vapourShare(build.place);
  const columns = breakpoints.length;
  const share = demand.airGramsPerSecond?.map((grams) => grams / dryShare / allowed) ?? null;
  const topRow = table.cells.length - columns;
  const nearest = breakpoints.reduce(
    (best, rpm, column) => (Math.abs(rpm - revLimitRpm) < Math.abs(breakpoints[best]! - revLimitRpm) ? column : best),
    0,
  );
  const loss = sayPercent(limit.lossPercent, [COMMON_LOSS_PERCENT]);
  return {
    verdict: {
      part: "intake",
      verdict:
        limit.choked !== null || limit.lossPercent > GREAT_LOSS_PERCENT
          ? "gives-out"
          : limit.lossPercent > COMMON_LOSS_PERCENT
            ? "at-limit"
            : "in-hand",
      sentence:
        `At ${sayRpm(revLimitRpm)} rpm and full throttle ${loss} % of the air is lost to ${partsOf(settings)}` +
        (limit.choked ? `, which chokes at the ${limit.choked === "manifold" ? "manifold" : "throttle body"}` : "") +
        `; up to ${COMMON_LOSS_PERCENT} % is common practice.`,
      basis: "estimated",
      share,
      worst: share ? worstOf(table, share) : cellNote(table, topRow + nearest, revLimitRpm / freeRpm),
      inHandPercent: (freeRpm / revLimitRpm - 1) * 100,
      assumptions: solution.assumptions,
    },
    ceilings: [
      {
        kind: "beyond-intake",
        part: "intake",
        sentence: "At full throttle the intake does not bring the manifold to this pressure.",
        cells:
          table.load.quantity === "manifold-pressure"
            ? notesOf(
                table,
                demand.manifoldKpa,
                (kpa, at) => kpa > solution.points[at % columns]!.manifoldKpa + REACH_KPA,
              )
            : [],
      },
    ],
  };
}

const partsOf = ({ build }: DemandSettings) =>
  build.throttleBody && build.manifold
    ? "throttle body and manifold"
    : build.manifold
      ? "the manifold"
      : "the throttle body";
