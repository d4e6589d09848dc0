import { suggestTipIn } from "@fuelwright/table-core";
import { expect, test } from "vitest";
import reference from "./fuel-film.json";

/*
 * Injected fuel that makes the delivered flow step at once through a wall film: closed form, checked by numerical integration
 * (fuel-film.json; model of Aquino, SAE 810494, 1981). The reference holds the flow over each step of time, so it is compared
 * with the suggestion's exponential in the middle of the step, from which it differs by the square of the step.
 */
const cases = reference.cases.filter(({ kind }) => kind === "compensation") as unknown as {
  X: number;
  tau_s: number;
  dt_s: number;
  wanted_g_s: number[];
  injected_g_s: number[];
}[];

test.each(cases)("a tip-in enrichment of share and decay is the film's inverse: X $X, $tau_s s", (film) => {
  const tip = suggestTipIn({
    film: { share: { value: film.X, deviation: 0 }, time: { value: film.tau_s, deviation: 0 }, covariance: 0 },
  })!;
  const step = film.wanted_g_s.findIndex((wanted) => wanted !== film.wanted_g_s[0]);
  const change = film.wanted_g_s[step]! - film.wanted_g_s[0]!;
  const relative = film.dt_s / tip.decay.value;
  film.injected_g_s.slice(step).forEach((injected, at) => {
    const excess = (injected - film.wanted_g_s[step + at]!) / change;
    const suggested = tip.share.value * Math.exp(-(at + 0.5) * relative);
    expect(Math.abs(excess - suggested)).toBeLessThan(tip.share.value * relative ** 2);
  });
});
