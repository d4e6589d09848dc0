import { describe, expect, test } from "vitest";
import { recogniseColumns, unitRule } from "./log-quantities.ts";

const recognised = (headings: string[], units: string[] | null = null) =>
  recogniseColumns(headings, units).map(({ quantity, channel, unit }) => [quantity, channel, unit]);

describe("recogniseColumns", () => {
  test("time is one for all channels, whatever number its heading bears", () => {
    expect(recognised(["time 9", "lambda 2", "time"])).toEqual([
      ["time", 1, "s"],
      ["lambda", 2, "lambda"],
      [null, 1, ""],
    ]);
  });

  test("knows the trade's words, whatever their case, brackets and units", () => {
    expect(
      recognised([
        "Time (s)",
        "RPM",
        "MAP [kPa]",
        "TPS (%)",
        "AFR",
        "Target AFR",
        "Injector Pulse Width (ms)",
        "CLT (°C)",
        "Intake air temperature",
        "Battery V",
        "STFT (%)",
        "Gear",
        "Vehicle speed (mph)",
      ]),
    ).toEqual([
      ["time", 1, "s"],
      ["rpm", 1, "rpm"],
      ["manifold-pressure", 1, "kPa"],
      ["throttle-position", 1, "%"],
      ["lambda", 1, "AFR"],
      ["lambda-commanded", 1, "AFR"],
      ["pulse-width", 1, "ms"],
      ["coolant-temperature", 1, "°C"],
      ["air-temperature", 1, "°C"],
      ["battery-voltage", 1, "V"],
      ["trim-short", 1, "%"],
      ["gear", 1, ""],
      ["speed", 1, "mph"],
    ]);
  });

  test("knows units that follow the words without brackets", () => {
    expect(
      recognised(["map kPa", "clt °C", "iat_c", "speed km/h", "pulse µs", "throttle %", "air flow g/s", "λ 2 AFR"]),
    ).toEqual([
      ["manifold-pressure", 1, "kPa"],
      ["coolant-temperature", 1, "°C"],
      ["air-temperature", 1, "°C"],
      ["speed", 1, "km/h"],
      ["pulse-width", 1, "µs"],
      ["throttle-position", 1, "%"],
      ["air-flow", 1, "g/s"],
      ["lambda", 2, "AFR"],
    ]);
  });

  test("tells sensors, banks and cylinders apart", () => {
    expect(recognised(["Lambda 1", "Lambda 2", "O2", "λ rear", "wideband bank 3"])).toEqual([
      ["lambda", 1, "lambda"],
      ["lambda", 2, "lambda"],
      [null, 1, ""],
      [null, 1, ""],
      ["lambda", 3, "lambda"],
    ]);
  });

  test("takes units from a unit row, and leaves what it does not know", () => {
    expect(recognised(["time", "map", "clt", "mystery"], ["ms", "mbar", "F", "furlong"])).toEqual([
      ["time", 1, "ms"],
      ["manifold-pressure", 1, "mbar"],
      ["coolant-temperature", 1, "F"],
      [null, 1, "furlong"],
    ]);
  });

  test("takes a lambda correction for a trim and a target for a target, not for a reading", () => {
    expect(recognised(["lambda correction", "lambda target", "lambda"]).map(([quantity]) => quantity)).toEqual([
      "trim-short",
      "lambda-commanded",
      "lambda",
    ]);
  });

  test("is open to further words", () => {
    const [column] = recogniseColumns(["Mischung"], null, { lambda: ["Mischung"] });
    expect(column).toMatchObject({ quantity: "lambda", unitFrom: "usual" });
  });
});

test("a heading longer than any name is not looked through", () => {
  // 200,000 opening brackets took three minutes once; these would still be noticed.
  for (const long of ["(".repeat(50_000), "_".repeat(50_000), `rpm${" ".repeat(200)}`]) {
    expect(recognised(["time", long])).toEqual([
      ["time", 1, "s"],
      [null, 1, ""],
    ]);
    expect(recognised(["time", "rpm"], ["s", long])[1]).toEqual(["rpm", 1, "rpm"]);
  }
});

describe("unitRule", () => {
  const inOwn = (quantity: Parameters<typeof unitRule>[0], unit: string, value: number, afr?: number) => {
    const { scale, offset, over } = unitRule(quantity, unit, afr)!;
    return over ? scale / value : value * scale + offset;
  };

  test("turns what logs hold into the library's units", () => {
    expect(inOwn("lambda", "AFR", 14.7)).toBeCloseTo(1, 12);
    expect(inOwn("lambda", "AFR", 9, 9)).toBeCloseTo(1, 12);
    expect(inOwn("lambda", "phi", 1.25)).toBeCloseTo(0.8, 12);
    expect(inOwn("coolant-temperature", "°F", 212)).toBeCloseTo(100, 10);
    expect(inOwn("manifold-pressure", "psi", 14.5)).toBeCloseTo(99.974, 3);
    expect(inOwn("time", "ms", 1500)).toBe(1.5);
    expect(inOwn("throttle-position", "fraction", 0.5)).toBe(50);
    expect(inOwn("trim-short", "factor", 1.05)).toBeCloseTo(5, 12);
    expect(inOwn("speed", "mph", 60)).toBeCloseTo(96.56, 2);
  });

  test("knows none for a unit of another kind", () => {
    expect(unitRule("rpm", "kPa")).toBeNull();
    expect(unitRule("battery-voltage", "furlong")).toBeNull();
  });
});
