/** A step as the strip says it. */
export interface ModelStep {
  readonly value: number;
  readonly rpm: number;
  readonly load: number;
  readonly on: boolean;
}

export type Edit =
  | { readonly kind: "set"; readonly value: number; readonly rpm: number; readonly load: number }
  | { readonly kind: "switch"; readonly at: number }
  | { readonly kind: "undo" }
  | { readonly kind: "redo" };

/** One state of the job: its steps, and the name of the change that led to it. */
interface State {
  readonly label: string;
  readonly steps: readonly ModelStep[];
}

/** What the job must be: its steps in order, what can be undone and what can be done again. Written without the page's code. */
export interface Model {
  readonly past: readonly State[];
  readonly now: State;
  readonly undone: readonly State[];
}

/** The first state, which `label` led to; edits do not go back behind it. */
export const freshModel = (label: string): Model => ({ past: [], now: { label, steps: [] }, undone: [] });

/** The model after an edit. An undo or redo where there is none changes nothing. */
export function applyEdit(model: Model, edit: Edit): Model {
  const { past, now, undone } = model;
  switch (edit.kind) {
    case "undo":
      return past.length === 0 ? model : { past: past.slice(0, -1), now: past.at(-1)!, undone: [...undone, now] };
    case "redo":
      return undone.length === 0 ? model : { past: [...past, now], now: undone.at(-1)!, undone: undone.slice(0, -1) };
    case "set": {
      const { value, rpm, load } = edit;
      const steps = [...now.steps, { value, rpm, load, on: true }];
      return { past: [...past, now], now: { label: `Set to ${value}`, steps }, undone: [] };
    }
    case "switch": {
      const step = now.steps[edit.at]!;
      const label = `Switch ${step.on ? "off" : "on"} step ${edit.at + 1}, Set to ${step.value}`;
      const steps = now.steps.with(edit.at, { ...step, on: !step.on });
      return { past: [...past, now], now: { label, steps }, undone: [] };
    }
  }
}

/** What the buttons of undo and redo say. */
export const modelWords = ({ now, undone }: Model): readonly [undo: string, redo: string] => [
  `Undo: ${now.label}`,
  undone.length > 0 ? `Redo: ${undone.at(-1)!.label}` : "Redo",
];

/** The steps as `4.25 at 2,200, 50: on`. */
export const sayModel = ({ now }: Model): string[] =>
  now.steps.map(({ value, rpm, load, on }) => `${value} at ${rpm.toLocaleString("en")}, ${load}: ${on ? "on" : "off"}`);

/** Numbers from 0 to below 1, always the same for a seed (mulberry32, public domain). */
export function randomFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}
