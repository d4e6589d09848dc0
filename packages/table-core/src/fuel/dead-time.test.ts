import { describe, expect, test } from "vitest";
import { refusal } from "../../testing/refusal.ts";
import { createDeadTime, type DeadTime, deadTimeLookup } from "./dead-time.ts";

const point = (volts: number, ms: number, pressureKpa?: number) => ({
  volts,
  ms,
  ...(pressureKpa !== undefined && { pressureKpa }),
});

test("points come sorted by pressure, then voltage, frozen", () => {
  const given = [point(15, 0.5), point(9, 1.4), point(12, 0.8)];
  const sorted = createDeadTime(given, "deadTime");
  expect(sorted).toEqual([point(9, 1.4), point(12, 0.8), point(15, 0.5)]);
  expect(Object.isFrozen(sorted) && (sorted as object[]).every(Object.isFrozen)).toBe(true);
  expect(given[0]).toEqual(point(15, 0.5));
  const both = [point(14, 0.7, 400), point(9, 1.6, 250), point(9, 1.8, 400), point(14, 0.6, 250)];
  expect(createDeadTime(both, "deadTime")).toEqual([
    point(9, 1.6, 250),
    point(14, 0.6, 250),
    point(9, 1.8, 400),
    point(14, 0.7, 400),
  ]);
  expect(createDeadTime(0, "deadTime")).toBe(0);
});

test("points in any order say the same", () => {
  const flat: DeadTime = [point(15, 0.5), point(9, 1.4), point(12, 0.8)];
  const at = deadTimeLookup(flat);
  expect([at(9, 300), at(10.5, 300), at(12, 1), at(13.5, 300), at(20, 300), at(6, 300)]).toEqual(
    [1.4, 1.1, 0.8, 0.65, 0.5, 1.4].map((ms) => expect.closeTo(ms, 12)),
  );
  const both = deadTimeLookup([point(14, 0.8, 400), point(9, 1.6, 250), point(9, 2, 400), point(14, 0.6, 250)]);
  expect([both(9, 250), both(14, 400), both(11.5, 325), both(9, 100), both(14, 900)]).toEqual(
    [1.6, 0.8, 1.25, 1.6, 0.8].map((ms) => expect.closeTo(ms, 12)),
  );
});

describe("what is no dead time is refused", () => {
  const bad = (deadTime: unknown) => refusal(() => createDeadTime(deadTime as DeadTime, "injectors.deadTime"));

  test("no points, and what is no list", () => {
    for (const nothing of [[], "1 ms", null])
      expect(bad(nothing)).toMatchObject({ code: "bad-dead-time", details: { where: "injectors.deadTime" } });
  });

  test("a pressure at some points only", () => {
    const error = bad([point(9, 1, 300), point(12, 0.8), point(15, 0.6)]);
    expect(error).toMatchObject({
      code: "bad-dead-time",
      details: { where: "injectors.deadTime", withPressure: 1, points: 3 },
    });
    expect(error.message).toContain("got 1 of 3;");
  });

  test("the same voltage twice, at one pressure", () => {
    const flat = bad([point(12, 1), point(9, 1.2), point(12, 0.8)]);
    expect(flat.message).toBe("injectors.deadTime has 12 V twice; drop one of them");
    expect(flat.details).toEqual({ where: "injectors.deadTime", volts: 12 });
    const both = bad([point(12, 1, 300), point(12, 0.8, 400), point(12, 0.9, 300)]);
    expect(both.message).toBe("injectors.deadTime has 12 V twice at 300 kPa; drop one of them");
  });

  test("figures that no injector has, by their place", () => {
    const micro = bad([point(9, 1), point(12, 900)]);
    expect(micro.message).toContain(
      "injectors.deadTime[1].ms must be between 0 and 10 ms, got 900; did you mean 900 µs (0.9 ms)?",
    );
    expect(bad(-0.1).code).toBe("implausible");
    expect(bad([point(0, 1)])).toMatchObject({
      code: "not-positive",
      details: { where: "injectors.deadTime[0].volts" },
    });
    expect(bad([point(61, 1)]).code).toBe("out-of-range");
    expect(bad([point(12, 1, 0)]).details).toMatchObject({ where: "injectors.deadTime[0].pressureKpa" });
    expect(bad([null]).code).toBe("not-finite");
  });
});
