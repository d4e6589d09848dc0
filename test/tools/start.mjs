// `npm start`: installs, builds, serves the built page on this machine alone and opens it.
import { createRequire } from "node:module";
import { pathToFileURL } from "node:url";
import { install, pnpm, root } from "./prepare.mjs";

install();
if (!pnpm("build")) process.exit(1);

const vite = createRequire(`${root}/package.json`).resolve("vite");
const { preview } = await import(pathToFileURL(vite).href);
const hasScreen = process.platform !== "linux" || Boolean(process.env.DISPLAY ?? process.env.WAYLAND_DISPLAY);
const server = await preview({
  root: `${root}/packages/workbench`,
  preview: { host: "127.0.0.1", port: Number(process.env.PORT ?? 4173), open: hasScreen && !process.env.CI },
});
console.log("\nThe workbench is open with the invented demo job at:");
server.printUrls();
console.log("  Ctrl+C ends it. Nothing leaves this machine.");
