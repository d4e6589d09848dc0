import {
  COMMON_PLANNING_DUTY_PERCENT,
  convertUnit,
  createAxis,
  createBuild,
  createInjector,
  createTable,
  deliveredMass,
  dutyCycle,
  fuels,
  massFlow,
  pulseWidth,
  rescaleForInjectors,
  sizeInjectorsForPower,
} from "@fuelwright/table-core";
import { expect, test } from "vitest";
import reference from "./injector.json";

// Source: orifice flow (incompressible, Bernoulli) for the square root of pressure, arithmetic for the rest. The 80-85 % duty
// ceiling is common workshop practice, no standard. Tolerance of the file: 1e-10 relative.

const { cases } = reference;
const of = (kind: string) => cases.filter((c) => c.kind === kind);
const DENSITY = 0.745;

function expectClose(value: number, expected: number, relative = 1e-10): void {
  expect(Math.abs(value - expected)).toBeLessThanOrEqual(relative * Math.abs(expected));
}

const injector = (ccPerMinute: number, ratedKpa: number, deadMs: number) =>
  createInjector({
    name: "invented",
    flowGramsPerSecond: convertUnit(ccPerMinute, "cc/min", "g/s", { densityKgPerL: DENSITY }),
    ratedPressureKpa: ratedKpa,
    deadTime: deadMs,
  });

test.each(of("flowScaling").map((c) => [c.flowRated_cc_min!, c.dp_kPa!, c] as const))(
  "flow of %s cc/min at %s kPa",
  (rated, pressureKpa, c) => {
    const flow = massFlow(injector(rated, c.dpRated_kPa!, 1), { pressureKpa, densityKgPerL: DENSITY });
    expectClose(convertUnit(flow, "g/s", "cc/min", { densityKgPerL: DENSITY }), c.flow_cc_min!);
  },
);

test.each(of("sizing").map((c) => [c.power_hp!, c] as const))("injectors for %s hp", (power, c) => {
  const sized = sizeInjectorsForPower({
    powerKw: convertUnit(power, "hp", "kW"),
    brakeSpecificFuelConsumptionGPerKwh: convertUnit(c.bsfc_lb_hp_h!, "lb/(hp h)", "g/kWh"),
    injectors: c.count!,
    dutyPercent: c.dutyMax! * 100,
  });
  expectClose(convertUnit(sized.totalGramsPerSecond, "g/s", "lb/h"), c.totalFuel_lb_h!);
  expectClose(convertUnit(sized.flowGramsPerSecond, "g/s", "lb/h"), c.perInjector_lb_h!);
  expectClose(sized.flowGramsPerSecond, c.perInjector_g_s!);
  const density = { densityKgPerL: c.fuelDensity_g_cc! };
  expectClose(convertUnit(sized.flowGramsPerSecond, "g/s", "cc/min", density), c.perInjector_cc_min!);
});

test.each(of("sizingMetric").map((c) => [c.power_kW!, c] as const))("injectors for %s kW", (powerKw, c) => {
  const sized = sizeInjectorsForPower({
    powerKw,
    brakeSpecificFuelConsumptionGPerKwh: c.bsfc_g_kWh!,
    injectors: c.count!,
    dutyPercent: c.dutyMax! * 100,
  });
  expectClose(convertUnit(sized.totalGramsPerSecond, "g/s", "kg/h"), c.totalFuel_kg_h!);
  expectClose(convertUnit(sized.flowGramsPerSecond, "g/s", "g/min"), c.perInjector_g_min!);
});

test.each(of("duty").map((c) => [c.pulse_ms!, c.rpm!, c] as const))("duty of %s ms at %s rpm", (pulseMs, rpm, c) => {
  const duty = dutyCycle({ pulseMs, rpm, injectionsPerCycle: c.injectionsPerCycle! });
  expectClose(duty, c.duty!);
  expectClose(pulseMs / duty, c.cycle_ms!);
  expect(duty > 1).toBe(c.over100percent);
});

test.each(of("pulseWidth").map((c) => [c.pwOld_ms!, c.pwNew_ms!, c] as const))(
  "%s ms become %s ms",
  (pulseMs, expected, c) => {
    const from = injector(c.flowOld_cc_min!, c.ratedOld_kPa!, c.deadOld_ms!);
    const to = injector(c.flowNew_cc_min!, c.ratedNew_kPa!, c.deadNew_ms!);
    const at = (pressureKpa: number) => ({ volts: 13.8, pressureKpa, densityKgPerL: DENSITY });
    const massMg = deliveredMass(from, { pulseMs, ...at(c.dpOld_kPa!) });
    expectClose(pulseWidth(to, { massMg, ...at(c.dpNew_kPa!) }), expected);
  },
);

test("a rescaled table says the same where both sets see one pressure", () => {
  // Where the file has two pressures, the new set's flow at its own is told as its flow at the old one.
  for (const c of of("pulseWidth")) {
    const from = injector(c.flowOld_cc_min!, c.ratedOld_kPa!, c.deadOld_ms!);
    const flow = c.flowNew_cc_min! * Math.sqrt(c.dpNew_kPa! / c.dpOld_kPa!);
    const to = injector(flow, c.ratedNew_kPa!, c.deadNew_ms!);
    const build = createBuild({
      engine: { displacementCc: 1085, cylinders: 2, revLimitRpm: 9000, injectionsPerCycle: 1 },
      fuel: { ...fuels.petrol, densityKgPerL: DENSITY },
      injectors: injector(250, 300, 1),
      rail: { kind: "manifold-referenced", pressureKpa: c.dpOld_kPa! },
      battery: { volts: 13.8 },
      place: { altitudeM: 0, temperatureC: 20 },
    });
    const table = createTable({
      id: "p",
      name: "invented",
      quantity: "pulse-width",
      rpm: createAxis({ quantity: "rpm", breakpoints: [500, 1000] }),
      load: createAxis({ quantity: "manifold-pressure", breakpoints: [40, 100] }),
      cells: new Float64Array(4).fill(c.pwOld_ms!),
    });
    for (const cell of rescaleForInjectors(table, { from, to, build }).table.cells) expectClose(cell, c.pwNew_ms!);
  }
});

test("the planning ceiling is the common practice of the file", () => {
  const [ceiling] = of("ceiling");
  expect(COMMON_PLANNING_DUTY_PERCENT).toBeGreaterThanOrEqual(ceiling!.dutyMaxLow! * 100);
  expect(COMMON_PLANNING_DUTY_PERCENT).toBeLessThanOrEqual(ceiling!.dutyMaxHigh! * 100);
});

test("every kind of case in the file is checked above", () => {
  const checked = ["flowScaling", "sizing", "sizingMetric", "duty", "pulseWidth", "ceiling"];
  expect([...new Set(cases.map(({ kind }) => kind))].sort()).toEqual([...checked].sort());
});
