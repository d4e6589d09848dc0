import fc from "fast-check";
import { expect, test } from "vitest";
import { FuelwrightError } from "../values/errors.ts";
import { compensateFilm, simulateFilm, steadyFilm, typicalFilms } from "./fuel-film.ts";

const films = fc.record({
  wallShare: fc.double({ min: 0, max: 0.95, noNaN: true }),
  evaporationS: fc.double({ min: 0.01, max: 10, noNaN: true }),
});
const flows = fc.array(fc.double({ min: 0, max: 20, noNaN: true }), { minLength: 1, maxLength: 60 });
const steps = fc.double({ min: 0.001, max: 0.5, noNaN: true });

test("fuel is in the film or has come out: mass is conserved", () => {
  fc.assert(
    fc.property(films, flows, steps, fc.double({ min: 0, max: 5, noNaN: true }), (film, flow, stepS, startG) => {
      const run = simulateFilm({ film, injectedGramsPerSecond: flow, stepS, startG });
      const sum = (values: ArrayLike<number>) => Array.from(values).reduce((total, value) => total + value * stepS, 0);
      const came = sum(flow) + startG;
      const went = sum(run.deliveredGramsPerSecond) + run.filmG.at(-1)!;
      expect(Math.abs(came - went)).toBeLessThan(1e-11 * (1 + came));
    }),
  );
});

test("a steady flow comes out as it goes in, to the bit, over any film", () => {
  fc.assert(
    fc.property(films, fc.double({ min: 0, max: 20, noNaN: true }), steps, (film, flow, stepS) => {
      const run = simulateFilm({ film, injectedGramsPerSecond: [flow], stepS });
      expect(run.deliveredGramsPerSecond[0]).toBe(flow);
      expect(run.filmG[0]).toBeCloseTo(steadyFilm(film, flow), 12);
    }),
  );
});

test("two half steps are one step", () => {
  fc.assert(
    fc.property(films, flows, steps, (film, flow, stepS) => {
      const whole = simulateFilm({ film, injectedGramsPerSecond: flow, stepS, startG: 0.3 });
      const halves = simulateFilm({
        film,
        injectedGramsPerSecond: flow.flatMap((value) => [value, value]),
        stepS: stepS / 2,
        startG: 0.3,
      });
      flow.forEach((_, at) => {
        expect(halves.filmG[2 * at + 1]).toBeCloseTo(whole.filmG[at]!, 10);
      });
    }),
  );
});

test("what compensation injects delivers what was wanted", () => {
  fc.assert(
    fc.property(films, fc.double({ min: 1, max: 3, noNaN: true }), steps, (film, factor, stepS) => {
      const wantedGramsPerSecond = Array.from({ length: 20 }, (_, at) => (at < 3 ? 1 : factor));
      const injectedGramsPerSecond = compensateFilm({ film, wantedGramsPerSecond, stepS });
      // Where steps are longer than the film lasts the exact answer swings, and may ask an injector for less than nothing.
      fc.pre(injectedGramsPerSecond.every((flow) => flow >= 0));
      const run = simulateFilm({ film, injectedGramsPerSecond, stepS });
      run.deliveredGramsPerSecond.forEach((flow, at) => {
        expect(flow).toBeCloseTo(wantedGramsPerSecond[at]!, 8);
      });
    }),
  );
});

test("on paper: a doubled flow, a third on the wall", () => {
  const run = simulateFilm({
    film: { wallShare: 0.3, evaporationS: 0.4 },
    injectedGramsPerSecond: [2],
    stepS: 0.02,
    startG: 0.12,
  });
  // e^-0.05 = 0.951229: the film goes 0.12 → 0.24 by 4.877 % of the way.
  expect(run.filmG[0]).toBeCloseTo(0.12 + 0.0487705755 * 0.12, 9);
});

test("a cold wall holds more, and longer", () => {
  expect(steadyFilm(typicalFilms.cold, 1)).toBeGreaterThan(steadyFilm(typicalFilms.warm, 1));
  expect(typicalFilms.cold.evaporationS).toBeGreaterThan(typicalFilms.warm.evaporationS);
});

test.each([
  [{ film: { wallShare: 1, evaporationS: 1 } }, "out-of-range", /film\.wallShare/],
  [{ film: { wallShare: 0.5, evaporationS: 0 } }, "out-of-range", /film\.evaporationS/],
  [{ injectedGramsPerSecond: [1, -1] }, "out-of-range", /injectedGramsPerSecond\[1\]/],
  [{ injectedGramsPerSecond: [Number.NaN] }, "not-finite", /injectedGramsPerSecond\[0\]/],
  [{ stepS: 0 }, "not-positive", /stepS/],
  [{ startG: -1 }, "out-of-range", /startG/],
])("refuses %j", (part, code, sentence) => {
  const settings = { film: typicalFilms.warm, injectedGramsPerSecond: [1], stepS: 0.1, ...part };
  expect(() => simulateFilm(settings)).toThrow(FuelwrightError);
  expect(() => simulateFilm(settings)).toThrow(expect.objectContaining({ code }));
  expect(() => simulateFilm(settings)).toThrow(sentence);
});
