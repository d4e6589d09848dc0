import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { readJob, replayJob } from "@fuelwright/table-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { BenchPage, downloadInsteadOfAsking, type NamedCell } from "./bench-page.ts";
import { startMortalBrowser } from "./mortal-browser.ts";
import { applyEdit, type Edit, freshModel, type Model, randomFrom } from "./random-edits.ts";
import { type ServedPage, servePage } from "./served-page.ts";

const ROUNDS = 50;
/** Steps that the demo job begins with. */
const BEFORE = 2;
/** A browser dies at the latest so long after its start, where it is to die before there is anything to see. */
const OPENING_MS = 700;
/** A browser that is edited dies so long after its last edit began, at the latest, and mostly sooner. */
const IN_FLIGHT_MS = 120;
const MOST_EDITS = 8;

let served: ServedPage;
let profile: string;

beforeAll(async () => {
  [served, profile] = await Promise.all([servePage(), mkdtemp(join(tmpdir(), "fuelwright-profile-"))]);
}, 60_000);

afterAll(async () => {
  await served?.close();
  await rm(profile, { recursive: true, force: true });
});

/** What the page says of our steps, in the words of {@link sayModel}. */
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

const sayModel = ({ now }: Model) =>
  now.steps.map(({ value, rpm, load, on }) => `${value} at ${rpm.toLocaleString("en")}, ${load}: ${on ? "on" : "off"}`);

/** What each cell must show: the last step that is on, or what it was at first. */
function cellsOf({ now }: Model, first: readonly NamedCell[]): string[] {
  return first.map(({ rpm, load, value }) => {
    const last = now.steps.findLast((step) => step.on && step.rpm === rpm && step.load === load);
    return `${rpm}, ${load}: ${(last?.value ?? value).toFixed(2)}`;
  });
}

const wordsOf = (verb: "Undo" | "Redo", label: string | null | undefined) => (label ? `${verb}: ${label}` : verb);
const buttonWords = async (bench: BenchPage) =>
  Promise.all(
    [bench.undo, bench.redo].map(async (button) => (await button.textContent())!.replace(/\s+/g, " ").trim()),
  );
const modelWords = ({ now, undone }: Model) => [wordsOf("Undo", now.label), wordsOf("Redo", undone.at(-1)?.label)];

/** Waits until the page says that the model's last change is done, and that it is on the disk. */
async function acknowledged(bench: BenchPage, model: Model): Promise<void> {
  const [undo] = modelWords(model);
  await bench.button(undo!).waitFor();
  await bench.kept.waitFor();
}

test(`a browser killed ${ROUNDS} times while it is edited loses at most the change in flight`, async () => {
  const seed = Number(process.env.FUELWRIGHT_SEED ?? Math.floor(Math.random() * 2 ** 31));
  console.log(`kill.test.ts: FUELWRIGHT_SEED=${seed}`);
  const random = randomFrom(seed);
  const below = (count: number) => Math.floor(random() * count);

  let first: NamedCell[] | null = null;
  let rpms: number[] = [];
  let loads: number[] = [];
  let sets = 0;
  /** The model after each edit since what the last browser is known to have kept. */
  let sent: Model[] = [freshModel];
  /** The place in `sent` that was last said to be kept. */
  let kept = 0;
  const found = { rounds: 0, opening: 0, inFlight: 0, lost: 0, edits: 0 };

  for (let round = 0; found.rounds < ROUNDS; round++) {
    const where = `seed ${seed}, round ${round}`;
    const browser = startMortalBrowser(profile, served.address);
    // Now and then the browser dies before there is anything to see.
    if (round > 0 && random() < 0.12) {
      await wait(below(OPENING_MS));
      await browser.kill();
      found.opening++;
      continue;
    }
    const bench = new BenchPage(await browser.page(), served);
    await bench.kept.waitFor();

    // What the last kill has left is a state that was, and none before the one last said to be kept.
    const [steps, words] = [await saySteps(bench), await buttonWords(bench)];
    const left = sent.findLastIndex(
      (model) => sayModel(model).join() === steps.join() && modelWords(model).join() === words.join(),
    );
    expect(
      left,
      `${where}: ${words.join()} with ${steps.slice(-4).join("; ")}; sent ${sent.map((model) => modelWords(model).join()).join(" | ")}`,
    ).toBeGreaterThanOrEqual(kept);
    found.lost += sent.length - 1 - left;
    let model = sent[left]!;
    first ??= await bench.cells();
    await expect
      .poll(async () => (await bench.cells()).map(({ rpm, load, value }) => `${rpm}, ${load}: ${value.toFixed(2)}`), {
        message: where,
        timeout: 5000,
      })
      .toEqual(cellsOf(model, first));
    if (rpms.length === 0) {
      rpms = [...new Set(first.map(({ rpm }) => rpm))].sort((a, b) => a - b);
      loads = [...new Set(first.map(({ load }) => load))].sort((a, b) => b - a);
    }

    // On with it, either waiting each time until it is kept, or as fast as hands can go.
    const patient = random() < 0.5;
    sent = [model];
    kept = 0;
    let [x, y] = [below(rpms.length), below(loads.length)];
    const onGrid = () => bench.cell(rpms[x]!, loads[y]!).click();
    let dead = false;
    let editsLeft = 1 + below(MOST_EDITS);
    let lastBegan = () => {};
    const last = new Promise<void>((resolve) => {
      lastBegan = resolve;
    });
    const edit = async (one: Edit, act: () => Promise<unknown>) => {
      // From here on it may be in flight.
      model = applyEdit(model, one, BEFORE);
      sent.push(model);
      if (--editsLeft === 0) lastBegan();
      await act();
      found.edits++;
    };
    const press = (key: string) => bench.page.keyboard.press(key);
    const edits = async () => {
      await onGrid();
      // Undo goes back over what another browser kept.
      await edit({ kind: "undo" }, () => press("Control+z"));
      await edit({ kind: "redo" }, () => press("Control+Shift+z"));
      while (!dead) {
        const dice = random();
        if (dice < 0.12) await edit({ kind: "undo" }, () => press("Control+z"));
        else if (dice < 0.2) await edit({ kind: "redo" }, () => press("Control+Shift+z"));
        else if (dice < 0.27 && model.now.steps.length > 0) {
          const at = below(model.now.steps.length);
          await edit({ kind: "switch", at }, () => bench.stepSwitch(BEFORE + at + 1).click());
          await onGrid();
        } else {
          for (let moves = below(4); moves > 0; moves--) {
            const [key, dx, dy] = (
              [
                ["ArrowLeft", -1, 0],
                ["ArrowRight", 1, 0],
                ["ArrowUp", 0, -1],
                ["ArrowDown", 0, 1],
              ] as const
            )[below(4)]!;
            x = Math.min(rpms.length - 1, Math.max(0, x + dx));
            y = Math.min(loads.length - 1, Math.max(0, y + dy));
            await press(key);
          }
          const value = (101 + (sets++ % 799)) / 100;
          await bench.page.keyboard.type(String(value));
          await edit({ kind: "set", value, rpm: rpms[x]!, load: loads[y]! }, () => press("Enter"));
        }
        const at = sent.length - 1;
        if (!patient && random() < 0.7) continue;
        await acknowledged(bench, model);
        kept = at;
      }
    };
    const editing = edits().catch((error: unknown) => {
      // Only death is an excuse.
      if (!dead) throw error;
    });
    await Promise.race([editing, last]);
    await wait(random() ** 2 * IN_FLIGHT_MS);
    dead = true;
    await browser.kill();
    await editing;
    if (sent.length - 1 > kept) found.inFlight++;
    found.rounds++;
  }

  // The last one lives: everything is undone to the first state and done again, and the job saved is whole.
  const browser = startMortalBrowser(profile, served.address);
  const bench = new BenchPage(await browser.page(), served);
  await bench.kept.waitFor();
  const [steps, words] = [await saySteps(bench), await buttonWords(bench)];
  const left = sent.findLastIndex(
    (model) => sayModel(model).join() === steps.join() && modelWords(model).join() === words.join(),
  );
  expect(left, `seed ${seed}, at the end`).toBeGreaterThanOrEqual(kept);
  const model = sent[left]!;
  await downloadInsteadOfAsking(bench.page);
  await bench.reload();
  const job = readJob((await bench.saveJob()).text);
  expect(job.steps.slice(BEFORE).map(({ kind, on }) => `${kind} ${on}`)).toEqual(
    model.now.steps.map(({ on }) => `set-cells ${on}`),
  );
  expect(replayJob(job).outcomes.every(({ status }) => status !== "passed-over")).toBe(true);
  const table = replayJob(job).state.tables.fuel!;
  const columns = table.rpm.breakpoints.length;
  expect(
    Array.from(
      table.cells,
      (cell, at) =>
        `${table.rpm.breakpoints[at % columns]}, ${table.load.breakpoints[Math.floor(at / columns)]}: ${cell.toFixed(2)}`,
    ).sort(),
  ).toEqual(cellsOf(model, first!).sort());
  await bench.cell(rpms[0]!, loads[0]!).click();
  for (let at = 0; at < model.past.length; at++) await bench.page.keyboard.press("Control+z");
  await expect.poll(() => bench.undo.isDisabled(), { timeout: 10_000 }).toBe(true);
  expect(await saySteps(bench)).toEqual([]);
  for (let at = 0; at < model.past.length; at++) await bench.page.keyboard.press("Control+Shift+z");
  await expect.poll(() => saySteps(bench), { timeout: 10_000 }).toEqual(steps);
  await browser.kill();
  console.log(`kill.test.ts: ${JSON.stringify({ ...found, steps: steps.length, states: model.past.length })}`);
  expect(found.rounds).toBe(ROUNDS);
}, 240_000);
