import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { steadyRatio, strokeFill } from "./intake-fill.ts";
import { restriction } from "./restriction.ts";

const parts = (areaMm2: number) => restriction([areaMm2], 101.325, 293.15);
const area = fc.double({ min: 100, max: 3000, noNaN: true });
const strokes = fc.record({
  fullMg: fc.double({ min: 50, max: 700, noNaN: true }),
  seconds: fc.double({ min: 0.002, max: 0.04, noNaN: true }),
});

describe("one stroke", () => {
  test("agrees with explicit fourth-order steps of the same law", () => {
    // 500 mg in 5 ms through 500 mm²: hard on the restriction, and far from stiff.
    const tight = parts(500);
    const [fullMg, seconds, clearance] = [500, 0.005, 1 / 9];
    const volume = (x: number) => clearance + (1 - Math.cos(Math.PI * x)) / 2;
    const slope = (x: number, mass: number) => (seconds / fullMg) * tight.solvedAt(mass / volume(x));
    let mass = clearance;
    const steps = 2000;
    for (let at = 0; at < steps; at++) {
      const h = 1 / steps;
      const x = at * h;
      const k1 = slope(x, mass);
      const k2 = slope(x + h / 2, mass + (h / 2) * k1);
      const k3 = slope(x + h / 2, mass + (h / 2) * k2);
      const k4 = slope(x + h, mass + h * k3);
      mass += (h / 6) * (k1 + 2 * k2 + 2 * k3 + k4);
    }
    const direct = mass - clearance;
    expect(Math.abs(strokeFill(tight, { fullMg, seconds }).fill - direct)).toBeLessThan(5e-4);
    expect(Math.abs(strokeFill(tight, { fullMg, seconds, steps: 10_000 }).fill - direct)).toBeLessThan(1e-4);
  });

  test("is filled by parts far too large, and chokes parts far too small", () => {
    expect(strokeFill(parts(60_000), { fullMg: 500, seconds: 0.01 })).toEqual({
      fill: expect.closeTo(1, 4),
      choked: false,
    });
    const tiny = strokeFill(parts(20), { fullMg: 500, seconds: 0.005 });
    expect(tiny.choked).toBe(true);
    // Choked but for the first moments, while the clearance empties: the flow does not depend on the engine.
    const choked = (parts(20).most * 0.005) / 500;
    expect(tiny.fill).toBeLessThan(choked);
    expect(tiny.fill).toBeGreaterThan(0.9 * choked);
  });

  test("is never filled less by more area, nor more by less time", () => {
    fc.assert(
      fc.property(area, fc.double({ min: 0, max: 900, noNaN: true }), strokes, (mm2, more, stroke) => {
        const { fill } = strokeFill(parts(mm2), stroke);
        expect(strokeFill(parts(mm2 + more), stroke).fill).toBeGreaterThanOrEqual(fill - 1e-9);
        expect(strokeFill(parts(mm2), { ...stroke, seconds: stroke.seconds * 0.8 }).fill).toBeLessThanOrEqual(
          fill + 1e-9,
        );
        expect(fill).toBeGreaterThanOrEqual(0);
        expect(fill).toBeLessThanOrEqual(1);
      }),
      { numRuns: 40 },
    );
  });
});

describe("a steady draw", () => {
  test("settles where parts and engine agree", () => {
    fc.assert(
      fc.property(area, fc.double({ min: 1, max: 500_000, noNaN: true }), (mm2, demand) => {
        const { solvedAt, most } = parts(mm2);
        const ratio = steadyRatio(solvedAt, demand);
        expect(Math.abs(solvedAt(ratio) - demand * ratio)).toBeLessThan(1e-6 * most);
      }),
    );
  });

  test("loses less than a stroke that draws the same air in a quarter of the time", () => {
    const stroke = { fullMg: 500, seconds: 0.006 };
    const pulse = strokeFill(parts(600), stroke).fill;
    expect(steadyRatio(parts(600).solvedAt, stroke.fullMg / (4 * stroke.seconds))).toBeGreaterThan(pulse);
  });
});
