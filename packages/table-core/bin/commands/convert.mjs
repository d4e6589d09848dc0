import { convertUnit, knownUnits, readDecimal } from "../../dist/index.js";
import { figure } from "../choose-table.mjs";

const help = `fuelwright convert VALUE FROM TO [--density KG_PER_L]

The value in another unit. VALUE - takes one value a line from standard input. Mass flow from volume flow, or the other way
round, needs the density of what flows.

  fuelwright convert 43.5 psi kPa
  fuelwright convert 300 cc/min g/s --density 0.745

  --json, --out FILE
Units: ${knownUnits().join(", ")}
`;

export const convert = {
  help,
  options: { density: { type: "string" } },
  least: 3,
  most: 3,
  async run({ values, positionals: [value, from, to], files }) {
    const density = values.density === undefined ? {} : { densityKgPerL: figure("--density", values.density) };
    const given = value === "-" ? (await files.text("-")).split("\n").filter((line) => line.trim() !== "") : [value];
    const converted = given.map((text) => convertUnit(readDecimal(text.trim()), from, to, density));
    return {
      data: () => ({ values: converted, unit: to }),
      text: () => converted.map((number) => `${Number(number.toPrecision(12))} ${to}\n`).join(""),
    };
  },
};
