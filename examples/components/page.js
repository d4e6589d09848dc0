// Elements show values and say what the user does; here the library makes the changes, as steps of a job.
import {
  createBuild,
  createJob,
  dutyCycle,
  FuelwrightError,
  fuels,
  percentChange,
  prepareExpressions,
  readDecimal,
  readTableText,
  replayJob,
  simulateLog,
} from "@fuelwright/table-core";
import { changeColours, presets, resolveSpan, TraceBuilder, themes } from "@fuelwright/workbench";

const element = (selector) => document.querySelector(selector);
const grid = element("fw-fuel-grid");
const strip = element("fw-step-strip");
const slices = document.querySelectorAll("fw-slice-chart");

// Invented figures.
const { table: source } = readTableText(
  `pulse width (ms): kPa \\ rpm,1000,2000,3000,4000,5000,6000
   100,8.1,8.6,9.2,9.6,9.3,8.8
   70,5.6,6.0,6.4,6.6,6.4,6.1
   40,2.9,3.1,3.3,3.4,3.3,3.1`,
  { id: "main" },
);
const build = createBuild({
  engine: { displacementCc: 1085, cylinders: 2, revLimitRpm: 6800, injectionsPerCycle: 1 },
  fuel: fuels.petrol,
  injectors: { name: "invented", flowGramsPerSecond: 2.4, ratedPressureKpa: 300, deadTime: 0.9 },
  rail: { kind: "fixed", pressureKpa: 300 },
  battery: { volts: 13.5 },
  place: { altitudeM: 0, temperatureC: 20 },
});

let job = createJob({ name: "Invented twin", build, tables: [source] });
let replay = replayJob(job);
let scheme = presets[0].scheme;
let opened = null;

/** The table after all steps. */
const table = () => replay.state.tables.main;

function show() {
  const now = table();
  const change = now.cells.map((cell, at) => percentChange(now.quantity, source.cells[at], cell));
  const theme = matchMedia("(prefers-color-scheme: dark)").matches ? "dark" : "light";
  const colours = changeColours(scheme, { span: resolveSpan(scheme, change), ...themes[theme] });
  for (const shown of [grid, element("fw-table-map")]) Object.assign(shown, { table: now, earlier: source, colours });
  for (const slice of slices) Object.assign(slice, { table: now, earlier: source, cell: grid.focused });
  element("fw-change-legend").colours = colours;
  Object.assign(element("fw-scheme-editor"), { scheme, theme });
  strip.current = opened;
  strip.steps = job.steps.map((step, at) => {
    const { status, reason } = replay.outcomes[at];
    return {
      id: step.id,
      on: step.on,
      ...sayStep(step),
      ...(status === "passed-over" && { passedOver: reason.message }),
    };
  });
  showDuty(now);
}

function sayStep({ kind, settings }) {
  const where = settings.region?.rpm || settings.region?.load ? "chosen cells" : "all cells";
  if (kind === "scale-cells") return { title: "Scale", detail: `${where} by ${settings.factor.toFixed(3)}` };
  if (kind === "set-cells") return { title: "Set", detail: `${where} to ${settings.value} ms` };
  return { title: "Work out", detail: `${where}: ${settings.expression}` };
}

/** Carries out the job with these steps; throws, and changes nothing, if the last of them does not apply. */
function take(steps) {
  const next = createJob({ ...job, steps });
  const result = replayJob(next, { previous: replay });
  const last = result.outcomes.at(-1);
  if (steps.length > job.steps.length && last.status === "passed-over") throw last.reason;
  [job, replay] = [next, result];
  show();
}

let count = 0;
function add(kind, settings) {
  const step = {
    id: `step-${++count}`,
    table: "main",
    kind,
    settings,
    on: true,
    note: "",
    time: new Date().toISOString(),
  };
  take([...job.steps, step]);
}

// The grid

const NUMBER = /^[+−-]?[\d.,]+$/;
await prepareExpressions();

grid.addEventListener("fw-cells-typed", (event) => {
  const { text, region } = event;
  try {
    if (NUMBER.test(text)) add("set-cells", { region, value: readDecimal(text) });
    else add("evaluate-cells", { region, expression: text });
    grid.problem = null;
  } catch (error) {
    if (!(error instanceof FuelwrightError)) throw error;
    // The field stays open, and says why.
    event.preventDefault();
    grid.problem = error.message;
  }
});
grid.addEventListener("fw-selection-change", () => show());
grid.addEventListener("fw-viewed-part", ({ part }) => {
  element("fw-table-map").viewed = part;
});
element("fw-table-map").addEventListener("fw-map-point", ({ x, y }) => grid.revealShare(x, y));

element("#more").addEventListener("submit", (event) => {
  event.preventDefault();
  const percent = Number(new FormData(event.target).get("percent"));
  add("scale-cells", { region: grid.region, factor: 1 + percent / 100 });
});

// The steps

strip.addEventListener("fw-strip-action", ({ detail: action }) => {
  const steps = [...job.steps];
  const at = steps.findIndex(({ id }) => id === action.id);
  if (action.kind === "open") {
    opened = action.id;
    if (steps[at]) void grid.showRegion(steps[at].settings.region ?? {});
    return show();
  }
  if (action.kind === "switch") steps[at] = { ...steps[at], on: action.on };
  const [step] = action.kind === "switch" ? [] : steps.splice(at, 1);
  if (action.kind === "move") steps.splice(action.to, 0, step);
  take(steps);
});

// The charts

function showDuty({ rpm, load, cells }) {
  const columns = rpm.breakpoints.length;
  const row = Math.floor(grid.focused / columns);
  const points = (from) =>
    rpm.breakpoints.map((speed, column) => [
      speed,
      100 * dutyCycle({ pulseMs: from[row * columns + column], rpm: speed }),
    ]);
  Object.assign(element("fw-line-chart"), {
    x: { label: "Engine speed", unit: "rpm" },
    y: { label: `at ${load.breakpoints[row]} kPa`, unit: "%", domain: [0, 100] },
    series: [
      { name: "now", points: points(cells) },
      { name: "before", points: points(source.cells) },
    ],
    mark: { x: rpm.breakpoints[grid.focused % columns] },
    ranges: [{ axis: "y", from: 85, to: 100, label: "above planning" }],
  });
}

const trace = new TraceBuilder();
const { log } = simulateLog({ seed: 7, rpm: source.rpm, load: source.load, minutes: 2 });
for await (const { columns, count: rows } of log.open()) trace.add(columns, rows);
Object.assign(element("fw-log-trace"), {
  data: trace.take(),
  lanes: [
    { label: "lambda", unit: "", decimals: 2, keys: ["lambda"], thin: ["lambda-commanded"] },
    { label: "engine speed", unit: "rpm", decimals: 0, keys: ["rpm"], thin: [] },
  ],
});
element("fw-log-trace").addEventListener("fw-trace-window", ({ window: chosen }) => {
  element("#window").value = chosen
    ? `From ${chosen.from.toFixed(0)} to ${chosen.to.toFixed(0)} s.`
    : "All of the ride.";
});

element("fw-scheme-editor").addEventListener("fw-scheme-change", ({ detail }) => {
  scheme = detail.scheme;
  show();
});

show();
