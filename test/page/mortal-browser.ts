import { spawn } from "node:child_process";
import { type BrowserContext, chromium, type Page } from "playwright";
import { browserArgs, executablePath } from "./chromium.ts";

/** A whole Chromium of our own, with its profile on the disk, that can be killed at any moment. */
export interface MortalBrowser {
  /** The first tab, once the browser can be driven. */
  page(): Promise<Page>;
  /** SIGKILL to all its processes at once. Resolves when they are gone. */
  kill(): Promise<void>;
}

const alive = new Set<MortalBrowser>();

/** Kills what a test that failed has left alive. */
export const killTheLiving = (): Promise<unknown> => Promise.all([...alive].map((browser) => browser.kill()));

/** Starts it on `address` and returns at once. */
export function startMortalBrowser(profile: string, address: string): MortalBrowser {
  const args = [...browserArgs, "--headless=new", "--remote-debugging-port=0", `--user-data-dir=${profile}`];
  // A group of its own, so that every process of it is reached.
  const child = spawn(executablePath, [...args, "--window-size=1280,900", address], {
    detached: true,
    stdio: ["ignore", "ignore", "pipe"],
  });
  const gone = new Promise<void>((resolve) => child.once("exit", () => resolve()));
  const listening = new Promise<string>((resolve) => {
    let told = "";
    child.stderr!.on("data", (chunk) => {
      told += chunk;
      const socket = /DevTools listening on (ws:\S+)/.exec(told)?.[1];
      if (socket) resolve(socket);
    });
  });
  const browser: MortalBrowser = {
    async page() {
      const driver = await chromium.connectOverCDP(await listening);
      return firstTab(driver.contexts()[0]!);
    },
    async kill() {
      alive.delete(browser);
      process.kill(-child.pid!, "SIGKILL");
      await gone;
    },
  };
  alive.add(browser);
  return browser;
}

async function firstTab(context: BrowserContext): Promise<Page> {
  const page = context.pages()[0] ?? (await context.waitForEvent("page"));
  page.setDefaultTimeout(15_000);
  return page;
}
