import type { Display } from "../../../store/display.ts";

/** Breakpoints as a person reads and types them, in their own unit. */
export interface BreakpointList {
  readonly text: string;
  /** Breakpoints in the axis's unit, in the order typed; what is no number is left for the step to refuse. */
  read(typed: string): number[];
}

/** A list of breakpoints in the unit of `display`; one that is left as it was shown keeps its value to the last bit. */
export function breakpointList(breakpoints: readonly number[], { show, read }: Display): BreakpointList {
  const say = (value: number) => {
    if (!Number.isFinite(value)) return String(value);
    const shown = show(value);
    return String(shown === value ? value : Number(shown.toPrecision(6)));
  };
  const words = breakpoints.map(say);
  return {
    text: words.join(" "),
    read: (typed) =>
      typed
        .trim()
        .split(/[\s;,]+/)
        .filter(Boolean)
        .map((word, at) => {
          const kept = words[at] === word ? at : words.indexOf(word);
          if (kept >= 0) return breakpoints[kept]!;
          return Number.isFinite(Number(word)) ? read(Number(word)) : Number.NaN;
        }),
  };
}
