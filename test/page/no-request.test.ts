import { expect, test } from "vitest";
import { useStage } from "./stage.ts";
import { pulsesAsSheetSaves } from "./tables.ts";

/** Nothing but this machine can be reached, by name or by number: a page that needs more would fail visibly. */
const stage = useStage(["--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1"]);

test("nothing leaves the page's own origin during the main job", async () => {
  const profile = await stage.profile();
  const asked: string[] = [];
  profile.on("request", (request) => asked.push(`${request.method()} ${request.url()}`));
  profile.on("page", (page) => page.on("websocket", (socket) => asked.push(`SOCKET ${socket.url()}`)));
  const bench = await stage.open({ profile });

  await bench.clearDemo();
  await bench.openBringIn();
  await bench.chooseFile(() => bench.button("Choose a file").click(), { name: "single.csv", text: pulsesAsSheetSaves });
  await bench.takeOver();
  await bench.button("Change the injectors").click();
  await bench.fill("Flow, held open", 3.6, bench.stepCard);
  await bench.button("Keep as step 1").click();
  await bench.cell(2000, 8).click();
  await bench.page.keyboard.type("cell * 1.04");
  await bench.page.keyboard.press("Enter");
  await bench.step(2).waitFor();
  for (const leaf of ["Build", "Evidence", "What if", "Handover"] as const) await bench.goTo(leaf);
  await bench.download(() => bench.button("Save as CSV").click());
  await bench.saveJob();
  await bench.button("Units and view").click();
  await bench.closeDialog("Units and view");
  await bench.reload();

  const { origin } = new URL(stage.served.address);
  expect(asked.length).toBeGreaterThan(3);
  // A download is a blob that the page made itself; the icon is a data address.
  expect(asked.filter((line) => !line.startsWith(`GET ${origin}/`) && !/^GET (blob|data):/.test(line))).toEqual([]);
});

test("the built files name no address elsewhere but namespaces, which nobody fetches", async () => {
  const page = await (await fetch(stage.served.address)).text();
  const scripts = [...page.matchAll(/(?:src|href)="(\.\/[^"]+)"/g)].map((match) => match[1]!);
  expect(scripts.length).toBeGreaterThan(0);
  const seen = new Set<string>();
  const waiting = [...scripts];
  for (let path = waiting.pop(); path !== undefined; path = waiting.pop()) {
    if (seen.has(path)) continue;
    seen.add(path);
    const text = await (await fetch(new URL(path, stage.served.address))).text();
    for (const [, name] of text.matchAll(/["'`](?:\.\/)?(?:assets\/)?([\w.-]+\.js)["'`]/g))
      waiting.push(`./assets/${name}`);
    // Comments name who wrote a library, and fetch nothing.
    const addresses = (text.replace(/\/\*[\s\S]*?\*\//g, "").match(/\b(?:https?|wss?):\/\/[^\s"'`)\\]+/g) ?? []).filter(
      (address) => !address.startsWith("http://www.w3.org/"),
    );
    expect(addresses, path).toEqual([]);
  }
  expect(seen.size).toBeGreaterThan(3);
});
