import { readFileSync } from "node:fs";
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

/** The policy as told to whoever reads `SECURITY.md`. */
const promised = /^```\n(default-src .*)\n```$/m.exec(
  readFileSync(new URL("../../SECURITY.md", import.meta.url), "utf8"),
)![1]!;

test("the built page carries the policy that is promised, before all that it fetches", async () => {
  const text = await (await fetch(stage.served.address)).text();
  const head = text.slice(text.indexOf("<head>") + "<head>".length).trim();
  expect(
    /^<meta http-equiv="Content-Security-Policy" content="([^"]*)">/.exec(head)?.[1]?.replaceAll("&#39;", "'"),
  ).toBe(promised);
});

test("the policy keeps requests elsewhere, scripts put into the page and code made from text from working", async () => {
  const { page } = await stage.open();
  stage.expectComplaint(/Content Security Policy|ERR_BLOCKED_BY_CSP/);
  const refused = await page.evaluate(async () => {
    const seen: string[] = [];
    document.addEventListener("securitypolicyviolation", ({ effectiveDirective }) => seen.push(effectiveDirective));
    // A port that nothing listens on: if the policy let these pass, they would fail without a violation.
    const elsewhere = "http://127.0.0.1:9/";
    const fetched = await fetch(elsewhere).then(
      () => "fetched",
      () => "not fetched",
    );
    document.body.append(Object.assign(new Image(), { src: elsewhere }));
    document.body.append(Object.assign(document.createElement("script"), { textContent: "window.intruder = true" }));
    document.body.append(Object.assign(document.createElement("script"), { src: `${elsewhere}code.js` }));
    const frame = Object.assign(document.createElement("iframe"), { src: elsewhere });
    document.body.append(frame);
    const form = Object.assign(document.createElement("form"), { action: elsewhere, method: "post" });
    document.body.append(form);
    form.submit();
    // A handler's text becomes code only when the event comes.
    const button = document.createElement("button");
    button.setAttribute("onclick", "window.intruder = true");
    button.click();
    const made = await new Promise<string>((done) => {
      const timer = setTimeout("window.intruder = true" as unknown as () => void, 0);
      setTimeout(() => {
        clearTimeout(timer);
        done("intruder" in window ? "ran" : "did not run");
      }, 200);
    });
    return { fetched, made, seen: [...new Set(seen)].sort() };
  });
  expect(refused).toEqual({
    fetched: "not fetched",
    made: "did not run",
    seen: ["connect-src", "form-action", "frame-src", "img-src", "script-src", "script-src-attr", "script-src-elem"],
  });
});
