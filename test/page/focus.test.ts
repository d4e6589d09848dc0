import { expect, test } from "vitest";
import { Hands } from "./hands.ts";
import { useStage } from "./stage.ts";
import { pulsesAsSheetSaves } from "./tables.ts";

const stage = useStage();

test("the focus goes on to where the work goes on, and never falls to the page", async () => {
  const bench = await stage.open();
  const { page } = bench;
  const hands = await Hands.on(page);
  const expectFocus = (role: string, name: RegExp) =>
    expect
      .poll(async () => {
        const focused = await hands.focused();
        return focused.role === role && name.test(focused.name) ? "there" : `${focused.role} ${focused.name}`;
      })
      .toBe("there");

  // A form that is opened takes the focus; discarded or kept, it hands it to the grid.
  await hands.enter("button", "Scale");
  await expectFocus("heading", /^Scale$/);
  await hands.enter("button", "Discard");
  await expectFocus("gridcell", /rpm/);
  await hands.enter("button", "Scale");
  await hands.fill("Change", 3);
  await hands.press("Tab");
  await hands.enter("button", /^Keep as step/);
  await expectFocus("gridcell", /rpm/);

  // A step that is deleted on the strip hands it to the one before.
  await hands.tabTo("button", /Brought in/);
  await hands.press("End");
  await expectFocus("button", /^3 ?Scale/);
  await hands.press("Delete");
  await expectFocus("button", /^2 /);

  await hands.enter("button", "Clear the demo, start empty");
  await expectFocus("heading", /New job/);

  await hands.enter("button", "Bring in a table");
  await bench.bringIn.waitFor();
  await bench.chooseFile(() => hands.enter("button", "Choose a file"), {
    name: "single.csv",
    text: pulsesAsSheetSaves,
  });
  await hands.enter("button", "Take it over");
  await bench.bringIn.waitFor({ state: "detached" });
  await expectFocus("gridcell", /rpm/);
});
