/** Debian's Chromium by default; FUELWRIGHT_BROWSER names another. */
export const executablePath = process.env.FUELWRIGHT_BROWSER ?? "/usr/bin/chromium";

/** For a container without a display, and quiet: the browser itself asks nobody for anything. */
export const browserArgs: readonly string[] = [
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];
