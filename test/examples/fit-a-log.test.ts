import { beforeAll, expect, test } from "vitest";
import { buildCore } from "./build-core.ts";
import { exampleBench } from "./run-example.ts";

beforeAll(buildCore);

const { run } = exampleBench("fit-a-log");
const figures = (line: string | undefined) => [...line!.matchAll(/\d+\.\d+/g)].map(Number);

test("it finds delay, lag, film and table of a simulated ride, and says that it is simulated", () => {
  const { status, lines, stderr } = run();
  expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
  expect(lines[0]).toMatch(/^simulated log 7: .* It is simulated, and proves nothing\.$/);
  expect(lines.join("\n")).toMatch(/warning: A simulated log/);
  const said = (word: string) => figures(lines.find((line) => line.startsWith(word)));
  const [delay, , delayTruth] = said("Delay found");
  expect(Math.abs(delay! - delayTruth!)).toBeLessThanOrEqual(0.05);
  const [lag, , lagTruth] = said("Lag found");
  expect(Math.abs(lag! - lagTruth!)).toBeLessThanOrEqual(0.05);
  const [share, , shareTruth] = said("Fuel film");
  expect(Math.abs(share! - shareTruth!)).toBeLessThanOrEqual(0.05);
  const [before, after] = said("Where the log speaks");
  expect(before).toBeGreaterThan(2);
  expect(after).toBeLessThan(before! / 4);
});

test("another seed is another ride", () => {
  const { status, lines } = run("11");
  expect(status).toBe(0);
  expect(lines[0]).toMatch(/^simulated log 11:/);
});
