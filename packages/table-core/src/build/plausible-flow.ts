import type { Fuel } from "../fuel/fuel.ts";
import { FuelwrightError } from "../values/errors.ts";
import { trim } from "../values/plausible.ts";
import { convertUnit } from "../values/units.ts";
import type { Engine } from "./engine.ts";

/** Flows are typed in these; a mix-up is one number read in two of them. */
const flowUnits = ["g/s", "cc/min", "lb/h", "g/min", "kg/h"] as const;

/** How far from the engine's need a flow may lie before it is taken for a mix-up. */
const MOST_TIMES = 10;
const LEAST_TIMES = 1 / 6;

/**
 * Returns the flow of one injector in g/s if the engine can have a use for it; otherwise says which unit was probably meant.
 *
 * The need is a rough one: the cylinders filled with air of 1.2 kg/m³ at the rev limit, burnt at lambda 0.85. A flow of more
 * than ten times that, or less than a sixth, is refused.
 *
 * @throws FuelwrightError `implausible`, with `didYouMean` (g/s) and `didYouMeanText` among its details
 */
export function requirePlausibleFlow(
  where: string,
  flow: number,
  { engine, fuel }: { readonly engine: Engine; readonly fuel: Fuel },
): number {
  const airMg = (engine.displacementCc / engine.cylinders) * 1.2;
  const fuelMg = airMg / (0.85 * fuel.stoichiometricRatio);
  const need = (fuelMg * engine.revLimitRpm) / 120_000 / (engine.injectorsPerCylinder ?? 1);
  if (flow <= need * MOST_TIMES && flow >= need * LEAST_TIMES) return flow;
  const density = { densityKgPerL: fuel.densityKgPerL };
  // The number as it was typed is probably a round one; of the units it may have been meant in, the nearest to the need.
  const guesses = flowUnits.flatMap((typedUnit) => {
    const typed = convertUnit(flow, "g/s", typedUnit, density);
    return flowUnits
      .filter((meantUnit) => meantUnit !== typedUnit)
      .map((meantUnit) => ({ typedUnit, typed, meantUnit, meant: convertUnit(typed, meantUnit, "g/s", density) }))
      .filter(({ meant }) => meant <= need * MOST_TIMES && meant >= need * LEAST_TIMES)
      .map((guess) => ({ ...guess, off: Math.abs(Math.log(guess.meant / need)) + 10 * uneven(typed) }));
  });
  const best = guesses.sort((a, b) => a.off - b.off)[0];
  const times = flow > need ? `${trim(flow / need)} times` : `a ${trim(need / flow)}th of`;
  const typed = best && best.typedUnit !== "g/s" ? ` (${trim(best.typed)} ${best.typedUnit})` : "";
  const meantText = best && `${trim(best.typed)} ${best.meantUnit} (${trim(best.meant)} g/s)`;
  throw new FuelwrightError(
    "implausible",
    `${where} must be near what the engine can use, about ${trim(need)} g/s, got ${trim(flow)} g/s${typed}, ${times} that; ` +
      (meantText ? `did you mean ${meantText}?` : "check the figure and its unit"),
    {
      where,
      value: flow,
      needGramsPerSecond: need,
      ...(best && { didYouMean: best.meant, didYouMeanText: meantText }),
    },
  );
}

/** 0 for a number of at most three figures, up to 1 otherwise. */
function uneven(value: number): number {
  const rounded = Number(value.toPrecision(3));
  return Math.min(1, Math.abs(value - rounded) / rounded / 1e-6);
}
