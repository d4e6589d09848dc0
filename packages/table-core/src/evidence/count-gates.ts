import {
  createGates,
  type Gate,
  type GateCount,
  gateMasks,
  gateReasons,
  gateStateAtStart,
  type StructuralGate,
  structuralBits,
} from "./gates.ts";
import { type LogSamples, type SampleChunk, sampleKey } from "./samples.ts";

/** Tallies masks of readings, and says for each gate how many it removes and how many no other would. */
export class GateTally {
  private readonly removed = new Float64Array(32);
  private readonly alone = new Float64Array(32);

  add(mask: number, count = 1): void {
    if (mask === 0) return;
    const single = (mask & (mask - 1)) === 0;
    for (let bits = mask, at = 0; bits !== 0; bits >>>= 1, at++)
      if (bits & 1) {
        this.removed[at]! += count;
        if (single) this.alone[at]! += count;
      }
  }

  /** The gates in their order, then those always in force; those that are off count nothing. */
  counts(gates: readonly Gate[]): GateCount[] {
    const entry = (kind: Gate["kind"] | StructuralGate, at: number | null, bit: number): GateCount => ({
      kind,
      at,
      ...gateReasons[kind],
      removed: this.removed[bit]!,
      alone: this.alone[bit]!,
    });
    return [
      ...gates.map((gate, at) => entry(gate.kind, at, at)),
      ...(Object.entries(structuralBits) as [StructuralGate, number][]).map(([kind, mask]) =>
        entry(kind, null, 31 - Math.clz32(mask)),
      ),
    ];
  }
}

/** What gates remove of some logs, without a fit: for looking at while they are set. */
export interface GatePreview {
  /** Readings of lambda in all. */
  readonly readings: number;
  /** Readings that no gate removes; in a fit some of them will still be settling. */
  readonly kept: number;
  readonly gates: readonly GateCount[];
}

/**
 * How many readings each gate removes, straight from the samples.
 *
 * @param channel - which lambda sensor, from 1
 * @param onChunk - is handed each chunk with a mask for each of its samples: 0 where no gate removes it
 * @throws FuelwrightError as {@link createGates}, and what the logs throw
 */
export async function countGates(
  logs: readonly LogSamples[],
  gates: readonly Gate[],
  channel = 1,
  onChunk?: (chunk: SampleChunk, masks: Uint32Array) => void,
): Promise<GatePreview> {
  const checked = createGates(gates, "countGates: gates");
  const tally = new GateTally();
  let readings = 0;
  let kept = 0;
  for (const log of logs) {
    const state = gateStateAtStart();
    for await (const chunk of log.open()) {
      const masks = gateMasks(chunk, checked, state, channel);
      onChunk?.(chunk, masks);
      const lambda = chunk.columns[sampleKey("lambda", channel)];
      if (!lambda) continue;
      for (let at = 0; at < chunk.count; at++) {
        if (Number.isNaN(lambda[at])) continue;
        readings++;
        if (masks[at] === 0) kept++;
        else tally.add(masks[at]!);
      }
    }
  }
  return { readings, kept, gates: tally.counts(checked) };
}
