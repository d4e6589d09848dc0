import { CHOKED_FLUX_COEFFICIENT, CRITICAL_PRESSURE_RATIO, isentropicRatios, nozzleFlow } from "@fuelwright/table-core";
import { describe, expect, test } from "vitest";
import reference from "./isentropic.json";

// Source: NACA Report 1135, Equations, Tables and Charts for Compressible Flow (1953); table figures as later handbooks print
// them. Computed values to 1e-9 relative, printed ones to half a unit of the last figure, as the file says.

function expectClose(value: number, expected: number, relative = 1e-9): void {
  expect(Math.abs(value - expected)).toBeLessThanOrEqual(relative * Math.abs(expected));
}

const { cases } = reference;
const ratios = cases.filter((c) => c.kind === "ratios");
const fluxes = cases.filter((c) => c.kind === "massFlux");

describe("ratios", () => {
  test.each(ratios.map((c) => [c.mach!, c] as const))("Mach %s", (mach, c) => {
    const { pressureRatio, temperatureRatio, areaRatio } = isentropicRatios(mach);
    expectClose(pressureRatio, c.computed!.pOverP0);
    expectClose(temperatureRatio, c.computed!.tOverT0);
    expectClose(areaRatio, c.computed!.aOverAstar);
    expect(Math.abs(pressureRatio - c.pOverP0!)).toBeLessThan(6e-5);
    expect(Math.abs(temperatureRatio - c.tOverT0!)).toBeLessThan(6e-5);
    expect(Math.abs(areaRatio - c.aOverAstar!)).toBeLessThan(6e-5);
  });
});

test("critical pressure ratio and choked flux", () => {
  const critical = cases.find((c) => c.kind === "critical")!;
  expectClose(CRITICAL_PRESSURE_RATIO, critical.criticalPressureRatio!);
  expectClose(CHOKED_FLUX_COEFFICIENT, critical.chokedFluxCoefficient!);
});

describe("mass flux of a converging nozzle", () => {
  test.each(fluxes.map((c) => [c.p0_Pa!, c.pBack_Pa!, c] as const))("%s Pa to %s Pa", (upstream, back, c) => {
    const flow = nozzleFlow({
      upstreamKpa: upstream / 1000,
      temperatureC: c.t0_K! - 273.15,
      downstreamKpa: back / 1000,
    });
    expectClose(flow.massFlux, c.massFlux_kg_s_m2!);
    expect(flow.choked).toBe(c.choked);
    // Ten figures are printed.
    expectClose(flow.machAtThroat, c.machAtThroat!);
  });
});

test("every case in the file is checked above", () => {
  expect(ratios.length + fluxes.length + 1).toBe(cases.length);
});
