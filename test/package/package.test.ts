import { execFileSync, spawnSync } from "node:child_process";
import { cpSync, existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { checkPackage, createPackageFromTarballData, type Problem } from "@arethetypeswrong/core";
import { publint } from "publint";
import { formatMessage } from "publint/utils";
import { beforeAll, describe, expect, test } from "vitest";
import { root } from "../examples/build-core.ts";

const home = join(root, "packages/table-core");
const manifest = JSON.parse(readFileSync(join(home, "package.json"), "utf8"));
const bench = mkdtempSync(join(tmpdir(), "fuelwright-package-"));
const user = join(bench, "user");
let tarball = "";
let packed: string[] = [];

const compiler = join(dirname(createRequire(import.meta.url).resolve("typescript/package.json")), "bin/tsc");

// As a user gets it: built anew, packed, and installed with npm into an empty project.
beforeAll(() => {
  const fresh = join(bench, "fresh");
  mkdirSync(fresh);
  for (const name of ["package.json", "README.md", "LICENSE", "job.schema.json", "bin"])
    cpSync(join(home, name), join(fresh, name), { recursive: true });
  // Beside the project's dist, which other tests are reading; the rest as `prepack` has it.
  expect(manifest.scripts.prepack).toContain("tsc -p . --sourceMap false --declarationMap false");
  const places = ["--outDir", join(fresh, "dist"), "--tsBuildInfoFile", join(bench, "buildinfo")];
  const build = [compiler, "-p", home, "--sourceMap", "false", "--declarationMap", "false", ...places];
  execFileSync(process.execPath, build);
  const pack = ["pack", "--json", "--ignore-scripts", "--pack-destination", bench];
  const [{ filename, files }] = JSON.parse(execFileSync("npm", pack, { cwd: fresh, encoding: "utf8" }));
  tarball = join(bench, filename);
  packed = files.map(({ path }: { path: string }) => path);
  mkdirSync(user);
  writeFileSync(join(user, "package.json"), JSON.stringify({ name: "user", private: true, type: "module" }));
  execFileSync("npm", ["install", "--no-audit", "--no-fund", "--prefer-offline", tarball], {
    cwd: user,
    stdio: "pipe",
  });
}, 120_000);

const node = (code: string) =>
  spawnSync(process.execPath, ["--input-type=module", "-e", code], { cwd: user, encoding: "utf8" });

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
    const check = (code: string, moduleResolution: string) => {
      writeFileSync(join(user, "program.ts"), code);
      const args = ["--noEmit", "--strict", "--types", "", "--target", "es2022", "--lib", "es2022,dom"];
      const module = moduleResolution === "bundler" ? "esnext" : moduleResolution;
      return spawnSync(
        process.execPath,
        [compiler, ...args, "--module", module, "--moduleResolution", moduleResolution, "program.ts"],
        {
          cwd: user,
          encoding: "utf8",
        },
      );
    };
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
    expect(check(right, "nodenext").stdout).toBe("");
    const wrong = check(
      right.replace('"pulse-width"', '"pulse-widths"').replace("factor: 1.1", 'factor: "1.1"'),
      "bundler",
    );
    expect(wrong.stdout.match(/error TS\d+/g)).toEqual(["error TS2820", "error TS2322"]);
  });
});

describe("what is packed", () => {
  test("is the built library, its command, schema and words, and no source, test or map of them", () => {
    expect(packed).toEqual(
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
    const strange = packed.filter(
      (path) => !/^(dist\/.*\.(js|d\.ts)|bin\/.*\.mjs|package\.json|README\.md|LICENSE|job\.schema\.json)$/.test(path),
    );
    expect(strange).toEqual([]);
    expect(packed.filter((path) => /\.test\./.test(path))).toEqual([]);
  });

  test("holds every module of the source, and none whose source is gone", () => {
    const sources = (readdirSync(join(home, "src"), { recursive: true }) as string[])
      .filter((path) => path.endsWith(".ts") && !path.endsWith(".test.ts"))
      .map((path) => `dist/${path.replace(/\.ts$/, ".js")}`);
    expect(packed.filter((path) => /^dist\/.*\.js$/.test(path)).sort()).toEqual(sources.sort());
  });

  test("publint has nothing to say", async () => {
    const { messages } = await publint({
      pkgDir: join(user, "node_modules/@fuelwright/table-core"),
      strict: true,
      pack: false,
    });
    expect(messages.map((message) => formatMessage(message, manifest))).toEqual([]);
  });

  test("its types are found by every way of resolving that loads modules", async () => {
    const analysis = await checkPackage(createPackageFromTarballData(readFileSync(tarball)), {
      entrypoints: ["."],
    });
    expect(analysis).toHaveProperty("problems");
    // Left out are the ways that know no `exports` at all, and CommonJS's: the package has ES modules alone.
    const problems = "problems" in analysis ? analysis.problems : [];
    const meant = (problem: Problem) =>
      problem.kind === "CJSResolvesToESM" || ("resolutionOption" in problem && problem.resolutionOption === "node10");
    expect(problems.filter((problem) => !meant(problem))).toEqual([]);
  });

  test("neither reaches for the DOM nor for Node", () => {
    const names = new Set<string>();
    for (const path of packed.filter((name) => /^dist\/.*\.js$/.test(name))) {
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
