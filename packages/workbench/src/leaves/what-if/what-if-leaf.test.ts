import {
  correctForTemperature,
  createAxis,
  createTable,
  enrichmentFor,
  mixtureResponse,
  sayMixture,
  steadyState,
  typicalFilms,
  typicalWarmUp,
} from "@fuelwright/table-core";
import axe from "axe-core";
import { html, render } from "lit";
import { afterEach, beforeEach, expect, test } from "vitest";
import { page, userEvent } from "vitest/browser";
import { pageTokens } from "../../elements/tokens.ts";
import { demoJob, emptyJob } from "../../store/demo-job.ts";
import { Desk } from "../../store/desk.ts";
import { figure } from "../../store/display.ts";
import { questions } from "./questions.ts";
import { experiments, keepTrial, sceneOf, type Trial, trialOf } from "./trial.ts";
import type { WhatIfLeaf } from "./what-if-leaf.ts";
import "./what-if-leaf.ts";

let desk: Desk;

beforeEach(() => {
  desk = new Desk(demoJob());
});

afterEach(async () => {
  render(html``, document.body);
  document.documentElement.className = "";
  await page.viewport(1280, 800);
});

async function show(part: Partial<Trial> = {}): Promise<WhatIfLeaf> {
  keepTrial(desk, { ...trialOf(desk), ...part });
  render(
    html`<style>${pageTokens} body { margin: 0; background: var(--fw-paper); font-family: var(--fw-font); font-size: 14px }</style>
      <main><fw-what-if-leaf .desk=${desk}></fw-what-if-leaf></main>`,
    document.body,
  );
  const leaf = document.querySelector<WhatIfLeaf>("fw-what-if-leaf")!;
  // What was put into the trial from outside is not listened to.
  leaf.requestUpdate();
  await leaf.updateComplete;
  return leaf;
}

const scene = () => sceneOf(desk, trialOf(desk), () => {});
const slider = (name: string) => page.getByRole("slider", { name: `${name}, slider` });
/** The figure under a name, as it is shown. */
async function figureOf(name: string): Promise<string> {
  const term = page.getByText(name, { exact: true }).first();
  await expect.element(term).toBeInTheDocument();
  return term.element().nextElementSibling!.textContent!.trim();
}

test("says fuel, pulse, duty and flow of the job's own table and injectors", async () => {
  await show();
  const { tables, build } = desk.shown;
  const { own } = scene();
  const expected = steadyState({ build, table: tables.fuel!, target: tables.target!, rpm: own.rpm, load: own.load });
  expect(await figureOf("fuel, cylinder and cycle")).toBe(`${figure(expected.askedMg, 1)} mg`);
  expect(await figureOf("pulse")).toBe(`${figure(expected.pulseMs, 2)} ms`);
  expect(await figureOf("duty")).toBe(`${figure(100 * expected.duty, 0)} %`);
  expect(await figureOf("fuel flow, engine")).toBe(
    `${figure(expected.kilogramsPerHour, 2)} kg/h ${figure(expected.litresPerHour, 2)} L/h`,
  );
  expect(await figureOf("lambda")).toBe(figure(expected.targetLambda, 3));
  expect(await figureOf("air–fuel ratio")).toBe(`${figure(expected.mixture.afr, 2)} : 1`);
  expect(await figureOf("equivalence ratio")).toBe(figure(1 / expected.targetLambda, 3));
});

test("the mixture is dragged by keyboard, typed, and given back to the table; lean under load is warned of", async () => {
  await show();
  const own = scene().own.targetLambda;
  const before = await figureOf("fuel, cylinder and cycle");
  (slider("Mixture").element() as HTMLInputElement).focus();
  await userEvent.keyboard("{ArrowRight}{ArrowRight}");
  expect(trialOf(desk).lambda).toBeCloseTo(own + 0.01, 6);
  expect(await figureOf("fuel, cylinder and cycle")).not.toBe(before);
  expect(slider("Mixture").element().getAttribute("aria-valuetext")).toBe(`lambda ${figure(own + 0.01, 3)}`);
  const field = page.getByRole("textbox", { name: "Mixture" });
  await field.fill("1.1");
  await userEvent.keyboard("{Enter}");
  expect(await figureOf("lambda")).toBe("1.1");
  expect(await figureOf("power")).toBe(`${figure(mixtureResponse(1.1).powerPercent, 1)} % of the best mixture`);
  await expect.element(page.getByText(/may detonate here/)).toBeVisible();
  await page.getByRole("button", { name: /As the table has it/ }).click();
  expect(await figureOf("fuel, cylinder and cycle")).toBe(before);
  expect(trialOf(desk).lambda).toBeNull();
});

test("the mixture is said as the person likes it, rich at the left in each way", async () => {
  desk.prefer({ mixture: "equivalence" });
  await show({ lambda: 0.8 });
  const field = page.getByRole("textbox", { name: "Mixture" });
  await expect.element(field).toHaveValue("1.250");
  await field.fill("1.1");
  await userEvent.keyboard("{Enter}");
  expect(trialOf(desk).lambda).toBeCloseTo(1 / 1.1, 9);
  const chart = document.querySelector("fw-what-if-leaf")!.shadowRoot!.querySelector("fw-line-chart")!;
  expect(chart.x.label).toBe("Equivalence ratio");
  expect(chart.x.domain![0]).toBeGreaterThan(chart.x.domain![1]);
  desk.prefer({ mixture: "afr" });
  await expect.element(field).toHaveValue(sayMixture(1 / 1.1, "afr", desk.shown.build.fuel).toFixed(2));
});

test("the mixture is chosen by pointing at a curve", async () => {
  const leaf = await show();
  const chart = leaf.shadowRoot!.querySelector("fw-line-chart")!;
  await expect.poll(() => chart.shadowRoot!.querySelector(".plot svg")).not.toBeNull();
  const box = chart.getBoundingClientRect();
  await userEvent.click(page.elementLocator(chart), { position: { x: box.width - 14, y: box.height / 2 } });
  expect(trialOf(desk).lambda).toBeCloseTo(1.3, 6);
});

test("another fuel keeps the air and takes more of it; nothing changes the job", async () => {
  await show();
  const job = desk.job;
  const air = await figureOf("air, cylinder and cycle");
  await page.getByRole("combobox", { name: /^Fuel/ }).selectOptions("methanol");
  expect(await figureOf("air, cylinder and cycle")).toBe(air);
  expect(await figureOf("fuel, cylinder and cycle")).toMatch(/\+\d+\.\d %$/);
  const cooled = Number((await figureOf("charge cooled by")).split(" ")[0]);
  expect(cooled).toBeGreaterThan(100);
  expect(desk.job).toBe(job);
});

test("the learner tunes the enrichment until the lean spike goes, and is told what changed and why", async () => {
  await show();
  await page.getByRole("button", { name: "Moving" }).click();
  await expect.element(page.getByText(/The cylinder goes lean to lambda/)).toBeVisible();
  await page.getByRole("checkbox", { name: "Tip-in enrichment" }).click();
  await expect.element(page.getByText("Still lean: more of it.")).toBeVisible();
  const amount = page.getByRole("textbox", { name: "Added, of the rise in fuel" });
  await amount.fill("150");
  await userEvent.keyboard("{Enter}");
  await expect.element(page.getByText(/Now it goes rich, to lambda/)).toBeVisible();
  const fits = enrichmentFor(typicalFilms.warm);
  await amount.fill(fits.percent.toFixed(1));
  await userEvent.keyboard("{Enter}");
  const decay = page.getByRole("textbox", { name: "Dies away in" });
  await decay.fill("0.03");
  await userEvent.keyboard("{Enter}");
  await expect.element(page.getByText(/it dies away too soon/)).toBeVisible();
  await decay.fill(fits.decayS.toFixed(3));
  await userEvent.keyboard("{Enter}");
  await expect.element(page.getByText(/The spike is gone/)).toBeVisible();
  expect(await figureOf("lean by more than 5 %")).toBe("0 s");
  await page.getByRole("combobox", { name: "Intake walls" }).selectOptions("cold");
  await expect.element(page.getByText(/Still lean/)).toBeVisible();
  await page.getByRole("button", { name: "Show what fits these walls" }).click();
  await expect.element(page.getByText(/The spike is gone/)).toBeVisible();
});

test("lift-off is rich from what is on the walls", async () => {
  await show({ experiment: "moving", move: "lift-off" });
  await expect.element(page.getByText(/The cylinder goes rich to lambda/)).toBeVisible();
  await show({ enriched: true, tipInPercent: 10 });
  await expect.element(page.getByText(/Still rich/)).toBeVisible();
  await show({ tipInPercent: 200, tipInDecayS: 1 });
  await expect.element(page.getByText(/too much is taken away/)).toBeVisible();
});

test("a load that doesn't change asks for other loads", async () => {
  await show({ experiment: "moving", lowLoad: 60, highLoad: 61 });
  await expect.element(page.getByText(/the film has nothing to do/)).toBeVisible();
});

test("cold and hot: what the engine gets at −5 and 30 °C", async () => {
  await show({ experiment: "temperature" });
  const { own } = scene();
  const cold = correctForTemperature({
    massMg: own.askedMg,
    lambda: own.targetLambda,
    tunedAtC: desk.shown.build.place.temperatureC,
    airC: -5,
    coolantC: -5,
    warmUp: typicalWarmUp(),
  });
  const row = page.getByRole("row", { name: /warm-up correction/ });
  await expect.element(row).toHaveTextContent(new RegExp(`× ${figure(cold.warmUpFactor, 3)}`));
  await expect
    .element(page.getByRole("row", { name: /mixture, corrections off/ }))
    .toHaveTextContent(new RegExp(`lambda ${figure(cold.uncorrectedLambda, 3)}`));
  await expect.element(page.getByRole("columnheader", { name: "Started cold −5 °C" })).toBeVisible();
  await expect.element(page.getByRole("columnheader", { name: "Warm engine 30 °C" })).toBeVisible();
});

test("the job's own one-row corrections are used where it has them", async () => {
  const warmUp = createTable({
    id: "mine",
    name: "Warm-up, this engine's",
    quantity: "trim",
    rpm: createAxis({ quantity: "coolant-temperature", breakpoints: [-10, 60] }),
    cells: [[80, 0]],
  });
  desk = new Desk({ ...demoJob(), tables: [...demoJob().tables, warmUp] });
  await show({ experiment: "temperature", outsideC: 10, coolantC: -10 });
  await expect.element(page.getByText("Warm-up, this engine's").first()).toBeVisible();
  await expect.element(page.getByRole("row", { name: /warm-up correction/ })).toHaveTextContent(/× 1.8/);
});

test("demand raised until the injectors never close: commanded stays, delivered goes lean", async () => {
  await show({ experiment: "injector" });
  const commanded = await figureOf("commanded");
  expect(await figureOf("in the cylinder")).toBe(commanded);
  const demand = page.getByRole("textbox", { name: "Demand" });
  await demand.fill("290");
  await userEvent.keyboard("{Enter}");
  await expect.element(page.getByText(/The injectors never close/)).toBeVisible();
  expect(await figureOf("commanded")).toBe(commanded);
  const lambda = (text: string) => Number(text.replace("lambda ", ""));
  expect(lambda(await figureOf("in the cylinder"))).toBeGreaterThan(lambda(commanded) * 1.05);
  await expect.element(page.getByText(/of 150 cells are static/)).toBeVisible();
  (slider("Injector").element() as HTMLInputElement).focus();
  await userEvent.keyboard("{End}");
  expect(trialOf(desk).flowPercent).toBe(150);
  expect(lambda(await figureOf("in the cylinder"))).toBe(lambda(commanded));
});

test("each question has an answer that is worked out, and says so when one is wrong", async () => {
  await show({ experiment: "questions" });
  expect(questions.length).toBeGreaterThanOrEqual(12);
  for (const question of questions) {
    const { right, because } = question.answer(scene());
    const group = page.getByRole("group", { name: question.ask(scene()) });
    const wrong = (right + 1) % question.choices.length;
    await group.getByRole("button", { name: question.choices[wrong]!, exact: true }).click();
    await expect.element(group.getByRole("status")).toHaveTextContent(`No: ${question.choices[right]}. ${because}`);
    await group.getByRole("button", { name: question.choices[right]!, exact: true }).click();
    await expect.element(group.getByRole("status")).toHaveTextContent(`Yes. ${because}`);
  }
  await expect.element(page.getByText(`${questions.length} of ${questions.length} so far.`)).toBeVisible();
  await page.getByRole("button", { name: "Begin again" }).click();
  expect(trialOf(desk).answers).toEqual({});
});

test("what physics is certain of, whatever the point", () => {
  const right = (id: string) => {
    const question = questions.find((one) => one.id === id)!;
    return question.choices[question.answer(scene()).right];
  };
  expect(right("hottest-flame")).toBe("a little rich");
  expect(right("cooling-fuel")).toBe("methanol");
  expect(right("larger-injector")).toBe("the same");
  expect(right("half-the-pulse")).toBe("longer than half");
  expect(right("low-battery")).toBe("less fuel");
  expect(right("more-pressure")).toBe("about 40 %");
  expect(right("twice-the-speed")).toBe("doubles");
  expect(right("tip-in")).toBe("lean");
  expect(right("what-the-sensor-sees")).toBe("less than there is");
  expect(right("frost")).toBe("leaner");
  expect(right("ethanol")).toBe("about 60 % more");
  expect(right("ratio-on-ethanol")).toBe("lean");
  expect(right("beyond-static")).toBe("20 % leaner");
});

test("without a table the air is estimated, in every experiment", async () => {
  desk = new Desk(emptyJob(null));
  await show();
  await expect.element(page.getByText(/no fuel table yet/)).toBeVisible();
  expect(Number.parseFloat(await figureOf("fuel, cylinder and cycle"))).toBeGreaterThan(5);
  for (const experiment of experiments) await show({ experiment });
  await expect.element(page.getByText("Small questions")).toBeVisible();
});

test("a table that can't be read is told of, and the air estimated", async () => {
  const { tables, steps: _, ...job } = demoJob();
  const [fuel] = tables;
  const trims = createTable({ ...fuel!, quantity: "trim", unit: "%", storage: { min: -50, max: 50, step: 1 } });
  desk = new Desk({ ...job, steps: [], tables: [trims], roles: {} });
  await show();
  await expect.element(page.getByText(/basePulse.*The air is estimated instead/)).toBeVisible();
  expect(Number.parseFloat(await figureOf("fuel, cylinder and cycle"))).toBeGreaterThan(5);
});

test("a fuel whose heats aren't known has no flame, and the rest goes on", async () => {
  const job = demoJob();
  const { composition: _, lowerHeatingValueMjPerKg: __, latentHeatKjPerKg: ___, ...plain } = job.build.fuel;
  desk = new Desk({ ...job, build: { ...job.build, fuel: { ...plain, name: "from the can" } } });
  await show();
  await expect.element(page.getByText(/no flame can be worked out/)).toBeVisible();
  expect(await figureOf("pulse")).toMatch(/ms$/);
});

test("what was set outlasts a look at another leaf", async () => {
  await show();
  await page.getByRole("button", { name: "Moving" }).click();
  render(html``, document.body);
  await show();
  await expect.element(page.getByRole("button", { name: "Moving" })).toHaveAttribute("aria-current", "true");
});

test.each(experiments.flatMap((experiment) => ["light", "dark"].map((theme) => [experiment, theme] as const)))(
  "%s in %s passes axe, and fits a narrow screen",
  async (experiment, theme) => {
    document.documentElement.classList.add(theme);
    const first = questions[0]!;
    const leaf = await show({ experiment, enriched: true, lambda: 1.05, demand: 2.9, answers: { [first.id]: 0 } });
    const check = async () => {
      const { violations } = await axe.run(document.querySelector("main")!, {
        runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
        // The page around the leaf brings these.
        rules: {
          "page-has-heading-one": { enabled: false },
          region: { enabled: false },
          "heading-order": { enabled: false },
        },
      });
      expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]!.html}`)).toEqual([]);
    };
    for (const details of leaf.shadowRoot!.querySelectorAll("details")) details.open = true;
    await check();
    await page.viewport(360, 800);
    await leaf.updateComplete;
    expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(360);
    await check();
  },
);
