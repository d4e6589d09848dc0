import { findRoot } from "../numeric/find-root.ts";
import type { Restriction } from "./restriction.ts";

/**
 * Pressure behind a restriction as a share of that before it, when an engine draws steadily from behind it.
 *
 * The engine takes the same volume whatever the pressure, so `demand`, in mg/s at full pressure, falls with it.
 *
 * @param flowAt - mg/s through the restriction against a pressure ratio
 */
export function steadyRatio(flowAt: (ratio: number) => number, demand: number): number {
  if (!(demand > 0)) return 1;
  return findRoot((ratio) => flowAt(ratio) - demand * ratio, 0, 1);
}

/** Clearance volume as a share of the displacement: compression ratio 10. */
const CLEARANCE = 1 / 9;

/** A restriction that passes this share of its most is choked; the last bit of its characteristic is flat. */
const NEARLY_ALL = 0.9999;

/**
 * How far one intake stroke fills the cylinder through a restriction that only it draws through, 0..1.
 *
 * Between restriction and piston nothing stores air: as the piston runs down, harmonically over the time the valve is open,
 * the cylinder's pressure falls until enough flows in. Isothermal, no inertia of the air, no flow back out. Solved by implicit
 * Euler in `steps`, which keeps the law that more area never fills less; 1000 steps are within 0.05 % of the limit.
 *
 * @param stroke - `fullMg`: air that fills it without restriction; `seconds` the valve is open
 * @returns `fill`, and whether the restriction passed all it can at some moment
 */
export function strokeFill(
  { flows, most }: Pick<Restriction, "flows" | "most">,
  { fullMg, seconds, steps = 1000 }: { readonly fullMg: number; readonly seconds: number; readonly steps?: number },
): { readonly fill: number; readonly choked: boolean } {
  if (!(fullMg > 0)) return { fill: 1, choked: false };
  const points = flows.length - 1;
  const perStep = seconds / steps / fullMg;
  // Mass and volume as shares of the displacement filled at outside pressure, so that their quotient is the pressure ratio.
  let mass = CLEARANCE;
  let greatest = 0;
  let at = 0;
  for (let step = 1; step <= steps; step++) {
    const volume = CLEARANCE + (1 - Math.cos((Math.PI * step) / steps)) / 2;
    // With s = √(1 - ratio) the flow is a straight line on each piece of the characteristic, so that the implicit step,
    // volume (1 - s²) = mass + perStep · flow(s), is a quadratic there. The piece is near that of the step before.
    const excess = (point: number) => volume * (1 - (point / points) ** 2) - mass - perStep * flows[point]!;
    while (at < points - 1 && excess(at + 1) > 0) at++;
    while (at > 0 && excess(at) < 0) at--;
    const slope = (flows[at + 1]! - flows[at]!) * points;
    const origin = flows[at]! - (slope * at) / points;
    const room = Math.max(volume - mass - perStep * origin, 0);
    const linear = perStep * slope;
    const s = (2 * room) / (linear + Math.sqrt(linear * linear + 4 * volume * room) || 1);
    mass = volume * (1 - s * s);
    greatest = Math.max(greatest, origin + slope * s);
  }
  return { fill: mass - CLEARANCE, choked: greatest >= NEARLY_ALL * most };
}
