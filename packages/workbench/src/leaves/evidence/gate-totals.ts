import type { GateCount, GatePreview } from "@fuelwright/table-core";

/** What the gates remove of several logs, of each gate in its place; null as long as none was counted. */
export function addedCounts(previews: readonly (GatePreview | null)[]): GatePreview | null {
  const counted = previews.filter((preview) => preview !== null);
  const [first, ...rest] = counted;
  if (!first) return null;
  return rest.reduce(
    (sum, preview) => ({
      readings: sum.readings + preview.readings,
      kept: sum.kept + preview.kept,
      gates: sum.gates.map((gate, at): GateCount => {
        const other = preview.gates[at];
        return other ? { ...gate, removed: gate.removed + other.removed, alone: gate.alone + other.alone } : gate;
      }),
    }),
    first,
  );
}
