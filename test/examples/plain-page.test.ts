import { mkdtempSync, readFileSync } from "node:fs";
import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import { extname, join } from "node:path";
import { type Browser, chromium } from "playwright";
import { build } from "vite";
import { afterAll, beforeAll, expect, test } from "vitest";
import { browserArgs, executablePath } from "../page/chromium.ts";
import { root } from "./build-core.ts";

const built = mkdtempSync(join(tmpdir(), "fuelwright-elements-"));
const kinds: Record<string, string> = { ".html": "text/html", ".js": "text/javascript", ".css": "text/css" };
let server: Server;
let browser: Browser;

beforeAll(async () => {
  const workbench = join(root, "packages/workbench");
  await build({
    root: workbench,
    configFile: join(workbench, "vite.elements.config.ts"),
    logLevel: "silent",
    build: { outDir: built, emptyOutDir: true },
  });
  server = createServer(({ url = "/" }, response) => {
    const path = url === "/" ? "/index.html" : url;
    const from = path.startsWith("/elements/")
      ? join(built, path.slice("/elements/".length))
      : join(root, "examples/plain-page", path);
    try {
      response.setHeader("content-type", kinds[extname(from)] ?? "text/plain").end(readFileSync(from));
    } catch {
      response.writeHead(path === "/favicon.ico" ? 204 : 404).end();
    }
  });
  await new Promise<void>((ready) => server.listen(0, "127.0.0.1", ready));
  browser = await chromium.launch({ executablePath, args: [...browserArgs] });
}, 120_000);

afterAll(async () => {
  await browser?.close();
  server?.close();
});

test("without a bundler a page shows a table, changes it, and says why not", async () => {
  const page = await browser.newPage();
  const complaints: string[] = [];
  page.on("pageerror", (error) => complaints.push(error.message));
  page.on("console", (message) => void (message.type() === "error" && complaints.push(message.text())));
  await page.goto(`http://127.0.0.1:${(server.address() as AddressInfo).port}/`);
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
  await expect
    .poll(() => page.evaluate(() => (document.querySelector("fw-fuel-grid") as unknown as { problem: string }).problem))
    .toMatch(/^readDecimal: the text must be a number/);
  expect(await output.textContent()).toBe("3.250 3.300 3.100 8.100 9.200 8.800");
  expect(complaints).toEqual([]);
  await page.close();
});
