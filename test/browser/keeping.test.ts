import { writeJob } from "@fuelwright/table-core";
import { afterEach, expect, test } from "vitest";
import { Bench } from "../../packages/workbench/src/store/bench.ts";
import { addStep, makeStep, renameJob } from "../../packages/workbench/src/store/commands.ts";
import { demoJob } from "../../packages/workbench/src/store/demo-job.ts";
import { Keeper, type KeepingState } from "../../packages/workbench/src/store/keeping.ts";

const open: Keeper[] = [];
let told: KeepingState[] = [];
let place = 0;

async function keeperOf(name: string): Promise<Keeper> {
  const keeper = await Keeper.open((state) => told.push(state), name);
  open.push(keeper);
  return keeper;
}

const freshPlace = () => `keeping-test-${Date.now()}-${place++}`;

afterEach(() => {
  for (const keeper of open.splice(0)) keeper.close();
  told = [];
});

function changedBench(): Bench {
  const bench = new Bench(demoJob());
  bench.perform(addStep(makeStep(bench.job, "scale-cells", "fuel", { factor: 1.02 }), "Scale"));
  bench.perform(renameJob("Another name", "about it"));
  bench.undo();
  return bench;
}

test("every state of a job comes back after a reload, with undo and redo where they stood", async () => {
  const name = freshPlace();
  const bench = changedBench();
  await (await keeperOf(name)).save(bench.history);
  const history = (await (await keeperOf(name)).load("demo"))!;
  const again = new Bench(demoJob());
  again.openHistory(history);
  expect(writeJob(again.job)).toBe(writeJob(bench.job));
  expect(again.undoLabel).toBe("Scale");
  expect(again.redoLabel).toBe("Rename the job to Another name");
  again.redo();
  expect(again.job.name).toBe("Another name");
  again.undo();
  again.undo();
  expect(writeJob(again.job)).toBe(writeJob(demoJob()));
});

test("a loaded history goes on growing, and unchanged parts stay the same values", async () => {
  const name = freshPlace();
  await (await keeperOf(name)).save(changedBench().history);
  const keeper = await keeperOf(name);
  const bench = new Bench(demoJob());
  bench.openHistory((await keeper.load("demo"))!);
  const [first, second] = bench.history.entries;
  expect(second!.job.tables[0]).toBe(first!.job.tables[0]);
  expect(second!.job.build).toBe(first!.job.build);
  bench.perform(renameJob("A third name", ""));
  await keeper.save(bench.history);
  const history = (await (await keeperOf(name)).load("demo"))!;
  expect(history.entries.map(({ label }) => label)).toEqual(
    ["Open the demo job", "Scale", "Rename the job to Another name", "Rename the job to A third name"].map(
      (label, at) => (at === 0 ? history.entries[0]!.label : label),
    ),
  );
  expect(history.entries[history.at]!.job.name).toBe("A third name");
});

test("changes that come while one is written all arrive", async () => {
  const name = freshPlace();
  const keeper = await keeperOf(name);
  const bench = new Bench(demoJob());
  const saves: Promise<void>[] = [];
  for (let n = 1; n <= 60; n++) {
    bench.perform(renameJob(`name ${n}`, ""));
    saves.push(keeper.save(bench.history));
  }
  await Promise.all(saves);
  const history = (await (await keeperOf(name)).load("demo"))!;
  expect(history.entries).toHaveLength(61);
  expect(history.entries.at(-1)!.job.name).toBe("name 60");
  expect(told.at(-1)!.kind).toBe("kept");
});

test("what was wiped meanwhile is written again in full with the next change", async () => {
  const name = freshPlace();
  const keeper = await keeperOf(name);
  const bench = changedBench();
  await keeper.save(bench.history);
  const database = await new Promise<IDBDatabase>((resolve, reject) => {
    const request = indexedDB.open(name);
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
  await new Promise<void>((resolve) => {
    const wiping = database.transaction(["jobs", "entries", "parts"], "readwrite");
    for (const store of ["jobs", "entries", "parts"]) wiping.objectStore(store).clear();
    wiping.oncomplete = () => resolve();
  });
  database.close();
  bench.perform(renameJob("After the wipe", ""));
  await keeper.save(bench.history);
  const history = (await (await keeperOf(name)).load("demo"))!;
  expect(history.entries).toHaveLength(bench.history.entries.length);
  expect(writeJob(history.entries[history.at]!.job)).toBe(writeJob(bench.job));
});

test("jobs are listed with the latest first, and a removed one is gone", async () => {
  const name = freshPlace();
  const keeper = await keeperOf(name);
  const first = new Bench({ ...demoJob(), id: "one", name: "One" });
  await keeper.save(first.history);
  const second = new Bench({ ...demoJob(), id: "two", name: "Two" });
  second.perform(renameJob("Two again", ""));
  await keeper.save(second.history);
  expect((await keeper.list()).map((job) => job.name)).toEqual(["Two again", "One"]);
  await keeper.remove("two");
  expect((await keeper.list()).map(({ id }) => id)).toEqual(["one"]);
  expect(await keeper.load("two")).toBeNull();
});

test("a closed storage is told with its reason", async () => {
  const keeper = await keeperOf(freshPlace());
  keeper.close();
  await keeper.save(changedBench().history);
  const last = told.at(-1)!;
  expect(last.kind).toBe("failed");
  expect((last as { why: string }).why).not.toBe("");
});

test("what another has kept under the same name is never written over", async () => {
  const name = freshPlace();
  await (await keeperOf(name)).save(changedBench().history);
  const stranger = await keeperOf(name);
  await stranger.save(new Bench(demoJob()).history);
  const last = told.at(-1)!;
  expect(last.kind).toBe("failed");
  expect((last as { why: string }).why).toContain("changed elsewhere");
  expect((await stranger.load("demo"))!.entries).toHaveLength(3);
});

test("a part that two jobs share is kept in each of them", async () => {
  const name = freshPlace();
  const keeper = await keeperOf(name);
  const first = new Bench(demoJob());
  await keeper.save(first.history);
  // Its parts stand in another order, so that a key of one job means another part in the other.
  const second = new Bench({ ...first.job, id: "other", name: "Other", steps: first.job.steps.toReversed() });
  second.perform(renameJob("Other again", ""));
  await keeper.save(second.history);
  first.perform(renameJob("First again", ""));
  await keeper.save(first.history);
  for (const [id, bench] of [
    ["demo", first],
    ["other", second],
  ] as const) {
    // biome-ignore format: pairs
    const history = (await (await keeperOf(name)).load(id))!;
    expect(writeJob(history.entries[history.at]!.job)).toBe(writeJob(bench.job));
  }
});
