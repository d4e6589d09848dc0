import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { injectors } from "../../testing/arbitraries.ts";
import { refusal } from "../../testing/refusal.ts";
import { FuelwrightError } from "../values/errors.ts";
import {
  createInjector,
  type DeadTimePoint,
  deadTimeMs,
  deliveredMass,
  dutyCycle,
  type InjectorSpec,
  massFlow,
  pulseWidth,
  sameInjector,
} from "./injector.ts";

const plain: InjectorSpec = { name: "invented", flowGramsPerSecond: 3, ratedPressureKpa: 300, deadTime: 1 };
const conditions = { volts: 13.8, pressureKpa: 300 };

function codeOf(work: () => unknown): string {
  try {
    work();
  } catch (error) {
    if (error instanceof FuelwrightError) return error.code;
    throw error;
  }
  return "nothing thrown";
}

describe("a case worked on paper", () => {
  const injector = createInjector(plain);

  test("3 g/s open for 4 ms of a 5 ms pulse delivers 12 mg", () => {
    expect(deliveredMass(injector, { pulseMs: 5, ...conditions })).toBe(12);
    expect(pulseWidth(injector, { massMg: 12, ...conditions })).toBe(5);
  });

  test("two injections a cycle deliver twice, each with its dead time", () => {
    expect(deliveredMass(injector, { pulseMs: 3, ...conditions, injectionsPerCycle: 2 })).toBe(12);
    expect(pulseWidth(injector, { massMg: 12, ...conditions, injectionsPerCycle: 2 })).toBe(3);
  });

  test("a pulse that fills the cycle delivers full flow all the time, without dead time", () => {
    expect(deliveredMass(injector, { pulseMs: 20, ...conditions, rpm: 6000 })).toBe(60);
    expect(deliveredMass(injector, { pulseMs: 35, ...conditions, rpm: 6000 })).toBe(60);
    expect(deliveredMass(injector, { pulseMs: 19, ...conditions, rpm: 6000 })).toBe(54);
    expect(deliveredMass(injector, { pulseMs: 10, ...conditions, rpm: 6000, injectionsPerCycle: 2 })).toBe(60);
  });

  test("a pulse no longer than the dead time delivers nothing, and nothing needs no pulse", () => {
    expect(deliveredMass(injector, { pulseMs: 1, ...conditions })).toBe(0);
    expect(deliveredMass(injector, { pulseMs: 0.4, ...conditions })).toBe(0);
    expect(pulseWidth(injector, { massMg: 0, ...conditions })).toBe(0);
  });

  test("four times the pressure is twice the flow; flow goes with the root of density", () => {
    expect(massFlow(injector, { pressureKpa: 1200 })).toBe(6);
    const rated = createInjector({ ...plain, testDensityKgPerL: 0.64 });
    expect(massFlow(rated, { pressureKpa: 300, densityKgPerL: 0.81 })).toBeCloseTo(3 * (0.9 / 0.8), 12);
    // Without a test density the fluid it was rated with is the fuel.
    expect(massFlow(injector, { pressureKpa: 300, densityKgPerL: 0.81 })).toBe(3);
  });

  test("short pulses go by the table, long ones by open time", () => {
    const short = createInjector({
      ...plain,
      shortPulse: [
        { effectiveMs: 0, deliveredMs: 0 },
        { effectiveMs: 0.5, deliveredMs: 0.25 },
        { effectiveMs: 1, deliveredMs: 1 },
      ],
    });
    expect(deliveredMass(short, { pulseMs: 1.5, ...conditions })).toBe(0.75);
    expect(deliveredMass(short, { pulseMs: 1.75, ...conditions })).toBeCloseTo(3 * 0.625, 12);
    expect(deliveredMass(short, { pulseMs: 4, ...conditions })).toBe(9);
    expect(pulseWidth(short, { massMg: 0.75, ...conditions })).toBe(1.5);
  });
});

describe("dead time", () => {
  const ragged: DeadTimePoint[] = [
    { volts: 14, ms: 0.8, pressureKpa: 300 },
    { volts: 10, ms: 1.2, pressureKpa: 300 },
    { volts: 12, ms: 1.4, pressureKpa: 400 },
  ];

  test("is linear over volts and held outside", () => {
    const injector = createInjector({ ...plain, deadTime: ragged.slice(0, 2) });
    expect(deadTimeMs(injector, { volts: 12, pressureKpa: 300 })).toBeCloseTo(1, 12);
    expect(deadTimeMs(injector, { volts: 6, pressureKpa: 300 })).toBe(1.2);
    expect(deadTimeMs(injector, { volts: 16, pressureKpa: 900 })).toBe(0.8);
  });

  test("goes along each pressure's own points, then between pressures", () => {
    const injector = createInjector({ ...plain, deadTime: ragged });
    expect(deadTimeMs(injector, { volts: 12, pressureKpa: 350 })).toBeCloseTo(1.2, 12);
    expect(deadTimeMs(injector, { volts: 14, pressureKpa: 350 })).toBeCloseTo(1.1, 12);
    expect(deadTimeMs(injector, { volts: 14, pressureKpa: 200 })).toBe(0.8);
    expect(deadTimeMs(injector, { volts: 9, pressureKpa: 999 })).toBe(1.4);
  });

  test("at a point is that point", () => {
    fc.assert(
      fc.property(injectors(), (injector) => {
        if (typeof injector.deadTime === "number") return;
        for (const { volts, ms, pressureKpa = 300 } of injector.deadTime)
          expect(deadTimeMs(injector, { volts, pressureKpa })).toBe(ms);
      }),
    );
  });
});

test("pulse and mass are each other's inverse", () => {
  fc.assert(
    fc.property(
      injectors(),
      fc.double({ min: 0.001, max: 200, noNaN: true }),
      fc.integer({ min: 50, max: 900 }),
      fc.double({ min: 6, max: 16, noNaN: true }),
      fc.constantFrom(1, 2),
      (injector, massMg, pressureKpa, volts, injectionsPerCycle) => {
        const at = { volts, pressureKpa, densityKgPerL: 0.75, injectionsPerCycle };
        const pulseMs = pulseWidth(injector, { massMg, ...at });
        // 1e-9 of a mg: a tiny mass is the difference of two pulses of about 1 ms.
        expect(Math.abs(deliveredMass(injector, { pulseMs, ...at }) - massMg)).toBeLessThan(1e-12 * massMg + 1e-12);
      },
    ),
  );
});

test("a longer pulse never delivers less", () => {
  fc.assert(
    fc.property(
      injectors(),
      fc.double({ min: 0, max: 30, noNaN: true }),
      fc.double({ min: 0, max: 5, noNaN: true }),
      (injector, pulseMs, more) => {
        const at = { volts: 13, pressureKpa: 280, rpm: 5200 };
        expect(deliveredMass(injector, { pulseMs: pulseMs + more, ...at })).toBeGreaterThanOrEqual(
          deliveredMass(injector, { pulseMs, ...at }) - 1e-12,
        );
      },
    ),
  );
});

test("duty on paper: 12 of the 17.14 ms that a cycle takes at 7000 rpm, and twice that with two injections", () => {
  expect(dutyCycle({ pulseMs: 12, rpm: 7000 })).toBeCloseTo(0.7, 12);
  expect(dutyCycle({ pulseMs: 12, rpm: 7000, injectionsPerCycle: 2 })).toBeCloseTo(1.4, 12);
});

test("duty is linear in rpm at a fixed pulse", () => {
  fc.assert(
    fc.property(
      fc.double({ min: 0, max: 40, noNaN: true }),
      fc.integer({ min: 100, max: 12_000 }),
      fc.integer({ min: 2, max: 9 }),
      (pulseMs, rpm, times) => {
        expect(dutyCycle({ pulseMs, rpm: rpm * times })).toBeCloseTo(times * dutyCycle({ pulseMs, rpm }), 9);
      },
    ),
  );
});

test("an injector is plain data and its own spec", () => {
  fc.assert(
    fc.property(injectors(), (injector) => {
      expect(createInjector(JSON.parse(JSON.stringify(injector)))).toEqual(injector);
      expect(Object.isFrozen(injector)).toBe(true);
      expect(sameInjector(injector, { ...injector, name: "another", smallestPulseMs: 3 })).toBe(true);
      expect(sameInjector(injector, { ...injector, flowGramsPerSecond: 91 })).toBe(false);
    }),
  );
});

test.each<[string, Partial<Record<keyof InjectorSpec, unknown>>, string]>([
  ["flow zero", { flowGramsPerSecond: 0 }, "not-positive"],
  ["flow NaN", { flowGramsPerSecond: Number.NaN }, "not-finite"],
  ["flow in cc/min", { flowGramsPerSecond: 240 }, "implausible"],
  ["rated pressure in bar", { ratedPressureKpa: 3 }, "implausible"],
  ["test density in kg/m³", { testDensityKgPerL: 745 }, "implausible"],
  ["dead time in µs", { deadTime: 900 }, "implausible"],
  ["negative dead time", { deadTime: -0.1 }, "implausible"],
  ["no dead time", { deadTime: undefined }, "bad-dead-time"],
  ["no points", { deadTime: [] }, "bad-dead-time"],
  ["zero volts", { deadTime: [{ volts: 0, ms: 1 }] }, "not-positive"],
  [
    "a voltage twice",
    {
      deadTime: [
        { volts: 12, ms: 1 },
        { volts: 12, ms: 2 },
      ],
    },
    "bad-dead-time",
  ],
  [
    "pressure at some points",
    {
      deadTime: [
        { volts: 12, ms: 1, pressureKpa: 300 },
        { volts: 13, ms: 1 },
      ],
    },
    "bad-dead-time",
  ],
  ["an empty short-pulse table", { shortPulse: [] }, "bad-short-pulse"],
  [
    "short pulses that fall",
    {
      shortPulse: [
        { effectiveMs: 1, deliveredMs: 0.9 },
        { effectiveMs: 2, deliveredMs: 0.8 },
      ],
    },
    "bad-short-pulse",
  ],
  ["short pulses that end nowhere", { shortPulse: [{ effectiveMs: 1, deliveredMs: 0.9 }] }, "bad-short-pulse"],
  ["short pulses of one zero", { shortPulse: [{ effectiveMs: 0, deliveredMs: 0 }] }, "bad-short-pulse"],
  ["no name", { name: "" }, "bad-text"],
])("%s is refused", (_, part, code) => {
  expect(codeOf(() => createInjector({ ...plain, ...part } as InjectorSpec))).toBe(code);
});

test("the error says where and what was probably meant", () => {
  expect(() => createInjector({ ...plain, ratedPressureKpa: 43.5 }, "build.injectors")).toThrow(
    "build.injectors.ratedPressureKpa must be between 50 and 1500 kPa, got 43.5; did you mean 43.5 psi (299.9 kPa)?",
  );
});

test("impossible conditions are refused", () => {
  const injector = createInjector(plain);
  expect(codeOf(() => deliveredMass(injector, { pulseMs: -1, ...conditions }))).toBe("out-of-range");
  expect(codeOf(() => deliveredMass(injector, { pulseMs: 1, volts: 13, pressureKpa: 0 }))).toBe("not-positive");
  expect(codeOf(() => pulseWidth(injector, { massMg: -1, ...conditions }))).toBe("out-of-range");
  expect(codeOf(() => massFlow(injector, { pressureKpa: 300, densityKgPerL: 0 }))).toBe("not-positive");
  expect(codeOf(() => dutyCycle({ pulseMs: 4, rpm: 0 }))).toBe("not-positive");
});

describe("short pulses", () => {
  type Points = InjectorSpec["shortPulse"];
  const make = (shortPulse: unknown) => createInjector({ ...plain, shortPulse: shortPulse as NonNullable<Points> });
  const pair = (effectiveMs: number, deliveredMs: number) => ({ effectiveMs, deliveredMs });
  const bad = (points: unknown) => refusal(() => make(points));
  const where = "createInjector.shortPulse";

  test("a first point at 0, 0 says nothing and is dropped; a first point on one axis is no such", () => {
    expect(make([pair(0, 0), pair(0.5, 0.3), pair(1, 1)]).shortPulse).toEqual([pair(0.5, 0.3), pair(1, 1)]);
    expect(bad([pair(0, 0.1), pair(1, 1)])).toMatchObject({ code: "bad-short-pulse", details: { where, at: 0 } });
    expect(bad([pair(0.1, 0), pair(1, 1)])).toMatchObject({ code: "bad-short-pulse", details: { where, at: 0 } });
  });

  test("points must rise in both figures, to where they meet", () => {
    const flat = bad([pair(0.5, 0.3), pair(0.5, 0.4), pair(1, 1)]);
    expect(flat).toMatchObject({ code: "bad-short-pulse", details: { where, at: 1 } });
    expect(flat.message).toContain(`${where}[1] must rise in both figures above 0.5 and 0.3 ms, got 0.5 and 0.4;`);
    expect(bad([pair(0.5, 0.4), pair(0.6, 0.4), pair(1, 1)]).details).toEqual({ where, at: 1 });
    expect(bad([pair(0.5, 0.3), pair(1, 0.9)])).toMatchObject({ code: "bad-short-pulse", details: { where } });
    expect(bad([pair(0.5, 0.3), pair(1, 0.9)]).message).toContain("got 1 and 0.9 ms;");
    expect(bad([pair(0, 0)]).message).toContain("got no point above 0;");
  });

  test("no list, no points and no figures are refused", () => {
    for (const nothing of [[], "table", {}])
      expect(bad(nothing)).toMatchObject({ code: "bad-short-pulse", details: { where } });
    expect(bad([null])).toMatchObject({ code: "not-finite", details: { where: `${where}[0].effectiveMs` } });
  });

  test("on a point the table is met exactly, between points along the line", () => {
    const injector = make([pair(0.5, 0.25), pair(1, 1)]);
    const mass = (pulseMs: number) => deliveredMass(injector, { pulseMs, ...conditions });
    // 3 g/s and 1 ms of dead time.
    expect([mass(1.25), mass(1.5), mass(1.75), mass(2), mass(4)]).toEqual(
      [0.375, 0.75, 1.875, 3, 9].map((mg) => expect.closeTo(mg, 12)),
    );
  });
});

test("a figure in another unit is told from one that is wrong", () => {
  const meant = (part: Partial<InjectorSpec>) =>
    refusal(() => createInjector({ ...plain, ...part })).details.didYouMean;
  // 240 cc/min at 0.745 g/cc.
  expect(meant({ flowGramsPerSecond: 240 })).toBeCloseTo((240 * 0.745) / 60, 12);
  expect(meant({ testDensityKgPerL: 745 })).toBeCloseTo(0.745, 12);
  expect(meant({ smallestPulseMs: 1200 })).toBeCloseTo(1.2, 12);
  expect(meant({ ratedPressureKpa: 3 })).toBeCloseTo(300, 12);
  expect(meant({ flowGramsPerSecond: 1e9 })).toBeUndefined();
});

test("injectors are the same by what they do, not by what they are called", () => {
  const all = { ...plain, testDensityKgPerL: 0.7, shortPulse: [{ effectiveMs: 1, deliveredMs: 1 }] };
  expect(sameInjector(all, all)).toBe(true);
  expect(sameInjector(all, { ...all, name: "other" })).toBe(true);
  for (const other of [
    { flowGramsPerSecond: 4 },
    { ratedPressureKpa: 350 },
    { testDensityKgPerL: 0.71 },
    { deadTime: 0.9 },
    { shortPulse: [{ effectiveMs: 2, deliveredMs: 2 }] },
  ])
    expect(sameInjector(all, { ...all, ...other })).toBe(false);
});

test("conditions that cannot be are refused by their name", () => {
  const injector = createInjector(plain);
  const bad = (part: object) => refusal(() => deliveredMass(injector, { pulseMs: 3, ...conditions, ...part }));
  expect(bad({ densityKgPerL: 0 }).details.where).toMatch(/densityKgPerL$/);
  expect(bad({ rpm: 0 }).details.where).toMatch(/rpm$/);
  expect(bad({ injectionsPerCycle: 9 }).details.where).toMatch(/injectionsPerCycle$/);
  expect(bad({ pressureKpa: -1 }).details.where).toMatch(/pressureKpa$/);
});
