import axe from "axe-core";
import { html, render } from "lit";
import { afterEach, beforeEach, expect, test } from "vitest";
import { page, userEvent } from "vitest/browser";
import { pageTokens } from "../../elements/tokens.ts";
import { changeBuild, changeStep } from "../../store/commands.ts";
import { demoJob, emptyJob } from "../../store/demo-job.ts";
import { Desk } from "../../store/desk.ts";
import { startHistory } from "../../store/history.ts";
import "./build-leaf.ts";

let desk: Desk;

beforeEach(async () => {
  await page.viewport(1280, 800);
});
afterEach(() => {
  render(html``, document.body);
  document.documentElement.classList.remove("dark");
  location.hash = "";
});

async function show(job = demoJob()): Promise<void> {
  desk = new Desk(job);
  render(
    html`<style>${pageTokens} body { background: var(--fw-paper); color: var(--fw-ink); font: 14px var(--fw-font); margin: 8px }</style>
      <main aria-label="Build"><fw-build-leaf .desk=${desk}></fw-build-leaf></main>`,
    document.body,
  );
  await document.querySelector("fw-build-leaf")!.updateComplete;
}

const part = (name: string) => page.getByRole("region", { name, exact: true });
const opener = (name: string) => page.getByRole("button", { name, exact: true });
const field = (name: string, within = page.getByRole("main")) => within.getByRole("textbox", { name, exact: true });

/** Types a figure and leaves the field. */
async function fill(name: string, text: string, within = page.getByRole("main")): Promise<void> {
  await field(name, within).fill(text);
  await userEvent.tab();
}

/** The label of the field that has the focus, however deep. */
function focused(): string {
  let element = document.activeElement;
  while (element?.shadowRoot?.activeElement) element = element.shadowRoot.activeElement;
  return (element as HTMLInputElement | null)?.labels?.[0]?.textContent ?? "";
}

const injectorsOf = (flowGramsPerSecond: number) => {
  const step = demoJob().steps[0]!;
  if (step.kind !== "rescale-for-injectors") throw new Error("the demo's first step changes the injectors");
  return { ...step, settings: { ...step.settings, to: { ...step.settings.to, flowGramsPerSecond } } };
};

test("each part has its verdict beside it, and the one that gives out first is named", async () => {
  await show();
  await expect.element(page.getByText(/First to give out: intake, \d+ % short/)).toBeVisible();
  await expect.element(part("Injectors").getByRole("button", { name: /^in hand, \d+ %$/ })).toBeVisible();
  await expect.element(part("Pump").getByRole("button", { name: /^in hand, \d+ %$/ })).toBeVisible();
  await expect.element(part("Intake").getByRole("button", { name: "at its limit" })).toBeVisible();
  await expect.element(part("Engine").getByText(/^about \d+ kW$/)).toBeVisible();
  // The set that comes out is nearer to its limit than the one that goes in.
  const hand = async () =>
    Number(
      /\d+/.exec(
        (
          await part("Injectors")
            .getByRole("button", { name: /^in hand/ })
            .element()
        ).textContent!,
      )![0],
    );
  const after = await hand();
  await page.getByRole("combobox", { name: "Verdicts on" }).selectOptions("the parts as they were");
  await expect.poll(hand).toBeLessThan(after);
});

test("a verdict leads to the cells behind it", async () => {
  await show();
  await part("Intake").getByRole("button", { name: "at its limit" }).click();
  expect(desk.view).toMatchObject({ leaf: "table", table: "fuel", after: null });
  expect(desk.view.region).toMatchObject({ load: [100, 100] });
  expect(desk.view.region!.rpm![1]).toBe(6800);
  expect(location.hash).toBe("#table");
});

test("fuel that the hardware can't give is told strongly, with the mixture that arrives", async () => {
  await show();
  await expect.element(part("Lean under load")).not.toBeInTheDocument();
  desk.perform(changeStep(injectorsOf(1.45), "Smaller injectors"));
  const warning = part("Lean under load");
  await expect.element(warning.getByText(/^lambda 1\.\d+$/)).toBeVisible();
  await expect.element(warning.getByText(/detonates and melts pistons/)).toBeVisible();
  await expect.element(part("Injectors").getByRole("button", { name: "gives out from 4,500 rpm" })).toBeVisible();
  await warning.getByRole("button", { name: "Show these cells" }).click();
  expect(desk.view.leaf).toBe("table");
  expect(desk.view.region).not.toBeNull();
});

test("a part that can't be is told at its field in the page's words, with what was meant, and can be undone", async () => {
  await show();
  await opener("Intake").click();
  const body = part("Throttle body");
  await fill("Bore at the plate", "500", body);
  await expect
    .element(body.getByRole("alert"))
    .toHaveTextContent(
      /^Bore of the throttle body must be between 8 and 130 mm, got 500; did you mean 500 × 0.1 mm \(50 mm\)\?$/,
    );
  expect(desk.job.build.throttleBody!.diameterMm).toBe(42);
  await expect.element(part("Intake").getByRole("button", { name: "at its limit" })).toBeVisible();
  await body.getByRole("button", { name: "Take what was probably meant" }).click();
  expect(desk.job.build.throttleBody!.diameterMm).toBe(50);
  await expect.element(body.getByRole("alert")).not.toBeInTheDocument();
  desk.undo();
  await expect.element(field("Bore at the plate", body)).toHaveValue("42.0");
});

test("optional parts are described and taken out again", async () => {
  await show();
  await opener("Pump").click();
  const pump = part("Pump");
  await pump.getByRole("button", { name: "Take the pump out" }).click();
  expect(desk.job.build.pump).toBeUndefined();
  await expect.element(pump.getByText("not known", { exact: true })).toBeVisible();
  await fill("Flow at 300 kPa", "12", pump);
  expect(desk.job.build.pump!.curve).toEqual([{ pressureKpa: 300, litresPerHour: 12 }]);
  await expect.element(pump.getByRole("button", { name: /^gives out from/ })).toBeVisible();
  await pump.getByRole("button", { name: "Add a point" }).click();
  await userEvent.fill(pump.getByRole("spinbutton", { name: "Flow, point 2" }), "20");
  await userEvent.tab();
  await expect.element(pump.getByRole("alert")).toHaveTextContent(/^Curve of the pump must not rise with pressure/);
  expect(desk.job.build.pump!.curve[1]!.litresPerHour).toBe(12);

  await opener("Intake").click();
  await part("Manifold").getByRole("button", { name: "Take the manifold out" }).click();
  await part("Throttle body").getByRole("button", { name: "Take the throttle body out" }).click();
  expect(desk.job.build).not.toHaveProperty("manifold");
  await expect.element(part("Intake").getByText("Neither throttle body nor manifold is described.")).toBeVisible();
  await fill("Effective area of a passage", "620", part("Manifold"));
  await part("Manifold").getByRole("combobox", { name: "Told by" }).selectOptions("a flow bench");
  // The same passage, told by what it flows at 28 inches of water.
  expect(desk.job.build.manifold!.flowBench).toEqual({ litresPerSecond: expect.closeTo(64.2, 0), depressionKpa: 6.97 });
});

test("fuel: a share of ethanol and a composition give the ratio", async () => {
  await show();
  await opener("Fuel").click();
  const fuel = part("Fuel");
  await fill("Ethanol in petrol", "85", fuel);
  expect(desk.job.build.fuel).toMatchObject({ name: "E85", stoichiometricRatio: expect.closeTo(9.8, 1) });
  await fill("Density", "0.79", fuel);
  expect(desk.job.build.fuel).toMatchObject({ name: "E85, own figures", densityKgPerL: 0.79 });
  await fuel.getByRole("combobox", { name: "Fuel" }).selectOptions("methanol");
  await expect.element(fuel.getByText(/Methanol is poisonous/)).toBeVisible();
  await fill("Carbon", "2", fuel);
  await fill("Hydrogen", "6", fuel);
  // C2H6O is ethanol.
  expect(desk.job.build.fuel.stoichiometricRatio).toBeCloseTo(8.99, 1);
  await fill("Hydrogen", "-1", fuel);
  await expect.element(fuel.getByRole("alert")).toHaveTextContent(/no negative share/);
});

test("stages are added, named, changed and taken out, and compared side by side", async () => {
  await show();
  const stages = part("Stages");
  const table = stages.getByRole("table").first();
  await expect.element(table.getByRole("row", { name: /^first to give out intake intake pump$/ })).toBeVisible();
  await stages.getByRole("button", { name: "Add a stage" }).click();
  await fill("Name of the stage", "big bore", stages);
  await fill("Displacement of the stage", "1270", stages);
  expect(desk.job.build.stages!.at(-1)).toEqual({ name: "big bore", displacementCc: 1270 });
  await expect.element(table.getByRole("columnheader", { name: "big bore" })).toBeVisible();
  await fill("Displacement of the stage", "1", stages);
  await expect
    .element(stages.getByRole("alert"))
    .toHaveTextContent(/^Displacement, stage 3 must be between .*did you mean 1 L/);
  await stages.getByRole("button", { name: "Take out big bore" }).click();
  expect(desk.job.build.stages).toHaveLength(2);
  desk.undo();
  expect(desk.job.build.stages).toHaveLength(3);
});

test("a larger body behind the narrow manifold gains little, and both together most", async () => {
  await show();
  const rows = part("Throttle body against manifold").getByRole("table").first();
  const gain = async (name: string) => {
    const row = await rows.getByRole("row", { name: new RegExp(`^${name}`) }).element();
    return Number(/\+([\d.]+) %/.exec(row.textContent!)![1]);
  };
  const [body, manifold, both] = [await gain("throttle body alone"), await gain("manifold alone"), await gain("both")];
  expect(body).toBeLessThan(manifold / 2);
  expect(both).toBeGreaterThan(manifold);
});

test("a wished power, another place and a dyno run are worked out", async () => {
  await show();
  const wish = part("What would it take");
  await fill("Power wished, at the crank", "60", wish);
  await expect.element(wish.getByText("not enough").first()).toBeVisible();
  await expect.element(wish.getByText(/^A larger pump is wanted/)).toBeVisible();
  const place = part("Altitude and weather");
  await expect.element(place.getByRole("row", { name: "barometer 101.3 kPa 79.5 kPa" })).toBeVisible();
  await fill("Altitude there", "3000", place);
  await expect.element(place.getByRole("row", { name: "barometer 101.3 kPa 70.1 kPa" })).toBeVisible();
  const dyno = part("Dyno power corrected");
  await fill("Power measured", "50", dyno);
  await fill("Inlet air", "25", dyno);
  await fill("Barometer at the dyno", "99", dyno);
  // At the standards' own reference air nothing is corrected.
  await expect.element(dyno.getByRole("row", { name: "SAE J1349 (2004) 1.0000 50.0 kW" })).toBeVisible();
  await expect.element(dyno.getByRole("row", { name: "ISO 1585 1.0000 50.0 kW" })).toBeVisible();
});

test("what the controller stores is given, refused, taken out and described again", async () => {
  await show();
  await opener("Controller storage").click();
  const storage = part("Controller storage");
  await fill("Greatest", "20", storage);
  await expect.element(storage.getByText(/^0 to 20 ms, in steps of 0.01$/)).toBeVisible();
  expect(desk.bench.replay.state.tables.fuel!.storage).toEqual({ min: 0, max: 20, step: 0.01 });
  await fill("In steps of", "30", storage);
  expect(desk.message?.tone).toBe("refused");
  expect(desk.job.tables[0]!.storage!.step).toBe(0.01);
  await storage.getByRole("button", { name: "Take the description out" }).click();
  expect(desk.job.tables[0]!.storage).toBeUndefined();
  await storage.getByRole("button", { name: "Describe it" }).click();
  await expect.element(field("Greatest", storage)).toBeVisible();
});

test("a part leads to the step that carries the table over to it", async () => {
  await show();
  await opener("Injectors").click();
  await part("Injectors going in").getByRole("button", { name: "Open step 1, change the injectors" }).click();
  expect(desk.bench.draft).toMatchObject({ kind: "reopened", step: { id: "s1" } });
  await expect.poll(() => location.hash).toBe("#table");
  await opener("body, manifold and cam").click();
  await page.getByRole("button", { name: "its intake" }).click();
  await expect.poll(() => desk.bench.draft?.step.kind).toBe("change-intake");
  expect(desk.bench.draft!.step.settings).toMatchObject({ to: { throttleBody: { diameterMm: 50 } } });
  expect(desk.job.steps).toHaveLength(2);
});

test("a new job shows its figures open, to be gone through, and no verdicts", async () => {
  await show(emptyJob(null));
  await expect.element(page.getByText(/starting point, not your engine's/)).toBeVisible();
  await expect.element(field("Displacement")).toBeVisible();
  await expect.element(field("Flow, held open", part("Injectors going out"))).toBeVisible();
  await expect.element(page.getByText(/^Bring in a fuel table on the Table leaf/).first()).toBeVisible();
  await expect.element(field("Altitude there")).toHaveValue("");
  await part("Injectors going in").getByRole("button", { name: "Change the injectors" }).click();
  expect(desk.message?.tone).toBe("refused");
});

test("the place that the demo begins with does not stay for a job of one's own", async () => {
  await show();
  await expect.element(field("Altitude there")).toHaveValue("2000");
  desk.openHistory(startHistory(emptyJob(null), "New empty job"));
  await expect.element(field("Altitude there")).toHaveValue("");
});

test("is worked with the keyboard: a part opens, a field is changed, a verdict is followed", async () => {
  await show();
  const engine = opener("Engine").element() as HTMLElement;
  engine.focus();
  await userEvent.keyboard("{Enter}");
  await expect.element(opener("Engine")).toHaveAttribute("aria-expanded", "true");
  // The help of a field stands before it.
  await userEvent.tab();
  await userEvent.tab();
  expect(focused()).toBe("Displacement");
  await userEvent.keyboard("1100{Enter}");
  expect(desk.job.build.engine.displacementCc).toBe(1100);
  const verdict = part("Injectors")
    .getByRole("button", { name: /^in hand/ })
    .element() as HTMLElement;
  verdict.focus();
  await userEvent.keyboard("{Enter}");
  expect(desk.view.leaf).toBe("table");
});

test.each([
  ["light", 1280],
  ["dark", 1280],
  ["light", 360],
] as const)(
  "axe finds no fault with everything open, %s and %i px wide, and nothing sticks out",
  async (theme, width) => {
    await page.viewport(width, 800);
    document.documentElement.classList.toggle("dark", theme === "dark");
    await show();
    desk.perform(changeStep(injectorsOf(1.45), "Smaller injectors"));
    for (const name of [
      "Engine",
      "Fuel",
      "Place and battery",
      "Rail and regulator",
      "Injectors",
      "Pump",
      "Intake",
      "Controller storage",
      "body, manifold and cam",
    ])
      await opener(name).click();
    await part("Throttle body").getByRole("textbox", { name: "Bore at the plate" }).fill("500");
    await userEvent.tab();
    await expect.element(part("Throttle body").getByRole("alert")).toBeVisible();
    const { violations } = await axe.run(document.querySelector("main")!, {
      runOnly: { type: "tag", values: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"] },
    });
    expect(violations.flatMap(({ id, nodes }) => nodes.map((node) => `${id}: ${node.html}`))).toEqual([]);
    expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(width);
  },
);

test("what was refused is forgotten once the job has moved on", async () => {
  await show();
  await opener("Rail and regulator").click();
  await fill("Pressure over outside air", "3");
  await expect.element(part("Rail and regulator").getByRole("alert")).toBeVisible();
  desk.perform(changeBuild({ ...desk.job.build, battery: { volts: 12.5 } }, "the battery"));
  await expect.element(part("Rail and regulator").getByRole("alert")).not.toBeInTheDocument();
  await expect.element(field("Pressure over outside air")).toHaveValue("300");
});
