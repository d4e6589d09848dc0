import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { type FuelTable, readJob, replayJob } from "@fuelwright/table-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { BenchPage, downloadInsteadOfAsking, type NamedCell } from "./bench-page.ts";
import { killTheLiving, startMortalBrowser } from "./mortal-browser.ts";
import { freshModel, type Model, modelWords, randomFrom, sayModel } from "./random-edits.ts";
import { type ServedPage, servePage } from "./served-page.ts";
import { type Breakpoints, Tuner } from "./tuner.ts";

const ROUNDS = 50;
/** A table small enough that the time goes into keeping, not into drawing. */
const SMALL = {
  name: "small",
  text: [
    "pulse width ms: manifold pressure kPa \\ rpm,1000,2000,3000,4000",
    "30,1,2,3,4",
    "60,2,3,4,5",
    "90,3,4,5,6",
  ].join("\n"),
};
const FIRST: Model = freshModel(`Bring in ${SMALL.name}`);
/** Share of browsers that die before there is anything to see, and when they do at the latest. */
const OPENING = { share: 0.12, ms: 700 };
/** How long after its last edit began a browser dies at the latest; mostly it is sooner. */
const IN_FLIGHT_MS = 120;

let served: ServedPage;
let profile: string;

beforeAll(async () => {
  [served, profile] = await Promise.all([servePage(), mkdtemp(join(tmpdir(), "fuelwright-profile-"))]);
}, 60_000);

afterAll(async () => {
  await killTheLiving();
  await served?.close();
  // What a killed browser was writing may still be on its way to the disk.
  await rm(profile, { recursive: true, force: true, maxRetries: 5 });
});

/** The steps as the strip says them, in the words of `sayModel`. */
async function saySteps(bench: BenchPage): Promise<string[]> {
  const said = await bench.steps.getByRole("listitem").evaluateAll((items) =>
    items.map((item) => {
      const text = item.textContent!.replace(/\s+/g, " ");
      const [, value, rpm, load] = /Set to ([\d.]+).*?([\d,]+) rpm, ([\d,.]+) kPa/.exec(text) ?? [];
      const on = item.querySelector<HTMLInputElement>("input[type=checkbox]")?.checked;
      return value === undefined ? null : `${value} at ${rpm}, ${load}: ${on ? "on" : "off"}`;
    }),
  );
  return said.filter((one) => one !== null);
}

/** What the page says of the steps, of undo and of redo; {@link sayState} says the same of a model. */
async function sayPage(bench: BenchPage): Promise<string> {
  const buttons = await Promise.all([bench.undo, bench.redo].map((button) => button.textContent()));
  return [...buttons.map((text) => text!.replace(/\s+/g, " ").trim()), ...(await saySteps(bench))].join(" | ");
}
const sayState = (model: Model) => [...modelWords(model), ...sayModel(model)].join(" | ");

const sayCell = (rpm: number, load: number, value: number) => `${rpm} rpm, ${load} kPa: ${value.toFixed(2)}`;
const sayCells = (cells: readonly NamedCell[]) => cells.map(({ rpm, load, value }) => sayCell(rpm, load, value)).sort();

/** What each cell must show: the last step that is on, or what it was at first. */
const cellsOf = ({ now }: Model, first: readonly NamedCell[]) =>
  first
    .map(({ rpm, load, value }) => {
      const last = now.steps.findLast((step) => step.on && step.rpm === rpm && step.load === load);
      return sayCell(rpm, load, last?.value ?? value);
    })
    .sort();

function sayTable({ rpm, load, cells }: FuelTable): string[] {
  const columns = rpm.breakpoints.length;
  return Array.from(cells, (cell, at) =>
    sayCell(rpm.breakpoints[at % columns]!, load.breakpoints[Math.floor(at / columns)]!, cell),
  ).sort();
}

/** The state that a killed browser has left: one that was, and none before the one last said to be kept. */
async function expectLeft(
  bench: BenchPage,
  { sent, kept }: Pick<Tuner, "sent" | "kept">,
  where: string,
): Promise<Model> {
  const said = await sayPage(bench);
  const left = sent.findLastIndex((model) => sayState(model) === said);
  const story = `${where}: ${said}\nis none of\n${sent.map(sayState).join("\n")}\nfrom ${kept} on`;
  expect(left, story).toBeGreaterThanOrEqual(kept);
  return sent[left]!;
}

/** Makes the job that is then edited, in a browser that is killed as well. Returns its cells. */
async function bringInSmall(): Promise<NamedCell[]> {
  const browser = startMortalBrowser(profile, served.address);
  const bench = new BenchPage(await browser.page(), served);
  await bench.kept.waitFor();
  await bench.clearDemo();
  await bench.openBringIn();
  await bench.field("Text", bench.bringIn).fill(SMALL.text);
  await bench.fill("Name", SMALL.name, bench.bringIn);
  await bench.takeOver();
  await bench.button(modelWords(FIRST)[0]).waitFor();
  await bench.kept.waitFor();
  await expect.poll(async () => (await bench.cells()).length).toBe(12);
  const cells = await bench.cells();
  await browser.kill();
  return cells;
}

/** Edits, either waiting each time until it is kept or as fast as hands can go, and has the browser killed meanwhile. */
async function editUntilKilled(tuner: Tuner, random: () => number, kill: () => Promise<void>): Promise<void> {
  const edits = Math.floor(random() * 6);
  const patient = random() < 0.5;
  // It dies while the last edit is carried out, or right after the page has said that it is kept.
  const inFlight = !patient || random() < 0.5;
  let dead = false;
  let die = () => {};
  const death = new Promise<void>((resolve) => {
    die = resolve;
  });
  const work = async () => {
    await tuner.begin();
    // Undo goes back over what another browser kept.
    await tuner.undo();
    await tuner.redo();
    for (let edit = 0; edit < edits; edit++) {
      await tuner.anything();
      if (patient || random() < 0.3) await tuner.acknowledged();
    }
    if (inFlight) die();
    await tuner.anything();
    await tuner.acknowledged();
    die();
  };
  const working = work().catch((error: unknown) => {
    // Death alone is an excuse.
    if (!dead) throw error;
  });
  await Promise.race([death, working]);
  if (inFlight) await wait(random() ** 2 * IN_FLIGHT_MS);
  dead = true;
  await kill();
  await working;
}

test(`a browser killed ${ROUNDS} times while it is edited loses at most the change in flight`, async () => {
  const seed = Number(process.env.FUELWRIGHT_SEED ?? Math.floor(Math.random() * 2 ** 31));
  console.log(`To repeat: FUELWRIGHT_SEED=${seed}`);
  const random = randomFrom(seed);
  const first = await bringInSmall();
  const cells: Breakpoints = {
    rpm: [...new Set(first.map(({ rpm }) => rpm))],
    load: [...new Set(first.map(({ load }) => load))],
  };
  let last: Pick<Tuner, "sent" | "kept"> = { sent: [FIRST], kept: 0 };
  const count = { edits: 0, unsaid: 0, lost: 0, dead: 0 };

  for (let round = 0; round < ROUNDS; ) {
    const browser = startMortalBrowser(profile, served.address);
    if (random() < OPENING.share) {
      await wait(random() * OPENING.ms);
      await browser.kill();
      count.dead++;
      continue;
    }
    const bench = new BenchPage(await browser.page(), served);
    await bench.kept.waitFor();
    const where = `seed ${seed}, round ${round}`;
    const model = await expectLeft(bench, last, where);
    await expect
      .poll(async () => sayCells(await bench.cells()), { message: where, timeout: 5000 })
      .toEqual(cellsOf(model, first));
    count.lost += last.sent.length - 1 - last.sent.indexOf(model);
    const tuner = new Tuner(bench, cells, random, model);
    await editUntilKilled(tuner, random, browser.kill);
    last = tuner;
    count.edits += tuner.sent.length - 1;
    count.unsaid += tuner.sent.length - 1 - tuner.kept;
    round++;
  }

  // The last one lives: the job saved is whole, all is undone down to the first state, and done again.
  const browser = startMortalBrowser(profile, served.address);
  const bench = new BenchPage(await browser.page(), served);
  await bench.kept.waitFor();
  const model = await expectLeft(bench, last, `seed ${seed}, at the end`);
  await downloadInsteadOfAsking(bench.page);
  await bench.reload();
  const replay = replayJob(readJob((await bench.saveJob()).text));
  expect(replay.outcomes.map(({ status }) => status)).toEqual(
    model.now.steps.map(({ on }) => (on ? "applied" : "off")),
  );
  expect(sayTable(replay.state.tables.small!)).toEqual(cellsOf(model, first));
  await bench.cell(cells.rpm[0]!, cells.load[0]!).click();
  for (const _ of model.past) await bench.page.keyboard.press("Control+z");
  await expect.poll(() => sayPage(bench), { timeout: 10_000 }).toContain(modelWords(FIRST)[0]);
  expect(await saySteps(bench)).toEqual([]);
  for (const _ of model.past) await bench.page.keyboard.press("Control+Shift+z");
  await expect.poll(() => saySteps(bench), { timeout: 10_000 }).toEqual(sayModel(model));
  await browser.kill();
  console.log(
    `${count.edits} edits, ${model.past.length} states deep; killed before ${count.unsaid} were said to be kept, of which ` +
      `${count.lost} were lost; ${count.dead} more killed while opening`,
  );
  // Else the kills came at the wrong moments, and proved little.
  expect(count.unsaid).toBeGreaterThan(ROUNDS / 4);
  expect(count.unsaid).toBeLessThan(count.edits);
}, 600_000);
