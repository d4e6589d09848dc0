import { parseArgs } from "node:util";
import { FuelwrightError } from "../dist/index.js";
import { ceilings } from "./commands/ceilings.mjs";
import { compare } from "./commands/compare.mjs";
import { convert } from "./commands/convert.mjs";
import { fit } from "./commands/fit.mjs";
import { replay } from "./commands/replay.mjs";
import { createFiles } from "./files.mjs";
import { plainText } from "./plain-text.mjs";
import { UsageError } from "./usage-error.mjs";

const commands = { replay, ceilings, compare, convert, fit };

const general = `fuelwright: fuel tables and jobs, without a page

  fuelwright replay    a job, or a list of steps over a table
  fuelwright ceilings  which cells pass what the parts can give
  fuelwright compare   what changed from one table to another
  fuelwright convert   a figure into another unit
  fuelwright fit       a table's corrections from wideband logs

fuelwright COMMAND --help tells more. - is standard input. Results go to standard output, or to --out FILE; remarks and
refusals to standard error. Exit code 0: done. 1: the input was refused, and why. 2: the command line is wrong.
`;

const shared = { help: { type: "boolean" }, json: { type: "boolean" }, out: { type: "string" } };

/**
 * Runs the command that the arguments name.
 *
 * @param {string[]} args - as after the program's name
 * @param {{ input?: AsyncIterable<Uint8Array>, output?: { write(text: string): unknown },
 *   errors?: { write(text: string): unknown, isTTY?: boolean } }} streams - left out: those of the process
 * @returns {Promise<0 | 1 | 2>} the exit code
 */
export async function runCommand(args, streams = {}) {
  const { input = process.stdin, output = process.stdout, errors = process.stderr } = streams;
  const [name, ...rest] = args;
  const command = Object.hasOwn(commands, name ?? "") ? commands[name] : undefined;
  try {
    if (name === "--help") {
      output.write(general);
      return 0;
    }
    if (!command)
      throw new UsageError(
        name === undefined
          ? "no command was given"
          : `${JSON.stringify(name)} is none of ${Object.keys(commands).join(", ")}`,
      );
    const { values, positionals } = parse(command, rest);
    if (values.help) {
      output.write(command.help);
      return 0;
    }
    const files = createFiles(input);
    const remark = (text) => errors.write(`${plainText(text)}\n`);
    const progress = (text) => errors.isTTY && errors.write(`\r\u001b[K${plainText(text)}`);
    const { data, text } = await command.run({ values, positionals, files, remark, progress });
    const result = values.json ? `${JSON.stringify(data(), null, 1)}\n` : text();
    if (values.out === undefined) output.write(result);
    else await files.write(values.out, result);
    return 0;
  } catch (error) {
    if (error instanceof UsageError) {
      const more = command ? `fuelwright ${name} --help` : "fuelwright --help";
      errors.write(`fuelwright: ${plainText(error.message)}; see ${more}\n`);
      return 2;
    }
    if (!(error instanceof FuelwrightError)) throw error;
    errors.write(`${plainText(error.message)}\n`);
    return 1;
  }
}

function parse({ options, most, least }, args) {
  let parsed;
  try {
    // A figure below zero is no option.
    const figures = args.filter((arg) => /^-[\d.,]/.test(arg));
    parsed = parseArgs({
      args: args.filter((arg) => !figures.includes(arg)),
      options: { ...shared, ...options },
      allowPositionals: true,
    });
    parsed.positionals.unshift(...figures);
  } catch (error) {
    throw new UsageError(error.message.split(/[.\n]/)[0]);
  }
  const count = parsed.positionals.length;
  if (!parsed.values.help && (count < least || count > most))
    throw new UsageError(
      `${count < least ? "something is missing" : "there is something too much"}, got ${count} of ${least}${most > least ? " or more" : ""}`,
    );
  return parsed;
}
