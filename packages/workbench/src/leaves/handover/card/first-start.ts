import type { FuelTable } from "@fuelwright/table-core";
import { axesDisplay, figure } from "../../../store/display.ts";
import { fixed } from "../../say-figure.ts";
import { type Block, heading, paragraph, type Section } from "./blocks.ts";
import type { CardContext } from "./card-context.ts";
import { extremes } from "./extremes.ts";
import { signsOf } from "./marks.ts";
import { counted, sayReach } from "./say-cells.ts";
import { displayOf } from "./tables.ts";

/** Before the key is turned, in the order in which it is done. */
const always: readonly string[] = [
  "Engine cold, battery charged, in the open or with the door open. An extinguisher within reach, no flame, no spark: petrol vapour burns.",
  "Fuel lines and injector seals tight: run the pump without starting, look, and smell.",
  "A wideband sensor fitted, warm, and read before any load is put on.",
  "The tables are in the controller, and the check cells below read back as printed.",
  "Start and idle only. Stop at once on a misfire, a lean reading that stays, or a smell of fuel.",
  "Then load in small steps, on a dyno or with a passenger who reads the log. Under load a lean mixture detonates and destroys the engine.",
];

/** The page that goes to the bay: what to do before and at the first start, and the cells to check in the controller. */
export function firstStartSection(context: CardContext): Section {
  const { job } = context;
  const own = context.tables.flatMap((table) => warningsOf(context, table));
  return {
    id: "first-start",
    title: `First start: ${job.name}`,
    ownPage: true,
    blocks: [
      ...(job.invented ? [paragraph("Every figure is invented: for trying out, not for an engine.", "warns")] : []),
      paragraph("By a competent person, and not alone."),
      { kind: "checks", points: always },
      ...(own.length > 0
        ? [heading("Mind on this job"), { kind: "points", points: own.map((text) => ({ text })) } as const]
        : []),
      ...checkCells(context),
    ],
  };
}

/** What this table asks to be minded, in sentences. */
function warningsOf(context: CardContext, table: FuelTable): string[] {
  const { preferences, tables } = context;
  const cells = signsOf(context, table);
  const guessed = cells.filter((of) => of.has("guess") || of.has("extrapolated")).length;
  const { report } = context.ceilingsOf(table);
  const name = tables.length > 1 ? `${table.name}: ` : "";
  const words: string[] = [];
  if (guessed > 0)
    words.push(
      `${name}${counted(guessed, "cell holds", "cells hold")} a first guess; reach them last, and from the rich side.`,
    );
  if (report && report.leaner.length > 0)
    words.push(
      `${name}the hardware can't give the fuel asked in ${counted(report.leaner.length, "cell")}, ` +
        `${sayReach(report.leaner, table, preferences)}: stay out of there until a part is changed.`,
    );
  const short = report?.ceilings.find(({ kind }) => kind === "under-smallest-pulse");
  if (short)
    words.push(
      `${name}pulses under the smallest that repeats in ${counted(short.cells.length, "cell")}, ` +
        `${sayReach(short.cells, table, preferences)}: idle may hunt, and the mixture there is not sure.`,
    );
  return words;
}

/** A few cells of each table to compare with what the controller shows: its corners, and where it changed most. */
function checkCells(context: CardContext): Block[] {
  const rows = context.tables
    .filter(({ id }) => id !== context.job.roles.basePulse)
    .flatMap((table) => {
      const axes = axesDisplay(table, context.preferences);
      const { show, decimals, unit } = displayOf(context, table);
      return placesToCheck(context, table).map((at) => {
        const columns = table.rpm.breakpoints.length;
        const oneRow = table.load.quantity === "single-row";
        const rpm = table.rpm.breakpoints[at % columns]!;
        const load = table.load.breakpoints[Math.floor(at / columns)]!;
        return [
          table.name,
          `${figure(axes.rpm.show(rpm), axes.rpm.decimals)} ${axes.rpm.unit}`,
          oneRow ? "" : `${figure(axes.load.show(load), axes.load.decimals)} ${axes.load.unit}`,
          `${fixed(show(table.cells[at]!), decimals)} ${unit}`.trim(),
          "",
        ];
      });
    });
  if (rows.length === 0) return [];
  return [
    heading("Check cells: read them back from the controller"),
    { kind: "facts", label: "Check cells", heads: ["table", "speed", "load", "as handed over", "read back"], rows },
  ];
}

/** The corners of a table that meters fuel, the ends of any other, and the cell that changed most. */
function placesToCheck(context: CardContext, table: FuelTable): readonly number[] {
  const columns = table.rpm.breakpoints.length;
  const last = table.cells.length - 1;
  const was = context.before.tables[table.id];
  const changes =
    was?.cells.length === table.cells.length
      ? Array.from(table.cells, (cell, at) => Math.abs(cell - was.cells[at]!))
      : [];
  const most = changes.length > 0 ? [changes.indexOf(extremes(changes)[1])] : [];
  const corners = context.meters(table) ? [columns - 1, last - columns + 1] : [];
  return [...new Set([0, ...corners, last, ...most])].sort((a, b) => a - b);
}
