import { createAxis, createJob, createTable, replayJob } from "@fuelwright/table-core";
import { expect, test } from "vitest";
import { makeStep } from "./commands.ts";
import { emptyJob } from "./demo-job.ts";
import { firstGuesses } from "./first-guesses.ts";

const table = createTable({
  id: "t",
  name: "invented",
  quantity: "pulse-width",
  rpm: createAxis({ quantity: "rpm", breakpoints: [1000, 2000, 3000] }),
  load: createAxis({ quantity: "manifold-pressure", breakpoints: [40, 80] }),
  cells: [
    [3, 4, 5],
    [6, 7, 8],
  ],
});
const blank = createJob({ ...emptyJob(null), tables: [table] });
const curve = makeStep(blank, "shape-cells", "t", { along: "rpm", points: [[1000, 1.1]], region: { rpm: [2000, 3000], load: [80, 80] } }); // biome-ignore format: one step

test("cells that a drawn curve changed are first guesses, and only those", () => {
  const replay = replayJob(createJob({ ...blank, steps: [curve] }));
  expect(firstGuesses(replay, replay.state.tables.t!, 1).map(({ at }) => at)).toEqual([4, 5]);
  expect(firstGuesses(replay, table, 0)).toEqual([]);
});

test("a step that is off, or works on another table, guesses nothing here", () => {
  const replay = replayJob(createJob({ ...blank, steps: [{ ...curve, on: false }] }));
  expect(firstGuesses(replay, table, 1)).toEqual([]);
  const scaled = replayJob(createJob({ ...blank, steps: [makeStep(blank, "scale-cells", "t", { factor: 2 })] }));
  expect(firstGuesses(scaled, scaled.state.tables.t!, 1)).toEqual([]);
});

test("displacement marks every cell it carried over", () => {
  const step = makeStep(blank, "change-displacement", undefined, { tables: ["t"], toCc: 700 });
  const replay = replayJob(createJob({ ...blank, steps: [step] }));
  expect(firstGuesses(replay, replay.state.tables.t!, 1)).toHaveLength(6);
});
