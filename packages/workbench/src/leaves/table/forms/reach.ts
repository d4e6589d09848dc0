import type { CellNote } from "@fuelwright/table-core";
import { figure } from "../../../store/display.ts";

/** Where listed cells lie, in words: "900–1,200 rpm at 20–26". */
export function reachOf(notes: readonly Pick<CellNote, "rpm" | "load">[]): string {
  const side = (values: readonly number[]) => {
    const [low, high] = [Math.min(...values), Math.max(...values)];
    return low === high ? figure(low) : `${figure(low)}–${figure(high)}`;
  };
  return `${side(notes.map(({ rpm }) => rpm))} rpm at load ${side(notes.map(({ load }) => load))}`;
}
