import { readJob } from "@fuelwright/table-core";
import { expect, test } from "vitest";
import type { BenchPage } from "./bench-page.ts";
import { useStage } from "./stage.ts";
import { psis, pulseRows, rpms } from "./tables.ts";

const stage = useStage();

type Line = readonly (string | number)[];

const good: readonly Line[] = [
  ["pulse width ms: manifold pressure kPa \\ rpm", ...rpms],
  ...psis.map((psi, row) => [psi * 7, ...pulseRows[row]!]),
];
const text = (lines: readonly Line[]) => lines.map((line) => line.join(",")).join("\n");
const withCell = (line: number, column: number, value: string | number) =>
  text(good.map((cells, at) => (at === line - 1 ? cells.with(column - 1, value) : cells)));
const repeated = (count: number, of: (at: number) => number) => Array.from({ length: count }, (_, at) => of(at));

/** Texts that hold no table, and what is said of each: the place, the rule, what to do. */
const badTexts: readonly (readonly [what: string, text: string, words: RegExp])[] = [
  [
    "ragged rows",
    text(good.map((line, at) => (at === 3 ? line.slice(0, -1) : line))),
    /line 4 must have 11 cells.*got 10; fill/,
  ],
  ["a blank cell", withCell(3, 5, ""), /line 3, column 5 must be a number, got a blank cell; fill it in/],
  ["a text cell", withCell(3, 5, "lots"), /line 3, column 5 \("lots"\) must be a number; type digits/],
  ["not a number", withCell(3, 5, "NaN"), /line 3, column 5 \("NaN"\) must be a number; type digits/],
  ["an infinity", withCell(3, 5, "Infinity"), /line 3, column 5 \("Infinity"\) must be a number; type digits/],
  ["a number past all bounds", withCell(3, 5, "1e999"), /line 3, column 5 \("1e999"\) is larger.*check its exponent/],
  ["rpm that does not rise", withCell(1, 4, 900), /line 1, column 4 \("900"\) must be above.*sort the breakpoints/],
  ["rpm that repeats", withCell(1, 4, 1100), /line 1, column 4 \("1100"\) repeats.*drop repeats/],
  ["load that does not rise", withCell(4, 1, 30), /line 4, column 1 \("30"\) must be above.*sort the breakpoints/],
  [
    "a negative pulse",
    withCell(3, 5, -1),
    /line 3, column 5 \("-1"\) must be above 0 as pulse width; correct the cell/,
  ],
  ["a zero pulse", withCell(3, 5, 0), /line 3, column 5 \("0"\) must be above 0 as pulse width; correct the cell/],
  ["one row", "rpm,1000,2000,3000\n50,1.2,1.3,1.4", /at least 2 rows of cells, got 1; copy more/],
  ["one column", "rpm,1000\n50,1.2\n60,1.3", /at least 2 columns of cells, got 1; copy more/],
  [
    "300 columns",
    text([
      ["rpm", ...repeated(300, (at) => 500 + 20 * at)],
      ...[20, 30].map((load) => [load, ...repeated(300, () => 2.5)]),
    ]),
    /at most 256 columns of cells, got 300; leave some out/,
  ],
  [
    "300 rows",
    text([["rpm", 1000, 2000], ...repeated(300, (at) => 20 + at).map((load) => [load, 2.5, 2.6])]),
    /at most 256 rows of cells, got 300; leave some out/,
  ],
  ["no numbers", "hello there", /must hold rows of numbers, got none.*copy the table/],
  [
    "a key of the language",
    text([
      ["rpm", "__proto__", "constructor"],
      [20, 1, 2],
      [30, 1, 2],
    ]),
    /; \w+/,
  ],
];

const badFiles: readonly (readonly [name: string, content: Buffer, words: RegExp])[] = [
  [
    "picture.csv",
    Buffer.from([137, 80, 78, 71, 13, 10, 26, 10, 0, 0, 0, 13, 73]),
    /must be text, got a picture; save the table as CSV/,
  ],
  [
    "workbook.csv",
    Buffer.from("PK\u0003\u0004aaaa"),
    /must be text, got a workbook or a zip archive; save the table as CSV/,
  ],
  [
    "controls.csv",
    Buffer.from("rpm,1000,2000\n20,1\u0001,2\n"),
    /must be text, got a control character at place 19; save/,
  ],
];

/** The whole job as a file, without the time at which each thing was done. */
const jobOf = async (bench: BenchPage) => (await bench.saveJob()).text;

async function withJobUnchanged(act: (bench: BenchPage) => Promise<void>): Promise<void> {
  const bench = await stage.open();
  const before = await jobOf(bench);
  await bench.goTo("Table");
  await act(bench);
  expect(await bench.undo.isDisabled()).toBe(true);
  expect(await jobOf(bench)).toBe(before);
  await bench.reload();
  expect(await jobOf(bench)).toBe(before);
}

const takeOverOffered = (bench: BenchPage) => bench.bringIn.getByRole("button", { name: "Take it over" }).count();

test("a text that holds no table is told with place and remedy, and nothing can be taken over", () =>
  withJobUnchanged(async (bench) => {
    await bench.openBringIn();
    const told = bench.bringIn.getByRole("alert");
    for (const [what, content, words] of badTexts) {
      await bench.field("Text", bench.bringIn).fill(content);
      await expect
        .poll(() => told.allTextContents(), { message: what })
        .toEqual([expect.stringMatching(new RegExp(words, "i"))]);
      expect(await takeOverOffered(bench), what).toBe(0);
    }
    await bench.closeDialog("Bring in a table");
  }));

test("a file that is no text is told, and nothing can be taken over", () =>
  withJobUnchanged(async (bench) => {
    await bench.openBringIn();
    for (const [name, content, words] of badFiles) {
      await bench.chooseFile(() => bench.button("Choose a file").click(), { name, text: content });
      await expect
        .poll(() => bench.bringIn.getByRole("alert").allTextContents(), { message: name })
        .toEqual([expect.stringMatching(new RegExp(words, "i"))]);
      expect(await takeOverOffered(bench), name).toBe(0);
    }
    await bench.closeDialog("Bring in a table");
  }));

test("20 MB pasted are told within seconds, and a 70 MB file is not even read", () =>
  withJobUnchanged(async (bench) => {
    await bench.openBringIn();
    await bench.field("Text", bench.bringIn).click();
    await bench.putOnClipboard("1.5\t2.5\t3.5\n", 20e6 / 12);
    const start = performance.now();
    await bench.page.keyboard.press("Control+v");
    await bench.bringIn
      .getByRole("alert")
      .getByText(/at most 4 million characters, got 20.0 million; copy the table alone/)
      .waitFor();
    expect(performance.now() - start).toBeLessThan(10_000);
    expect(await takeOverOffered(bench)).toBe(0);
    await bench.chooseFile(() => bench.button("Choose a file").click(), {
      name: "log.csv",
      text: Buffer.alloc(70e6, "1,2,3\n"),
    });
    await bench.refused.getByText("log.csv has 70 MB; a table is far smaller. Choose another file.").waitFor();
    await bench.closeDialog("Bring in a table");
  }));

test("an empty paste does nothing and says so", () =>
  withJobUnchanged(async (bench) => {
    await bench.openBringIn();
    await bench.field("Text", bench.bringIn).fill("  \n ");
    expect(await takeOverOffered(bench)).toBe(0);
    await bench.closeDialog("Bring in a table");
    await bench.putOnClipboard(" ");
    await bench.cell(2200, 50).click();
    await bench.page.keyboard.press("Control+v");
    await bench.refused.getByText("the text is empty; copy").waitFor();
    expect(await bench.button("Discard").count()).toBe(0);
  }));

test("a job file that is none is told, and the open job stays", () =>
  withJobUnchanged(async (bench) => {
    const job = await jobOf(bench);
    const cases: readonly (readonly [string, string, RegExp])[] = [
      ["short.json", job.slice(0, job.length / 2), /the text is not whole JSON.*cut short.*save it again/],
      ["text.json", "hello", /the text is not whole JSON.*not be a job/],
      ["other.json", '{"a":1}', /format must be "fuelwright-job".*choose a file that was saved as a job/],
      ["list.json", "[1,2]", /format must be "fuelwright-job"/],
      [
        "edited.json",
        job.replace(/"flowGramsPerSecond": *[\d.]+/, '"flowGramsPerSecond": "much"'),
        /build\.injectors\.flowGramsPerSecond must be a finite number, got "much"; give/,
      ],
      ["ragged.json", job.replace(/"breakpoints": *\[\s*\d+,/, '"breakpoints":['), /tables.*got/],
      [
        "steps.json",
        job.replace(/"kind": *"rescale-for-injectors"/, '"kind":"guess"'),
        /steps\[0\]\.kind must be a kind of step, got "guess"; this version knows/,
      ],
      ["proto.json", job.replace("{", '{"__proto__":{"polluted":true},'), /__proto__.*take it out/],
      [
        "future.json",
        job.replace(/"version": *\d+/, '"version":99'),
        /version 99, this library reads up to version \d+; open it with a newer one/,
      ],
    ];
    for (const [name, content, words] of cases) {
      expect(content, name).not.toBe(job);
      await bench.openJob({ name, text: content });
      await expect
        .poll(() => bench.refused.allTextContents(), { message: name })
        .toEqual([expect.stringMatching(new RegExp(words, "i"))]);
      expect((await bench.refused.textContent())!, name).toContain(name);
    }
  }));

test("parts that can't be are told at their field, and the figure in force stays", () =>
  withJobUnchanged(async (bench) => {
    const { pressureKpa } = readJob(await jobOf(bench)).build.rail;
    await bench.goTo("Build");
    for (const part of ["Engine", "Rail and regulator", "Injectors"]) await bench.openPart(part);
    const out = bench.injectorsOut;
    await bench.fill("Flow, held open", 0, out);
    await out
      .getByRole("alert")
      .getByText(/At least 0.001 g\/s/)
      .waitFor();
    await bench.field("Flow, held open", out).press("Escape");
    const rail = bench.page.getByRole("region", { name: "Rail" });
    await bench.fill("Pressure over outside air", 1, rail);
    await rail
      .getByRole("alert")
      .getByText(/^Pressure of the rail must be/)
      .waitFor();
    await bench.fill("Rev limit", "fast");
    await bench.page.getByRole("region", { name: "Engine" }).getByRole("alert").getByText("is not a number").waitFor();
    // Once something else was changed, no field shows a figure that is not in force without saying so.
    await bench.fill("Cylinders", 3);
    await expect.poll(() => bench.field("Pressure over outside air").inputValue()).toBe(String(pressureKpa));
    await bench.undo.click();
    await expect.poll(() => bench.undo.isDisabled()).toBe(true);
  }));

test("a name that a spreadsheet would run leaves the page with an apostrophe before it", async () => {
  const bench = await stage.open();
  await bench.clearDemo();
  await bench.openBringIn();
  await bench.field("Text", bench.bringIn).fill(text(good));
  await bench.fill("Name", '=HYPERLINK("http://x")', bench.bringIn);
  await bench.takeOver();
  await bench.goTo("Handover");
  const file = await bench.download(() => bench.button("Save as CSV").click());
  expect(file.text.split("\r\n")[0]).toMatch(/^"?'=HYPERLINK/);
});

test("injectors whose dead time outlasts the pulses, or that see no pressure, are told and not kept", async () => {
  const bench = await stage.open();
  await bench.clearDemo();
  await bench.openBringIn();
  await bench.field("Text", bench.bringIn).fill(text(good));
  await bench.takeOver();
  const before = await jobOf(bench);

  await bench.goTo("Build");
  await bench.fill("Dead time", 6, bench.injectorsOut);
  await bench.goTo("Table");
  await bench.button("Change the injectors").click();
  const told = bench.stepCard.getByRole("alert");
  await told.getByText(/dead time/).waitFor();
  expect(await bench.button("Keep as step 1").isDisabled()).toBe(true);
  await bench.button("Discard").click();
  await bench.undo.click();

  // A rail fixed over outside air, against a charged manifold: nothing would flow at the highest load.
  await bench.openBringIn();
  await bench.field("Text", bench.bringIn).fill(
    text([
      ["pulse width ms: manifold pressure kPa \\ rpm", 1000, 3000],
      [50, 3, 4],
      [250, 8, 9],
    ]),
  );
  await bench.choice("In the job", bench.bringIn).selectOption({ index: 1 });
  await bench.takeOver();
  await bench.goTo("Build");
  await bench.choice("Regulator").selectOption("fixed (in the tank)");
  await bench.fill("Pressure over outside air", 100);
  await bench.goTo("Table");
  await bench.button("Change the injectors").click();
  await told.getByText(/250 kPa.*pressure across the injector must be above 0 kPa.*raise the rail pressure/).waitFor();
  expect(await bench.button("Keep as step 1").isDisabled()).toBe(true);
  await bench.button("Discard").click();
  while (await bench.undo.isEnabled()) {
    if ((await jobOf(bench)) === before) break;
    await bench.undo.click();
  }
  expect(await jobOf(bench)).toBe(before);
});
