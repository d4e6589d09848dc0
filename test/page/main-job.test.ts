import {
  cellRows,
  createBuild,
  evaluateCells,
  type FuelTable,
  pasteCells,
  type Range,
  type Region,
  readJob,
  readTableText,
  replayJob,
  rescaleForInjectors,
  scaleCells,
  setCells,
  writeJob,
} from "@fuelwright/table-core";
import { describe, expect, test } from "vitest";
import type { BenchPage } from "./bench-page.ts";
import { useStage } from "./stage.ts";
import { engineBuild, injectorsIn, injectorsOut, kPa, psis, pulsesAsSheetSaves, rpms } from "./tables.ts";

const stage = useStage();

const sheet = { name: "invented single.csv", text: pulsesAsSheetSaves };

/** What the sheet holds, by the library alone. */
const brought = readTableText(pulsesAsSheetSaves, { id: "pulses", loadUnit: "psi" }).table;

const carried = (table: FuelTable, flowGramsPerSecond = injectorsIn.flowGramsPerSecond) =>
  rescaleForInjectors(table, {
    from: injectorsOut,
    to: { ...injectorsIn, flowGramsPerSecond },
    build: createBuild(engineBuild),
  });

/** A region between breakpoints of the sheet, the load as the gauge shows it. */
const box = (rpm: Range, [from, to]: readonly [number, number]): Region => ({
  rpm,
  load: [breakpointAt(from), breakpointAt(to)],
});
const breakpointAt = (psi: number) => brought.load.breakpoints[psis.indexOf(psi as never)]!;

/** Opens the sheet with its load put right, and takes it over. */
async function bringIn(bench: BenchPage): Promise<void> {
  await bench.openBringIn();
  await bench.chooseFile(() => bench.button("Choose a file").click(), sheet);
  await bench.choice("Load in", bench.bringIn).selectOption("psi");
  await bench.takeOver();
}

async function describeBuild(bench: BenchPage): Promise<void> {
  const { engine, rail, battery, place } = engineBuild;
  await bench.goTo("Build");
  await bench.fill("Displacement", engine.displacementCc);
  await bench.fill("Cylinders", engine.cylinders);
  await bench.fill("Rev limit", engine.revLimitRpm);
  await bench.fill("Battery, running", battery.volts);
  await bench.fill("Altitude", place.altitudeM);
  await bench.fill("Air temperature", place.temperatureC);
  await bench.choice("Regulator").selectOption("fixed (in the tank)");
  await bench.fill("Pressure over outside air", rail.pressureKpa);
  const out = bench.injectorsOut;
  await bench.fill("Name", injectorsOut.name, out);
  await bench.fill("Flow, held open", injectorsOut.flowGramsPerSecond, out);
  await bench.fill("Rated at", injectorsOut.ratedPressureKpa, out);
  await bench.fill("Density of the test fluid", injectorsOut.testDensityKgPerL!, out);
  await bench.fill("Smallest repeatable pulse", injectorsOut.smallestPulseMs!, out);
  await out.getByRole("button", { name: "Give it over battery voltage" }).click();
  const points = injectorsOut.deadTime as readonly { volts: number; ms: number }[];
  for (const [at, { volts, ms }] of points.entries()) {
    await bench.fillFigure(`Battery voltage ${at + 1}`, volts, out);
    await bench.fillFigure(`Dead time ${at + 1}, ms`, ms, out);
  }
}

async function changeInjectors(bench: BenchPage): Promise<void> {
  await bench.goTo("Table");
  await bench.button("Change the injectors").click();
  const card = bench.stepCard;
  await bench.fill("Name", injectorsIn.name, card);
  await bench.fill("Flow, held open", injectorsIn.flowGramsPerSecond, card);
  await card.getByRole("button", { name: "One figure" }).click();
  await bench.fill("Dead time", injectorsIn.deadTime as number, card);
  await bench.fill("Smallest repeatable pulse", injectorsIn.smallestPulseMs!, card);
}

/** Every cell of the grid comes to be named with the table's own figure, rounded as it is read. */
async function expectShown(bench: BenchPage, table: FuelTable): Promise<void> {
  const said = cellRows(table).flatMap((row, at) =>
    row.map((value, column) => `${value.toFixed(2)} at ${rpms[column]}, ${psis[at]} psi`),
  );
  await expect
    .poll(async () =>
      (await bench.cells())
        .map(({ value, rpm, load }) => `${value.toFixed(2)} at ${rpm}, ${Math.round(load / kPa(1))} psi`)
        .sort(),
    )
    .toEqual(said.sort());
}

test("a table goes from a spreadsheet's CSV to other injectors, is edited, and is carried out", async () => {
  const bench = await stage.open();
  await bench.clearDemo();

  // What was recognised is shown with its reason; a guess is called one and is put right.
  await bench.openBringIn();
  await bench.chooseFile(() => bench.button("Choose a file").click(), sheet);
  await bench.expectRecognised("Between cells", "semicolon");
  await bench.expectRecognised("Decimals with", "a comma");
  await bench.expectRecognised("Cells are", "pulse width, ms");
  await bench.expectRecognised("Load in", "kPa");
  expect(await bench.recognised("Load in").textContent()).toContain("a guess");
  await bench.choice("Load in", bench.bringIn).selectOption("psi");
  await bench.expectRecognised("Load in", "psi");
  await bench.takeOver();
  await expectShown(bench, brought);

  await describeBuild(bench);
  await changeInjectors(bench);

  // The grid previews, and the report says in words what the new set can't do.
  const { table: rescaled, report } = carried(brought);
  await expectShown(bench, rescaled);
  expect(report.underSmallestPulse.length).toBeGreaterThan(0);
  const told = bench.stepCard;
  await told.getByText(`${report.underSmallestPulse.length} cells, `).waitFor();
  await told.getByText("smallest repeatable pulse; idle may hunt").waitFor();
  await told.getByText("Every cell delivers the same fuel as before.").waitFor();
  const off = Math.max(...report.cells!.flowRatioDifferencePercent.map(Math.abs));
  await told.getByText(`The plain ratio of flows would be off by up to ${off.toFixed(1)} %`).waitFor();
  await bench.button("Keep as step 1").click();

  // By mouse: one cell set, a block dragged over and changed by an expression.
  await bench.cell(2000, kPa(8)).click();
  await bench.page.keyboard.type("4.125");
  await bench.page.keyboard.press("Enter");
  const set = setCells(rescaled, { region: box([2000, 2000], [8, 8]), value: 4.125 });
  await expectShown(bench, set);
  await bench.dragOver(bench.cell(2600, kPa(10)), bench.cell(4000, kPa(12)));
  await bench.page.keyboard.type("cell * 1.04");
  await bench.page.keyboard.press("Enter");
  const scaling = { region: box([2600, 4000], [10, 12]), expression: "cell * 1.04" };
  await bench.step(3).waitFor();
  await expectShown(bench, evaluateCells(set, scaling));

  // By keyboard: two cells further right and up, F2, a figure put behind what stands there.
  await bench.cell(4800, kPa(12)).click();
  for (const key of ["ArrowRight", "Shift+ArrowUp", "F2", "Control+A"]) await bench.page.keyboard.press(key);
  await bench.page.keyboard.type("6,5");
  await bench.page.keyboard.press("Enter");
  const corner = { region: box([5600, 5600], [12, 14]), value: 6.5 };
  const edited = setCells(evaluateCells(set, scaling), corner);
  await expectShown(bench, edited);

  // Undo and redo say what they are about.
  await bench.undoes("Set to 6.5");
  await expectShown(bench, evaluateCells(set, scaling));
  await bench.page.keyboard.press("Control+z");
  await expectShown(bench, set);
  await bench.redoes("cell * 1.04");
  await bench.page.keyboard.press("Control+Shift+z");
  await expectShown(bench, edited);

  // A step switched off is passed by, and comes back.
  await bench.stepSwitch(2).click();
  await expectShown(bench, setCells(evaluateCells(rescaled, scaling), corner));
  await bench.page.keyboard.press("Control+z");
  await expectShown(bench, edited);

  // An early decision is changed, and the rest follows.
  await bench.step(1).click();
  await bench.fill("Flow, held open", 3.75, bench.stepCard);
  await bench.button("Keep the change").click();
  const changed = carried(brought, 3.75).table;
  const outcome = setCells(
    evaluateCells(setCells(changed, { region: box([2000, 2000], [8, 8]), value: 4.125 }), scaling),
    corner,
  );
  await expectShown(bench, outcome);

  await expectShown(bench, outcome);

  await bench.step(1).click();
  await bench.stepCard.getByText("Note, order, name, branch").click();
  await bench.fill("Why", "they arrived flowing 4 % more", bench.stepCard);
  await expect.poll(() => bench.step(1).textContent()).toContain("they arrived flowing 4 % more");

  // Carried out, and read back: the same numbers to the last bit.
  await bench.goTo("Handover");
  await bench.page.getByRole("article", { name: "Handover card" }).getByText("they arrived flowing 4 % more").waitFor();
  const file = await bench.download(() => bench.button("Save as CSV").click());
  expect(file.name).toBe("invented-single.csv");
  expectSameCells(file.text, outcome);
});

test("what is not kept yet is not carried out", async () => {
  const bench = await stage.open();
  await bench.clearDemo();
  await bringIn(bench);
  await bench.button("Scale").click();
  await bench.fill("Change", 10, bench.stepCard);
  await expectShown(bench, scaleCells(brought, { factor: 1.1 }));
  await bench.goTo("Handover");
  expectSameCells((await bench.download(() => bench.button("Save as CSV").click())).text, brought);
});

test("a table is pasted from a spreadsheet", async () => {
  const bench = await stage.open();
  await bench.clearDemo();
  await bench.openBringIn();
  await bench.pasteTable(pulsesAsSheetSaves.replaceAll(";", "\t"));
  await bench.expectRecognised("Between cells", "tab");
  await bench.expectRecognised("Decimals with", "a comma");
  await bench.choice("Load in", bench.bringIn).selectOption("psi");
  await bench.fill("Name", "Pasted", bench.bringIn);
  await bench.takeOver();
  await expectShown(bench, brought);
  await bench.choice("Table").getByRole("option", { name: "Pasted, pulse width" }).waitFor({ state: "attached" });
  await bench.undoes("Bring in Pasted");
  await bench.page.getByRole("heading", { name: "No table yet" }).waitFor();
});

test("a table is dropped on the page", async () => {
  const bench = await stage.open();
  await bench.clearDemo();
  await bench.drop(sheet, bench.page.getByRole("main"));
  await bench.expectRecognised("Between cells", "semicolon");
  await bench.choice("Load in", bench.bringIn).selectOption("psi");
  await bench.takeOver();
  await expectShown(bench, brought);
});

test("a throttle load that looks like a pressure is put right, and the other way about", async () => {
  const bench = await stage.open();
  await bench.clearDemo();
  await bench.openBringIn();
  await bench.pasteTable("\t1000\t2000\t3000\n30\t2.1\t2.2\t2.3\n60\t3.1\t3.2\t3.3\n90\t4.1\t4.2\t4.3");
  await bench.expectRecognised("Load is", "manifold pressure");
  await bench.choice("Load is", bench.bringIn).selectOption("throttle position");
  await bench.expectRecognised("Load is", "throttle position");
  await bench.choice("Cells are", bench.bringIn).selectOption("fuel mass, mg");
  await bench.expectRecognised("Cells are", "fuel mass, mg");
  await bench.expectRecognised("Load is", "throttle position");
  await bench.takeOver();
  expect(await bench.cell(2000, 60).getAttribute("aria-label")).toBe("3.20 mg, 2,000 rpm, 60 %");
});

test("a job saved and opened again is the same job", async () => {
  const bench = await stage.open();
  await bench.goTo("Handover");
  const saved = await bench.download(() => bench.button("Save the job").click());
  expect(saved.name).toMatch(/\.json$/);
  const job = readJob(saved.text);
  expect(job.steps).toHaveLength(2);

  const other = await stage.open();
  await other.openJob(saved);
  await expect.poll(() => other.title.textContent()).toContain(job.name);
  const again = await other.saveJob();
  const reread = readJob(again.text);
  expect(writeJob({ ...reread, id: job.id })).toBe(writeJob(job));
  for (const [id, table] of Object.entries(replayJob(job).state.tables))
    expect(Array.from(replayJob(reread).state.tables[id]!.cells)).toEqual(Array.from(table.cells));
});

test("a job saved to the disk twice goes to the same file, without a question", async () => {
  const profile = await stage.profile();
  // A headless browser has no dialog to choose a file: it gives a file of its own storage, written as any other.
  await profile.addInitScript(() => {
    let asked = 0;
    Object.defineProperty(window, "showSaveFilePicker", {
      value: async ({ suggestedName }: { suggestedName: string }) => {
        const folder = await navigator.storage.getDirectory();
        return folder.getFileHandle(`${++asked} ${suggestedName}`, { create: true });
      },
    });
  });
  const files = (bench: BenchPage) =>
    bench.page.evaluate(async () => {
      const folder = await navigator.storage.getDirectory();
      const found: [string, string][] = [];
      for await (const [name, file] of folder as unknown as AsyncIterable<[string, FileSystemFileHandle]>)
        found.push([name, await (await file.getFile()).text()]);
      return found;
    });
  const bench = await stage.open({ profile });
  const save = async () => {
    await bench.openJobs();
    await bench.jobs.getByRole("button", { name: "Save the job to a file" }).click();
    await bench.page.getByText(/^Saved to /).waitFor();
    await bench.closeDialog("Jobs and files");
  };
  await save();
  await bench.stepSwitch(1).click();
  await save();
  const saved = await files(bench);
  expect(saved).toHaveLength(1);
  expect(readJob(saved[0]![1]).steps[0]!.on).toBe(false);
});

describe("blocks go to and from a spreadsheet", () => {
  const at = (table: FuelTable, rpm: number, psi: number) =>
    cellRows(table)[psis.indexOf(psi as never)]![rpms.indexOf(rpm as never)]!;

  test("copied cells come with all their digits, as the screen shows them, with their axes if asked for", async () => {
    const bench = await openSheet();
    await bench.dragOver(bench.cell(1500, kPa(6)), bench.cell(2000, kPa(8)));
    await bench.page.keyboard.press("Control+c");
    const rows = [8, 6].map((psi) => [1500, 2000].map((rpm) => at(brought, rpm, psi)));
    expect(await bench.takeFromClipboard()).toBe(rows.map((row) => row.join("\t")).join("\n"));
    await bench.cell(1500, kPa(6)).click();
    await bench.page.keyboard.press("Shift+ArrowRight");
    await bench.page.keyboard.press("Control+Shift+c");
    expect(await bench.takeFromClipboard()).toBe(
      `\t1500\t2000\n${breakpointAt(6)}\t${at(brought, 1500, 6)}\t${at(brought, 2000, 6)}`,
    );
  });

  test("a block is pasted at the chosen cell, previewed, and kept as a step", async () => {
    const bench = await openSheet();
    await bench.putOnClipboard("7,25\t7,5\n5,125\t5,25");
    await bench.cell(3200, kPa(10)).click();
    await bench.page.keyboard.press("Control+v");
    const pasted = pasteCells(brought, {
      rpm: [3200, 4000],
      load: [breakpointAt(8), breakpointAt(10)],
      cells: [
        [5.125, 5.25],
        [7.25, 7.5],
      ],
    });
    await expectShown(bench, pasted);
    await bench.button("Discard").click();
    await expectShown(bench, brought);
    await bench.grid.getByRole("gridcell", { selected: true }).focus();
    await bench.page.keyboard.press("Control+v");
    await bench.button("Keep as step 1").click();
    await expectShown(bench, pasted);
  });

  test("a block with axes goes where its axes say", async () => {
    const bench = await openSheet();
    await bench.putOnClipboard(`\t4000\t4800\n${breakpointAt(12)}\t9.5\t9.25\n${breakpointAt(10)}\t8.5\t8.25`);
    await bench.cell(800, kPa(4)).click();
    await bench.page.keyboard.press("Control+v");
    await bench.button("Keep as step 1").click();
    await expectShown(
      bench,
      pasteCells(brought, {
        rpm: [4000, 4800],
        load: [breakpointAt(10), breakpointAt(12)],
        cells: [
          [8.5, 8.25],
          [9.5, 9.25],
        ],
      }),
    );
  });

  test("a block that does not fit is asked about, and only what fits is kept", async () => {
    const bench = await openSheet();
    await bench.putOnClipboard("3.5\t3.6\t3.7\n3.1\t3.2\t3.3");
    await bench.cell(5600, kPa(4)).click();
    await bench.page.keyboard.press("Control+v");
    await bench.page.getByText("The block is 2 × 3; from here 1 × 2 of it fit.").waitFor();
    await bench.button("Keep as step 1").click();
    await expectShown(bench, pasteCells(brought, { rpm: [5600, 6400], load: [breakpointAt(4)], cells: [[3.5, 3.6]] }));
  });

  test("words are refused, and the table stays", async () => {
    const bench = await openSheet();
    await bench.putOnClipboard("richer\tplease");
    await bench.cell(2000, kPa(8)).click();
    await bench.page.keyboard.press("Control+v");
    await bench.refused
      .getByText("must hold numbers")
      .or(bench.refused.getByText("must be a number"))
      .first()
      .waitFor();
    await expectShown(bench, brought);
  });

  async function openSheet(): Promise<BenchPage> {
    const bench = await stage.open();
    await bench.clearDemo();
    await bringIn(bench);
    await expectShown(bench, brought);
    return bench;
  }
});

test("the demo says that it is invented, is cleared with one action, and stays among the jobs", async () => {
  const bench = await stage.open();
  expect(await bench.title.textContent()).toContain("invented demo job");
  await bench.clearDemo();
  expect(await bench.title.textContent()).not.toContain("invented");
  await bench.page.getByRole("heading", { name: "No table yet" }).waitFor();
  expect(await bench.button(/Clear the demo/).count()).toBe(0);
  await bench.openJobs();
  await bench.jobs.getByRole("button", { name: "Open Sidecar twin, larger injectors" }).click();
  await expect.poll(() => bench.title.textContent()).toContain("invented demo job");
});

test("the rounding to what a controller stores is told, and done", async () => {
  const bench = await stage.open();
  await bench.goTo("Handover");
  const exact = await bench.download(() => bench.button("Save as CSV").click());
  const table = readTableText(exact.text, { id: "fuel" }).table;
  await bench.page.getByRole("checkbox", { name: "Round to the controller's step of 0.01 ms" }).check();
  const off = Math.max(...table.cells.map((cell) => Math.abs(cell - Math.round(cell * 100) / 100)));
  await bench.page.getByText(`Rounding changes a cell by at most ${Number(off.toFixed(4))} ms.`).waitFor();
  const rounded = readTableText((await bench.download(() => bench.button("Save as CSV").click())).text, {
    id: "fuel",
  }).table;
  for (const [at, cell] of rounded.cells.entries())
    expect(cell).toBeCloseTo(Math.round(table.cells[at]! * 100) / 100, 12);
});

test("the table goes to the clipboard for a spreadsheet, and reads back", async () => {
  const bench = await stage.open({ permissions: ["clipboard-read", "clipboard-write"] });
  await bench.clearDemo();
  await bringIn(bench);
  await bench.goTo("Handover");
  await bench.button("Copy for a spreadsheet").click();
  await bench.page.getByText("is on the clipboard").waitFor();
  const text = await bench.takeFromClipboard();
  expect(text).toContain("\t");
  expectSameCells(text, brought);
});

test.each([
  ["semicolon", "a comma", "lowest row first"],
  ["tab", "a point", "highest row first"],
])("a file with %s, decimals with %s and the %s reads back the same", async (delimiter, decimal, load) => {
  const bench = await stage.open();
  await bench.clearDemo();
  await bringIn(bench);
  await bench.goTo("Handover");
  await bench.choice("Between cells").selectOption(delimiter);
  await bench.choice("Decimals with").selectOption(decimal);
  await bench.choice("Load").selectOption(load);
  const file = await bench.download(() => bench.button(/^Save as/).click());
  expect(file.name).toMatch(delimiter === "tab" ? /\.tsv$/ : /\.csv$/);
  expectSameCells(file.text, brought);
});

/** The text, read back by the library, holds the same numbers to the last bit. */
function expectSameCells(text: string, table: FuelTable): void {
  const back = readTableText(text, { id: "back" }).table;
  expect(back.quantity).toBe(table.quantity);
  expect(back.rpm).toEqual(table.rpm);
  expect(back.load).toEqual(table.load);
  expect(Array.from(back.cells)).toEqual(Array.from(table.cells));
}
