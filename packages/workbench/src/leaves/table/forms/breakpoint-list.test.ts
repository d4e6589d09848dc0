import { expect, test } from "vitest";
import { axisDisplay } from "../../../store/display.ts";
import { breakpointList } from "./breakpoint-list.ts";

const load = { quantity: "manifold-pressure", unit: "kPa", breakpoints: [30, 45.5, 100 / 3 + 30] } as const;
const units = (units: "metric" | "imperial") => axisDisplay(load, { units, shownUnits: {} });

test("in the axis's own unit the numbers stand as they are", () => {
  const list = breakpointList(load.breakpoints, units("metric"));
  expect(list.text).toBe(`30 45.5 ${100 / 3 + 30}`);
  expect(list.read("30; 45.5, 80\n")).toEqual([30, 45.5, 80]);
});

test("in another unit they are shown and typed in it, and those left alone keep their last bit", () => {
  const list = breakpointList(load.breakpoints, units("imperial"));
  // 1 psi = 6.894757 kPa: NIST Special Publication 811 (2008), appendix B.
  expect(list.text).toBe("4.35113 6.59922 9.18572");
  expect(list.read(list.text)).toEqual([...load.breakpoints]);
  expect(list.read("4.35113 10")[0]).toBe(30);
  expect(list.read("4.35113 10")[1]).toBeCloseTo(68.94757, 5);
});

test("what is no number is passed on to be refused, and nothing typed is nothing", () => {
  const list = breakpointList([1, 2], units("imperial"));
  expect(list.read("12 many")[1]).toBeNaN();
  expect(list.read("  ")).toEqual([]);
});

test("what was typed wrongly is shown as it is, so that it can be put right", () => {
  for (const system of ["metric", "imperial"] as const) {
    const twice = breakpointList([30, 30, Number.NaN, 60], units(system));
    const [first, second, ...rest] = twice.text.split(" ");
    expect(second).toBe(first);
    expect(rest).toHaveLength(2);
    expect(rest[0]).toBe("NaN");
    expect(twice.read(twice.text)).toEqual([30, 30, Number.NaN, 60]);
  }
});

test("breakpoints that look alike in the other unit are still two", () => {
  const close = [30, 30.00000001, 60];
  const list = breakpointList(close, units("imperial"));
  expect(list.text).toBe("4.35113 4.35113 8.70226");
  expect(list.read(list.text)).toEqual(close);
});
