import { mkdtempSync, readFileSync } from "node:fs";
import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import { extname, join } from "node:path";
import axe from "axe-core";
import { type Browser, chromium, type Page } from "playwright";
import { build } from "vite";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { readBlocks } from "../docs/read-blocks.ts";
import { browserArgs, executablePath } from "../page/chromium.ts";
import { root } from "./build-core.ts";

const bench = mkdtempSync(join(tmpdir(), "fuelwright-pages-"));
const elements = join(bench, "elements");
const inFramework = join(bench, "in-a-framework");
const kinds: Record<string, string> = { ".html": "text/html", ".js": "text/javascript", ".css": "text/css" };
const workbench = join(root, "packages/workbench");
const core = join(root, "packages/table-core/src");
let server: Server;
let browser: Browser;
let page: Page;
let complaints: string[];

/** The page in the guide, and the text that is said to stand on it at the end. */
const guidePage = (() => {
  const markdown = readFileSync(join(root, "packages/table-core/guide/components.md"), "utf8");
  const html = readBlocks(markdown).filter(({ language }) => language === "html");
  expect(html).toHaveLength(1);
  const [, shows = ""] = /^```text\n([\s\S]*?)\n```$/m.exec(markdown) ?? [];
  return { html: html[0]!.code, shows };
})();

/** Where a page's file lies: the elements beside each page, one of the pages made by its bundler. */
function fileOf(url: string): string {
  const [, example = "", ...rest] = url.split("/");
  const path = rest.join("/") || "index.html";
  if (path.startsWith("elements/")) return join(elements, path.slice("elements/".length));
  return example === "in-a-framework" ? join(inFramework, path) : join(root, "examples", example, path);
}

beforeAll(async () => {
  await build({
    root: workbench,
    configFile: join(workbench, "vite.elements.config.ts"),
    logLevel: "silent",
    build: { emptyOutDir: true, outDir: elements },
  });
  // The packages as they are now, whether they were built or not.
  await build({
    root: join(root, "examples/in-a-framework"),
    base: "./",
    configFile: false,
    logLevel: "silent",
    resolve: {
      alias: [
        { find: /^@fuelwright\/workbench\/elements\/(.+)$/, replacement: `${workbench}/src/elements/$1/$1.ts` },
        { find: "@fuelwright/table-core", replacement: join(core, "index.ts") },
        { find: "#expression-engine", replacement: join(core, "cells/expression-engine.lazy.ts") },
      ],
    },
    build: { emptyOutDir: true, outDir: inFramework },
  });
  server = createServer(({ url = "/" }, response) => {
    if (url === "/guide/") return void response.setHeader("content-type", kinds[".html"]!).end(guidePage.html);
    const from = fileOf(url);
    try {
      response.setHeader("content-type", kinds[extname(from)] ?? "text/plain").end(readFileSync(from));
    } catch {
      response.writeHead(url.endsWith("/favicon.ico") ? 204 : 404).end();
    }
  });
  await new Promise<void>((ready) => server.listen(0, "127.0.0.1", ready));
  browser = await chromium.launch({ executablePath, args: [...browserArgs] });
}, 120_000);

afterAll(async () => {
  await browser?.close();
  server?.close();
});

beforeEach(async () => {
  complaints = [];
  page = await browser.newPage();
  page.on("pageerror", (error) => complaints.push(error.message));
  page.on("console", (message) => void (message.type() === "error" && complaints.push(message.text())));
});

afterEach(async () => {
  await page.close();
  expect(complaints).toEqual([]);
});

const open = (example: string) =>
  page.goto(`http://127.0.0.1:${(server.address() as AddressInfo).port}/${example}/`).then(() => {});

/** What an element has under a name: its properties are not in its markup. */
const property = (selector: string, name: string) =>
  page.evaluate(([at, key]) => (document.querySelector(at!) as unknown as Record<string, unknown>)[key!], [
    selector,
    name,
  ] as const);

test("the page of the guide does what the guide says", async () => {
  await open("guide");
  await page.getByRole("gridcell").first().waitFor();
  await focusGrid();
  await page.keyboard.type("3.25");
  await page.keyboard.press("Enter");
  await expect.poll(() => page.locator("output").textContent()).toBe(guidePage.shows);
  await page.keyboard.type("3x");
  await page.keyboard.press("Enter");
  await expect.poll(() => property("fw-fuel-grid", "problem")).toMatch(/^readDecimal: the text must be a number/);
});

const focusGrid = () => page.locator("fw-fuel-grid").evaluate((grid) => (grid as HTMLElement).focus());

test("on a plain page without a bundler the grid shows a table, changes it, and says why not", async () => {
  await open("plain-page");
  const output = page.locator("output");
  await page.getByRole("grid", { name: "Invented pulse widths" }).waitFor();
  // The focus starts in the first cell, 40 kPa and 1000 rpm: 2.9 · 1.03.
  await page.getByRole("button", { name: "3 % more" }).click();
  await expect.poll(() => output.textContent()).toBe("2.987 3.300 3.100 8.100 9.200 8.800");

  await page.keyboard.press("Tab");
  await page.keyboard.type("3,25");
  await page.keyboard.press("Enter");
  await expect.poll(() => output.textContent()).toBe("3.250 3.300 3.100 8.100 9.200 8.800");

  await page.keyboard.type("3x");
  await page.keyboard.press("Enter");
  await expect.poll(() => property("fw-fuel-grid", "problem")).toMatch(/^readDecimal: the text must be a number/);
  expect(await output.textContent()).toBe("3.250 3.300 3.100 8.100 9.200 8.800");
});

describe("the page of all elements", () => {
  test("uses every one of them, and each shows something", async () => {
    await open("components");
    const manifest = JSON.parse(readFileSync(join(workbench, "custom-elements.json"), "utf8"));
    const tags: string[] = manifest.modules.flatMap((module: { declarations: { tagName?: string }[] }) =>
      module.declarations.flatMap(({ tagName }) => tagName ?? []),
    );
    expect(tags.length).toBeGreaterThan(5);
    await page.getByRole("grid").waitFor();
    const blank = () =>
      page.evaluate(
        (all) =>
          all.filter((tag) => {
            const element = document.querySelector(tag);
            const { width = 0, height = 0 } = element?.getBoundingClientRect() ?? {};
            const drawn = element?.shadowRoot?.querySelector("svg, canvas, button, input, li, div");
            return !drawn || width === 0 || height === 0;
          }),
        tags,
      );
    await expect.poll(blank).toEqual([]);
    await page.evaluate(axe.source);
    const { violations } = await page.evaluate(() => (window as unknown as { axe: typeof axe }).axe.run());
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join()}`)).toEqual([]);
  });

  test("makes steps of what is typed and asked for, and switches them", async () => {
    await open("components");
    const first = async () => ((await property("fw-fuel-grid", "table")) as { cells: Record<number, number> }).cells[0];
    const strip = page.locator("fw-step-strip");
    await page.getByRole("gridcell").first().waitFor();
    // 40 kPa and 1000 rpm hold 2.9 ms.
    await page.getByRole("button", { name: "Add the step" }).click();
    await expect.poll(first).toBeCloseTo(2.9 * 1.03, 9);
    await focusGrid();
    await page.keyboard.type("cell + 0.1");
    await page.keyboard.press("Enter");
    await expect.poll(first).toBeCloseTo(2.9 * 1.03 + 0.1, 9);
    await page.keyboard.type("cell +");
    await page.keyboard.press("Enter");
    await expect.poll(() => property("fw-fuel-grid", "problem")).toMatch(/^evaluateCells: expression at character/);
    await page.keyboard.press("Escape");
    await strip.getByRole("checkbox", { name: "Step 1, Scale: on" }).uncheck();
    await expect.poll(first).toBeCloseTo(2.9 + 0.1, 9);
    await strip.getByRole("button", { name: /Work out/ }).focus();
    await page.keyboard.press("Delete");
    await expect.poll(first).toBe(2.9);

    await page.locator("fw-log-trace").getByRole("textbox", { name: "from" }).fill("20");
    await page.keyboard.press("Enter");
    await expect.poll(() => page.locator("#window").textContent()).toBe("From 20 to 120 s.");
    await page.getByRole("button", { name: /Pencil/ }).click();
    await expect.poll(() => property("fw-change-legend", "colours")).toMatchObject({ scheme: { name: "Pencil" } });
  });
});

test("in a framework the grid takes properties and says typed events", async () => {
  await open("in-a-framework");
  const output = page.locator("output");
  await page.getByRole("gridcell").first().waitFor();
  await page.keyboard.press("Tab");
  await page.keyboard.type("3,25");
  await page.keyboard.press("Enter");
  await expect.poll(() => output.textContent()).toBe("3.250 3.300 3.100 8.100 9.200 8.800");
  await page.keyboard.press("ArrowUp");
  await page.getByText("The cell with the focus was 8.10 ms.").waitFor();
  await page.getByRole("button", { name: "3 % more" }).click();
  // 100 kPa and 1000 rpm: 8.1 · 1.03.
  await expect.poll(() => output.textContent()).toBe("3.250 3.300 3.100 8.343 9.200 8.800");
  await page.getByRole("checkbox", { name: "Step 1, set-cells: on" }).uncheck();
  await expect.poll(() => output.textContent()).toBe("2.900 3.300 3.100 8.343 9.200 8.800");
  await focusGrid();
  await page.keyboard.type("3x");
  await page.keyboard.press("Enter");
  await expect.poll(() => property("fw-fuel-grid", "problem")).toMatch(/^readDecimal: the text must be a number/);
  expect(await output.textContent()).toBe("2.900 3.300 3.100 8.343 9.200 8.800");
});
