import { execFileSync, spawnSync } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, symlinkSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
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
