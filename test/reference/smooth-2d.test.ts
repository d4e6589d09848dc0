import {
  createTable,
  dividedDifferences,
  findSmoothStrengths,
  smoothCells,
  unitMeanSpacing,
} from "@fuelwright/table-core";
import { describe, expect, test } from "vitest";
import reference from "./smooth-2d.json";

// Source: Whittaker–Henderson smoothing in two dimensions (Eilers, Anal. Chem. 75 (2003) 3631), solved by scipy.sparse
// with refinement (reference/smooth-2d.json). Tolerance of the file: 1e-6 on z, 1e-4 for the very stiff case and raw axes.

/** λ on a raw axis is λ·s⁴ on one scaled by s to a mean spacing of 1. */
const scale = (axis: number[]) => (axis.length - 1) / (axis.at(-1)! - axis[0]!);

describe.each(reference.cases)(
  "smoothing, $name",
  ({ name, axisMode, lambdaX, lambdaY, rpm, load, y, w, z, effectiveDimension }) => {
    const raw = axisMode === "raw";
    const strengths = {
      rpmStrength: raw ? lambdaX * scale(rpm) ** 4 : lambdaX,
      loadStrength: raw ? lambdaY * scale(load) ** 4 : lambdaY,
    };
    const table = createTable({
      id: "reference",
      name: "invented",
      quantity: "volumetric-efficiency",
      rpm: { quantity: "rpm", unit: "rpm", breakpoints: rpm },
      load: { quantity: "manifold-pressure", unit: "kPa", breakpoints: load },
      cells: y,
    });
    const tolerance = raw || name.includes("very stiff") ? 1e-4 : 1e-6;

    test("each cell agrees", () => {
      const smooth = smoothCells(table, { ...strengths, weights: w.flat() });
      z.flat().forEach((value, at) => {
        expect(Math.abs(smooth.cells[at]! - value)).toBeLessThanOrEqual(tolerance);
      });
    });

    test("the effective dimension is the sum of what each cell keeps of itself", () => {
      // Source of the definition: trace of (W + λDᵀD)⁻¹·W, as in the file. One smoothing of a unit cell for each cell.
      let trace = 0;
      table.cells.forEach((_, at) => {
        const unit = createTable({ ...table, cells: table.cells.map((__, other) => (other === at ? 1 : 0)) });
        if (w.flat()[at]! > 0) trace += smoothCells(unit, { ...strengths, weights: w.flat() }).cells[at]!;
      });
      expect(Math.abs(trace / effectiveDimension - 1)).toBeLessThanOrEqual(1e-6);
    });
  },
);

describe.each(reference.differenceMatrixExamples)(
  "differences on $axis",
  ({ axis, scaledAxis, D2onScaledAxis, D2onRawAxis }) => {
    const rows = (points: ArrayLike<number>) => {
      const weights = dividedDifferences(points, 2);
      return D2onRawAxis.map((row, i) => row.map((_, j) => (j < i || j > i + 2 ? 0 : weights[3 * i + j - i]!)));
    };

    test("the matrix agrees, raw and scaled", () => {
      unitMeanSpacing(axis).forEach((value, i) => {
        expect(value).toBeCloseTo(scaledAxis[i]!, 12);
      });
      const check = (ours: number[][], theirs: number[][]) => {
        ours.flat().forEach((value, at) => {
          const wanted = theirs.flat()[at]!;
          // The file has 13 digits.
          expect(Math.abs(value - wanted)).toBeLessThanOrEqual(1e-12 * Math.abs(wanted));
        });
      };
      check(rows(axis), D2onRawAxis);
      check(rows(unitMeanSpacing(axis)), D2onScaledAxis);
    });
  },
);

test("strengths are found on the reference tables, and their dimension is that of the smoothing they give", () => {
  const { rpm, load, y } = reference.cases.find((one) => one.name.startsWith("16x16"))!;
  const table = createTable({
    id: "reference",
    name: "invented",
    quantity: "volumetric-efficiency",
    rpm: { quantity: "rpm", unit: "rpm", breakpoints: rpm },
    load: { quantity: "manifold-pressure", unit: "kPa", breakpoints: load },
    cells: y,
  });
  const { rpmStrength, loadStrength, effectiveDimension, noise } = findSmoothStrengths(table);
  let trace = 0;
  table.cells.forEach((_, at) => {
    const unit = createTable({ ...table, cells: table.cells.map((__, other) => (other === at ? 1 : 0)) });
    trace += smoothCells(unit, { rpmStrength, loadStrength }).cells[at]!;
  });
  expect(effectiveDimension).toBeCloseTo(trace, 8);
  // The generator added noise of 3 (generate/gen_smoothing.py).
  expect(noise).toBeGreaterThan(2.6);
  expect(noise).toBeLessThan(3.4);
});
