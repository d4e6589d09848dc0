import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { DOMParser, onErrorStopParsing } from "@xmldom/xmldom";
import { beforeAll, expect, test } from "vitest";
import { buildCore } from "./build-core.ts";
import { exampleBench } from "./run-example.ts";

beforeAll(buildCore);

const names = ["ceilings", "changes", "column", "histogram", "injectors", "map", "pump", "row", "table"];

test("it writes each picture as a document of its own, with what it shows in words", () => {
  const { bench, run } = exampleBench("plots");
  const { status, lines, stderr } = run();
  expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
  expect(readdirSync(join(bench, "plots")).sort()).toEqual(names.map((name) => `${name}.svg`));
  const told = (name: string) => {
    const text = readFileSync(join(bench, "plots", `${name}.svg`), "utf8");
    const document = new DOMParser({ onError: onErrorStopParsing }).parseFromString(text, "image/svg+xml");
    expect(document.documentElement!.tagName).toBe("svg");
    return document.getElementsByTagName("desc")[0]!.textContent!;
  };
  for (const name of names) expect(told(name)).toMatch(/\.$/);
  // By hand at 4000 rpm and 100 kPa: (19.35 − 0.9) · 0.90/0.85 + 0.9 = 20.435 ms, 5.6 % more.
  for (const name of ["table", "changes", "map", "row", "histogram"])
    expect(told(name)).toMatch(
      /[Ll]argest change \+5\.6 % at 4,000 rpm and 100 kPa, 19\.35 to 20\.4[34] ms|Largest change here \+5\.6 % at 4,000 rpm/,
    );
  expect(lines.at(-1)).toBe(told("histogram"));
});

test("inks are chosen, and others refused", () => {
  const { bench, run } = exampleBench("plots");
  expect(run("dark", "out").status).toBe(0);
  expect(readFileSync(join(bench, "out", "table.svg"), "utf8")).toContain('fill="#211f1a"');
  expect(run("sepia")).toMatchObject({
    status: 2,
    stderr: "There are no inks named sepia; take one of light, dark, print.\n",
  });
});
