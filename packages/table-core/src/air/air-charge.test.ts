import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { airCharge, chargeTemperature, volumetricEfficiency } from "./air-charge.ts";
import { vapourShare } from "./humidity.ts";
import { barometricPressure, createPlace } from "./place.ts";
import { pressureAltitude, standardAtmosphere } from "./standard-atmosphere.ts";

const cylinder = { displacementCc: 1000, cylinders: 2, manifoldKpa: 101.325, chargeTemperatureC: 15 };

describe("air charge", () => {
  test("half a litre of standard air is 612.5 mg", () => {
    // 1.225 kg/m³ is 1.225 mg/cc.
    expect(airCharge({ ...cylinder, volumetricEfficiencyPercent: 100 })).toBeCloseTo(612.5, 1);
    expect(airCharge({ ...cylinder, volumetricEfficiencyPercent: 80 })).toBeCloseTo(490, 1);
  });

  test("efficiency is its inverse", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 20, max: 130, noNaN: true }),
        fc.double({ min: 15, max: 250, noNaN: true }),
        fc.double({ min: -20, max: 80, noNaN: true }),
        fc.double({ min: 0, max: 0.05, noNaN: true }),
        (percent, manifoldKpa, chargeTemperatureC, vapour) => {
          const given = { ...cylinder, manifoldKpa, chargeTemperatureC, vapourShare: vapour };
          const airMg = airCharge({ ...given, volumetricEfficiencyPercent: percent });
          expect(volumetricEfficiency({ ...given, airMg })).toBeCloseTo(percent, 9);
        },
      ),
    );
  });

  test("warming is assumed and told where it isn't given", () => {
    const place = { temperatureC: 20 };
    expect(chargeTemperature({ chargeTemperatureC: 50 }, place)).toEqual({ temperatureC: 50, assumptions: [] });
    const assumed = chargeTemperature({}, place);
    expect(assumed.temperatureC).toBe(35);
    expect(assumed.assumptions[0]!.mattersPercent).toBeCloseTo(1000 / 308.15, 9);
  });

  test("impossible air is refused", () => {
    expect(() => airCharge({ ...cylinder, manifoldKpa: 0, volumetricEfficiencyPercent: 80 })).toThrow(
      "manifoldKpa must be above 0",
    );
    expect(() => airCharge({ ...cylinder, volumetricEfficiencyPercent: -1 })).toThrow("between 0 and 500");
  });
});

describe("places", () => {
  test("a barometer's reading counts before the height", () => {
    expect(barometricPressure({ altitudeM: 1500, barometricKpa: 83 })).toBe(83);
    expect(barometricPressure({ altitudeM: 1500 })).toBe(standardAtmosphere({ altitudeM: 1500 }).pressureKpa);
  });

  test("height and pressure are each other's inverse", () => {
    fc.assert(
      fc.property(fc.double({ min: -400, max: 10_000, noNaN: true }), (altitudeM) => {
        expect(pressureAltitude({ pressureKpa: standardAtmosphere({ altitudeM }).pressureKpa })).toBeCloseTo(
          altitudeM,
          6,
        );
      }),
    );
  });

  test("saturated air at 30 °C is 4.2 % vapour", () => {
    const place = createPlace({ altitudeM: 0, temperatureC: 30, relativeHumidityPercent: 100 });
    expect(vapourShare(place)).toBeCloseTo(4.245 / 101.325, 4);
  });

  test("feet, Fahrenheit and inches of mercury are recognised as such", () => {
    const place = { altitudeM: 0, temperatureC: 20 };
    expect(() => createPlace({ ...place, altitudeM: 6000 }, "build.place")).toThrow(
      "build.place.altitudeM must be between -430 and 5500 m, got 6000; did you mean 6000 ft (1829 m)?",
    );
    expect(() => createPlace({ ...place, temperatureC: 85 })).toThrow("did you mean 85 °F (29.44 °C)?");
    expect(() => createPlace({ ...place, barometricKpa: 29.9 })).toThrow("did you mean 29.9 inHg (101.3 kPa)?");
    expect(() => createPlace({ ...place, barometricKpa: 1013 })).toThrow("did you mean 1013 hPa (101.3 kPa)?");
    expect(() => createPlace({ ...place, relativeHumidityPercent: 130 })).toThrow("between 0 and 100");
    expect(() => standardAtmosphere({ altitudeM: 30_000 })).toThrow("between -500 and 11000");
  });
});
