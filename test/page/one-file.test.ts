import { mkdtempSync, readFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { type Browser, chromium } from "playwright";
import { build } from "vite";
import { afterAll, beforeAll, expect, test } from "vitest";
import { browserArgs, executablePath } from "./chromium.ts";

const workbench = fileURLToPath(new URL("../../packages/workbench", import.meta.url));
const outDir = mkdtempSync(join(tmpdir(), "fuelwright-one-file-"));
let browser: Browser;

beforeAll(async () => {
  await build({
    logLevel: "silent",
    root: workbench,
    configFile: join(workbench, "vite.config.ts"),
    mode: "one-file",
    build: { outDir },
  });
  browser = await chromium.launch({ executablePath, args: [...browserArgs] });
}, 60_000);
afterAll(() => browser?.close());

test("the workbench in one file opens from a disk, with every leaf, and fits a log in a worker", async () => {
  const page = await browser.newPage();
  const complaints: string[] = [];
  page.on("pageerror", ({ message }) => complaints.push(message));
  await page.goto(pathToFileURL(join(outDir, "fuelwright.html")).href);
  for (const leaf of ["Build", "What if", "Handover", "Table", "Evidence"]) {
    await page.getByRole("link", { name: leaf }).click();
    await page.getByRole("main", { name: leaf }).getByRole("heading", { level: 2 }).first().waitFor();
  }
  // Pictures and the card are made by the page itself, from a disk too.
  await page.getByRole("link", { name: "Handover" }).click();
  for (const name of ["Both cylinders, ceilings, as PNG", "Save the card"]) {
    const [download] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name, exact: true }).click(),
    ]);
    expect(download.suggestedFilename()).toMatch(/\.(png|html)$/);
  }
  await page.getByRole("link", { name: "Evidence" }).click();
  await page.getByRole("button", { name: "Try it with a made log" }).click();
  expect(page.workers()).toHaveLength(1);
  await page.getByText(/^Fitted from [\d,]+ of [\d,]+ readings/).waitFor({ timeout: 50_000 });
  expect(complaints).toEqual([]);
});

test("its policy is that of the page, but that its script stands in it", () => {
  const read = (path: string) => readFileSync(path, "utf8");
  const promised = /^```\n(default-src .*)\n```$/m.exec(read(join(workbench, "../../SECURITY.md")))![1]!;
  const policy = /<head>\s*<meta http-equiv="Content-Security-Policy" content="([^"]*)">/.exec(
    read(join(outDir, "fuelwright.html")),
  );
  expect(policy?.[1]?.replaceAll("&#39;", "'")).toBe(
    promised.replace("script-src 'self'", "script-src 'unsafe-inline' blob:"),
  );
});
