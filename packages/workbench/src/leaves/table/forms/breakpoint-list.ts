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
    const shown = show(value);
    return String(shown === value ? value : Number(shown.toPrecision(6)));
  };
  const known = new Map(breakpoints.map((value) => [say(value), value]));
  return {
    text: [...known.keys()].join(" "),
    read: (typed) =>
      typed
        .trim()
        .split(/[\s;,]+/)
        .filter(Boolean)
        .map((word) => known.get(word) ?? (Number.isFinite(Number(word)) ? read(Number(word)) : Number.NaN)),
  };
}
