import { type Browser, type BrowserContext, type BrowserContextOptions, chromium, type Page } from "playwright";
import { afterAll, afterEach, beforeAll, expect } from "vitest";
import { BenchPage, downloadInsteadOfAsking, removeGivenFiles } from "./bench-page.ts";
import { browserArgs, executablePath } from "./chromium.ts";
import { type ServedPage, servePage } from "./served-page.ts";

/** What a test needs to drive the page: the served page, a real browser, and a profile of its own for each test. */
export interface Stage {
  readonly served: ServedPage;
  /** A browser profile in which nothing is kept yet; closed after the test. */
  profile(options?: BrowserContextOptions): Promise<BrowserContext>;
  /** The workbench in a new tab of `profile` (default: a new one), once the job is kept. */
  open(options?: { profile?: BrowserContext; leaf?: string } & BrowserContextOptions): Promise<BenchPage>;
  /** The workbench in a further tab of `profile`, on a job that another tab holds. */
  openReading(profile: BrowserContext): Promise<BenchPage>;
  /** The workbench where nothing can be kept. */
  openUnkept(profile: BrowserContext): Promise<BenchPage>;
  /** Errors and warnings of the page that a test expects, and that are then no failure. */
  expectComplaint(words: RegExp): void;
}

const SLOW_MACHINE = 60_000;

/** Builds and serves the page and starts the browser for the tests of one file. No test may leave a complaint behind. */
export function useStage(args: readonly string[] = []): Stage {
  let served: ServedPage;
  let browser: Browser;
  let profiles: BrowserContext[] = [];
  let complaints: string[] = [];
  let expected: RegExp[] = [];

  beforeAll(async () => {
    [served, browser] = await Promise.all([
      servePage(),
      chromium.launch({ executablePath, args: [...browserArgs, ...args] }),
    ]);
  }, SLOW_MACHINE);

  afterEach(async () => {
    const [open, told, known] = [profiles, complaints, expected];
    [profiles, complaints, expected] = [[], [], []];
    await Promise.all(open.map((profile) => profile.close()));
    expect(told.filter((complaint) => !known.some((words) => words.test(complaint)))).toEqual([]);
  });

  afterAll(async () => {
    await browser?.close();
    await served?.close();
    await removeGivenFiles();
  });

  const listen = (page: Page) => {
    page.on("pageerror", (error) => complaints.push(`${error.name}: ${error.message}`));
    page.on("console", (message) => {
      if (message.type() === "error" || message.type() === "warning") complaints.push(message.text());
    });
  };

  const profile = async (options: BrowserContextOptions = {}) => {
    const made = await browser.newContext({ viewport: { width: 1280, height: 800 }, locale: "en-GB", ...options });
    made.setDefaultTimeout(15_000);
    await downloadInsteadOfAsking(made);
    made.on("page", listen);
    profiles.push(made);
    return made;
  };

  const openThere = async (profile: BrowserContext) => {
    const bench = new BenchPage(await profile.newPage(), served);
    await bench.page.goto(served.address);
    return bench;
  };

  return {
    get served() {
      return served;
    },
    profile,
    async open({ profile: given, leaf, ...options } = {}) {
      const page = await (given ?? (await profile(options))).newPage();
      const bench = new BenchPage(page, served);
      await bench.load(leaf);
      return bench;
    },
    async openReading(profile) {
      const bench = await openThere(profile);
      await bench.button("Go on in a copy").waitFor();
      return bench;
    },
    async openUnkept(profile) {
      const bench = await openThere(profile);
      await bench.page.getByText("not kept:").waitFor();
      return bench;
    },
    expectComplaint(words) {
      expected.push(words);
    },
  };
}
