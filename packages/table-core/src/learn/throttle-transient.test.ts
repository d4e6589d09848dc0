import fc from "fast-check";
import { expect, test } from "vitest";
import { suggestTipIn } from "../evidence/suggest-tip-in.ts";
import { fuels } from "../fuel/fuel.ts";
import { typicalFilms } from "./fuel-film.ts";
import { enrichmentFor, throttleTransient } from "./throttle-transient.ts";

const settings = {
  airBeforeGramsPerSecond: 8,
  airAfterGramsPerSecond: 24,
  lambda: 0.95,
  fuel: fuels.petrol,
  film: typicalFilms.warm,
};
const films = fc.record({
  wallShare: fc.double({ min: 0.05, max: 0.7, noNaN: true }),
  evaporationS: fc.double({ min: 0.1, max: 2, noNaN: true }),
});

test("opening the throttle leans the cylinder, shutting it enriches; both settle at what is commanded", () => {
  const open = throttleTransient(settings);
  expect(open.leanest.lambda).toBeGreaterThan(0.95 * 1.1);
  expect(open.leanest.atS).toBeGreaterThan(0.5);
  expect(open.leanest.atS).toBeLessThan(0.7);
  expect(open.leanForS).toBeGreaterThan(0.1);
  expect(open.richForS).toBe(0);
  expect(open.cylinderLambda.at(-1)).toBeCloseTo(0.95, 3);
  const shut = throttleTransient({ ...settings, airBeforeGramsPerSecond: 24, airAfterGramsPerSecond: 8 });
  expect(shut.richest.lambda).toBeLessThan(0.95 * 0.9);
  expect(shut.leanForS).toBe(0);
});

test("a cold wall makes it worse, and longer", () => {
  const warm = throttleTransient(settings);
  const cold = throttleTransient({ ...settings, film: typicalFilms.cold });
  expect(cold.leanest.lambda).toBeGreaterThan(warm.leanest.lambda);
  expect(cold.leanForS).toBeGreaterThan(warm.leanForS);
});

test("the enrichment that fits the film takes the spike away, whatever the film", () => {
  fc.assert(
    fc.property(films, fc.double({ min: 1.2, max: 6, noNaN: true }), (film, factor) => {
      const tuned = throttleTransient({
        ...settings,
        film,
        airAfterGramsPerSecond: 8 * factor,
        tipIn: enrichmentFor(film),
        stepS: 0.002,
      });
      expect(Math.abs(tuned.leanest.lambda / 0.95 - 1)).toBeLessThan(0.02);
      expect(Math.abs(tuned.richest.lambda / 0.95 - 1)).toBeLessThan(0.02);
    }),
    { numRuns: 40 },
  );
});

test("more enrichment is never leaner; too much is rich", () => {
  fc.assert(
    fc.property(films, fc.integer({ min: 0, max: 200 }), fc.integer({ min: 1, max: 100 }), (film, percent, more) => {
      const at = (amount: number) =>
        throttleTransient({ ...settings, film, tipIn: { percent: amount, decayS: 0.3 }, lastsS: 2 });
      const less = at(percent);
      const richer = at(percent + more);
      less.cylinderLambda.forEach((lambda, step) => {
        expect(richer.cylinderLambda[step]!).toBeLessThanOrEqual(lambda + 1e-12);
      });
    }),
    { numRuns: 40 },
  );
  expect(throttleTransient({ ...settings, tipIn: { percent: 150, decayS: 0.3 } }).richest.lambda).toBeLessThan(0.85);
});

test("all fuel is accounted for: injected is delivered or still on the wall", () => {
  const run = throttleTransient({ ...settings, tipIn: { percent: 40, decayS: 0.2 } });
  const sum = (flow: Float64Array) => flow.reduce((total, value) => total + value * 0.01, 0);
  const start = 0.25 * 0.3 * (8 / (0.95 * fuels.petrol.stoichiometricRatio));
  const left = run.filmG.at(-1)! - start;
  expect(sum(run.injectedGramsPerSecond)).toBeCloseTo(sum(run.deliveredGramsPerSecond) + left, 10);
});

test("the sensor shows the spike later and smaller", () => {
  const run = throttleTransient(settings);
  expect(run.shownLeanest).toBeLessThan(run.leanest.lambda);
  expect(run.shownLeanest).toBeGreaterThan(0.95);
  const latest = run.timeS[run.widebandLambda.indexOf(run.shownLeanest)]!;
  expect(latest).toBeGreaterThan(run.leanest.atS + 0.1);
});

test("fuel taken away on lift-off brings the rich spike down, and stops at no fuel", () => {
  const lift = { ...settings, airBeforeGramsPerSecond: 24, airAfterGramsPerSecond: 8 };
  const plain = throttleTransient(lift);
  const tuned = throttleTransient({ ...lift, liftOff: { percent: 30, decayS: 0.225 } });
  expect(tuned.richest.lambda).toBeGreaterThan(plain.richest.lambda);
  const cut = throttleTransient({ ...lift, liftOff: { percent: 400, decayS: 0.5 } });
  expect(Math.min(...cut.injectedGramsPerSecond)).toBe(0);
});

test("it is the same figure that a log suggests", () => {
  const none = { deviation: 0 };
  const suggested = suggestTipIn({
    film: { share: { value: 0.3, ...none }, time: { value: 0.5, ...none }, covariance: 0 },
  })!;
  const fits = enrichmentFor({ wallShare: 0.3, evaporationS: 0.5 });
  expect(fits.percent / 100).toBeCloseTo(suggested.share.value, 12);
  expect(fits.decayS).toBeCloseTo(suggested.decay.value, 12);
});

test("refuses no air and enrichments that can't be", () => {
  expect(() => throttleTransient({ ...settings, airAfterGramsPerSecond: 0 })).toThrow(/airAfterGramsPerSecond/);
  expect(() => throttleTransient({ ...settings, tipIn: { percent: -1, decayS: 1 } })).toThrow(/tipIn.percent/);
  expect(() => throttleTransient({ ...settings, liftOff: { percent: 1, decayS: 0 } })).toThrow(/liftOff.decayS/);
});
