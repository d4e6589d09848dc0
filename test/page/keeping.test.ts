import { type Job, readJob, writeJob } from "@fuelwright/table-core";
import { describe, expect, test } from "vitest";
import type { BenchPage } from "./bench-page.ts";
import { useStage } from "./stage.ts";

const stage = useStage();

/** Types a value into a cell of the demo's table, and waits until it is on the disk. */
async function setCell(bench: BenchPage, value: number, rpm = 2200, load = 50): Promise<void> {
  await bench.goTo("Table");
  await bench.cell(rpm, load).click();
  await bench.page.keyboard.type(String(value));
  await bench.page.keyboard.press("Enter");
  await bench.button(`Undo: Set to ${value}`).waitFor();
}

const setAndKept = async (bench: BenchPage, value: number, rpm?: number, load?: number) => {
  await setCell(bench, value, rpm, load);
  await bench.kept.waitFor();
};

/** A table of `size` by `size` cells, none like the other. */
const wideTable = (size: number) =>
  [0, ...Array.from({ length: size }, (_, at) => at + 1)]
    .map((row) =>
      [
        row === 0 ? "ms: kPa \\ rpm" : row,
        ...Array.from({ length: size }, (_, at) => (row === 0 ? 500 + 20 * at : 2 + Math.sin(row * 131 + at))),
      ].join(),
    )
    .join("\n");

const stepsOf = (job: Job) => job.steps.map(({ kind, settings }) => `${kind} ${JSON.stringify(settings)}`);

async function pickPreset(bench: BenchPage, at: number): Promise<string> {
  await bench.goTo("Table");
  await bench.button("Colours").click();
  const dialog = bench.dialog("Colours of change");
  const preset = dialog.getByRole("region", { name: "Start from" }).getByRole("button").nth(at);
  await preset.click();
  await expect.poll(() => preset.getAttribute("aria-pressed")).toBe("true");
  const name = await dialog.getByRole("textbox", { name: "Name" }).inputValue();
  await bench.closeDialog("Colours of change");
  return name;
}

describe("a reload", () => {
  test("brings back the job with every change, and undo goes back over all of them", async () => {
    const bench = await stage.open();
    const first = readJob((await bench.saveJob()).text);
    await setAndKept(bench, 5.25);
    await bench.stepSwitch(1).click();
    await bench.goTo("Build");
    await bench.openPart("Engine");
    await bench.fill("Displacement", 1100);
    const scheme = await pickPreset(bench, 2);
    await bench.openJobs();
    await bench.fill("Name", "Renamed twin", bench.jobs);
    await bench.closeDialog("Jobs and files");
    await bench.kept.waitFor();
    const before = (await bench.saveJob()).text;

    await bench.reload();
    expect((await bench.saveJob()).text).toBe(before);
    await expect.poll(() => bench.title.textContent()).toContain("Renamed twin");
    const labels = [
      "Rename the job to Renamed twin",
      `Colours: ${scheme}`,
      "Change the engine",
      "Switch off step 1, Change the injectors",
      "Set to 5.25",
    ];
    for (const label of labels) await bench.undoes(label);
    expect(await bench.undo.isDisabled()).toBe(true);
    expect(writeJob(readJob((await bench.saveJob()).text))).toBe(writeJob(first));
    for (const label of labels.toReversed()) await bench.redoes(label);
    expect((await bench.saveJob()).text).toBe(before);

    // What was undone can be done again after another reload.
    await bench.undoes(labels[0]!);
    await bench.kept.waitFor();
    await bench.reload();
    await bench.redoes(labels[0]!);
    expect((await bench.saveJob()).text).toBe(before);
  });

  test("brings back preferences, and the scheme that new jobs start with", async () => {
    const bench = await stage.open();
    await bench.button("Units and view").click();
    const dialog = bench.dialog("Units and view");
    const choices = {
      Units: "imperial: psi, lb/h, °F",
      "Light or dark": "dark",
      Grid: "compact",
      "Cells are shaded by": "their value, in one ink",
    };
    for (const [name, choice] of Object.entries(choices)) await bench.choice(name, dialog).selectOption(choice);
    await dialog.getByRole("checkbox", { name: "Load runs downward" }).check();
    await bench.closeDialog("Units and view");
    const scheme = await pickPreset(bench, 3);
    await bench.button("Colours").click();
    await bench.dialog("Colours of change").getByRole("button", { name: "Use as my default" }).click();
    await bench.closeDialog("Colours of change");

    await bench.reload();
    await bench.button("Units and view").click();
    for (const [name, choice] of Object.entries(choices))
      await expect.poll(() => bench.chosen(name, dialog)).toBe(choice);
    expect(await dialog.getByRole("checkbox", { name: "Load runs downward" }).isChecked()).toBe(true);
    await bench.closeDialog("Units and view");
    expect(await bench.page.evaluate(() => document.documentElement.className)).toBe("dark");
    await bench.goTo("Build");
    await bench.openPart("Injectors");
    await bench
      .choice("Unit of Rated at")
      .first()
      .getByRole("option", { name: "psi", selected: true })
      .waitFor({ state: "attached" });
    await bench.clearDemo();
    expect(readJob((await bench.saveJob()).text).scheme.name).toBe(scheme);
  });
});

describe("a second tab", () => {
  test("on the same job is told, reads along, changes nothing, and takes over when the first closes", async () => {
    const profile = await stage.profile();
    const first = await stage.open({ profile });
    const second = await stage.openReading(profile);
    await second.refused.getByText(/open in another tab; here it can be read/).waitFor();
    await second.page.getByRole("banner").getByText("read only").waitFor();

    await setAndKept(first, 5.25);
    await expect.poll(() => second.valueAt(2200, 50)).toBe(5.25);

    expect(await second.grid.getAttribute("aria-readonly")).toBe("true");
    await second.cell(2200, 50).click();
    await second.page.keyboard.type("9");
    await second.page.keyboard.press("Enter");
    await second.page.keyboard.press("Control+z");
    expect(await second.valueAt(2200, 50)).toBe(5.25);
    expect(await second.stepSwitch(1).isDisabled()).toBe(true);
    expect(await second.button("Change the mixture").isDisabled()).toBe(true);
    expect(await first.valueAt(2200, 50)).toBe(5.25);

    await first.page.close();
    await second.page.getByText("The other tab let go: the job can be changed here now.").waitFor();
    await second.kept.waitFor();
    await setAndKept(second, 6.5);
    await second.undoes("Set to 6.5");
    await second.undoes("Set to 5.25");
  });

  test("can go on in a copy at once, and both are kept", async () => {
    const profile = await stage.profile();
    const first = await stage.open({ profile });
    const second = await stage.openReading(profile);
    await second.button("Go on in a copy").click();
    await second.kept.waitFor();
    await setAndKept(second, 6.5);
    await setAndKept(first, 5.25);
    expect(await second.valueAt(2200, 50)).toBe(6.5);
    expect(await first.valueAt(2200, 50)).toBe(5.25);
    await first.openJobs();
    await expect.poll(() => first.jobs.getByRole("button", { name: /^Open .*copy$/ }).count()).toBe(1);
  });

  test("on another job is free", async () => {
    const profile = await stage.profile();
    const first = await stage.open({ profile });
    await first.openJobs();
    await first.jobs.getByRole("button", { name: "New empty job" }).click();
    await expect.poll(() => first.title.textContent()).toContain("New job");
    await first.jobsGone();
    const second = await stage.openReading(profile);
    await second.openJobs();
    await second.jobs.getByRole("button", { name: /^Open Sidecar/ }).click();
    await second.jobsGone();
    await second.kept.waitFor();
    await setAndKept(second, 5.25);
  });
});

describe("storage that fails is told, with a download offered", () => {
  /** The job as the button beside the bad news downloads it. */
  const offered = async (bench: BenchPage) =>
    readJob(
      (
        await bench.download(() =>
          bench.page.getByRole("banner").getByRole("button", { name: "Save to a file" }).click(),
        )
      ).text,
    );

  const notKept = (bench: BenchPage) => bench.page.getByRole("banner").getByText("not kept:");

  test("full: the change stays on the page, and is kept once there is room again", async () => {
    const profile = await stage.profile();
    const session = await profile.newCDPSession(await profile.newPage());
    const { origin } = new URL(stage.served.address);
    await session.send("Storage.overrideQuotaForOrigin", { origin, quotaSize: 400_000 });
    const bench = await stage.open({ profile });
    await setAndKept(bench, 5.25);

    await bench.openBringIn();
    await bench.chooseFile(() => bench.button("Choose a file").click(), { name: "wide.csv", text: wideTable(200) });
    await bench.takeOver();
    await notKept(bench).waitFor();
    await bench.page.getByRole("banner").getByText("The browser's storage is full.").waitFor();
    const job = await offered(bench);
    expect(job.tables.map(({ name }) => name)).toContain("wide");
    expect(stepsOf(job).at(-1)).toContain("5.25");

    const asked = bench.page.waitForEvent("dialog");
    await bench.page.close({ runBeforeUnload: true });
    expect((await asked).type()).toBe("beforeunload");
    await (await asked).dismiss();

    await session.send("Storage.overrideQuotaForOrigin", { origin });
    await bench.choice("Table").selectOption({ index: 0 });
    await setAndKept(bench, 6.5);
    await bench.reload();
    for (const label of ["Set to 6.5", "Bring in wide", "Set to 5.25"]) await bench.undoes(label);
  });

  test("blocked: the page works all the same", async () => {
    const profile = await stage.profile();
    await profile.addInitScript(() => Object.defineProperty(window, "indexedDB", { value: undefined }));
    const bench = await stage.openUnkept(profile);
    await bench.page
      .getByRole("banner")
      .getByText(/This browser gives the page no storage/)
      .waitFor();
    await setCell(bench, 5.25);
    expect(await bench.valueAt(2200, 50)).toBe(5.25);
    await notKept(bench).waitFor();
    expect(stepsOf(await offered(bench)).at(-1)).toContain("5.25");
  });

  test("blocked down to preferences, as where a page may keep nothing at all", async () => {
    const profile = await stage.profile();
    await profile.addInitScript(() => {
      const refuse = () => {
        throw new DOMException("Access is denied for this document.", "SecurityError");
      };
      for (const name of ["localStorage", "indexedDB"]) Object.defineProperty(window, name, { get: refuse });
    });
    const bench = await stage.openUnkept(profile);
    await notKept(bench).waitFor();
    await setCell(bench, 5.25);
    expect(stepsOf(await offered(bench)).at(-1)).toContain("5.25");
  });

  test("wiped while the page is open: what is on the page can be saved", async () => {
    const bench = await stage.open();
    await setAndKept(bench, 5.25);
    const session = await bench.page.context().newCDPSession(bench.page);
    const { origin } = new URL(bench.page.url());
    await session.send("Storage.clearDataForOrigin", { origin, storageTypes: "indexeddb" });
    await notKept(bench).waitFor();
    await bench.page
      .getByRole("banner")
      .getByText(/closed this page's storage/)
      .waitFor();
    expect(stepsOf(await offered(bench)).at(-1)).toContain("5.25");
    expect(await bench.valueAt(2200, 50)).toBe(5.25);
  });
});

describe("several jobs on one machine", () => {
  test("are made, copied, opened, listed with the latest first, and deleted only when asked twice", async () => {
    const bench = await stage.open();
    await setAndKept(bench, 5.25);
    await bench.openJobs();
    await bench.jobs.getByRole("button", { name: "Copy the open job" }).click();
    await expect.poll(() => bench.title.textContent()).toContain("copy");
    await bench.jobsGone();
    await setAndKept(bench, 6.5);
    await bench.openJobs();
    await bench.jobs.getByRole("button", { name: "Open Sidecar twin, larger injectors", exact: true }).click();
    await bench.jobsGone();
    await expect.poll(() => bench.valueAt(2200, 50)).toBe(5.25);
    await bench.reload();
    await expect.poll(() => bench.valueAt(2200, 50)).toBe(5.25);

    await bench.openJobs();
    const copy = /^Delete .*copy$/;
    await bench.jobs.getByRole("button", { name: copy }).click();
    await bench.jobs.getByRole("button", { name: "Keep it" }).click();
    await bench.jobs.getByRole("button", { name: copy }).click();
    await bench.jobs.getByRole("button", { name: "Yes, delete for good" }).click();
    await expect.poll(() => bench.jobs.getByRole("button", { name: copy }).count()).toBe(0);
    await bench.jobs.getByRole("button", { name: /^Delete Sidecar/ }).click();
    await bench.jobs.getByRole("button", { name: "Yes, delete for good" }).click();
    await expect.poll(() => bench.title.textContent()).toContain("New job");
  });

  test("a file chosen for one job is not written with another", async () => {
    const profile = await stage.profile();
    await profile.addInitScript(() => {
      const asked: string[] = [];
      Object.assign(window, { asked });
      Object.defineProperty(window, "showSaveFilePicker", {
        value: async ({ suggestedName }: { suggestedName: string }) => {
          asked.push(suggestedName);
          return (await navigator.storage.getDirectory()).getFileHandle(suggestedName, { create: true });
        },
      });
    });
    const bench = await stage.open({ profile });
    const save = async (times: number) => {
      await bench.openJobs();
      await bench.jobs.getByRole("button", { name: "Save the job to a file" }).click();
      await bench.closeDialog("Jobs and files");
      await expect
        .poll(() => bench.page.evaluate(() => (window as unknown as { asked: string[] }).asked.length))
        .toBe(times);
      await bench.page.getByText(/^Saved to /).waitFor();
    };
    await save(1);
    await bench.clearDemo();
    await save(2);
  });

  test("a job branched from a step goes its own way", async () => {
    const bench = await stage.open();
    await bench.step(1).click();
    await bench.stepCard.getByText("Note, order, name, branch").click();
    await bench.button("Branch from here").click();
    await expect.poll(() => bench.title.textContent()).toContain("branch");
    expect(readJob((await bench.saveJob()).text).steps).toHaveLength(1);
    await bench.openJobs();
    await bench.jobs.getByRole("button", { name: "Open Sidecar twin, larger injectors", exact: true }).click();
    await bench.jobsGone();
    await expect.poll(async () => readJob((await bench.saveJob()).text).steps.length).toBe(2);
  });
});

test("an earlier version is brought back, and that can be undone", async () => {
  const bench = await stage.open();
  const first = (await bench.saveJob()).text;
  await setAndKept(bench, 5.25);
  const second = (await bench.saveJob()).text;
  await bench.undoes("Set to 5.25");
  await setAndKept(bench, 6.5);
  const third = (await bench.saveJob()).text;

  // Undone states are versions too: nothing is thrown away.
  await bench.openJobs();
  const versions = bench.jobs.getByRole("group", { name: "Versions" });
  await versions.getByRole("button", { name: "Bring back version 2" }).click();
  await bench.closeDialog("Jobs and files");
  expect((await bench.saveJob()).text).toBe(second);
  await bench.kept.waitFor();
  await bench.reload();
  expect((await bench.saveJob()).text).toBe(second);
  await bench.undoes("Restore version 2, Set to 5.25");
  expect((await bench.saveJob()).text).toBe(third);
  await bench.undoes("Set to 6.5");
  expect((await bench.saveJob()).text).toBe(first);
});
