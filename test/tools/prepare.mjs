// What `npm start` and `npm test` share: node and npm are all that is there before.
import { spawnSync } from "node:child_process";
import { existsSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";

export const root = fileURLToPath(new URL("../..", import.meta.url));
const { packageManager } = JSON.parse(readFileSync(`${root}/package.json`, "utf8"));

/** Runs a command in the project's folder, its output shown. Returns whether it went well. */
export function run(command, args, options = {}) {
  console.log(`\n> ${command} ${args.join(" ")}`);
  return spawnSync(command, args, { cwd: root, stdio: "inherit", ...options }).status === 0;
}

/** The pinned pnpm, which npm fetches when it is not there. */
export const pnpm = (...args) => run("npx", ["--yes", packageManager, ...args]);

export function install() {
  if (pnpm("install", "--frozen-lockfile")) return;
  console.error("Installing the packages failed: see above. The npm registry must be reachable.");
  process.exit(1);
}

/** The browser the tests drive: FUELWRIGHT_BROWSER, or Debian's Chromium, installed when run as root. */
export function browserPath() {
  const path = process.env.FUELWRIGHT_BROWSER ?? "/usr/bin/chromium";
  if (existsSync(path)) return path;
  if (process.env.FUELWRIGHT_BROWSER) {
    console.error(`FUELWRIGHT_BROWSER names ${path}, which is not there.`);
    process.exit(1);
  }
  const canInstall = process.getuid?.() === 0 && existsSync("/usr/bin/apt-get");
  if (canInstall && run("apt-get", ["update"]) && run("apt-get", ["install", "-y", "chromium"])) return path;
  console.error(
    "The browser tests need Chromium. On Debian: `apt-get install chromium` as root. " +
      "Elsewhere install Chromium or Chrome and name its program in the variable FUELWRIGHT_BROWSER.",
  );
  process.exit(1);
}
