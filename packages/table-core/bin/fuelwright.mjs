#!/usr/bin/env node
import { runCommand } from "./run-command.mjs";

// A reader that has seen enough (`| head`) closes the pipe: no fault.
process.stdout.on("error", (error) => {
  if (error.code !== "EPIPE") throw error;
  process.exit(0);
});
process.exitCode = await runCommand(process.argv.slice(2));
