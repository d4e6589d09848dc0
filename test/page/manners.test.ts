import { expect, test } from "vitest";
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
