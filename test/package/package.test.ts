import { execFileSync, spawnSync } from "node:child_process";
import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { checkPackage, createPackageFromTarballData, type Problem } from "@arethetypeswrong/core";
import { publint } from "publint";
import { formatMessage } from "publint/utils";
import { build as bundle } from "vite";
import { beforeAll, describe, expect, test } from "vitest";
import { buildCore, root } from "../examples/build-core.ts";

const home = join(root, "packages/table-core");
const manifest = JSON.parse(readFileSync(join(home, "package.json"), "utf8"));
const bench = mkdtempSync(join(tmpdir(), "fuelwright-package-"));
const user = join(bench, "user");

interface Packed {
  readonly tarball: string;
  /** Bytes to download. */
  readonly size: number;
  readonly files: readonly string[];
}
let core: Packed;
let elements: Packed;

const compiler = join(dirname(createRequire(import.meta.url).resolve("typescript/package.json")), "bin/tsc");

function pack(folder: string): Packed {
  const args = ["pack", "--json", "--ignore-scripts", "--pack-destination", bench];
  const [{ filename, size, files }] = JSON.parse(execFileSync("npm", args, { cwd: folder, encoding: "utf8" }));
  return { tarball: join(bench, filename), size, files: files.map(({ path }: { path: string }) => path) };
}

/** The library, built beside the project's dist, which other tests are reading; the rest as `prepack` has it. */
function packCore(): Packed {
  const fresh = join(bench, "fresh");
  mkdirSync(fresh);
  for (const name of ["package.json", "README.md", "LICENSE", "job.schema.json", "bin", "guide"])
    cpSync(join(home, name), join(fresh, name), { recursive: true });
  expect(manifest.scripts.prepack).toContain("tsc -p . --sourceMap false --declarationMap false");
  const places = ["--outDir", join(fresh, "dist"), "--tsBuildInfoFile", join(bench, "buildinfo")];
  const build = [compiler, "-p", home, "--sourceMap", "false", "--declarationMap", "false", ...places];
  execFileSync(process.execPath, build);
  return pack(fresh);
}

/** The elements likewise; the library's version is put in where the workspace names it, as pnpm does. */
async function packElements(): Promise<Packed> {
  const from = join(root, "packages/workbench");
  const fresh = join(bench, "elements");
  mkdirSync(fresh);
  for (const name of ["README.md", "LICENSE", "custom-elements.json"]) cpSync(join(from, name), join(fresh, name));
  const text = readFileSync(join(from, "package.json"), "utf8");
  writeFileSync(join(fresh, "package.json"), text.replace("workspace:*", manifest.version));
  expect(JSON.parse(text).scripts["build:elements"]).toContain(
    "tsc -p tsconfig.elements.json && vite build --config vite.elements.config.ts",
  );
  execFileSync(process.execPath, [compiler, "-p", "tsconfig.elements.json", "--outDir", join(fresh, "lib")], {
    cwd: from,
  });
  await bundle({
    root: from,
    configFile: join(from, "vite.elements.config.ts"),
    logLevel: "silent",
    build: { outDir: join(fresh, "lib/browser"), emptyOutDir: true },
  });
  return pack(fresh);
}

// As a user gets them: built anew, packed, and installed with npm into an empty project.
beforeAll(async () => {
  buildCore();
  core = packCore();
  elements = await packElements();
  mkdirSync(user);
  writeFileSync(join(user, "package.json"), JSON.stringify({ name: "user", private: true, type: "module" }));
  const install = ["install", "--no-audit", "--no-fund", "--prefer-offline", core.tarball, elements.tarball];
  execFileSync("npm", install, { cwd: user, stdio: "pipe" });
}, 180_000);

const node = (code: string) =>
  spawnSync(process.execPath, ["--input-type=module", "-e", code], { cwd: user, encoding: "utf8" });

/** What the compiler says of a program in the user's project. */
function check(code: string, moduleResolution: "nodenext" | "bundler"): string {
  writeFileSync(join(user, "program.ts"), code);
  const args = ["--noEmit", "--strict", "--types", "", "--target", "es2022", "--lib", "es2022,dom,dom.iterable"];
  const module = moduleResolution === "bundler" ? "esnext" : moduleResolution;
  return spawnSync(
    process.execPath,
    [compiler, ...args, "--module", module, "--moduleResolution", moduleResolution, "program.ts"],
    { cwd: user, encoding: "utf8" },
  ).stdout;
}

describe("the packed library in an empty project", () => {
  test("looks up, reads a CSV and carries a table over", () => {
    const { status, stdout, stderr } = node(`
      import { createBuild, fuels, lookup, readTableText, rescaleForInjectors } from "@fuelwright/table-core";
      const { table } = readTableText("rpm\\\\kPa;1000;2000\\n40;2,1;3,1\\n100;5,1;6,1", { id: "main" });
      const set = { name: "invented", flowGramsPerSecond: 2.1, ratedPressureKpa: 300, deadTime: 0.9 };
      const build = createBuild({
        engine: { displacementCc: 1085, cylinders: 2, revLimitRpm: 6800, injectionsPerCycle: 1 },
        fuel: fuels.petrol, injectors: set, rail: { kind: "manifold-referenced", pressureKpa: 300 },
        battery: { volts: 13.5 }, place: { altitudeM: 0, temperatureC: 20 },
      });
      const to = { ...set, flowGramsPerSecond: 2.8, deadTime: 1.1 };
      const { table: rescaled } = rescaleForInjectors(table, { from: set, to, build });
      console.log(lookup(table, { rpm: 1500, load: 70 }).toFixed(4), [...rescaled.cells].map((ms) => ms.toFixed(4)).join(" "));
    `);
    expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
    // Centre of the table: (2.1 + 3.1 + 5.1 + 6.1) / 4. Pulses: (old − 0.9) · 2.1/2.8 + 1.1.
    expect(stdout).toBe("4.1000 2.0000 2.7500 4.2500 5.0000\n");
  });

  test("has its command", () => {
    const { status, stdout } = spawnSync(join(user, "node_modules/.bin/fuelwright"), ["convert", "1", "bar", "kPa"], {
      encoding: "utf8",
    });
    expect({ status, stdout }).toEqual({ status: 0, stdout: "100 kPa\n" });
  });

  test("gives the job's schema, and no file that is not offered", () => {
    const schema = node(`
      import schema from "@fuelwright/table-core/job.schema.json" with { type: "json" };
      console.log(schema.title);
    `);
    expect(schema.stdout).toBe("Fuelwright job\n");
    for (const inside of ["dist/lookup/lookup.js", "dist/index.js", "bin/run-command.mjs", "lookup"]) {
      expect(existsSync(join(user, "node_modules/@fuelwright/table-core", inside)) || inside === "lookup").toBe(true);
      expect(node(`await import("@fuelwright/table-core/${inside}")`).stderr).toContain(
        "ERR_PACKAGE_PATH_NOT_EXPORTED",
      );
    }
  });

  test("types a strict program, and refuses a wrong one", () => {
    const right = `
      import { createAxis, createTable, type FuelTable, FuelwrightError, lookup, type Step, scaleCells } from "@fuelwright/table-core";
      const table: FuelTable = createTable({
        id: "main", name: "invented", quantity: "pulse-width",
        rpm: createAxis({ quantity: "rpm", breakpoints: [1000, 2000] }),
        load: createAxis({ quantity: "manifold-pressure", breakpoints: [40, 100] }),
        cells: [[2, 3], [5, 6]],
      });
      export const value: number = lookup(scaleCells(table, { factor: 2 }), { rpm: 1500, load: 70 });
      export const code = (error: unknown): string | null => (error instanceof FuelwrightError ? error.code : null);
      export const step: Step = {
        id: "a", table: "main", kind: "scale-cells", settings: { factor: 1.1 }, on: true, note: "", time: "",
      };
    `;
    expect(check(right, "nodenext")).toBe("");
    const wrong = check(
      right.replace('"pulse-width"', '"pulse-widths"').replace("factor: 1.1", 'factor: "1.1"'),
      "bundler",
    );
    expect(wrong.match(/error TS\d+/g)).toEqual(["error TS2820", "error TS2322"]);
  });
});

describe("the packed elements in an empty project", () => {
  test("can be imported without a document, all or one", () => {
    const { status, stdout, stderr } = node(`
      const { FuelGrid, presets } = await import("@fuelwright/workbench");
      const one = await import("@fuelwright/workbench/elements/fuel-grid");
      console.log(one.FuelGrid === FuelGrid, presets.length > 1);
    `);
    expect({ status, stdout, stderr }).toEqual({ status: 0, stdout: "true true\n", stderr: "" });
  });

  test("type tags and events, and refuse what does not fit", () => {
    const right = `
      import { readDecimal, readTableText, setCells } from "@fuelwright/table-core";
      import "@fuelwright/workbench/elements/fuel-grid";
      import "@fuelwright/workbench";
      const grid = document.querySelector("fw-fuel-grid")!;
      const { table } = readTableText("kPa,1000,2000\\n40,2.1,3.1\\n100,5.1,6.1", { id: "main" });
      Object.assign(grid, { table, earlier: table });
      grid.addEventListener("fw-cells-typed", (event) => {
        grid.table = setCells(table, { region: event.region, value: readDecimal(event.text) });
      });
      document.querySelector("fw-step-strip")!.addEventListener("fw-strip-action", ({ detail }) => {
        if (detail.kind === "move") console.log(detail.to);
      });
    `;
    expect(check(right, "nodenext")).toBe("");
    const wrong = check(right.replace("event.text)", "event.words)").replace("detail.to", "detail.on"), "bundler");
    expect(wrong.match(/error TS\d+/g)).toEqual(["error TS2339", "error TS2339"]);
  });

  test("type the tags of the example in a framework", () => {
    const app = join(root, "examples/in-a-framework");
    cpSync(join(app, "src"), join(user, "src"), { recursive: true });
    cpSync(join(app, "tsconfig.json"), join(user, "tsconfig.json"));
    symlinkSync(join(app, "node_modules/preact"), join(user, "node_modules/preact"));
    const run = () => spawnSync(process.execPath, [compiler, "-p", "."], { cwd: user, encoding: "utf8" }).stdout;
    expect(run()).toBe("");
    const main = join(user, "src/main.tsx");
    writeFileSync(main, readFileSync(main, "utf8").replace("event.focused)}", "event.focusd)}"));
    expect(run().match(/error TS\d+/g)).toEqual(["error TS2551"]);
  });
});

describe("what is packed", () => {
  /** Kilobytes of 1,024 bytes to download: a fifth above what they were when this was written. */
  test("takes at most 520 KB for the library and 380 KB for the elements", () => {
    expect(core.size / 1024).toBeLessThanOrEqual(520);
    expect(elements.size / 1024).toBeLessThanOrEqual(380);
    expect(Math.min(core.size, elements.size)).toBeGreaterThan(50 * 1024);
  });

  test("is, for the elements, their modules with types, the files for the browser, the manifest and words", () => {
    const strange = elements.files.filter(
      (path) => !/^(lib\/.*\.(js|d\.ts)|package\.json|README\.md|LICENSE|custom-elements\.json)$/.test(path),
    );
    expect(strange).toEqual([]);
    expect(elements.files).toEqual(
      expect.arrayContaining(["LICENSE", "README.md", "lib/browser/elements.js", "lib/browser/table-core.js"]),
    );
    const told = JSON.parse(readFileSync(join(bench, "elements/custom-elements.json"), "utf8"));
    const modules: string[] = told.modules.map(({ path }: { path: string }) => path);
    expect(modules.length).toBeGreaterThan(5);
    expect(modules.filter((path) => !elements.files.includes(path))).toEqual([]);
  });

  test("is the built library, its command, schema and words, and no source, test or map of them", () => {
    expect(core.files).toEqual(
      expect.arrayContaining([
        "package.json",
        "README.md",
        "LICENSE",
        "job.schema.json",
        "dist/index.js",
        "dist/index.d.ts",
        "bin/fuelwright.mjs",
      ]),
    );
    const strange = core.files.filter(
      (path) =>
        !/^(dist\/.*\.(js|d\.ts)|bin\/.*\.mjs|guide\/.*\.md|package\.json|README\.md|LICENSE|job\.schema\.json)$/.test(
          path,
        ),
    );
    expect(strange).toEqual([]);
    expect(core.files.filter((path) => /\.test\./.test(path))).toEqual([]);
  });

  test("holds every module of the source, and none whose source is gone", () => {
    const sources = (readdirSync(join(home, "src"), { recursive: true }) as string[])
      .filter((path) => path.endsWith(".ts") && !path.endsWith(".test.ts"))
      .map((path) => `dist/${path.replace(/\.ts$/, ".js")}`);
    expect(core.files.filter((path) => /^dist\/.*\.js$/.test(path)).sort()).toEqual(sources.sort());
  });

  test.each(["table-core", "workbench"])("publint has nothing to say of %s", async (name) => {
    const pkgDir = join(user, "node_modules/@fuelwright", name);
    const { messages } = await publint({ pkgDir, strict: true, pack: false });
    const own = JSON.parse(readFileSync(join(pkgDir, "package.json"), "utf8"));
    expect(messages.map((message) => formatMessage(message, own))).toEqual([]);
  });

  test.each([
    ["the library", () => core, ["."]],
    ["the elements", () => elements, [".", "./elements/fuel-grid"]],
  ] as const)("types of %s are found by every way of resolving that loads modules", async (_, packed, entrypoints) => {
    const analysis = await checkPackage(createPackageFromTarballData(readFileSync(packed().tarball)), {
      entrypoints: [...entrypoints],
    });
    expect(analysis).toHaveProperty("problems");
    // Left out are the ways that know no `exports` at all, and CommonJS's: the package has ES modules alone.
    const problems = "problems" in analysis ? analysis.problems : [];
    const meant = (problem: Problem) =>
      problem.kind === "CJSResolvesToESM" ||
      ("resolutionOption" in problem && problem.resolutionOption === "node10") ||
      ("resolutionKind" in problem && problem.resolutionKind === "node10");
    expect(problems.filter((problem) => !meant(problem))).toEqual([]);
  });

  test("neither reaches for the DOM nor for Node", () => {
    const names = new Set<string>();
    for (const path of core.files.filter((name) => /^dist\/.*\.js$/.test(name))) {
      const code = readFileSync(join(bench, "fresh", path), "utf8");
      for (const [, from, bare, late] of code.matchAll(
        /^(?:import|export)[^"';]*from "([^"]+)"|^import "([^"]+)"|\bimport\("([^"]+)"\)/gm,
      )) {
        const name = from ?? bare ?? late!;
        if (!name.startsWith(".")) names.add(name.replace(/^(\w+)\/.*/, "$1"));
      }
    }
    // Without their types a program that reached for the globals of a page or of Node would not have been built.
    const { compilerOptions } = JSON.parse(readFileSync(join(home, "tsconfig.json"), "utf8"));
    expect(compilerOptions).toMatchObject({ lib: ["ES2022"], types: [] });
    expect([...names].sort()).toEqual(
      [
        "#expression-engine",
        ...Object.keys(manifest.dependencies).filter((name) => !name.startsWith("@types/")),
      ].sort(),
    );
  });
});
