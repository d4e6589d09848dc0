import type { Step } from "@fuelwright/table-core";
import { demoJob } from "../../store/demo-job.ts";
import type { Desk, Leaf } from "../../store/desk.ts";

/** One stop of the first job over the demo. */
export interface Stop {
  readonly id: string;
  readonly title: string;
  /** Where it is done. */
  readonly leaf: Leaf;
  /** What to do, and what is then to be seen. */
  readonly words: string;
  /** Whether it is done, by what is there now: once done it stays so. */
  done(desk: Pick<Desk, "job" | "bench" | "view">): boolean;
}

/** The steps the demo comes with; what is asked for is a change of them, or one more. */
const demoSteps: ReadonlyMap<string, Step> = new Map(demoJob().steps.map((step) => [step.id, step]));

const flowOf = (step: Step | undefined) =>
  step?.kind === "rescale-for-injectors" ? step.settings.to.flowGramsPerSecond : undefined;

/** The main job in a few stops: look, change an early decision, edit, ask parts and road, hand over. */
export const stops: readonly Stop[] = [
  {
    id: "look",
    title: "See what a step did",
    leaf: "table",
    words:
      "On the strip under the grid press step 1, Change the injectors. The grid shows what it did to every cell, and the card beside it with which settings.",
    done: ({ bench }) => bench.draft?.kind === "reopened",
  },
  {
    id: "early",
    title: "Change an early decision",
    leaf: "table",
    words:
      "The injectors that arrived flow 4 % more than was ordered. In step 1 set Flow, held open to 3.17 g/s and keep the change: step 2 follows by itself.",
    done: ({ job }) =>
      job.steps.some((step) => flowOf(step) !== undefined && flowOf(step) !== flowOf(demoSteps.get(step.id))),
  },
  {
    id: "own",
    title: "Make a change of your own",
    leaf: "table",
    words:
      "Drag over a few cells of the grid, type cell * 1.03 and press Enter. It becomes a step on the strip; Undo takes it back, as it does everything.",
    done: ({ job }) => job.steps.some(({ id, kind }) => !demoSteps.has(id) && kind !== "apply-evidence"),
  },
  {
    id: "parts",
    title: "Ask the parts",
    leaf: "build",
    words:
      "Each part has its verdict beside it. The intake gives out first: open it to see why, and the stages below for what would mend it.",
    done: ({ view }) => view.leaf === "build",
  },
  {
    id: "road",
    title: "Ask the road",
    leaf: "evidence",
    words:
      "Press Try it with a made log: a ride that is made up, and marked so. Once it is fitted, apply what is proven: that becomes a step too.",
    done: ({ job }) => job.steps.some(({ kind }) => kind === "apply-evidence"),
  },
  {
    id: "over",
    title: "Hand it over",
    leaf: "handover",
    words:
      "The card says what was changed and why, with cautions to sign. Print it or save it, and save the table for the controller.",
    done: ({ view }) => view.leaf === "handover",
  },
];
