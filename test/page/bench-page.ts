import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { BrowserContext, Download, Locator, Page } from "playwright";
import { expect } from "vitest";
import type { ServedPage } from "./served-page.ts";

export type LeafName = "Build" | "Table" | "Evidence" | "What if" | "Handover";

/** A file that a test gives to the page. */
export interface GivenFile {
  readonly name: string;
  readonly text: string | Buffer;
}

/** One gridcell as it is named to those who listen: its value as read, its place, and whatever else is said of it. */
export interface NamedCell {
  readonly value: number;
  readonly rpm: number;
  readonly load: number;
  readonly more: string;
}

/**
 * The workbench as somebody before it knows it: by roles and accessible names. Every name that the tests rely on and that
 * more than one of them needs stands here.
 */
export class BenchPage {
  constructor(
    readonly page: Page,
    private readonly served: ServedPage,
  ) {}

  // The shell

  async load(leaf = ""): Promise<void> {
    await this.page.goto(this.served.address + (leaf && `#${leaf}`));
    await this.kept.waitFor();
  }

  async reload(): Promise<void> {
    await this.page.reload();
    await this.kept.waitFor();
  }

  /** Says in the header that the job is on the disk. */
  get kept(): Locator {
    return this.page.getByText(/^kept on this machine/);
  }
  get title(): Locator {
    return this.page.getByRole("heading", { level: 1 });
  }
  get undo(): Locator {
    return this.button(/^Undo/);
  }
  get redo(): Locator {
    return this.button(/^Redo/);
  }
  get refused(): Locator {
    return this.page.getByRole("alert");
  }
  button(name: string | RegExp): Locator {
    return this.page.getByRole("button", typeof name === "string" ? { name, exact: true } : { name });
  }
  field(name: string | RegExp, within: Locator | Page = this.page): Locator {
    return within.getByRole("textbox", typeof name === "string" ? { name, exact: true } : { name });
  }
  choice(name: string, within: Locator | Page = this.page): Locator {
    return within.getByRole("combobox", { name, exact: true });
  }

  /** The words of what is chosen. */
  chosen(name: string, within: Locator | Page = this.page): Promise<string | undefined> {
    return this.choice(name, within).evaluate((one) => (one as HTMLSelectElement).selectedOptions[0]?.text.trim());
  }

  async goTo(leaf: LeafName): Promise<void> {
    await this.page.getByRole("navigation", { name: "Leaves" }).getByRole("link", { name: leaf }).click();
    await this.page.getByRole("main", { name: leaf }).waitFor();
  }

  async clearDemo(): Promise<void> {
    await this.button("Clear the demo, start empty").click();
    await expect.poll(() => this.title.textContent()).toContain("New job");
    await this.kept.waitFor();
  }

  dialog(name: string): Locator {
    return this.page.getByRole("dialog", { name });
  }

  async closeDialog(name: string): Promise<void> {
    await this.dialog(name).getByRole("button", { name: "Close", exact: true }).first().click();
    await this.dialog(name).waitFor({ state: "detached" });
  }

  // Build

  get injectorsOut(): Locator {
    return this.page.getByRole("region", { name: "Injectors going out" });
  }

  /** Opens a line of the parts list, if it is closed. */
  async openPart(name: string): Promise<void> {
    const opener = this.page.getByRole("heading", { name, exact: true }).getByRole("button");
    if ((await opener.getAttribute("aria-expanded")) !== "true") await opener.click();
  }

  /** Types into a field as a person does, and leaves it. */
  async fill(name: string, text: string | number, within: Locator | Page = this.page): Promise<void> {
    const field = this.field(name, within);
    await field.fill(String(text));
    await field.press("Tab");
  }

  /** The same for a field that takes numbers alone. */
  async fillFigure(name: string, value: number, within: Locator | Page = this.page): Promise<void> {
    const field = within.getByRole("spinbutton", { name, exact: true });
    await field.fill(String(value));
    await field.press("Tab");
  }

  // Bringing in

  get bringIn(): Locator {
    return this.dialog("Bring in a table");
  }

  /** What stands beside a recognised property. */
  recognised(name: string): Locator {
    return this.bringIn.getByRole("table", { name: "Recognised" }).getByRole("row", { name });
  }

  async expectRecognised(name: string, value: string): Promise<void> {
    await expect.poll(() => this.chosen(name, this.bringIn)).toBe(value);
  }

  async openBringIn(): Promise<void> {
    await this.button("Bring in a table").first().click();
    await this.bringIn.waitFor();
  }

  async pasteTable(text: string): Promise<void> {
    await this.field("Text", this.bringIn).click();
    await this.putOnClipboard(text);
    await this.page.keyboard.press("Control+V");
  }

  async takeOver(): Promise<void> {
    await this.bringIn.getByRole("button", { name: "Take it over" }).click();
    await this.bringIn.waitFor({ state: "detached" });
  }

  // Grid

  get grid(): Locator {
    return this.page.getByRole("grid");
  }

  cell(rpm: number, load: number): Locator {
    return this.grid.getByRole("gridcell", {
      name: new RegExp(`, ${rpm.toLocaleString("en")} rpm, ${load.toLocaleString("en")} `),
    });
  }

  async cells(): Promise<NamedCell[]> {
    const names = await this.grid.getByRole("gridcell").evaluateAll((all) => all.map((one) => one.ariaLabel ?? ""));
    return names.map(readName);
  }

  /** Presses on one cell and lets go over another. */
  async dragOver(from: Locator, to: Locator): Promise<void> {
    await from.hover();
    await this.page.mouse.down();
    await to.hover();
    await this.page.mouse.up();
  }

  async valueAt(rpm: number, load: number): Promise<number> {
    return readName((await this.cell(rpm, load).getAttribute("aria-label")) ?? "").value;
  }

  /** The cell that has the focus, by its accessible name. */
  get focusedCell(): Locator {
    return this.grid.locator('[role="gridcell"]:focus');
  }

  // Steps

  get steps(): Locator {
    return this.page.getByRole("list", { name: "Steps, in order" });
  }
  get stepCard(): Locator {
    return this.page.getByRole("region", { name: "Step", exact: true });
  }
  /** What can be done to the cells, the table and the parts, by the words of its button. */
  async offers(): Promise<string[]> {
    const names = await this.stepCard.getByRole("button").allTextContents();
    return names.map((name) => name.trim()).filter((name) => !/^(Bring in|Take) |^\?$/.test(name));
  }
  step(number: number): Locator {
    return this.steps.getByRole("button", { name: new RegExp(`^${number} `) });
  }
  stepSwitch(number: number): Locator {
    return this.steps.getByRole("checkbox", { name: new RegExp(`^Step ${number},`) });
  }

  async undoes(what: string): Promise<void> {
    await this.button(`Undo: ${what}`).click();
  }
  async redoes(what: string): Promise<void> {
    await this.button(`Redo: ${what}`).click();
  }

  // Jobs

  get jobs(): Locator {
    return this.dialog("Jobs and files");
  }
  async openJobs(): Promise<void> {
    await this.button("Jobs and files").click();
    await this.jobs.waitFor();
  }

  /** The dialog goes by itself once another job is open. */
  jobsGone(): Promise<void> {
    return this.jobs.waitFor({ state: "detached" });
  }

  /** Opens a job file; a dialog that stays, as where the file is refused, is closed. */
  async openJob(file: GivenFile): Promise<void> {
    await this.openJobs();
    await this.chooseFile(() => this.jobs.getByRole("button", { name: "Open a job file" }).click(), file);
    const refusal = this.jobs.getByRole("alert");
    await expect.poll(async () => (await this.jobs.count()) === 0 || (await refusal.count()) > 0).toBe(true);
    if ((await this.jobs.count()) > 0) await this.closeDialog("Jobs and files");
  }

  /** The job as a file, from the dialog of jobs. */
  async saveJob(): Promise<{ name: string; text: string }> {
    await this.openJobs();
    const file = await this.download(() => this.jobs.getByRole("button", { name: "Save the job to a file" }).click());
    await this.closeDialog("Jobs and files");
    return file;
  }

  // In and out

  /** What `act` downloads. */
  async download(act: () => Promise<unknown>): Promise<{ name: string; text: string }> {
    const [download] = await Promise.all([this.page.waitForEvent("download"), act()]);
    return readDownload(download);
  }

  async chooseFile(act: () => Promise<unknown>, file: GivenFile): Promise<void> {
    const [chooser] = await Promise.all([this.page.waitForEvent("filechooser"), act()]);
    await chooser.setFiles(await onDisk(file));
  }

  /** Drags a file from outside onto an element and lets go. */
  async drop(file: GivenFile, on: Locator): Promise<void> {
    const path = await onDisk(file);
    const box = (await on.boundingBox())!;
    const session = await this.page.context().newCDPSession(this.page);
    for (const type of ["dragEnter", "dragOver", "drop"] as const)
      await session.send("Input.dispatchDragEvent", {
        type,
        x: box.x + box.width / 2,
        y: box.y + box.height / 2,
        data: { items: [], files: [path], dragOperationsMask: 1 },
      });
    await session.detach();
  }

  /** Copies text in another page, as from a spreadsheet; `times` over, for what is too large to lay out there. */
  async putOnClipboard(text: string, times = 1): Promise<void> {
    const sheet = await this.sheet();
    if (times > 1) {
      await this.page.context().grantPermissions(["clipboard-read", "clipboard-write"]);
      await sheet.evaluate(([line, count]) => navigator.clipboard.writeText(line.repeat(count)), [
        text,
        times,
      ] as const);
    } else {
      await sheet.getByRole("textbox", { name: "Sheet" }).fill(text);
      await sheet.keyboard.press("Control+A");
      await sheet.keyboard.press("Control+C");
    }
    await sheet.close();
    await this.page.bringToFront();
  }

  /** Pastes in another page, as into a spreadsheet. */
  async takeFromClipboard(): Promise<string> {
    const sheet = await this.sheet();
    await sheet.getByRole("textbox", { name: "Sheet" }).focus();
    await sheet.keyboard.press("Control+V");
    const text = await sheet.getByRole("textbox", { name: "Sheet" }).inputValue();
    await sheet.close();
    await this.page.bringToFront();
    return text;
  }

  private async sheet(): Promise<Page> {
    const sheet = await this.page.context().newPage();
    await sheet.goto(this.served.elsewhere);
    return sheet;
  }
}

const given: string[] = [];

async function onDisk({ name, text }: GivenFile): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), "fuelwright-file-"));
  given.push(folder);
  await writeFile(join(folder, name), text);
  return join(folder, name);
}

/** Takes the files off the disk that were given to pages. */
export async function removeGivenFiles(): Promise<void> {
  await Promise.all(given.splice(0).map((folder) => rm(folder, { recursive: true })));
}

/** Makes a browser one that can't write to a chosen file: the dialog to choose one can't be driven, a download can. */
export const downloadInsteadOfAsking = (there: Page | BrowserContext): Promise<unknown> =>
  there.addInitScript(() =>
    Object.defineProperty(window, "showSaveFilePicker", { value: undefined, configurable: true }),
  );

export async function readDownload(download: Download): Promise<{ name: string; text: string }> {
  return { name: download.suggestedFilename(), text: await readFile(await download.path(), "utf8") };
}

/** `5.02 ms, 1,200 rpm, 60 kPa, −18.7 %, before 6.17` */
function readName(name: string): NamedCell {
  const match = /^([−\d.]+)[^,]*, ([\d,.]+) rpm, ([−\d,.]+) [^,]+(.*)$/.exec(name);
  if (!match) throw new Error(`The gridcell is named ${JSON.stringify(name)}: no value, rpm and load.`);
  const [value, rpm, load] = match.slice(1, 4).map((text) => Number(text.replace("−", "-").replaceAll(",", "")));
  return { value: value!, rpm: rpm!, load: load!, more: match[4]!.replace(/^, /, "") };
}
