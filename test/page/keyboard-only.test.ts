import { createBuild, evaluateCells, readTableText, rescaleForInjectors, setCells } from "@fuelwright/table-core";
import { expect, test } from "vitest";
import { Hands } from "./hands.ts";
import { useStage } from "./stage.ts";
import { engineBuild, injectorsIn, injectorsOut, kPa, pulsesAsSheetSaves } from "./tables.ts";

const stage = useStage();

test("the whole main job is done with the keyboard alone", async () => {
  const bench = await stage.open();
  const { page } = bench;
  const hands = await Hands.on(page);

  // A table from a file; one thing is put right.
  await hands.enter("button", "Clear the demo, start empty");
  await page.getByRole("heading", { name: "No table yet" }).waitFor();
  await hands.enter("button", "Bring in a table");
  await bench.bringIn.waitFor();
  await bench.chooseFile(() => hands.enter("button", "Choose a file"), {
    name: "single.csv",
    text: pulsesAsSheetSaves,
  });
  await bench.expectRecognised("Load in", "kPa");
  await hands.tabTo("combobox", "Load in");
  await hands.type("psi");
  await bench.expectRecognised("Load in", "psi");
  await hands.enter("button", "Take it over");
  await bench.bringIn.waitFor({ state: "detached" });
  const brought = readTableText(pulsesAsSheetSaves, { id: "single", loadUnit: "psi" }).table;

  // The build, from the engine to the injectors that come out.
  const { engine, rail, battery, place } = engineBuild;
  await hands.enter("link", "Build");
  await page.getByRole("main", { name: "Build" }).waitFor();
  await hands.fill("Displacement", engine.displacementCc);
  await hands.fill("Cylinders", engine.cylinders);
  await hands.fill("Rev limit", engine.revLimitRpm);
  await hands.fill("Battery, running", battery.volts);
  await hands.fill("Altitude", place.altitudeM);
  await hands.fill("Air temperature", place.temperatureC);
  await hands.tabTo("combobox", "Regulator");
  await hands.type("fixed");
  await hands.fill("Pressure over outside air", rail.pressureKpa);
  await hands.fill("Name", injectorsOut.name);
  await hands.fill("Flow, held open", injectorsOut.flowGramsPerSecond);
  await hands.fill("Density of the test fluid", injectorsOut.testDensityKgPerL!);
  await hands.fill("Dead time", 0.93);
  await hands.fill("Smallest repeatable pulse", injectorsOut.smallestPulseMs!);
  await hands.press("Tab");

  // The injectors that go in: the report is read, the step kept.
  await hands.enter("link", "Table");
  await page.getByRole("main", { name: "Table" }).waitFor();
  await hands.enter("button", "Change the injectors");
  await hands.fill("Name", injectorsIn.name);
  await hands.fill("Flow, held open", injectorsIn.flowGramsPerSecond);
  await hands.fill("Dead time", injectorsIn.deadTime as number);
  await hands.fill("Smallest repeatable pulse", injectorsIn.smallestPulseMs!);
  await hands.press("Tab");
  const out = { ...injectorsOut, deadTime: 0.93 };
  const { table: rescaled, report } = rescaleForInjectors(brought, {
    from: out,
    to: injectorsIn,
    build: createBuild({ ...engineBuild, injectors: out }),
  });
  await bench.stepCard.getByText(`${report.underSmallestPulse.length} cells, `).waitFor();
  await hands.enter("button", "Keep as step 1");
  await bench.step(1).waitFor();

  // The grid is one stop. Along it, a cell is typed, a block is chosen and changed, a cell is edited with F2.
  await hands.tabTo("gridcell", /./);
  await hands.press("Control+Home");
  expect((await hands.focused()).name).toMatch(/^[\d.]+ ms, 800 rpm, 96\.527 kPa/);
  await hands.press("Control+End", "ArrowUp", "ArrowLeft");
  expect((await hands.focused()).name).toMatch(/^[\d.]+ ms, 5,600 rpm, 41\.369 kPa/);
  await hands.type("3.5");
  await hands.press("Enter");
  await bench.step(2).waitFor();
  await expect.poll(async () => (await hands.focused()).name).toMatch(/^3\.50 ms, 5,600 rpm, 41\.369 kPa/);
  await hands.press("Home", "PageUp");
  expect((await hands.focused()).name).toMatch(/800 rpm, 96\.527 kPa/);
  await hands.press("ArrowRight", "Shift+ArrowRight", "Shift+ArrowDown");
  await hands.type("cell + 2%");
  expect((await hands.focused()).name).toBe("New value or expression for 4 cells");
  await hands.press("Enter");
  await bench.step(3).waitFor();
  await expect.poll(async () => (await hands.focused()).role).toBe("gridcell");
  await hands.press("Control+End", "F2");
  expect((await hands.focused()).name).toBe("New value or expression for 1 cell");
  await hands.press("Escape");
  expect((await hands.focused()).role).toBe("gridcell");

  const [low, , , , high, top] = brought.load.breakpoints;
  expect(low).toBeCloseTo(kPa(4), 9);
  const second = brought.load.breakpoints[1]!;
  const set = setCells(rescaled, { region: { rpm: [5600, 5600], load: [second, second] }, value: 3.5 });
  const done = evaluateCells(set, { region: { rpm: [1100, 1500], load: [high!, top!] }, expression: "cell + 2%" });

  // Undo and redo.
  await hands.press("Control+z");
  await page.getByRole("status").getByText("Undone: cell + 2%").first().waitFor();
  await hands.press("Control+Shift+z");
  await page.getByRole("status").getByText("Done again: cell + 2%").first().waitFor();

  // The strip is one stop: along it, off and on, and open.
  await hands.tabTo("button", /^Brought in/);
  await hands.press("ArrowRight", "ArrowRight");
  expect((await hands.focused()).name).toMatch(/^2 ?Set to 3\.5/);
  await hands.press("Space");
  await expect.poll(() => bench.stepSwitch(2).isChecked()).toBe(false);
  expect((await hands.focused()).name).toMatch(/^2 ?Set to 3\.5.*off/);
  await hands.press("Space");
  await expect.poll(() => bench.stepSwitch(2).isChecked()).toBe(true);
  await hands.press("Home", "ArrowRight", "Enter");
  await bench.stepCard.getByRole("heading", { name: "1 Change the injectors" }).waitFor();
  await hands.enter("DisclosureTriangle", "Note, order, name, branch");
  await hands.fill("Why", "the small set ran out of time");
  await hands.press("Tab");
  await expect.poll(() => bench.step(1).textContent()).toContain("the small set ran out of time");

  await hands.press("Escape");

  // The mixture under load, and a smooth table: kept, and taken back so that the cells stay those foretold above.
  for (const [offer, done] of [
    ["Change the mixture", /^4 Richer/],
    ["Smooth", /^4 Smooth/],
  ] as const) {
    await hands.enter("button", offer);
    if (offer === "Change the mixture") await hands.fill("Wished for", 0.86);
    await hands.enter("button", "Keep as step 4");
    await bench.steps.getByRole("button", { name: done }).waitFor();
    await hands.press("Control+z");
    await expect.poll(() => bench.step(4).count()).toBe(0);
  }

  // A log that is made up: gated, fitted, and applied as a step.
  await hands.enter("link", "Evidence");
  await hands.enter("button", "Try it with a made log");
  await bench.button("Apply as step 4").waitFor({ timeout: 60_000 });
  await hands.fill("A cell changes at most by", 3);
  await hands.press("Tab");
  await hands.enter("button", "Apply as step 4");
  await page.getByText("Applied as step 4.").waitFor();
  await hands.press("Control+z");

  // Carried out.
  await hands.enter("link", "Handover");
  const file = await bench.download(() => hands.enter("button", "Save as CSV"));
  const back = readTableText(file.text, { id: "back" }).table;
  expect(back.load).toEqual(done.load);
  expect(Array.from(back.cells)).toEqual(Array.from(done.cells));
});
