import { pressureAltitude, standardAtmosphere } from "@fuelwright/table-core";
import { expect, test } from "vitest";
import reference from "./atmosphere.json";

// Source: ISO 2533:1975 and US Standard Atmosphere 1976; heights from a page of the ICAO standard atmosphere; six table rows
// from memory. Tolerances as the file says: computed 1e-8 relative, heights 1 m, table figures one unit of the last figure.

const { cases } = reference;
const heights = cases.filter((c) => c.kind === "atAltitude");
const pressures = cases.filter((c) => c.kind === "pressureAltitude");

function expectClose(value: number, expected: number, relative = 1e-8): void {
  expect(Math.abs(value - expected)).toBeLessThanOrEqual(relative * Math.abs(expected));
}

/** One unit of the last figure of a printed number of six figures. */
const lastFigure = (printed: number) => 10 ** (Math.floor(Math.log10(printed)) - 5);

test.each(heights.map((c) => [c.h_m!, c] as const))("%s m", (altitudeM, c) => {
  const air = standardAtmosphere({ altitudeM });
  expectClose(air.temperatureC + 273.15, c.T_K!);
  expectClose(air.pressureKpa * 1000, c.p_Pa!);
  expectClose(air.densityKgPerM3, c.rho_kg_m3!);
  if (c.table_p_Pa !== undefined)
    expect(Math.abs(air.pressureKpa * 1000 - c.table_p_Pa)).toBeLessThanOrEqual(lastFigure(c.table_p_Pa));
  if (c.table_rho_kg_m3 !== undefined)
    expect(Math.abs(air.densityKgPerM3 - c.table_rho_kg_m3)).toBeLessThanOrEqual(lastFigure(c.table_rho_kg_m3));
});

test.each(pressures.map((c) => [c.p_Pa!, c] as const))("%s Pa", (pascal, c) => {
  const height = pressureAltitude({ pressureKpa: pascal / 1000 });
  expect(Math.abs(height - c.h_m_table!)).toBeLessThanOrEqual(1);
  // Nine figures of height; at 0 m an absolute bound.
  expect(Math.abs(height - c.h_m_computed!)).toBeLessThanOrEqual(1e-8 * Math.abs(c.h_m_computed!) + 1e-6);
  expectClose(standardAtmosphere({ altitudeM: height }).pressureKpa * 1000, pascal);
});

test("every case in the file is checked above", () => {
  expect(heights.length + pressures.length).toBe(cases.length);
});
