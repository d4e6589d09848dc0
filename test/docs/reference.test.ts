import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { dirname, join, relative } from "node:path";
import * as core from "@fuelwright/table-core";
import { beforeAll, describe, expect, test } from "vitest";
import { root } from "../examples/build-core.ts";

/** What TypeDoc writes of a thing, as far as it is looked at here. */
interface Told {
  readonly name: string;
  readonly kind: number;
  readonly comment?: { readonly summary?: readonly { readonly text: string }[] };
  readonly children?: readonly Told[];
  readonly signatures?: readonly Told[];
  readonly type?: ToldType;
}
interface ToldType {
  readonly type: string;
  readonly name?: string;
  readonly declaration?: Told;
  readonly elementType?: ToldType;
  readonly target?: ToldType;
  readonly types?: readonly ToldType[];
  readonly typeArguments?: readonly ToldType[];
  readonly elements?: readonly (ToldType & { readonly element?: ToldType })[];
}

const home = join(root, "packages/table-core/reference");
const out = mkdtempSync(join(tmpdir(), "fuelwright-reference-"));
const html = join(out, "html");
let run: { readonly status: number | null; readonly said: string };
let reference: Told;

beforeAll(() => {
  const typedoc = createRequire(join(home, "package.json")).resolve("typedoc/package.json");
  const args = ["--pretty", "false", "--logLevel", "Warn", "--out", html, "--json", join(out, "reference.json")];
  const { status, stdout, stderr } = spawnSync(process.execPath, [join(dirname(typedoc), "bin/typedoc"), ...args], {
    cwd: home,
    encoding: "utf8",
    env: { ...process.env, NO_COLOR: "1" },
  });
  run = { status, said: stdout + stderr };
  // Nothing is written when something is wrong: the first test tells what.
  const written = join(out, "reference.json");
  reference = existsSync(written) ? JSON.parse(readFileSync(written, "utf8")) : { name: "", kind: 0, children: [] };
}, 120_000);

describe("the reference of the library", () => {
  test("documents every export and every type they refer to, and all its links lead somewhere", () => {
    // Warnings count as errors: not documented, not exported, link without an end.
    expect(run).toEqual({ status: 0, said: "" });
  });

  test("has a page for every export", () => {
    const named = new Set(reference.children!.map(({ name }) => name));
    expect(Object.keys(core).filter((name) => !named.has(name))).toEqual([]);
    expect(named.size).toBeGreaterThan(Object.keys(core).length);
  });

  test("says the unit or the meaning of every number, in its name or beside it", () => {
    expect(untold(reference).map((path) => path.join("."))).toEqual([]);
  });

  test("has pages whose links lead to pages and places that are there", () => {
    const pages = (readdirSync(html, { recursive: true }) as string[]).filter((path) => path.endsWith(".html"));
    expect(pages.length).toBeGreaterThan(400);
    const places = new Map(
      pages.map((page) => {
        const text = readFileSync(join(html, page), "utf8");
        const ids = new Set([...text.matchAll(/\sid="([^"]+)"/g)].map(([, id]) => id!));
        return [page, { ids, links: [...text.matchAll(/\s(?:href|src)="([^"]+)"/g)].map(([, to]) => to!) }] as const;
      }),
    );
    const broken: string[] = [];
    for (const [page, { links }] of places) {
      for (const link of new Set(links)) {
        if (/^(https?|data):/.test(link)) continue;
        const [path = "", place] = link.split("#");
        const to = path === "" ? page : relative(html, join(html, dirname(page), decodeURIComponent(path)));
        const target = places.get(to);
        const there = target
          ? !place || target.ids.has(decodeURIComponent(place))
          : !to.endsWith(".html") && existsSync(join(html, to));
        if (!there) broken.push(`${page}: ${link}`);
      }
    }
    expect(broken).toEqual([]);
  });
});

/** Names that say what a number is: a unit at the end, or a word of one meaning. */
const tells =
  /(^|[a-z])(rpm|load|lambda|volts|percent|Rpm|Lambda|Kpa|Ms|Mg|G|Kw|Cc|Mm|Mm2|C|K|M|S|Per(Second|Minute|Hour|Kwh|L|M3|Kg)|Percent|Factor|Ratio|Strength|strength|[sS]econds|minutes|hertz|cylinders?|count|factor|weight|decimals|bytes|ms)$/;

const PROPERTY = 1024;
const FUNCTION = 64;

/** Properties that hold numbers of which neither their name, nor a comment on them or on what they stand in, says more. */
function untold(of: Told, path: readonly string[] = [], told = ""): string[][] {
  const here = [...path, of.name];
  const words = (of.comment?.summary ?? []).map(({ text }) => text).join("");
  const isTold =
    told === "*" || tells.test(of.name) || told.includes(`\`${of.name}\``) || (of.kind === PROPERTY && words !== "");
  const missing = of.kind === PROPERTY && of.type && isNumeric(of.type) && !isTold ? [here] : [];
  // A type may say of all its numbers what they are in: "in px", "in the table's unit".
  const all = /\bin (px|the \w+'s( own)? unit)\b/.test(words) || (of.kind === PROPERTY && words !== "");
  const within = all || told === "*" ? "*" : told + words;
  // What functions take and give inline is told by the function.
  const parts = [
    ...(of.children ?? []),
    ...(of.kind === FUNCTION ? [] : (of.signatures ?? [])),
    ...inlineTypes(of.type),
  ];
  return [...missing, ...parts.flatMap((part) => untold(part, here, within))];
}

function inlineTypes(type: ToldType | undefined): Told[] {
  if (!type) return [];
  const inside = [type.elementType, type.target, ...(type.types ?? []), ...(type.typeArguments ?? [])];
  return [...(type.declaration ? [type.declaration] : []), ...inside.flatMap(inlineTypes)];
}

function isNumeric(type: ToldType): boolean {
  if (type.type === "intrinsic") return type.name === "number";
  if (type.type === "reference") return /^(Float64Array|ArrayLike)$/.test(type.name!);
  const parts = [type.elementType, type.target, ...(type.types ?? [])];
  return (
    parts.some((part) => part && isNumeric(part)) ||
    (type.elements ?? []).some((part) => isNumeric(part.element ?? part))
  );
}
