import type { CeilingReport, FuelTable } from "@fuelwright/table-core";
import { axesDisplay, cellDisplay, figure } from "../../../store/display.ts";
import { sayRefusal } from "../../../store/say-refusal.ts";
import { partNames } from "../../build/part-names.ts";
import { sayVerdict } from "../../build/say-verdict.ts";
import { fixed, say } from "../../say-figure.ts";
import { type Block, heading, paragraph, points, type Section } from "./blocks.ts";
import type { CardContext } from "./card-context.ts";
import { asSentence, counted, sayReach } from "./say-cells.ts";

/** Lean cells listed one by one; the rest is counted. */
const MOST_LEAN = 16;

/** What the hardware can't do, part by part and table by table, and what mixture then really arrives. */
export function ceilingsSection(context: CardContext): Section {
  const tables = context.tables.filter((table) => context.meters(table));
  const blocks = tables.flatMap((table) => [
    ...(tables.length > 1 ? [heading(table.name)] : []),
    ...tableCeilings(context, table),
  ]);
  const title = "Ceilings: what gives out first";
  if (blocks.length === 0) return { id: "ceilings", title, blocks: [paragraph(NOT_LOOKED_AT, "warns")] };
  const reports = tables.flatMap((table) => context.ceilingsOf(table).report ?? []);
  return { id: "ceilings", title, blocks: [...blocks, ...assumed(reports, tables.length > 1)] };
}

/** What the verdicts rest on that nobody gave, each told once. */
function assumed(reports: readonly CeilingReport[], several: boolean): Block[] {
  const all = reports.flatMap(({ parts }) => parts.flatMap(({ assumptions }) => assumptions));
  const each = [...new Map(all.map((one) => [one.id, one])).values()];
  if (each.length === 0) return [];
  return [
    several ? heading("Assumed, for all of them") : paragraph("Assumed:", "quiet"),
    points(each.map(({ text, matters }) => ({ text: `${text} ${matters ?? ""}`.trim() }))),
  ];
}

const NOT_LOOKED_AT = "Not looked at: that takes a table that meters fuel.";

function tableCeilings(context: CardContext, table: FuelTable): Block[] {
  const { report, problem } = context.ceilingsOf(table);
  if (!report)
    return [paragraph(problem ? `Not looked at: ${asSentence(sayRefusal(problem))}` : NOT_LOOKED_AT, "warns")];
  const unknown = report.parts.filter(({ verdict }) => verdict === "unknown");
  return [
    paragraph(firstToGive(report)),
    {
      kind: "facts",
      label: `Ceilings of ${table.name}`,
      heads: ["part", "stands", "because"],
      rows: report.parts.map((part) => [
        partNames[part.part],
        part.verdict === "unknown" ? "not looked at" : sayVerdict(part, report.ceilings).words,
        part.sentence,
      ]),
    },
    ...(unknown.length > 0
      ? [
          paragraph(
            `Not looked at: ${unknown.map(({ part }) => partNames[part].toLowerCase()).join(", ")}. Describe them on the Build leaf; until then nobody knows whether they give out first.`,
            "warns",
          ),
        ]
      : []),
    ...(report.ceilings.length > 0
      ? [
          points(
            report.ceilings.map(({ sentence, cells }) => ({
              text: `${asSentence(sentence)} ${counted(cells.length, "cell")}, ${sayReach(cells, table, context.preferences)}.`,
            })),
          ),
        ]
      : [paragraph("No cell meets a limit of the parts that are described.")]),
    ...lean(context, table, report),
  ];
}

/** The part that runs out first, in one sentence. */
export function firstToGive({ first, ceilings }: CeilingReport): string {
  if (!first) return "No part is described well enough to say which gives out first.";
  const name = partNames[first.part];
  const { words } = sayVerdict(first, ceilings);
  return first.verdict === "gives-out"
    ? `First to give out: ${name}, ${words}.`
    : `First to run out: ${name}, ${words}.`;
}

/** Cells in which less fuel arrives than is asked: the mixture there, worst first. */
function lean(context: CardContext, table: FuelTable, report: CeilingReport): Block[] {
  const { leaner, deliveredLambda, demand, railDropKpa } = report;
  if (leaner.length === 0) return [];
  const mixture = cellDisplay({ quantity: "lambda" }, context.preferences, context.after.build.fuel);
  const axes = axesDisplay(table, context.preferences);
  const worst = leaner.toSorted((a, b) => a.value - b.value).slice(0, MOST_LEAN);
  const shown = (lambda: number | undefined) =>
    lambda === undefined ? "–" : fixed(mixture.show(lambda), mixture.decimals);
  const left = leaner.length - worst.length;
  return [
    paragraph(
      `Lean under load: ${counted(leaner.length, "cell gets", "cells get")} less fuel than asked, ${sayReach(leaner, table, context.preferences)}. ` +
        "A lean mixture under load detonates and melts pistons within seconds. Don't run it there until a part is changed.",
      "warns",
    ),
    {
      kind: "facts",
      label: "Mixture that arrives where the hardware falls short",
      heads: [
        axes.rpm.unit,
        `load, ${axes.load.unit}`,
        "fuel missing",
        `${mixture.unit} asked`,
        `${mixture.unit} that arrives`,
        "rail sinks by",
      ],
      rows: worst.map(({ at, rpm, load, value }) => [
        figure(axes.rpm.show(rpm), axes.rpm.decimals),
        figure(axes.load.show(load), axes.load.decimals),
        `${fixed(100 * (1 - value), 1)} %`,
        shown(demand.lambda?.[at]),
        shown(deliveredLambda?.[at]),
        railDropKpa ? say(context, railDropKpa[at]!, "kPa", 0) : "–",
      ]),
    },
    ...(left > 0 ? [paragraph(`And ${counted(left, "cell")} less short of fuel than these.`, "quiet")] : []),
    ...(deliveredLambda === null
      ? [paragraph("Without a table of the mixture wished for, the mixture that arrives can't be said.", "quiet")]
      : []),
  ];
}
