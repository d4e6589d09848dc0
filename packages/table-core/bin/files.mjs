import { createReadStream } from "node:fs";
import { open, rename, rm, writeFile } from "node:fs/promises";
import { FuelwrightError } from "../dist/index.js";
import { UsageError } from "./usage-error.mjs";

/** Reading and writing for the commands: `-` is standard input, once. */
export function createFiles(input) {
  let used = false;
  const bytesOfInput = async () => {
    if (used) throw new UsageError("- can stand for one input only");
    used = true;
    const pieces = [];
    for await (const piece of input) pieces.push(typeof piece === "string" ? Buffer.from(piece) : piece);
    return Buffer.concat(pieces);
  };
  return {
    /** The whole text of a file. @throws FuelwrightError `file` */
    async text(path) {
      if (path === "-") return (await bytesOfInput()).toString("utf8");
      const file = await withReason(path, open(path));
      try {
        return await withReason(path, file.readFile("utf8"));
      } finally {
        await file.close();
      }
    },
    /** What `readLog` reads a log from: files as often as it likes. @throws FuelwrightError `file` */
    async log(path) {
      if (path === "-") return bytesOfInput();
      const file = await withReason(path, open(path));
      await file.close();
      return () => createReadStream(path);
    },
    /** Puts the text in place whole or not at all. @throws FuelwrightError `file` */
    async write(path, text) {
      const beside = `${path}.${process.pid}.part`;
      try {
        await withReason(path, writeFile(beside, text, { flag: "wx" }));
        await withReason(path, rename(beside, path));
      } finally {
        await rm(beside, { force: true });
      }
    },
  };
}

const reasons = {
  ENOENT: "is not there",
  EACCES: "may not be opened",
  EISDIR: "is a folder",
  ENOTDIR: "lies in what is no folder",
  EEXIST: "is being written already",
};

async function withReason(path, work) {
  try {
    return await work;
  } catch (error) {
    throw new FuelwrightError(
      "file",
      `fuelwright: ${JSON.stringify(path)} ${reasons[error.code] ?? `can't be used (${error.code ?? error.message})`}; check the name`,
      { path, reason: error.code },
    );
  }
}
