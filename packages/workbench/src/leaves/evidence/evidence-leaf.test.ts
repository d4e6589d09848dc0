import { type AppliedEvidence, simulatedCsv, simulateLog } from "@fuelwright/table-core";
import axe from "axe-core";
import { html, render } from "lit";
import { afterEach, beforeEach, expect, test } from "vitest";
import { page, userEvent } from "vitest/browser";
import { pageTokens } from "../../elements/tokens.ts";
import { demoJob } from "../../store/demo-job.ts";
import { Desk } from "../../store/desk.ts";
import { evidenceBench } from "./evidence-bench.ts";
import "./evidence-leaf.ts";

let desk: Desk;

beforeEach(() => {
  desk = new Desk(demoJob());
  render(
    html`<style>${pageTokens} body { margin: 0; background: var(--fw-paper); font-family: var(--fw-font); font-size: 14px }</style>
      <main><fw-evidence-leaf .desk=${desk}></fw-evidence-leaf></main>`,
    document.body,
  );
});
afterEach(() => {
  evidenceBench(desk).cancel();
  render(html``, document.body);
  document.documentElement.className = "";
});

const button = (name: string | RegExp) => page.getByRole("button", { name });
const fitted = () => page.getByText(/^Fitted from [\d,]+ of [\d,]+ readings\.$/);
const patience = { timeout: 100_000 };
const give = (...files: File[]) => evidenceBench(desk).addFiles(files, "correct");
const csv = (text: string, name = "ride.csv") => new File([text], name, { type: "text/csv" });

/** A short ride on the demo's own table, as a logger writes it. */
function rideText(): string {
  const { rpm, load } = desk.job.tables[0]!;
  return [...simulatedCsv(simulateLog({ seed: 3, rpm, load, minutes: 2, hertz: 20, warmUp: false }))].join("");
}

/** Neither in light nor in dark, with everything open that opens. */
async function expectNoFaults() {
  const leaf = document.querySelector("fw-evidence-leaf")!.shadowRoot!;
  for (const details of leaf.querySelectorAll("details")) details.open = true;
  for (const theme of ["light", "dark"]) {
    document.documentElement.className = theme;
    const { violations } = await axe.run(document.querySelector("main")!, {
      runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"],
    });
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);
  }
}

test("fits a made log, applies what is proven as a step, and asks a second log whether it worked", async () => {
  await button("Try it with a made log").click();
  await expect.element(fitted(), patience).toBeVisible();

  const result = page.getByRole("grid", { name: "Correction of each cell's fuel, Both cylinders" });
  await expect
    .element(result.getByRole("gridcell", { name: /give or take .* readings, / }).first())
    .toBeInTheDocument();
  await expect.element(page.getByRole("img", { name: /^What no table explains, by the delay assumed/ })).toBeVisible();
  await expect.element(page.getByText("Simulated.", { exact: true })).toBeVisible();
  await expect
    .element(page.getByRole("region", { name: "Where to ride next" }))
    .toHaveTextContent(/Hold [\d,]+ rpm at \d+ kPa/);
  expect(desk.job.steps).toHaveLength(2);

  await expectNoFaults();

  const card = page.getByRole("region", { name: "Apply" });
  const cap = card.getByRole("textbox", { name: "A cell changes at most by" });
  await cap.fill("4");
  await userEvent.keyboard("{Enter}");
  await expect.element(card).toHaveTextContent(/at most by (−3\.8|\+4) % fuel/);
  await button("Apply as step 3").click();
  const step = desk.job.steps[2]!;
  expect(step.kind).toBe("apply-evidence");
  const { applied, changed } = desk.bench.replay.outcomes[2]!.report as AppliedEvidence;
  expect(changed).toBeGreaterThan(20);
  expect(Math.max(...applied.map(Math.abs))).toBeLessThanOrEqual(Math.log(1.04) + 1e-12);
  await expect.element(card).toHaveTextContent("Applied as step 3.");

  await button("Ride the made machine again").click();
  const check = page.getByRole("region", { name: "Did it work" });
  await expect.element(check.getByRole("table", { name: "Before and after" }), patience).toBeVisible();
  await expect.element(check).toHaveTextContent(/Partly: much of it is gone|Yes: what is left/);
  const second = page.getByRole("grid", { name: "Correction of each cell's fuel, Both cylinders, second log" });
  await expect.element(second.getByRole("gridcell", { name: /give or take/ }).first()).toBeInTheDocument();

  desk.undo();
  await expect.element(button("Apply as step 3")).toBeEnabled();
  expect(desk.job.steps).toHaveLength(2);
});

test("a gate changed in place counts and fits anew, and only ever removes", async () => {
  give(csv(rideText()));
  await expect.element(fitted(), patience).toBeVisible();
  const before = evidenceBench(desk).counts!.kept;
  await page.getByText("sensor at its stop").click();
  const low = page.getByRole("textbox", { name: "lambda at least" });
  await low.fill("0.9");
  await userEvent.keyboard("{Enter}");
  await expect.poll(() => evidenceBench(desk).fit.correct.running).toBe(true);
  await expect.poll(() => evidenceBench(desk).fit.correct.running, patience).toBe(false);
  const { kept, gates } = evidenceBench(desk).counts!;
  expect(kept).toBeLessThan(before);
  expect(gates.find(({ kind }) => kind === "sensor-range")!.removed).toBeGreaterThan(0);
});

test("columns that were not understood are put right by hand", async () => {
  const text = rideText()
    .replace("measured lambda (lambda)", "probe B")
    .replaceAll(",", ";")
    .replaceAll(/(\d)\.(\d)/g, "$1,$2");
  give(csv(text));
  await expect.element(page.getByRole("alert")).toHaveTextContent(/no readings of lambda/i);
  await page.getByText("Columns and units").click();
  await page.getByRole("combobox", { name: /1 column is not read/ }).fill("probe B");
  await page.getByRole("combobox", { name: "as" }).selectOptions("measured lambda");
  await button("Take it").click();
  await expect.element(fitted(), patience).toBeVisible();
});

test("what can't be read or fitted is told in a sentence, and the job stays as it was", async () => {
  const { job } = desk;
  const head = "time,rpm,manifold pressure,lambda\n";
  const rows = (count: number, row: (at: number) => string) =>
    Array.from({ length: count }, (_, at) => row(at)).join("\n");
  const hard: readonly [File, RegExp][] = [
    [csv(""), /holds no rows/],
    [csv("what a day\nit was"), /one column only/],
    [csv(`rpm,lambda\n${rows(50, () => "2000,1")}`), /no column of times/],
    [csv(`time,rpm,manifold pressure\n${rows(50, (at) => `${at / 10},2000,50`)}`), /no readings of lambda/],
    [csv(`${head}0,2000,50,1`), /gates leave 0 of 1 readings/],
    [csv(head + rows(900, (at) => `${at / 10},2000,50,1`)), /gates leave|only/],
    [csv(head + rows(900, (at) => `${at / 10},100,50,${1 + (at % 7) / 100}`)), /out of range/],
  ];
  for (const [file, sentence] of hard) {
    give(file);
    await expect.element(page.getByRole("alert").first(), patience).toHaveTextContent(new RegExp(sentence, "i"));
    const bench = evidenceBench(desk);
    bench.remove(bench.logs[0]!.id);
    await expect.poll(() => page.getByRole("alert").elements().length).toBe(0);
  }
  expect(desk.job).toBe(job);
});

test("a log of ten thousand columns is read, and those that mean nothing are named only", async () => {
  const names = Array.from({ length: 10_000 }, (_, at) => `x${at}q`);
  const line = (time: number) => `${time},2000,50,1.01,${names.map(() => 1).join(",")}`;
  give(csv(`time,rpm,map,lambda,${names.join(",")}\n${[0, 1, 2, 3].map(line).join("\n")}`));
  await expect.element(page.getByText("Columns and units"), patience).toBeVisible();
  await page.getByText("Columns and units").click();
  await expect.element(page.getByText(/10,000 columns are not read/)).toBeVisible();
});

test("reading is cancelled in the middle, and read again when asked", async () => {
  const text = rideText();
  const [head, ...rows] = text.split("\n");
  const long = [head, rows[0], ...Array.from({ length: 40 }, () => rows.slice(1).join("\n"))].join("\n");
  give(csv(long));
  await button("Cancel").first().click();
  await expect.element(page.getByRole("alert").first(), patience).toHaveTextContent("cancelled");
  await button("Read it again").click();
  await expect.element(page.getByText(/simulated, [\d,]+ rows/), patience).toBeVisible();
});
