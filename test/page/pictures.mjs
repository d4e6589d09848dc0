// Pictures of every leaf for people to look at, in test/pictures: `node test/page/pictures.mjs [words that a name must hold]`.
import { mkdir, rm } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { chromium } from "playwright";
import { runnerImport } from "vite";

const here = (path) => fileURLToPath(new URL(path, import.meta.url));
const load = async (path) => (await runnerImport(here(path))).module;
const { servePage } = await load("./served-page.ts");
const { browserArgs, executablePath } = await load("./chromium.ts");

const leaves = { build: "Build", table: "Table", evidence: "Evidence", "what-if": "What if", handover: "Handover" };
const kinds = [
  { name: "1280-light", viewport: { width: 1280, height: 900 } },
  { name: "1280-dark", viewport: { width: 1280, height: 900 }, colorScheme: "dark" },
  { name: "1920-light", viewport: { width: 1920, height: 1080 } },
  { name: "360-light", viewport: { width: 360, height: 740 } },
  { name: "360-dark", viewport: { width: 360, height: 740 }, colorScheme: "dark" },
  // Twice as large, as a browser zooms: half as many pixels of the page on the same screen.
  { name: "1280-zoomed", viewport: { width: 640, height: 450 }, deviceScaleFactor: 2 },
];

const folder = here("../pictures");
const wanted = process.argv.slice(2);
const isWanted = (name) => wanted.every((word) => name.includes(word));
if (wanted.length === 0) await rm(folder, { recursive: true, force: true });
await mkdir(folder, { recursive: true });

const [served, browser] = await Promise.all([servePage(), chromium.launch({ executablePath, args: [...browserArgs] })]);
let taken = 0;
for (const { name, ...options } of kinds) {
  const context = await browser.newContext({ locale: "en-GB", ...options });
  const page = await context.newPage();
  const take = async (what, target = page) => {
    const file = `${what}-${name}`;
    if (!isWanted(file)) return;
    // The grid names and draws its cells within a quarter of a second.
    await page.waitForTimeout(300);
    await target.screenshot({ path: `${folder}/${file}.png`, ...(target === page && { fullPage: true }) });
    taken++;
  };
  const goTo = async (leaf) => {
    await page.getByRole("navigation", { name: "Leaves" }).getByRole("link", { name: leaves[leaf] }).click();
    await page.getByRole("main", { name: leaves[leaf] }).waitFor();
  };
  const button = (words) => page.getByRole("button", { name: words, exact: true });
  const takeDialog = async (words) => {
    await button(words).first().click();
    const dialog = page.getByRole("dialog");
    await dialog.waitFor();
    await take(`dialog-${words.toLowerCase().replaceAll(" ", "-")}`, page);
    await page.keyboard.press("Escape");
    await dialog.waitFor({ state: "detached" });
  };

  await page.goto(served.address);
  await page.getByText(/^kept on this machine/).waitFor();
  for (const leaf of Object.keys(leaves)) {
    await goTo(leaf);
    await take(`demo-${leaf}`);
  }
  await goTo("table");
  await page.getByRole("list", { name: "Steps, in order" }).getByRole("button", { name: /^1/ }).click();
  await take("step-reopened");
  await button("Close").click();
  await page.getByRole("gridcell", { name: /, 3,000 rpm, 60 / }).click();
  await page.keyboard.press("Shift+ArrowRight");
  await page.keyboard.press("Shift+ArrowUp");
  await page.keyboard.type("cell * 1.04");
  await take("typing");
  await page.keyboard.press("Escape");
  await page.keyboard.type("cell *");
  await page.keyboard.press("Enter");
  await take("typed-wrongly");
  await page.keyboard.press("Escape");
  for (const words of ["Jobs and files", "Units and view", "Keys", "Colours", "Bring in a table"])
    await takeDialog(words);
  await button("Clear the demo, start empty").click();
  await page.getByRole("heading", { name: "No table yet" }).waitFor();
  for (const leaf of Object.keys(leaves)) {
    await goTo(leaf);
    await take(`empty-${leaf}`);
  }
  await goTo("table");
  await button("Bring in a table").first().click();
  await page
    .getByRole("dialog")
    .getByRole("textbox", { name: "Text" })
    .fill("rpm,1000,2000,3000\n30,2.1,2.2,2.3\n60,3.1,3.2,3.3\n90,4.1,4.2,4.3");
  await take("bring-in-recognised");
  await context.close();
}
await browser.close();
await served.close();
console.log(`${taken} pictures in ${folder}`);
