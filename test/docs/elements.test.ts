import { execFileSync } from "node:child_process";
import { readdirSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { describe, expect, test } from "vitest";
import { root } from "../examples/build-core.ts";

interface Part {
  readonly name?: string;
  readonly description?: string;
}
/** A class of the manifest: an element, or an event that one sends. */
interface Declaration extends Part {
  readonly name: string;
  readonly customElement?: boolean;
  readonly tagName?: string;
  readonly members?: readonly Part[];
  readonly attributes?: readonly Part[];
  readonly events?: readonly (Part & { readonly type: { readonly text: string } })[];
  readonly slots?: readonly Part[];
  readonly cssParts?: readonly Part[];
  readonly cssProperties?: readonly Part[];
}
interface Manifest {
  readonly modules: readonly { readonly path: string; readonly declarations: readonly Declaration[] }[];
}

const home = join(root, "packages/workbench");
const text = readFileSync(join(home, "custom-elements.json"), "utf8");
const manifest: Manifest = JSON.parse(text);

const declarations = manifest.modules.flatMap(({ path, declarations }) =>
  declarations.map((declaration) => ({ ...declaration, path })),
);
const elements = declarations.filter(({ customElement }) => customElement);
const events = declarations.filter(({ customElement }) => !customElement);

/** All that an element is made of: the source beside it, tests left out. */
function sourceOf(path: string): string {
  const folder = join(home, dirname(path.replace(/^lib\//, "src/")));
  const files = readdirSync(folder).filter((name) => name.endsWith(".ts") && !name.endsWith(".test.ts"));
  return files.map((name) => readFileSync(join(folder, name), "utf8")).join("\n");
}

const found = (source: string, pattern: RegExp) => [...source.matchAll(pattern)].map(([, name]) => name!);
const sorted = (names: Iterable<string | undefined>) => [...new Set(names)].sort();
const namesOf = (list: readonly { readonly name?: string }[] = []) => sorted(list.map(({ name }) => name));

test("the manifest is the one that the source gives", () => {
  const now = execFileSync(process.execPath, ["make-manifest.mjs", "-"], { cwd: home, encoding: "utf8" });
  expect(now === text, "run `pnpm --filter @fuelwright/workbench manifest`").toBe(true);
});

test("every element of the source stands in the manifest, and in the entry of the package", () => {
  const files = (readdirSync(join(home, "src/elements"), { recursive: true }) as string[])
    .filter((path) => path.endsWith(".ts") && !path.endsWith(".test.ts"))
    .map((path) => join(home, "src/elements", path));
  const defined = files.flatMap((path) => found(readFileSync(path, "utf8"), /@customElement\("([^"]+)"\)/g));
  expect(sorted(elements.map(({ tagName }) => tagName))).toEqual(sorted(defined));
  const entry = readFileSync(join(home, "src/elements/index.ts"), "utf8");
  for (const { path } of declarations)
    expect(entry).toContain(`"./${path.replace(/^lib\/elements\//, "").replace(/\.js$/, ".ts")}"`);
});

test("every part of the manifest is described", () => {
  const silent = declarations.flatMap((of) =>
    [[of], of.members, of.events, of.attributes, of.slots, of.cssParts, of.cssProperties]
      .flatMap((parts: readonly Part[] = []) => parts)
      .filter(({ description }) => !description?.trim())
      .map((part) => `${of.name}: ${part.name}`),
  );
  expect(silent).toEqual([]);
});

describe.each(elements)("$tagName", ({ path, tagName, name, ...element }) => {
  const source = sourceOf(path);

  test("tells the events it sends, with the class of each", () => {
    const sent = found(source, /dispatchEvent\(\s*new (\w+)/g);
    const told = element.events ?? [];
    expect(sorted(told.map(({ type }) => type.text))).toEqual(sorted(sent));
    for (const { name: event, type } of told) {
      const declared = events.find((each) => each.name === type.text)!;
      const from = sourceOf(declared.path);
      const [code = ""] = new RegExp(`^export class ${type.text}\\b[\\s\\S]*?^\\}$`, "m").exec(from) ?? [];
      expect(found(code, /(?:super\(|type = )"([\w-]+)"/g)).toEqual([event]);
      expect(found(from, new RegExp(`HTMLElementEventMap \\{[^}]*"${event}": (\\w+);`, "g"))).toEqual([type.text]);
    }
  });

  test("tells its parts, slots and custom properties", () => {
    const parts = found(source, /\bpart="([\w -]+)"/g).flatMap((names) => names.split(" "));
    // Where parts depend on something they are listed: `const parts = ["step", open && "open", …]`.
    const listed = found(source, /const parts = \[(.*)\]/g).flatMap((list) => found(list, /"([\w-]+)"(?=[,\]]|$)/g));
    expect(namesOf(element.cssParts)).toEqual(sorted([...parts, ...listed]));
    expect(namesOf(element.slots)).toEqual(sorted(found(source, /<slot name="([\w-]+)"/g)));
    expect(source.includes("<slot>")).toBe(false);
    const tokens = elementTokens();
    const properties = found(source, /var\((--fw-[\w-]+)/g);
    expect(namesOf(element.cssProperties)).toEqual(sorted([...properties, ...tokens]));
    expect(/static override styles = \[\s*elementTokens,/.test(source)).toBe(true);
  });

  test("has its type under its tag", () => {
    expect(found(source, new RegExp(`HTMLElementTagNameMap \\{[^}]*"${tagName}": (\\w+);`, "g"))).toEqual([name]);
  });
});

/** The names of the tokens, as tokens.ts lists them. */
function elementTokens(): string[] {
  const source = readFileSync(join(home, "src/elements/tokens.ts"), "utf8");
  const lists = [...source.matchAll(/^const (?:colours|measures) = \{([\s\S]*?)^\} as const;/gm)];
  expect(lists).toHaveLength(2);
  return lists.flatMap(([, list]) => found(list!, /^ {2}"?([\w-]+)"?:/gm).map((name) => `--fw-${name}`));
}
