import type { FuelTable } from "@fuelwright/table-core";
import { shownNumber } from "../../../elements/number-field/shown-decimals.ts";
import { axesDisplay, cellDisplay, type Display, figure } from "../../../store/display.ts";
import { type Block, type Grid, heading, type PrintedCell, paragraph, points, type Section } from "./blocks.ts";
import type { CardContext } from "./card-context.ts";
import { type Compared, compareWithSource } from "./compared.ts";
import { extremes } from "./extremes.ts";
import { cellWidth, columnBlocks } from "./grid-blocks.ts";
import { type Sign, signs, signsOf, signText } from "./marks.ts";
import { counted } from "./say-cells.ts";

/** The tables as they were brought in and as they are handed over, each changed cell marked. */
export function tablesSection(context: CardContext): Section {
  const { tables: wanted } = context.settings;
  const title = wanted === "both" ? "Tables, before and after" : "Tables";
  if (wanted === "none")
    return {
      id: "tables",
      title,
      blocks: [
        paragraph(
          `Left out of this card: ${context.tables.map(({ name }) => name).join(", ")}. They go with it as files; ` +
            "compare the check cells of the first-start card with what stands in the controller.",
        ),
      ],
    };
  const printed = context.tables.map((table) => tableBlocks(context, table));
  return {
    id: "tables",
    title,
    ownPage: true,
    blocks: [...legend(printed.flatMap(({ used }) => [...used])), ...printed.flatMap(({ blocks }) => blocks)],
  };
}

/** How a table's cells are shown on the card. */
export const displayOf = ({ preferences, after }: CardContext, table: FuelTable): Display =>
  cellDisplay(table, preferences, after.build.fuel);

function tableBlocks(context: CardContext, table: FuelTable): { blocks: Block[]; used: Set<Sign> } {
  const display = displayOf(context, table);
  const before = context.before.tables[table.id];
  const compared = compareWithSource(table, before, display);
  const marks = signsOf(context, table);
  const used = new Set(marks.flatMap((of) => [...of]));
  const unchanged = compared?.sameAxes === true && compared.changed === 0;
  const label = (state: string) => `${nameOf(table)}, ${state}, ${display.unit || "factor"}`;
  const blocks: Block[] = [heading(nameOf(table)), paragraph(aboutChange(context, table, compared), "quiet")];
  const cells = Array.from(table.cells, (cell, at): PrintedCell => {
    const change = changeSign(compared, at);
    const own = signText(marks[at]!);
    return { ...plain(cell, display), ...(change !== null && { change }), ...(own && { signs: own }) };
  });
  const handedOver = grid(context, table, label(unchanged ? "as brought in" : "after"), cells);
  if (before && !unchanged && context.settings.tables === "both") {
    const shown = displayOf(context, before);
    const was = grid(
      context,
      before,
      label("before"),
      Array.from(before.cells, (cell) => plain(cell, shown)),
    );
    // Broken alike and as wide, so that the same columns lie under each other.
    blocks.push(
      compared?.sameAxes
        ? { ...was, blocks: handedOver.blocks, cellMm: handedOver.cellMm, keepWithNext: handedOver.blocks.length === 1 }
        : was,
    );
  }
  blocks.push(handedOver);
  return { blocks, used };
}

const nameOf = ({ name, cylinder }: FuelTable) => (cylinder === undefined ? name : `${name} (cylinder ${cylinder})`);

const plain = (cell: number, { show, decimals }: Display): PrintedCell => ({ text: shownNumber(show(cell), decimals) });

/** "+3.2", "new" where there was nothing, null where nothing changed. */
function changeSign(compared: Compared | null, at: number): string | null {
  if (!compared) return null;
  const percent = compared.percent[at]!;
  if (percent === 0) return null;
  if (percent === null || !Number.isFinite(percent)) return "new";
  const size = Math.abs(percent);
  return `${percent < 0 ? "−" : "+"}${size < 99.95 ? size.toFixed(1) : size.toFixed(0)}`;
}

function aboutChange({ replay }: CardContext, table: FuelTable, compared: Compared | null): string {
  if (!compared) {
    const made = replay.states.findIndex(({ tables }) => tables[table.id] !== undefined);
    return made > 0 ? `Made by step ${made}: there is no table before it.` : "There is nothing to compare it with.";
  }
  const { changed, percent, sameAxes } = compared;
  if (changed === 0 && sameAxes) return "Nothing was changed in it.";
  const known = percent.filter((value): value is number => value !== null && value !== 0 && Number.isFinite(value));
  const [low, high] = extremes(known).map((value) => `${value < 0 ? "−" : "+"}${Math.abs(value).toFixed(1)} %`);
  const span = known.length === 0 ? "" : low === high ? `, by ${low}` : `, by ${low} to ${high}`;
  const cells = `${counted(changed, "cell")} of ${figure(percent.length, 0)} changed${span}.`;
  return sameAxes
    ? cells
    : `${cells} Its breakpoints changed: each cell is measured against the table before, read at its place.`;
}

/** A table's cells on paper, loads as they lie in the grid: the highest on top unless turned over. */
export function grid(
  { preferences, settings }: CardContext,
  table: FuelTable,
  label: string,
  cells: readonly PrintedCell[],
): Grid {
  const axes = axesDisplay(table, preferences);
  const oneRow = table.load.quantity === "single-row";
  const columns = table.rpm.breakpoints.length;
  const breakpoint = (which: "rpm" | "load") => (value: number) =>
    figure(axes[which].show(value), axes[which].decimals);
  const corner = oneRow ? axes.rpm.unit : `${axes.load.unit} \\ ${axes.rpm.unit}`;
  const order = <T>(list: readonly T[], turned: boolean) => (turned ? list.toReversed() : [...list]);
  const heads = order(table.rpm.breakpoints.map(breakpoint("rpm")), preferences.flipRpm);
  const rows = order(
    table.load.breakpoints.map((load, row) => ({
      head: oneRow ? "" : breakpoint("load")(load),
      cells: order(cells.slice(row * columns, (row + 1) * columns), preferences.flipRpm),
    })),
    !preferences.flipLoad,
  );
  const texts = {
    figures: [...heads, ...cells.map(({ text }) => text)],
    small: cells.map(({ change = "", signs: own = "" }) => (own ? `${change} ${own}` : change)),
  };
  return {
    kind: "grid",
    label,
    corner,
    heads,
    rows,
    along: axes.rpm.unit,
    cellMm: cellWidth(texts),
    blocks: columnBlocks({
      ...texts,
      paper: settings.paper,
      columns,
      heads: [corner, ...rows.map(({ head }) => head)],
    }),
  };
}

function legend(used: readonly Sign[]): Block[] {
  const there = (Object.keys(signs) as Sign[]).filter((sign) => used.includes(sign));
  return [
    paragraph(
      "Under a figure stands what is to be known of it; a figure in heavy type differs from the table as brought in.",
      "quiet",
    ),
    points([
      { text: "+3.2 or −3.2: changed by that percentage; new: there was no such cell." },
      ...there.map((sign) => ({ text: `${signs[sign].sign} ${signs[sign].words}.` })),
    ]),
  ];
}
