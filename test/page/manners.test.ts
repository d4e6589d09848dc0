import { expect, test } from "vitest";
import { Hands } from "./hands.ts";
import { useStage } from "./stage.ts";

const stage = useStage();

test("what is typed is said once, heard again when it is done again, and offered only while it is understood", async () => {
  const bench = await stage.open();
  await bench.cell(2200, 50).click();
  const said: string[] = [];
  for (const step of [3, 4]) {
    await bench.page.keyboard.type("5");
    await bench.page.keyboard.press("Enter");
    await bench.step(step).waitFor();
    const regions = await bench.page.getByRole("status").allTextContents();
    said.push(...regions.filter((text) => text.includes("Set to 5")));
  }
  expect(said).toHaveLength(2);
  expect(said[0]).not.toBe(said[1]);

  await bench.page.keyboard.type("cell * 1.1");
  await bench.button("Keep as step 5").waitFor();
  await bench.page.keyboard.type(" *");
  await bench.button("Keep as step 5").waitFor({ state: "detached" });
  await bench.page.keyboard.press("Enter");
  await bench.refused.first().waitFor();
  expect(await bench.button("Keep as step 5").count()).toBe(0);
});

test("somebody new is led over the demo by keyboard, and goes on later where it was left", async () => {
  const bench = await stage.open();
  const { page } = bench;
  const hands = await Hands.on(page);
  const strip = page.getByRole("complementary", { name: "First job" });
  const focused = () => hands.focused().then(({ name }) => name);
  await hands.enter("button", "Begin");
  await expect.poll(focused).toMatch(/^See what a step did/);

  await hands.tabTo("button", /^Brought in/);
  await hands.press("ArrowRight", "Enter");
  await strip.getByText("Done. Next: Change an early decision.").waitFor();
  await bench.fill("Flow, held open", 3.17, bench.stepCard);
  await bench.button("Keep the change").click();
  await hands.enter("button", "Leave it");
  await expect.poll(focused).toBe("First job");
  await strip.waitFor({ state: "detached" });

  await bench.reload();
  await bench.button("First job").click();
  await strip.getByRole("heading", { name: /^Make a change of your own/ }).waitFor();
  expect(
    await strip
      .getByRole("listitem")
      .filter({ hasText: / done$/ })
      .count(),
  ).toBe(2);
  await strip.getByRole("button", { name: "4 Ask the parts" }).click();
  await page.getByRole("main", { name: "Build" }).waitFor();
  await strip.getByText(/^Done\. Next: Ask the road/).waitFor();

  // A word leads from the help of a field into the glossary, from any leaf.
  await bench.openPart("Injectors");
  await bench.injectorsOut.getByRole("button", { name: "Help on Smallest repeatable pulse" }).click();
  await bench.button("In the glossary").click();
  await expect.poll(focused).toMatch(/^smallest repeatable pulse/);
  const glossary = bench.dialog("Glossary");
  await glossary.getByRole("searchbox", { name: "Look for" }).fill("detonat");
  await glossary
    .getByRole("status")
    .getByText(/^\d terms?\.$/)
    .waitFor();
  expect(await glossary.getByRole("term").first().textContent()).toMatch(/^detonation/);
  await bench.closeDialog("Glossary");

  // From a dialog's help it opens over the dialog, which stands as it was once it is closed.
  await bench.button("Units and view").click();
  const units = bench.dialog("Units and view");
  await units.getByRole("button", { name: "Help on Mixture is said as" }).click();
  await units.getByRole("button", { name: "In the glossary" }).click();
  await expect.poll(focused).toMatch(/^lambda/);
  await page.keyboard.press("Escape");
  await glossary.waitFor({ state: "detached" });
  await expect.poll(focused).toBe("Help on Mixture is said as");
  await units.getByRole("combobox", { name: "Mixture is said as" }).waitFor();
  await bench.closeDialog("Units and view");

  // Of another job there is nothing to be led over.
  await bench.clearDemo();
  await strip.getByRole("button", { name: "Open the demo" }).click();
  await expect.poll(() => bench.title.textContent()).toContain("invented demo job");
});
