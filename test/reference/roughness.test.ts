import { createAxis, createTable, roughness } from "@fuelwright/table-core";
import { expect, test } from "vitest";
import reference from "./smooth-2d.json";

// Source: solutions by scipy.sparse of Whittaker-Henderson smoothing after Eilers (2003), reference/smooth-2d.json. Where
// all weights and both strengths are 1, the solution z of data y satisfies (y − z) = P z, so z·(y − z) is the sum of the
// squared second differences of z: what roughness is the root mean of.
const cases = reference.cases.filter(
  ({ axisMode, lambdaX, lambdaY, w }) =>
    axisMode === "unitMeanSpacing" && lambdaX === 1 && lambdaY === 1 && w.flat().every((weight) => weight === 1),
);

test("the reference has such cases", () => {
  expect(cases.length).toBeGreaterThanOrEqual(3);
});

test.each(cases)("roughness of the smoothed table: $name", ({ rpm, load, y, z }) => {
  const table = createTable({
    id: "z",
    name: "smoothed",
    quantity: "volumetric-efficiency",
    rpm: createAxis({ quantity: "rpm", breakpoints: rpm }),
    load: createAxis({ quantity: "manifold-pressure", breakpoints: load }),
    cells: z,
  });
  const data = y.flat();
  const sum = z.flat().reduce((total, value, at) => total + value * (data[at]! - value), 0);
  const differences = (rpm.length - 2) * load.length + rpm.length * (load.length - 2);
  // z is printed to ten digits or so, and the sum of up to 256 products of values near 100 cancels.
  expect(roughness(table) / Math.sqrt(sum / differences)).toBeCloseTo(1, 7);
});
