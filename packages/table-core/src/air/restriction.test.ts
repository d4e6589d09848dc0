import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { isentropicRatios, nozzleFlow } from "./nozzle.ts";
import { restriction, seriesFlow } from "./restriction.ts";

const areas = fc.double({ min: 50, max: 4000, noNaN: true });
const outside = { upstreamKpa: 101.325, temperatureC: 20 };
const pair = fc.record({
  firstAreaMm2: areas,
  secondAreaMm2: areas,
  upstreamKpa: fc.double({ min: 55, max: 180, noNaN: true }),
  temperatureC: fc.double({ min: -20, max: 60, noNaN: true }),
  share: fc.double({ min: 0.1, max: 0.999, noNaN: true }),
});

/** mg/s of one orifice, by Mach number at the throat instead of by pressure ratio. */
function direct(areaMm2: number, upstreamKpa: number, temperatureC: number, downstreamKpa: number): number {
  let low = 0;
  let high = 1;
  for (let step = 0; step < 80; step++) {
    const mach = (low + high) / 2;
    if (isentropicRatios(mach).pressureRatio > downstreamKpa / upstreamKpa) low = mach;
    else high = mach;
  }
  const mach = (low + high) / 2;
  const { pressureRatio, temperatureRatio } = isentropicRatios(mach);
  const kelvin = temperatureC + 273.15;
  const density = (upstreamKpa * 1000 * pressureRatio) / (287.05287 * kelvin * temperatureRatio);
  return areaMm2 * density * mach * Math.sqrt(1.4 * 287.05287 * kelvin * temperatureRatio);
}

describe("two orifices in series", () => {
  test("agree with a direct numerical solution", () => {
    fc.assert(
      fc.property(pair, ({ share, ...given }) => {
        const downstreamKpa = share * given.upstreamKpa;
        const solved = seriesFlow({ ...given, downstreamKpa });
        // The pressure between by plain bisection, the flows by Mach number.
        let low = downstreamKpa;
        let high = given.upstreamKpa;
        for (let step = 0; step < 100; step++) {
          const between = (low + high) / 2;
          const more =
            direct(given.secondAreaMm2, between, given.temperatureC, downstreamKpa) -
            direct(given.firstAreaMm2, given.upstreamKpa, given.temperatureC, between);
          if (more > 0) high = between;
          else low = between;
        }
        const expected = direct(given.firstAreaMm2, given.upstreamKpa, given.temperatureC, (low + high) / 2) / 1000;
        // Near no flow the root of a pressure difference is known to half the figures.
        expect(Math.abs(solved.gramsPerSecond - expected)).toBeLessThan(1e-6 * expected + 1e-6);
      }),
      { numRuns: 60 },
    );
  });

  test("what flows into the pair flows out of it", () => {
    fc.assert(
      fc.property(pair, ({ share, ...given }) => {
        const downstreamKpa = share * given.upstreamKpa;
        const { betweenKpa, gramsPerSecond } = seriesFlow({ ...given, downstreamKpa });
        const { temperatureC } = given;
        const into = nozzleFlow({ upstreamKpa: given.upstreamKpa, temperatureC, downstreamKpa: betweenKpa });
        const out = nozzleFlow({ upstreamKpa: betweenKpa, temperatureC, downstreamKpa });
        for (const flow of [into.massFlux * given.firstAreaMm2, out.massFlux * given.secondAreaMm2])
          expect(Math.abs(flow / 1000 - gramsPerSecond)).toBeLessThan(1e-6 * gramsPerSecond + 1e-6);
      }),
    );
  });

  test("are never better than the tighter of the two, and more area never passes less", () => {
    fc.assert(
      fc.property(pair, areas, ({ share, ...given }, more) => {
        const downstreamKpa = share * given.upstreamKpa;
        const flow = seriesFlow({ ...given, downstreamKpa }).gramsPerSecond;
        const alone = nozzleFlow({ ...given, downstreamKpa }).massFlux / 1000;
        expect(flow).toBeLessThanOrEqual(alone * Math.min(given.firstAreaMm2, given.secondAreaMm2) * (1 + 1e-12));
        const first = seriesFlow({ ...given, firstAreaMm2: given.firstAreaMm2 + more, downstreamKpa });
        const second = seriesFlow({ ...given, secondAreaMm2: given.secondAreaMm2 + more, downstreamKpa });
        expect(first.gramsPerSecond).toBeGreaterThanOrEqual(flow * (1 - 1e-9) - 1e-9);
        expect(second.gramsPerSecond).toBeGreaterThanOrEqual(flow * (1 - 1e-9) - 1e-9);
      }),
    );
  });

  test("say which of the two chokes", () => {
    const given = { ...outside, downstreamKpa: 20 };
    expect(seriesFlow({ ...given, firstAreaMm2: 100, secondAreaMm2: 400 }).choked).toBe("first");
    expect(seriesFlow({ ...given, firstAreaMm2: 400, secondAreaMm2: 100 }).choked).toBe("second");
    expect(seriesFlow({ ...given, firstAreaMm2: 400, secondAreaMm2: 100, downstreamKpa: 90 }).choked).toBeNull();
    expect(seriesFlow({ ...given, firstAreaMm2: 400, secondAreaMm2: 100, downstreamKpa: 120 }).gramsPerSecond).toBe(0);
  });
});

test("the characteristic reads what is solved, within 1e-5 of the greatest flow", () => {
  fc.assert(
    fc.property(areas, areas, fc.double({ min: 0, max: 1, noNaN: true }), (first, second, ratio) => {
      const parts = restriction([first, second], 101.325, 293.15);
      expect(Math.abs(parts.flowAt(ratio) - parts.solvedAt(ratio))).toBeLessThan(1e-5 * parts.most);
    }),
    { numRuns: 40 },
  );
});
