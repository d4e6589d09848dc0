import { compensateFilm, simulateFilm, steadyFilm } from "@fuelwright/table-core";
import { describe, expect, test } from "vitest";
import reference from "./fuel-film.json";

// Source: C. F. Aquino, SAE 810494 (1981), model form; numbers in closed form, checked by numerical integration (scipy).
// Tolerance of the file: 1e-10 absolute.

const { cases } = reference;
const of = (kind: string) => cases.filter((c) => c.kind === kind).map((c, at) => [at, c] as const);
const films = (c: (typeof cases)[number]) => c.film_g as number[];
const filmOf = (c: (typeof cases)[number]) => ({ wallShare: c.X, evaporationS: c.tau_s });

function expectAll(values: ArrayLike<number>, expected: readonly number[]): void {
  expect(values.length).toBe(expected.length);
  expected.forEach((value, at) => {
    expect(Math.abs(values[at]! - value), `at ${at}`).toBeLessThan(1e-10);
  });
}

test("there are steps, compensations and steady states", () => {
  expect(["step", "compensation", "steady"].map((kind) => of(kind).length)).toEqual([7, 3, 3]);
});

describe("film", () => {
  test.each(of("step"))("after a step of the injected flow, case %i", (_, c) => {
    const film = filmOf(c);
    const startG = steadyFilm(film, c.inputBefore_g_s!);
    expectAll([startG, steadyFilm(film, c.inputAfter_g_s!)], [c.film0_g!, c.filmSteadyAfter_g!]);
    const injectedGramsPerSecond = films(c).map(() => c.inputAfter_g_s!);
    const run = simulateFilm({ film, injectedGramsPerSecond, stepS: c.dt_s!, startG });
    expectAll(run.filmG, films(c));
    expectAll(run.deliveredGramsPerSecond, c.deliveredMean_g_s!);
    expectAll(run.deliveredAtEndGramsPerSecond, c.deliveredAtStepEnd_g_s!);
    const justAfter = simulateFilm({ film, injectedGramsPerSecond: [c.inputAfter_g_s!], stepS: 1e-9, startG });
    expect(justAfter.deliveredGramsPerSecond[0]).toBeCloseTo(c.deliveredJustAfterStep_g_s!, 6);
  });

  test.each(of("compensation"))("made up for, case %i", (_, c) => {
    const wantedGramsPerSecond = c.wanted_g_s!;
    const settings = { film: filmOf(c), stepS: c.dt_s!, startG: c.film0_g! };
    const injected = compensateFilm({ ...settings, wantedGramsPerSecond });
    expectAll(injected, c.injected_g_s!);
    if (injected.every((flow) => flow >= 0))
      expectAll(
        simulateFilm({ ...settings, injectedGramsPerSecond: injected }).deliveredGramsPerSecond,
        wantedGramsPerSecond,
      );
  });

  test.each(of("steady"))("in steady state, case %i", (_, c) => {
    const film = filmOf(c);
    expectAll([steadyFilm(film, c.input_g_s!)], [c.film_g as number]);
    const run = simulateFilm({ film, injectedGramsPerSecond: [c.input_g_s!, c.input_g_s!], stepS: 0.05 });
    expectAll(run.deliveredGramsPerSecond, [c.delivered_g_s!, c.delivered_g_s!]);
  });
});
