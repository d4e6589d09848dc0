import { expect, test } from "vitest";
import type { BenchPage, LeafName } from "./bench-page.ts";
import { useStage } from "./stage.ts";

const stage = useStage();

const leaves: readonly LeafName[] = ["Build", "Table", "Evidence", "What if", "Handover"];

/** What turns the page and not the job, or says by itself what it does: names, units, colours. */
const plain = /^(Table|Asked by|change since|Unit of|Name$|Less fuel|More fuel)/;

/** Fields that are seen and have no help beside them, by their names; boxes and knobs are sentences themselves. */
function unexplained(bench: BenchPage): Promise<{ seen: number; names: string[] }> {
  return bench.page.locator("fw-workbench").evaluate((workbench) => {
    const names: string[] = [];
    let seen = 0;
    const up = (at: Element) => at.assignedSlot ?? at.parentElement ?? (at.getRootNode() as ShadowRoot).host ?? null;
    const explained = (field: Element): boolean => {
      for (let at: Element | null = field, steps = 0; at && steps < 7; at = up(at), steps++) {
        if (at.matches("section, fieldset, details, dialog")) return false;
        // A wide field stands under the line with its name.
        if (
          at.previousElementSibling?.matches("h3, p.named, div.row") &&
          at.previousElementSibling.querySelector("fw-help")
        )
          return true;
        if (at.querySelector(":scope > fw-help, :scope > * > fw-help, :scope > thead fw-help")) return true;
      }
      return false;
    };
    const walk = (root: ParentNode) => {
      for (const element of root.querySelectorAll("*")) {
        if (element.shadowRoot) walk(element.shadowRoot);
        if (element.matches("details")) (element as HTMLDetailsElement).open = true;
        if (!element.matches("select, textarea, input:not([type=checkbox], [type=radio], [type=color])")) continue;
        const { labels } = element as HTMLInputElement;
        const label = element.getAttribute("aria-label") ?? labels?.[0]?.textContent ?? "";
        if (!element.checkVisibility()) continue;
        seen++;
        if (!explained(element)) names.push(label.replace(/\s+/g, " ").trim());
      }
    };
    walk(workbench.shadowRoot!);
    return { seen, names };
  });
}

test("every field has a sentence of help", async () => {
  const bench = await stage.open();
  const found: Record<string, string[]> = {};
  let fields = 0;
  const look = async (where: string) => {
    const { seen, names } = await unexplained(bench);
    fields += seen;
    const here = names.filter((label) => !plain.test(label));
    if (here.length > 0) found[where] = [...new Set(here)];
  };
  const offers = await bench.offers();
  for (const leaf of leaves) {
    await bench.goTo(leaf);
    await look(leaf);
  }
  await bench.goTo("Table");
  for (const offer of offers) {
    await bench.stepCard.getByRole("button", { name: offer, exact: true }).click();
    const dialog = bench.page.getByRole("dialog");
    const opens = await bench
      .button("Discard")
      .or(dialog)
      .first()
      .waitFor({ timeout: 700 })
      .then(
        () => true,
        () => false,
      );
    await look(offer);
    if ((await dialog.count()) > 0) await bench.page.keyboard.press("Escape");
    else if (opens) await bench.button("Discard").click();
  }
  for (const name of ["Jobs and files", "Units and view", "Colours"]) {
    await bench.button(name).click();
    await bench.page.getByRole("dialog").waitFor();
    await look(name);
    await bench.page.keyboard.press("Escape");
  }
  expect(found).toEqual({});
  // Those of every leaf, card and dialog: were the walk to miss them, it would find nothing wrong.
  expect(fields).toBeGreaterThan(150);
});
