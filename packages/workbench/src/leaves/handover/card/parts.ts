import { type Build, barometricPressure, type Injector, type Pump, type Stage } from "@fuelwright/table-core";
import { STARTING_INJECTORS } from "../../../store/demo-job.ts";
import { figure } from "../../../store/display.ts";
import { fixed, say } from "../../say-figure.ts";
import { type Block, paragraph, type Section } from "./blocks.ts";
import type { CardContext } from "./card-context.ts";
import { counted } from "./say-cells.ts";

/** What a part is in words, or null where it is not described. */
type SayPart = (build: Build, context: CardContext) => string | null;

const rows: readonly (readonly [name: string, words: SayPart])[] = [
  [
    "Engine",
    ({ engine }, context) =>
      `${say(context, engine.displacementCc, "cc", 0)}, ${counted(engine.cylinders, "cylinder")}, rev limit ` +
      `${figure(engine.revLimitRpm, 0)} rpm${engine.idleRpm === undefined ? "" : `, idle ${figure(engine.idleRpm, 0)} rpm`}`,
  ],
  [
    "Fuel",
    ({ fuel }) =>
      `${fuel.name}, stoichiometric ${fixed(fuel.stoichiometricRatio, 2)} : 1, ${fixed(fuel.densityKgPerL, 3)} kg/L`,
  ],
  [
    "Place",
    ({ place }, context) =>
      `${say(context, place.altitudeM, "m", 0)}, ${say(context, place.temperatureC, "°C", 0)}, barometer ` +
      `${say(context, barometricPressure(place), "kPa", 1)}${place.barometricKpa === undefined ? " (computed)" : ""}`,
  ],
  ["Battery, running", ({ battery }) => `${figure(battery.volts, 1)} V`],
  [
    "Rail",
    ({ rail }, context) =>
      `${say(context, rail.pressureKpa, "kPa", 0)}, ${rail.kind === "fixed" ? "fixed above the outside air" : "follows the manifold"}`,
  ],
  ["Injectors", ({ injectors, battery, fuel }, context) => injectorWords(injectors, battery.volts, fuel, context)],
  [
    "Planned duty",
    ({ planning }) => `at most ${figure(planning.dutyPercent, 0)} % of the cycle (80 to 85 % is common practice)`,
  ],
  ["Pump", ({ pump }, context) => (pump ? pumpWords(pump, context) : null)],
  [
    "Throttle body",
    ({ throttleBody: body }, context) =>
      body
        ? named(
            body.name,
            `${body.count !== undefined && body.count > 1 ? `${body.count} bodies, each ` : ""}${say(context, body.diameterMm, "mm", 1)} bore`,
          )
        : null,
  ],
  [
    "Manifold",
    ({ manifold }) =>
      manifold
        ? named(
            manifold.name,
            manifold.flowBench
              ? `${fixed(manifold.flowBench.litresPerSecond, 1)} L/s for each passage at ${fixed(manifold.flowBench.depressionKpa, 2)} kPa on the bench`
              : `${figure(manifold.effectiveAreaMm2 ?? 0, 0)} mm² for each passage`,
          )
        : null,
  ],
];

/** What the engine is made of, as the tables were brought in and as they are handed over. */
export function partsSection(context: CardContext): Section {
  const { before, after, job } = context;
  const said = rows.map(([name, words]) => [name, words(before.build, context), words(after.build, context)] as const);
  const changed = said.some(([, was, is]) => was !== is);
  const described = said.filter(([, was, is]) => was !== null || is !== null);
  const missing = said.filter(([, was, is]) => was === null && is === null).map(([name]) => name.toLowerCase());
  const blocks: Block[] = [
    {
      kind: "facts",
      label: "Parts",
      heads: changed ? ["part", "before", "now"] : ["part", "as it is"],
      rows: described.map(([name, was, is]) =>
        changed ? [name, was ?? "not described", is === was ? "the same" : (is ?? "taken out")] : [name, is ?? ""],
      ),
    },
  ];
  if (after.build.injectors.name === STARTING_INJECTORS)
    blocks.push(
      paragraph(
        "The injectors are not said yet: the figures above are a starting point. Go through the Build leaf before this card is used.",
        "warns",
      ),
    );
  if (missing.length > 0)
    blocks.push(paragraph(`Not described: ${missing.join(", ")}. Their limits are not looked at.`, "warns"));
  for (const stage of job.build.stages ?? []) blocks.push(paragraph(stageWords(stage), "quiet"));
  return { id: "parts", title: "Parts, fuel, place", blocks };
}

const named = (name: string | undefined, words: string) => (name ? `${name}, ${words}` : words);

function injectorWords(
  { name, flowGramsPerSecond, ratedPressureKpa, deadTime, smallestPulseMs }: Injector,
  volts: number,
  fuel: Build["fuel"],
  context: CardContext,
): string {
  const dead =
    typeof deadTime === "number"
      ? `dead time ${fixed(deadTime, 2)} ms`
      : `dead time ${deadTime.map((point) => `${fixed(point.ms, 2)} ms at ${figure(point.volts, 1)} V`).join(", ")}`;
  const flow = say(context, flowGramsPerSecond, "g/s", 2, fuel);
  return (
    `${name}, ${flow} at ${say(context, ratedPressureKpa, "kPa", 0)}, ${dead}` +
    `${typeof deadTime === "number" ? "" : ` (running at ${figure(volts, 1)} V)`}` +
    `${smallestPulseMs === undefined ? "" : `, smallest repeatable pulse ${fixed(smallestPulseMs, 2)} ms`}`
  );
}

function pumpWords({ name, curve, ratedVolts }: Pump, context: CardContext): string {
  const [low, high] = [curve[0]!, curve.at(-1)!];
  const point = ({ litresPerHour, pressureKpa }: typeof low) =>
    `${fixed(litresPerHour, 1)} L/h at ${say(context, pressureKpa, "kPa", 0)}`;
  const flows = curve.length > 1 ? `${point(low)} to ${point(high)}` : point(low);
  return named(name, ratedVolts === undefined ? flows : `${flows}, rated at ${figure(ratedVolts, 1)} V`);
}

const stageWords = ({ name, note }: Stage) => `Considered, not fitted: ${name}${note ? ` (${note})` : ""}.`;
