import { createTable, lookup, lookupMany } from "@fuelwright/table-core";
import { describe, expect, test } from "vitest";
import reference from "./bilinear.json";

// Source: scipy.interpolate.RegularGridInterpolator, method "linear", on invented tables (reference/bilinear.json).
// Tolerance of the file: 1e-9, and 1e-6 for the points far outside.
describe.each(reference.cases)("bilinear lookup, $name", ({ rpm, load, z, queries }) => {
  const table = createTable({
    id: "reference",
    name: "invented",
    quantity: "volumetric-efficiency",
    rpm: { quantity: "rpm", unit: "rpm", breakpoints: rpm },
    load: { quantity: "manifold-pressure", unit: "kPa", breakpoints: load },
    cells: z,
  });

  test("each point agrees, held and extended", () => {
    expect(queries.length).toBeGreaterThan(30);
    for (const query of queries) {
      const tolerance = query.kind === "outside-far" ? 1e-6 : 1e-9;
      const held = lookup(table, { rpm: query.rpm, load: query.load });
      const extended = lookup(table, { rpm: query.rpm, load: query.load, outside: "extend" });
      expect(Math.abs(held - query.clamp), `${query.kind} held`).toBeLessThanOrEqual(tolerance);
      expect(Math.abs(extended - query.extrapolate), `${query.kind} extended`).toBeLessThanOrEqual(tolerance);
    }
  });

  test("so do all points at once, many times over", () => {
    const many = Array.from({ length: 200 }, () => queries).flat();
    const points = { rpm: many.map((query) => query.rpm), load: many.map((query) => query.load) };
    const held = lookupMany(table, points);
    const extended = lookupMany(table, { ...points, outside: "extend" });
    many.forEach((query, k) => {
      const tolerance = query.kind === "outside-far" ? 1e-6 : 1e-9;
      expect(Math.abs(held[k]! - query.clamp)).toBeLessThanOrEqual(tolerance);
      expect(Math.abs(extended[k]! - query.extrapolate)).toBeLessThanOrEqual(tolerance);
    });
  });
});
