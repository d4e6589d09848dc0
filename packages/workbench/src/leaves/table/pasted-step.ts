import { type BlockText, type FuelTable, readBlockText, type Step } from "@fuelwright/table-core";
import type { PasteTextEvent } from "../../elements/fuel-grid/grid-events.ts";
import { makeStep } from "../../store/commands.ts";
import type { Desk } from "../../store/desk.ts";
import { cellDisplay } from "../../store/display.ts";

/**
 * The step that pasted text asks for, put at the chosen cell or, where the block brings its axes, at its own place.
 *
 * @returns with it a sentence for the person where the block did not fit and was cut
 * @throws FuelwrightError when the text holds no block of numbers
 */
export function pastedStep(
  desk: Desk,
  table: FuelTable,
  paste: PasteTextEvent,
): { step: Step; question: string | null } {
  const block = readBlockText(paste.text);
  const display = cellDisplay(table, desk.preferences, desk.shown.build.fuel);
  const read = (row: readonly number[]) => row.map((value) => display.read(value));
  const placed = ownPlace(block);
  if (placed) {
    const settings = { ...placed, cells: placed.cells.map(read) };
    return { step: makeStep(desk.job, "paste-cells", table.id, settings), question: null };
  }
  const rows = block.rows.map(read);
  const wide = Math.max(...rows.map((row) => row.length));
  const { row, column } = paste.at;
  const { rpm, load } = table;
  const columns = along(column, paste.columnStep, wide, rpm.breakpoints.length);
  const lines = along(row, paste.rowStep, rows.length, load.breakpoints.length);
  const cut = columns.length < wide || lines.length < rows.length;
  const settings = rising({
    rpm: columns.map((at) => rpm.breakpoints[at]!),
    load: lines.map((at) => load.breakpoints[at]!),
    cells: lines.map((_, line) => columns.map((_, at) => rows[line]![at]!)),
  });
  return {
    step: makeStep(desk.job, "paste-cells", table.id, settings),
    question: cut
      ? `The block is ${rows.length} × ${wide}; from here ${lines.length} × ${columns.length} of it fit. Keep that part, or discard it and choose another cell.`
      : null,
  };
}

/** The block at the breakpoints it brings along, or null if it does not say them for both sides. */
function ownPlace({ rows, across, down, orientation }: BlockText): Block | null {
  if (!across || !down) return null;
  return orientation?.value === "rpm-down"
    ? { rpm: down, load: across, cells: across.map((_, column) => rows.map((row) => row[column]!)) }
    : { rpm: across, load: down, cells: rows };
}

function along(start: number, step: number, count: number, end: number): number[] {
  return Array.from({ length: count }, (_, at) => start + at * step).filter((at) => at >= 0 && at < end);
}

interface Block {
  readonly rpm: readonly number[];
  readonly load: readonly number[];
  readonly cells: readonly (readonly number[])[];
}

/** The block with both sides rising, as a step keeps it. */
function rising({ rpm, load, cells }: Block): Block {
  const order = (side: readonly number[]) => side.map((_, at) => at).sort((a, b) => side[a]! - side[b]!);
  const columns = order(rpm);
  const rows = order(load);
  return {
    rpm: columns.map((at) => rpm[at]!),
    load: rows.map((at) => load[at]!),
    cells: rows.map((row) => columns.map((column) => cells[row]![column]!)),
  };
}
