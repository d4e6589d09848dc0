import { execFileSync, spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readdirSync, readFileSync, symlinkSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { stepKinds } from "@fuelwright/table-core";
import { beforeAll, describe, expect, test } from "vitest";
import { buildCore, root } from "../examples/build-core.ts";
import { countFences, readBlocks } from "./read-blocks.ts";

beforeAll(buildCore);

/** Commands that install packages or run these very tests; all others are carried out. */
const notHere = /^npm (start|test)\b/;

describe.each(["README.md", "packages/table-core/README.md", "examples/README.md"])("%s", (path) => {
  const markdown = readFileSync(join(root, path), "utf8");
  const folder = dirname(join(root, path));
  const blocks = readBlocks(markdown);

  test("every block of code is one that is run here", () => {
    const told = blocks.filter(({ prints }) => prints !== null).length;
    expect(blocks.length + told).toBe(countFences(markdown));
    for (const { language, line } of blocks) expect(["js", "sh"], `line ${line}`).toContain(language);
  });

  test.each(blocks.filter(({ language }) => language === "js"))("the program in line $line", ({ code, prints }) => {
    // From standard input a program finds packages as a file in the document's folder would.
    const { status, stdout, stderr } = spawnSync(process.execPath, ["--input-type=module", "-"], {
      cwd: folder,
      input: code,
      encoding: "utf8",
    });
    expect(stderr).toBe("");
    expect(status).toBe(0);
    if (prints !== null) expect(stdout).toBe(prints);
    else expect(stdout).not.toBe("");
  });

  test.each(blocks.filter(({ language }) => language === "sh"))("the commands in line $line", ({ code, prints }) => {
    // What they write must not land in the project.
    const bench = mkdtempSync(join(tmpdir(), "fuelwright-docs-"));
    for (const name of readdirSync(folder)) symlinkSync(join(folder, name), join(bench, name));
    const { scripts } = JSON.parse(readFileSync(join(root, "package.json"), "utf8"));
    let output = "";
    for (const command of code.trim().split("\n")) {
      const script = notHere.exec(command)?.[1];
      if (script) expect(scripts).toHaveProperty(script);
      else output += execFileSync("sh", ["-c", command], { cwd: bench, encoding: "utf8" });
    }
    if (prints !== null) expect(output).toBe(prints);
  });
});

const guide = join(root, "packages/table-core/guide");
const pages = readdirSync(guide)
  .filter((name) => name.endsWith(".md"))
  .map((name) => {
    const markdown = readFileSync(join(guide, name), "utf8");
    return { name, markdown, blocks: readBlocks(markdown) };
  });

/** Languages of blocks that are no programs of their own: each stands in an example, which other tests run. */
const excerpts = ["ts", "tsx", "css"];

describe("the guide", () => {
  test.each(pages)("every block of code of $name is one that is run", ({ markdown, blocks }) => {
    const told = blocks.filter(({ prints }) => prints !== null).length;
    // What a page of the browser shows stands apart from it, after a sentence: see test/examples/pages.test.ts.
    const shown = blocks.filter(({ language }) => language === "html").length;
    expect(blocks.length + told + shown).toBe(countFences(markdown));
    for (const { language, line } of blocks) expect(["js", "html", ...excerpts], `line ${line}`).toContain(language);
  });

  const withPrograms = pages.filter(({ blocks }) => blocks.some(({ language }) => language === "js"));
  test.each(withPrograms)("the programs of $name print what is under them, each going on from those above", (page) => {
    const programs = page.blocks.filter(({ language }) => language === "js");
    const input = programs.map(({ code }) => `${code}\nconsole.log("\\0");\n`).join("");
    const { stdout, stderr } = spawnSync(process.execPath, ["--input-type=module", "-"], {
      cwd: guide,
      input,
      encoding: "utf8",
    });
    expect(stderr).toBe("");
    const printed = stdout.split("\0\n").slice(0, -1);
    expect(printed).toEqual(programs.map(({ prints }) => prints ?? ""));
  });

  test("its excerpts stand in examples, and so does all code of the elements' own page", () => {
    const elements = readFileSync(join(root, "packages/workbench/README.md"), "utf8");
    const parts = [
      ...pages.flatMap(({ blocks }) => blocks.filter(({ language }) => excerpts.includes(language))),
      ...readBlocks(elements),
    ];
    const all = examples();
    expect(readBlocks(elements).length).toBe(countFences(elements));
    for (const { code, line } of parts)
      expect(
        all.some((text) => text.includes(code.trimEnd())),
        `line ${line}`,
      ).toBe(true);
  });
});

function examples(): string[] {
  const folder = join(root, "examples");
  return (readdirSync(folder, { recursive: true }) as string[])
    .filter((path) => /\.(html|js|ts|tsx|css)$/.test(path) && !/node_modules|dist/.test(path))
    .map((path) => readFileSync(join(folder, path), "utf8"));
}

test("the guide names every kind of step", () => {
  const rows = /^\| kind .*\n([\s\S]*?)\n\n/m.exec(readFileSync(join(guide, "steps.md"), "utf8"))![1]!;
  const named = rows
    .split("\n")
    .flatMap((row) => [...row.split("|")[1]!.matchAll(/`([a-z-]+)`/g)].map(([, kind]) => kind));
  expect(named.sort()).toEqual([...stepKinds].sort());
});

test("the guide and the package's page name every element, with the events it sends", () => {
  const manifest = JSON.parse(readFileSync(join(root, "packages/workbench/custom-elements.json"), "utf8"));
  const elements: { tagName: string; events?: { name: string }[] }[] = manifest.modules.flatMap(
    (module: { declarations: { tagName?: string }[] }) => module.declarations.filter(({ tagName }) => tagName),
  );
  const rowsOf = (path: string) =>
    readFileSync(join(root, path), "utf8")
      .split("\n")
      .filter((line) => line.startsWith("| `fw-"));
  const namesIn = (row: string) => [...row.matchAll(/`(fw-[a-z-]+)`/g)].map(([, name]) => name);
  const told = rowsOf("packages/table-core/guide/components.md").map(namesIn);
  expect(told.map(([tag, ...events]) => [tag, ...events.sort()]).sort()).toEqual(
    elements.map(({ tagName, events = [] }) => [tagName, ...events.map(({ name }) => name).sort()]).sort(),
  );
  const listed = rowsOf("packages/workbench/README.md").map((row) => namesIn(row)[0]);
  expect(listed.sort()).toEqual(elements.map(({ tagName }) => tagName).sort());
});

test("links between documents lead to files that are there", () => {
  const documents = [
    "README.md",
    "DEVELOPERS.md",
    "SECURITY.md",
    "examples/README.md",
    "packages/table-core/README.md",
    "packages/workbench/README.md",
  ];
  const all = [...documents, ...pages.map(({ name }) => `packages/table-core/guide/${name}`)];
  const broken = all.flatMap((path) => {
    const text = readFileSync(join(root, path), "utf8").replace(/^```[\s\S]*?^```$/gm, "");
    const links = [...text.matchAll(/\]\(([^)#\s]+)[^)]*\)/g)].map(([, to]) => to!);
    return links
      .filter((to) => !/^https?:/.test(to) && !existsSync(join(root, dirname(path), to)))
      .map((to) => `${path}: ${to}`);
  });
  expect(broken).toEqual([]);
});
