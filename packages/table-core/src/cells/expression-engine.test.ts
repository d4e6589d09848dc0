import { expect, test, vi } from "vitest";
import type { FuelwrightError } from "../values/errors.ts";

test("in Node the parser is there at once", async () => {
  const { expressionParser } = await import("./expression-engine.eager.ts");
  expect(expressionParser()("1 + 1").compile(new Map(), new Set())(new Float64Array(0))).toBe(2);
});

test("loaded on demand, it says that it must be prepared first, and then works", async () => {
  vi.resetModules();
  const lazy = await import("./expression-engine.lazy.ts");
  try {
    lazy.expressionParser();
    expect.unreachable();
  } catch (error) {
    expect((error as FuelwrightError).code).toBe("expressions-not-loaded");
    expect((error as FuelwrightError).message).toContain("await prepareExpressions()");
  }
  await lazy.prepareExpressions();
  await lazy.prepareExpressions();
  expect(lazy.expressionParser()("2 * 3").compile(new Map(), new Set())(new Float64Array(0))).toBe(6);
});
