import axe from "axe-core";
import { expect, test } from "vitest";
import type { BenchPage, LeafName } from "./bench-page.ts";
import { useStage } from "./stage.ts";
import { pulsesAsSheetSaves } from "./tables.ts";

const stage = useStage();

const leaves: readonly LeafName[] = ["Build", "Table", "Evidence", "What if", "Handover"];

/** Web Content Accessibility Guidelines up to 2.2, levels A and AA. */
const tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];

/** What axe-core finds wrong with the page as it stands, one sentence for each element. */
async function faults(bench: BenchPage, within = "fw-workbench"): Promise<string[]> {
  return bench.page.locator(within).evaluate(async (part, values) => {
    const { axe: here } = window as unknown as { axe: typeof axe };
    const { violations } = await here.run(part.localName === "fw-workbench" ? document : part, {
      runOnly: { type: "tag", values },
      resultTypes: ["violations"],
    });
    return violations.flatMap(({ id, nodes }) =>
      nodes.map(
        ({ target, failureSummary }) => `${id} at ${target.flat().join(" ")}: ${failureSummary?.replace(/\s+/g, " ")}`,
      ),
    );
  }, tags);
}

/** Each colour and each layout once: no rule of axe asks for one in the other. Schemes are held in seen.test.ts. */
const kinds = [
  { colorScheme: "light", width: 1280 },
  { colorScheme: "dark", width: 360 },
] as const;

test.each(kinds)(
  "axe-core finds nothing on any leaf or dialog, $colorScheme and $width px wide",
  async ({ colorScheme, width }) => {
    const profile = await stage.profile({ colorScheme, viewport: { width, height: 800 } });
    await profile.addInitScript({ content: axe.source });
    const bench = await stage.open({ profile });
    const found: Record<string, string[]> = {};
    const scan = async (where: string, within?: string) => {
      const here = await faults(bench, within);
      if (here.length > 0) found[where] = here;
    };

    for (const leaf of leaves) {
      await bench.goTo(leaf);
      await scan(`demo, ${leaf}`);
    }

    await bench.goTo("Table");
    await bench.step(1).click();
    await bench.stepCard.getByText("Note, order, name, branch").click();
    await scan("a step reopened");
    await bench.stepSwitch(1).click();
    await scan("a step switched off");
    await bench.undo.click();
    await bench.cell(2200, 50).click();
    await bench.page.keyboard.type("cell *");
    await bench.page.keyboard.press("Enter");
    await bench.refused.first().waitFor();
    await scan("a cell typed wrongly");
    await bench.page.keyboard.press("Escape");

    await bench.button("Colours").click();
    await bench.dialog("Colours of change").getByRole("button", { name: "Take from JSON" }).click();
    await scan("Colours");
    await bench.closeDialog("Colours of change");
    for (const [button, name] of [
      ["Jobs and files", "Jobs and files"],
      ["Units and view", "Units and view"],
      ["Keys", "Keys"],
      ["Glossary", "Glossary"],
    ] as const) {
      await bench.button(button).click();
      await bench.dialog(name).waitFor();
      await scan(name);
      await bench.closeDialog(name);
    }

    await bench.button("First job").click();
    await bench.page.getByRole("complementary", { name: "First job" }).waitFor();
    await scan("First job");
    await bench.button("Leave it").click();

    await bench.clearDemo();
    for (const leaf of leaves) {
      await bench.goTo(leaf);
      await scan(`empty, ${leaf}`);
    }
    await bench.goTo("Table");
    await bench.openBringIn();
    await scan("Bring in, empty");
    await bench.field("Text", bench.bringIn).fill(pulsesAsSheetSaves);
    await bench.recognised("Size").waitFor();
    await scan("Bring in, recognised");
    await bench.field("Text", bench.bringIn).fill("no table");
    await bench.bringIn.getByRole("alert").waitFor();
    await scan("Bring in, refused");

    expect(found).toEqual({});
  },
);

test("axe-core finds nothing on any card of a step, dark and narrow", async () => {
  const profile = await stage.profile({ colorScheme: "dark", viewport: { width: 360, height: 800 } });
  await profile.addInitScript({ content: axe.source });
  const bench = await stage.open({ profile });
  const found: Record<string, string[]> = {};
  for (const offer of await bench.offers()) {
    await bench.stepCard.getByRole("button", { name: offer, exact: true }).click();
    const dialog = bench.page.getByRole("dialog");
    const begun = bench.button("Discard").or(dialog).first().waitFor({ timeout: 700 });
    // What can't be started here says why instead.
    const opens = await begun.then(
      () => true,
      () => false,
    );
    const open = (await dialog.count()) > 0;
    const faultsHere = await faults(bench, open ? "fw-workbench" : "fw-step-card");
    if (faultsHere.length > 0) found[offer] = faultsHere;
    if (open) await bench.page.keyboard.press("Escape");
    else if (opens) await bench.button("Discard").click();
  }
  expect(found).toEqual({});
});

test("axe-core sees into every element: a button without a name is found", async () => {
  const profile = await stage.profile();
  await profile.addInitScript({ content: axe.source });
  const bench = await stage.open({ profile });
  await bench.stepCard.evaluate((card) => card.append(document.createElement("button")));
  expect(await faults(bench)).toEqual([expect.stringMatching(/^button-name at /)]);
});
