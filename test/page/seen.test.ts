import axe from "axe-core";
import type { Page } from "playwright";
import { expect, test } from "vitest";
import type { BenchPage, LeafName } from "./bench-page.ts";
import { useStage } from "./stage.ts";

const stage = useStage();

const leaves: readonly LeafName[] = ["Build", "Table", "Evidence", "What if", "Handover"];

/**
 * Only what another scheme can change: contrast, and in the dialog alone, as other text takes none of its colours. All
 * leaves, light and dark, are scanned in accessibility.test.ts.
 */
async function contrastFaults(bench: BenchPage): Promise<string[]> {
  return bench.page.locator("fw-scheme-dialog").evaluate(async (part) => {
    const { axe: here } = window as unknown as { axe: typeof axe };
    const { violations } = await here.run(part, {
      runOnly: { type: "rule", values: ["color-contrast"] },
      resultTypes: ["violations"],
    });
    return violations.flatMap(({ nodes }) => nodes.map(({ target }) => target.flat().join(" ")));
  });
}

/** The least contrast between a figure's ink and the tint painted under it, over all cells that are drawn. */
async function leastContrast(bench: BenchPage): Promise<{ readonly cells: number; readonly least: number }> {
  await expect.poll(() => bench.page.locator("fw-fuel-grid .figures span").count()).toBeGreaterThan(0);
  return bench.page.locator("fw-fuel-grid").evaluate((grid) => {
    const root = grid.shadowRoot!;
    const tints = root.querySelector<HTMLCanvasElement>("canvas.tints")!;
    const { width, height } = tints;
    // The canvas has one pixel for each cell; where it is clear the sheet shows.
    const pixels = tints.getContext("2d")!.getImageData(0, 0, width, height).data;
    const probe = document.createElement("canvas").getContext("2d", { willReadFrequently: true })!;
    const rgb = (colour: string): [number, number, number] => {
      probe.clearRect(0, 0, 1, 1);
      probe.fillStyle = colour;
      probe.fillRect(0, 0, 1, 1);
      const [r, g, b] = probe.getImageData(0, 0, 1, 1).data;
      return [r!, g!, b!];
    };
    const sheet = rgb(getComputedStyle(grid).backgroundColor);
    const light = (channels: readonly number[]) => {
      const [r, g, b] = channels.map((channel) => {
        const share = channel / 255;
        return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
      });
      return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!;
    };
    let least = Number.POSITIVE_INFINITY;
    let cells = 0;
    [...root.querySelectorAll(".figures > div")].forEach((row, y) => {
      let x = 0;
      for (const run of row.querySelectorAll("span")) {
        const ink = light(rgb(getComputedStyle(run).color));
        for (const figure of run.textContent!.split(" ").filter((one) => one.trim() !== "")) {
          const at = 4 * (y * width + x++);
          const share = pixels[at + 3]! / 255;
          const ground = light(sheet.map((channel, c) => share * pixels[at + c]! + (1 - share) * channel));
          least = Math.min(least, (Math.max(ink, ground) + 0.05) / (Math.min(ink, ground) + 0.05));
          cells += Number(figure !== "");
        }
      }
    });
    return { cells, least };
  });
}

test("in every scheme, light and dark, each figure of the grid stands out from its tint, and so does what says so", async () => {
  const profile = await stage.profile();
  await profile.addInitScript({ content: axe.source });
  const bench = await stage.open({ profile });
  // Since it was brought in every cell has changed: each has a tint.
  await bench.choice("change since").selectOption("brought in");
  const found: Record<string, unknown> = {};
  for (const colorScheme of ["light", "dark"] as const) {
    await bench.page.emulateMedia({ colorScheme });
    await bench.button("Colours").click();
    const dialog = bench.dialog("Colours of change");
    const presets = dialog.getByRole("region", { name: "Start from" }).getByRole("button");
    await presets.first().waitFor();
    const count = await presets.count();
    expect(count).toBeGreaterThan(4);
    for (let at = 0; at < count; at++) {
      const preset = presets.nth(at);
      await preset.click();
      await expect.poll(() => preset.getAttribute("aria-pressed")).toBe("true");
      const where = `${await preset.locator("b").textContent()}, ${colorScheme}`;
      const faults = await contrastFaults(bench);
      // The grid behind the dialog follows at once.
      const { cells, least } = await leastContrast(bench);
      expect(cells, where).toBe(150);
      if (faults.length > 0 || least < 4.5) found[where] = { faults, least };
    }
    await bench.closeDialog("Colours of change");
  }
  expect(found).toEqual({});
});

test("twice as large, and at 320 px, nothing is cut off and nothing but tables scrolls sideways", async () => {
  const bench = await stage.open();
  const found: Record<string, string[]> = {};
  for (const width of [640, 320]) {
    await bench.page.setViewportSize({ width, height: 450 });
    for (const leaf of leaves) {
      await bench.goTo(leaf);
      if (leaf === "Build") for (const part of ["Engine", "Fuel", "Injectors", "Pump"]) await bench.openPart(part);
      const faults = await bench.page.evaluate(() => {
        const told: string[] = [];
        const say = (what: string, { tagName, className }: Element) => told.push(`${what}: ${tagName} ${className}`);
        const walk = (root: ParentNode) => {
          for (const element of root.querySelectorAll("*")) {
            if (element.shadowRoot) walk(element.shadowRoot);
            const { overflowX, clipPath } = getComputedStyle(element);
            const sticksOut = element.scrollWidth > element.clientWidth + 1 && element.clientWidth > 1;
            if (!sticksOut || clipPath !== "none" || element instanceof HTMLInputElement) continue;
            if (overflowX === "hidden" || overflowX === "clip") say("cut off", element);
            // A grid, a table or the strip of steps may be wider than the page; text may not.
            const scrolls = overflowX === "auto" || overflowX === "scroll";
            if (scrolls && !element.querySelector("table, [role=grid]") && element.tagName !== "OL")
              say("scrolls", element);
          }
        };
        walk(document);
        if (document.documentElement.scrollWidth > innerWidth) told.push("the page scrolls sideways");
        return told;
      });
      if (faults.length > 0) found[`${leaf} at ${width} px`] = faults;
    }
  }
  expect(found).toEqual({});
});

/** Names of elements, in every tree of the page, that would move or fade by themselves. */
const moving = (page: Page) =>
  page.evaluate(() => {
    const found: string[] = [];
    const look = (root: Document | ShadowRoot) => {
      for (const element of root.querySelectorAll("*")) {
        const { animationName, transitionDuration } = getComputedStyle(element);
        if (animationName !== "none" || /[1-9]/.test(transitionDuration)) found.push(element.localName);
        if (element.shadowRoot) look(element.shadowRoot);
      }
    };
    look(document);
    return found;
  });

test("nothing moves by itself, and with forced colours focus, selection and change are still seen", async () => {
  const bench = await stage.open({ forcedColors: "active", reducedMotion: "reduce" });
  const { page } = bench;
  expect(await moving(page)).toEqual([]);
  // The check itself: what moves in an element's own tree, where the document does not see it, is found.
  await page.locator("fw-fuel-grid").evaluate((grid) => {
    grid.shadowRoot!.querySelector<HTMLElement>(".grid")!.style.transition = "opacity 1s";
  });
  expect(await moving(page)).toEqual(["div"]);
  await bench.cell(3000, 90).click();
  await page.keyboard.press("Shift+ArrowRight");
  const seen = await page.locator("fw-fuel-grid").evaluate((grid) => {
    const root = grid.shadowRoot!;
    const border = (part: string) => getComputedStyle(root.querySelector(part)!);
    return {
      sheet: getComputedStyle(grid).backgroundColor,
      focus: border(".box.focus"),
      focusWidth:
        Number.parseFloat(border(".box.focus").outlineWidth) + Number.parseFloat(border(".box.focus").borderWidth),
      range: root.querySelectorAll(".box.range").length,
      signs: root.querySelectorAll(".marks path.sign").length,
      signInk: border(".marks path.sign").fill,
    };
  });
  expect(seen.focusWidth).toBeGreaterThan(0);
  expect(seen.range).toBe(1);
  expect(seen.signs).toBeGreaterThan(0);
  expect(seen.signInk).not.toBe(seen.sheet);
  // The leaf at hand and the open step are told by more than a shadow or a tint, which are not drawn there.
  const here = page.getByRole("navigation", { name: "Leaves" }).getByRole("link", { name: "Table" });
  expect(await here.evaluate((link) => getComputedStyle(link).borderBottomWidth)).toBe("3px");
  await bench.step(1).click();
  const outline = bench.step(1).evaluate((button) => getComputedStyle(button.closest("li")!).outlineStyle);
  expect(await outline).toBe("solid");
});
