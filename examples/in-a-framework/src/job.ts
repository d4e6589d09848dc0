// The job without any page: what there is, and what each change makes of it.
import {
  createBuild,
  createJob,
  type FuelTable,
  FuelwrightError,
  fuels,
  type Job,
  type Region,
  readDecimal,
  readTableText,
  replayJob,
  type Step,
} from "@fuelwright/table-core";

// Invented figures.
const { table } = readTableText(
  `pulse width (ms): kPa \\ rpm,1000,3000,6000
   100,8.1,9.2,8.8
   40,2.9,3.3,3.1`,
  { id: "main" },
);

export const empty: Job = createJob({
  name: "Invented twin",
  build: createBuild({
    engine: { displacementCc: 1085, cylinders: 2, revLimitRpm: 6800, injectionsPerCycle: 1 },
    fuel: fuels.petrol,
    injectors: { name: "invented", flowGramsPerSecond: 2.4, ratedPressureKpa: 300, deadTime: 0.9 },
    rail: { kind: "fixed", pressureKpa: 300 },
    battery: { volts: 13.5 },
    place: { altitudeM: 0, temperatureC: 20 },
  }),
  tables: [table],
});

export const source: FuelTable = table;

/** The table after all steps that are on. */
export const tableOf = (job: Job): FuelTable => replayJob(job).state.tables.main!;

export const withSteps = (job: Job, steps: readonly Step[]): Job => createJob({ ...job, steps });

/** The job with one step more. Each step is plain data: it can be kept, switched off, and done again elsewhere. */
export function scaled(job: Job, region: Region, factor: number): Job {
  return withSteps(job, [...job.steps, { ...newStep(job), kind: "scale-cells", settings: { region, factor } }]);
}

/** The job with the number that was typed as a step, or the reason why it can't be taken. */
export function typed(job: Job, region: Region, text: string): Job | FuelwrightError {
  try {
    const settings = { region, value: readDecimal(text) };
    return withSteps(job, [...job.steps, { ...newStep(job), kind: "set-cells", settings }]);
  } catch (error) {
    if (error instanceof FuelwrightError) return error;
    throw error;
  }
}

const newStep = (job: Job) => ({
  id: `step-${1 + Math.max(0, ...job.steps.map(({ id }) => Number(id.slice("step-".length))))}`,
  table: "main",
  on: true,
  note: "",
  time: new Date().toISOString(),
});
