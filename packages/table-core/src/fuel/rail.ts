import { FuelwrightError } from "../values/errors.ts";
import { requirePlausible } from "../values/plausible.ts";
import { requireFinite, requireOneOf, requirePositive, say } from "../values/require.ts";

/**
 * How fuel pressure is kept.
 *
 * `manifold-referenced`: the regulator holds `pressureKpa` above manifold pressure, so the injectors always see it.
 * `fixed`: the regulator (often in the tank) holds `pressureKpa` above the outside air, so the injectors see more at
 * low manifold pressure.
 */
export type Rail =
  | { readonly kind: "manifold-referenced"; readonly pressureKpa: number }
  | { readonly kind: "fixed"; readonly pressureKpa: number };

/** A checked, frozen copy. @throws FuelwrightError `unknown-choice`, `implausible`, naming the field */
export function createRail(rail: Rail, where = "rail"): Rail {
  if (typeof rail !== "object" || rail === null)
    throw new FuelwrightError("bad-rail", `${where} must be an object, got ${say(rail)}; give kind and pressureKpa`);
  const kind = requireOneOf(`${where}.kind`, rail.kind, ["manifold-referenced", "fixed"]);
  requirePositive(`${where}.pressureKpa`, rail.pressureKpa);
  const pressureKpa = requirePlausible(`${where}.pressureKpa`, rail.pressureKpa, {
    low: 50,
    high: 1500,
    unit: "kPa",
    mixUps: pressureMixUps,
  });
  return Object.freeze({ kind, pressureKpa });
}

/** Fuel pressures are said in bar and psi as often as in kPa: 3 bar, 43.5 psi. */
export const pressureMixUps = [
  { unit: "bar", toOwn: (bar: number) => bar * 100 },
  { unit: "psi", toOwn: (psi: number) => psi * 6.894757293168361 },
  { unit: "Pa", toOwn: (pascal: number) => pascal / 1000 },
] as const;

/**
 * Pressure across the injector, in kPa: fuel at its inlet against air at its tip.
 *
 * @param air - absolute pressures; for a manifold-referenced rail neither counts
 * @throws FuelwrightError `no-injection-pressure` when air pushes back as hard as fuel
 */
export function injectionPressure(
  rail: Rail,
  { manifoldKpa, barometricKpa }: { readonly manifoldKpa: number; readonly barometricKpa: number },
): number {
  requireFinite("injectionPressure: manifoldKpa", manifoldKpa);
  requireFinite("injectionPressure: barometricKpa", barometricKpa);
  const across =
    rail.kind === "manifold-referenced" ? rail.pressureKpa : rail.pressureKpa + barometricKpa - manifoldKpa;
  if (!(across > 0))
    throw new FuelwrightError(
      "no-injection-pressure",
      `injectionPressure: the pressure across the injector must be above 0 kPa, got ${across} (rail ${rail.pressureKpa} kPa, ` +
        `outside ${barometricKpa} kPa, manifold ${manifoldKpa} kPa); raise the rail pressure or check the manifold pressure`,
      { railKpa: rail.pressureKpa, barometricKpa, manifoldKpa, acrossKpa: across },
    );
  return across;
}
