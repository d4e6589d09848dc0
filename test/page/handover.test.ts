import { readFile, rm } from "node:fs/promises";
import { pathToFileURL } from "node:url";
import { writeJob } from "@fuelwright/table-core";
import type { Locator, Page } from "playwright";
import { expect, test } from "vitest";
import { largeJob, largeTable } from "../../packages/workbench/src/leaves/handover/card/testing/jobs.ts";
import { demoJob } from "../../packages/workbench/src/store/demo-job.ts";
import { sayStep } from "../../packages/workbench/src/store/say-step.ts";
import { Hands } from "./hands.ts";
import { printedTables } from "./printed-tables.ts";
import { type Box, darkShare, evenBlanks, type GreyPage, type PdfPage, readPdf } from "./read-pdf.ts";
import { useStage } from "./stage.ts";

const stage = useStage();

/** Blank on each side of the printed page: 14 mm, in points, less a hair for what is rounded. */
const MARGIN = (14 / 25.4) * 72 - 1;

const print = async (page: Page): Promise<PdfPage[]> => readPdf(await page.pdf({ preferCSSPageSize: true }));

const wholeText = (pages: readonly PdfPage[]) => evenBlanks(pages.map(({ text }) => text).join(" "));

/** The paper is right, and each page has the running title and its number. */
function expectPaper(pages: readonly PdfPage[], [width, height]: readonly [number, number], title: string) {
  for (const [at, page] of pages.entries()) {
    expect(page.width).toBeCloseTo(width, 0);
    expect(page.height).toBeCloseTo(height, 0);
    expect(page.text).toContain(title);
    expect(page.text).toContain(`page ${at + 1} of ${pages.length}`);
  }
}

/** Nothing is cut at an edge, and the page is not empty. */
async function expectSoundPicture(page: PdfPage): Promise<GreyPage> {
  const { width, height } = page;
  const picture = await page.picture();
  const inked = (box: Box) => darkShare(picture, box, 250);
  expect(inked([0, 0, MARGIN, height]), "left margin").toBe(0);
  expect(inked([width - MARGIN + 1, 0, width, height]), "right margin").toBe(0);
  expect(inked([0, height - MARGIN, width, height]), "upper margin").toBe(0);
  expect(inked([0, 0, width, 12]), "lower edge").toBe(0);
  expect(inked([MARGIN, 60, width - MARGIN, height - MARGIN]), "the page's own part").toBeGreaterThan(0.002);
  return picture;
}

const papers = { A4: [595, 842], Letter: [612, 792] } as const;

test("the demo's card is whole on A4 and on Letter, read back as text and as grey pictures", async () => {
  // Dark on the screen, and all the same black on white on paper.
  const bench = await stage.open({ leaf: "handover", colorScheme: "dark" });
  for (const [paper, size] of Object.entries(papers)) {
    await bench.choice("Paper").selectOption(paper);
    await expectWholeCard(await print(bench.page), size);
  }
});

async function expectWholeCard(pages: readonly PdfPage[], size: readonly [number, number]) {
  expectPaper(pages, size, "Sidecar twin, larger injectors, handover card, invented figures");

  const text = wholeText(pages);
  const job = demoJob();
  for (const step of job.steps) {
    const { title, detail } = sayStep(step, job);
    expect(text).toContain(`${title}, ${detail}`);
    expect(text.toLowerCase()).toContain(`why: ${step.note}.`);
  }
  for (const words of [
    "Every figure on this card is invented",
    "first set, as built, 2.30 g/s at 300 kPa",
    "larger set, 3.05 g/s at 300 kPa",
    "petrol, stoichiometric 14.60 : 1",
    "First to run out: Intake",
    "Nothing in these tables is proven",
    "Petrol vapour burns",
    "Emissions and noise law is local and comes first",
    "Done by",
    "Checked by",
    "First start witnessed by",
  ])
    expect(text).toContain(words);
  // The card alone: nothing of the page around it.
  for (const words of ["Units and view", "Carry out", "Save as CSV", "Nothing you enter leaves"])
    expect(text).not.toContain(words);
  // What goes to the bay is one page.
  expect(pages.at(-1)!.text).toMatch(/First start: .*Engine cold.*Check cells.*Cautions.*Sign-off/);

  const tables = printedTables(pages, "kPa \\ rpm");
  expect([...tables.keys()]).toEqual([
    "Both cylinders, before, ms",
    "Both cylinders, after, ms",
    "Mixture wished for, before, lambda",
    "Mixture wished for, after, lambda",
  ]);
  for (const cells of tables.values()) expect(cells).toHaveLength(150);
  const find = (name: string, rpm: string, load: string) =>
    tables.get(name)!.find((cell) => cell.rpm === rpm && cell.load === load)!;
  const before = find("Both cylinders, before, ms", "6,800", "100");
  const after = find("Both cylinders, after, ms", "6,800", "100");
  const inHand = find("Both cylinders, after, ms", "1,800", "100");
  expect([before.text, after.text, after.under]).toEqual(["14.82", "11.91", "−19.6 !"]);
  // Heavy type says what changed, and a box what is at a ceiling: both without colour.
  expect(after.place.font).not.toBe(before.place.font);
  const same = find("Mixture wished for, after, lambda", "900", "20");
  expect([same.under, same.place.font]).toEqual(["", before.place.font]);
  const pictures: GreyPage[] = [];
  for (const page of pages) pictures.push(await expectSoundPicture(page));
  /** How much ink stands left of a figure, between it and the cell's edge. */
  const side = ({ page, place: { x, y, width } }: typeof after) =>
    darkShare(pictures[page]!, [x + width - 29, y - 8, x - 1, y + 6], 128);
  expect(side(inHand)).toBeLessThan(0.02);
  expect(side(after)).toBeGreaterThan(0.1);
}

test("a table of 64 by 40 is whole, with both axes on every page it goes over", async () => {
  const bench = await stage.open();
  await bench.openJob({ name: "large.json", text: writeJob(largeJob()) });
  await bench.goTo("Handover");
  await bench.choice("Paper").selectOption("A4");
  const pages = await print(bench.page);
  expectPaper(pages, [595, 842], "Fine table, one corner richer, handover card");

  const tables = printedTables(pages, "% \\ rpm");
  await expectSoundPicture(pages[tables.get("Large table, before, ms")![0]!.page]!);
  const { rpm, load, cells } = largeTable();
  for (const [state, changed] of [
    ["before", false],
    ["after", true],
  ] as const) {
    const printed = tables.get(`Large table, ${state}, ms`)!;
    expect(new Set(printed.map(({ page }) => page)).size).toBeGreaterThan(2);
    const found = new Map(printed.map((cell) => [`${cell.rpm} ${cell.load}`, `${cell.text} ${cell.under}`.trim()]));
    const wanted = new Map(
      load.breakpoints.flatMap((l, row) =>
        rpm.breakpoints.map((r, column) => {
          const was = cells[row * rpm.breakpoints.length + column]!;
          const corner = changed && r >= 5000 && l >= 80;
          const text = (corner ? was * 1.04 : was).toFixed(2);
          return [`${r.toLocaleString("en")} ${l}`, corner ? `${text} +4.0` : text] as const;
        }),
      ),
    );
    expect(printed).toHaveLength(2560);
    expect(found).toEqual(wanted);
  }
});

test("by keys alone the card is printed and saved; its file says the same, runs nothing and asks for nothing", async () => {
  const bench = await stage.open({ leaf: "handover" });
  const { page } = bench;
  await page.evaluate(() => {
    window.print = () => document.documentElement.setAttribute("data-printed", "");
  });
  const hands = await Hands.on(page);
  await hands.tabTo("combobox", "Paper");
  await hands.type("Letter");
  await hands.enter("button", "Print the card");
  expect(await page.locator("html[data-printed]").count()).toBe(1);
  const [download] = await Promise.all([page.waitForEvent("download"), hands.enter("button", "Save the card")]);
  expect(download.suggestedFilename()).toBe("sidecar-twin-larger-injectors-card.html");

  const alone = await stage.profile({ javaScriptEnabled: false });
  const asked: string[] = [];
  alone.on("request", (request) => asked.push(request.url()));
  const file = await alone.newPage();
  const path = `${await download.path()}.html`;
  await download.saveAs(path);
  await file.goto(pathToFileURL(path).href);
  expect(await file.getByRole("heading", { level: 1 }).textContent()).toBe("Sidecar twin, larger injectors");
  expect(await file.getByRole("img").count()).toBeGreaterThan(8);
  const [here, there] = await Promise.all([print(page), print(file)]);
  expect(wholeText(there)).toBe(wholeText(here));
  expect(there.map(({ width }) => Math.round(width))).toEqual(here.map(() => 612));
  expect(asked.filter((url) => !url.startsWith("data:"))).toEqual([pathToFileURL(path).href]);
  await rm(path);

  // Away from the leaf the page prints as it did before.
  await bench.goTo("Build");
  expect(await page.locator("head style").filter({ hasText: "@page" }).count()).toBe(0);
});

test("every picture is saved as SVG, black and white if wished, and as PNG of twice its size", async () => {
  const bench = await stage.open({ leaf: "handover" });
  const { page } = bench;
  const pictures = page.getByRole("region", { name: "Pictures as files" });
  const save = async (button: Locator) => {
    const [download] = await Promise.all([page.waitForEvent("download"), button.click()]);
    // Faster than any hand: of more than ten downloads in a second the browser drops the rest.
    await page.waitForTimeout(120);
    return { name: download.suggestedFilename(), bytes: await readFile(await download.path()) };
  };
  await bench.choice("In", pictures).selectOption("black and white");
  const buttons = await pictures.getByRole("button", { name: /as SVG$/ }).all();
  expect(buttons.length).toBeGreaterThan(12);
  const saved = [];
  for (const button of buttons) saved.push(await save(button));
  expect(new Set(saved.map(({ name }) => name)).size).toBe(buttons.length);
  const texts = saved.map(({ bytes }) => bytes.toString("utf8"));
  const read = await page.evaluate(
    (list) =>
      list.map((text) => {
        const { documentElement: svg } = new DOMParser().parseFromString(text, "image/svg+xml");
        return {
          tag: svg.tagName,
          says: svg.querySelector("desc")?.textContent ?? "",
          width: svg.getAttribute("width"),
        };
      }),
    texts,
  );
  for (const { tag, says } of read) {
    expect(tag).toBe("svg");
    expect(says.length).toBeGreaterThan(30);
  }
  for (const text of texts) {
    const colours = [...text.matchAll(/(?:fill|stroke)="#(..)(..)(..)"/g)];
    expect(colours.length).toBeGreaterThan(0);
    expect(colours.filter(([, red, green, blue]) => red !== green || green !== blue)).toEqual([]);
    expect(text).not.toContain("var(");
  }

  const { name, bytes } = await save(pictures.getByRole("button", { name: "Both cylinders, map of changes, as PNG" }));
  expect(name).toBe("sidecar-twin-larger-injectors-both-cylinders-map-of-changes.png");
  expect(bytes.subarray(1, 4).toString()).toBe("PNG");
  const at = saved.findIndex((one) => one.name === name.replace(".png", ".svg"));
  expect(bytes.readUInt32BE(16)).toBe(2 * Number(read[at]!.width));
  const inked = await page.evaluate(
    async (url) => {
      const image = Object.assign(new Image(), { src: url });
      await image.decode();
      const canvas = Object.assign(document.createElement("canvas"), { width: image.width, height: image.height });
      const context = canvas.getContext("2d")!;
      context.drawImage(image, 0, 0);
      const { data } = context.getImageData(0, 0, canvas.width, canvas.height);
      return data.filter((value, place) => place % 4 === 0 && value < 128).length / (canvas.width * canvas.height);
    },
    `data:image/png;base64,${bytes.toString("base64")}`,
  );
  expect(inked).toBeGreaterThan(0.02);
  expect(inked).toBeLessThan(0.5);
});

test("without a table the leaf says what to do, and leads there", async () => {
  const bench = await stage.open();
  await bench.clearDemo();
  await bench.goTo("Handover");
  await bench.page.getByRole("heading", { name: "Nothing to hand over yet" }).waitFor();
  expect(await bench.button("Print the card").count()).toBe(0);
  await bench.page.getByRole("link", { name: "Bring one in on the Table leaf" }).click();
  await bench.page.getByRole("main", { name: "Table" }).waitFor();
});
