import {
  demandOverRpm,
  type FuelTable,
  FuelwrightError,
  type Inks,
  type PartId,
  type Picture,
  plotCeilings,
  plotChangeHistogram,
  plotDemand,
  plotSlice,
  plotTable,
  plotTableMap,
} from "@fuelwright/table-core";
import { axesDisplay } from "../../../store/display.ts";
import type { CardPicture, Section } from "./blocks.ts";
import type { CardContext } from "./card-context.ts";
import { compareWithSource } from "./compared.ts";
import { displayOf } from "./tables.ts";

/** As wide as two stand beside each other on the card, in px; all alike, so that all have one scale of type. */
const WIDTH = 320;

/** Colours that the card's own style decides, so that it is read on paper, on a screen and in the dark. */
const cardInks: Inks = {
  ink: "var(--card-ink)",
  quiet: "var(--card-quiet)",
  rule: "var(--card-rule)",
  axis: "var(--card-axis)",
  paper: "var(--card-paper)",
  before: "var(--card-quiet)",
  after: "var(--card-ink)",
  more: "var(--card-more)",
  less: "var(--card-less)",
  warn: "var(--card-warn)",
  hatch: "var(--card-hatch)",
};

/** A picture that is offered: on the card, or as a file alone. */
export interface OfferedPicture {
  readonly id: string;
  readonly table: string;
  /** What it shows of the table. */
  readonly what: string;
  readonly onCard: boolean;
  /** As in `CardPicture`. */
  readonly words?: string;
  draw(inks: Inks): Picture;
}

const parts: readonly PartId[] = ["injectors", "pump", "intake"];
const demandNames = { injectors: "injectors", pump: "pump", intake: "intake", storage: "storage" } as const;

/** All pictures of a job: of each table what changed, and of each that meters fuel what its parts are asked and can give. */
export function picturesOf(context: CardContext): readonly OfferedPicture[] {
  return context.tables
    .filter(({ id }) => id !== context.job.roles.basePulse)
    .flatMap((table) => ofTable(context, table));
}

function ofTable(context: CardContext, table: FuelTable): OfferedPicture[] {
  const { preferences, after } = context;
  const shown = displayOf(context, table);
  const axes = axesDisplay(table, preferences);
  const compared = compareWithSource(table, context.before.tables[table.id], shown);
  const before = compared && compared.changed > 0 ? context.before.tables[table.id] : undefined;
  const { report } = context.ceilingsOf(table);
  const oneRow = table.load.quantity === "single-row";
  const common = { width: WIDTH, heading: false, shown, axes, ...(before && { before }) };
  const picture = (what: string, words: string, draw: OfferedPicture["draw"], onCard = true): OfferedPicture => ({
    id: `${table.id}-${what}`,
    table: table.name,
    what: words,
    onCard,
    draw,
  });
  const list = [
    picture("table", "the whole table", (inks) => plotTable(table, { ...tableOptions(common), inks }), false),
    picture("slice-rpm", oneRow ? "as a line" : "at the highest load", (inks) =>
      plotSlice(table, { ...common, inks, along: "rpm", at: table.load.breakpoints.at(-1)! }),
    ),
  ];
  if (!oneRow)
    list.push(
      picture("slice-load", before ? "through the cell that changed most" : "over load", (inks) =>
        plotSlice(table, { ...common, inks, along: "load" }),
      ),
      picture("map", before ? "map of changes" : "map of values", (inks) =>
        plotTableMap(table, { ...common, inks, ...(report && { ceilings: report.ceilings }) }),
      ),
    );
  if (before)
    list.push(
      picture("changes", "cells by change", (inks) =>
        plotChangeHistogram({ before, after: table }, { ...common, inks }),
      ),
    );
  if (!report) return list;
  list.push({
    ...picture("ceilings", "ceilings", (inks) =>
      plotCeilings(report, { table, axes, inks, heading: false, width: WIDTH }),
    ),
    words:
      "What is said under Ceilings, drawn: what each part is asked of all it can give, and the cells at a ceiling hatched.",
  });
  for (const part of parts) {
    const demand = demandOverRpm(report, part, table, after.build.fuel);
    if (demand)
      list.push(
        picture(`demand-${part}`, `demand on the ${demandNames[part]}`, (inks) =>
          plotDemand(demand, { inks, heading: false, width: WIDTH }),
        ),
      );
  }
  return list;
}

/** A whole table is as wide as its figures need. */
function tableOptions<T extends { readonly width: number }>({ width: _, ...rest }: T): Omit<T, "width"> {
  return rest;
}

/** What the tables and their ceilings look like, each with the same in words. */
export function picturesSection(context: CardContext): Section {
  const blocks = picturesOf(context)
    .filter(({ onCard }) => onCard)
    .flatMap(({ id, table, what, words, draw }): CardPicture[] => {
      try {
        const picture = draw(cardInks);
        return [
          {
            kind: "picture",
            id,
            name: `${table}, ${what}`,
            picture,
            words: words ?? saidUnder(table, picture.description),
          },
        ];
      } catch (error) {
        // Tables may differ too much to be drawn over each other; the words of the other parts then say so.
        if (!(error instanceof FuelwrightError)) throw error;
        return [];
      }
    });
  return { id: "pictures", title: "Pictures", blocks };
}

/** What a picture shows, without the table's name, which stands before it. */
function saidUnder(table: string, description: string): string {
  if (!description.startsWith(`${table}: `)) return description;
  const rest = description.slice(table.length + 2);
  return rest.charAt(0).toUpperCase() + rest.slice(1);
}
