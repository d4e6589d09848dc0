// Compares the build as it is with sets of parts considered: what gives out first, and what to change.
//
//   node run.mjs
//
// Every figure in here is invented. A stage's power is a sizing figure, and no promise.
import { compareStages, createBuild, createTable, fuels } from "@fuelwright/table-core";

const build = createBuild({
  engine: {
    displacementCc: 1085,
    cylinders: 2,
    revLimitRpm: 6800,
    injectionsPerCycle: 1,
    volumetricEfficiencyPercent: 86,
  },
  fuel: fuels.petrol,
  injectors: { name: "as built", flowGramsPerSecond: 2.3, ratedPressureKpa: 300, deadTime: 0.9 },
  rail: { kind: "manifold-referenced", pressureKpa: 300 },
  battery: { volts: 13.6 },
  place: { altitudeM: 4, temperatureC: 17 },
  pump: {
    name: "as built",
    curve: [
      { pressureKpa: 250, litresPerHour: 40 },
      { pressureKpa: 300, litresPerHour: 34 },
      { pressureKpa: 400, litresPerHour: 22 },
    ],
  },
});
const table = createTable({
  id: "main",
  name: "invented efficiencies",
  quantity: "volumetric-efficiency",
  rpm: { quantity: "rpm", unit: "rpm", breakpoints: [1000, 2500, 4000, 5500, 6800] },
  load: { quantity: "manifold-pressure", unit: "kPa", breakpoints: [30, 65, 100] },
  cells: [
    [58, 64, 70, 66, 60],
    [66, 74, 82, 80, 72],
    [70, 80, 90, 88, 80],
  ],
});
const stages = [
  { name: "larger bore", displacementCc: 1210 },
  {
    name: "bore and larger injectors",
    displacementCc: 1210,
    injectors: { name: "larger set", flowGramsPerSecond: 3.1, ratedPressureKpa: 300, deadTime: 1 },
  },
  { name: "alcohol", fuel: fuels.E85 },
];

for (const report of compareStages({ build, table, target: 0.88, stages })) {
  const { name, ceilings, first, greatestFuelGramsPerSecond, peakPowerKw, peakRpm, toChange } = report;
  console.log(`${name}:`);
  console.log(
    `  ${greatestFuelGramsPerSecond.toFixed(2)} g/s of fuel, about ${peakPowerKw.toFixed(0)} kW at ${peakRpm} rpm`,
  );
  for (const { part, verdict, inHandPercent } of ceilings.parts)
    if (inHandPercent !== null) console.log(`  ${part}: ${verdict}, ${inHandPercent.toFixed(0)} % in hand`);
  console.log(`  first to give out: ${first.part}`);
  for (const sentence of toChange) console.log(`  to change: ${sentence}`);
}
