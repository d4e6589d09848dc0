import { mkdtemp, readFile, rm } from "node:fs/promises";
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import { extname, join, normalize } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "vite";

const workbench = fileURLToPath(new URL("../../packages/workbench", import.meta.url));

const types: Readonly<Record<string, string>> = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript",
  ".css": "text/css",
  ".json": "application/json",
};

/** A page of the same origin that is not the workbench: where a test stands in for a spreadsheet. */
const ELSEWHERE = "/elsewhere";
const elsewherePage = `<!doctype html><html lang="en"><link rel="icon" href="data:,"><title>Elsewhere</title><textarea aria-label="Sheet" rows="20"></textarea></html>`;

export interface ServedPage {
  /** `http://127.0.0.1:port/` */
  readonly address: string;
  readonly elsewhere: string;
  close(): Promise<void>;
}

/**
 * The built page, served from this machine alone on a free port.
 *
 * It is built into a temporary folder, so that the tests see the source as it is now; FUELWRIGHT_PAGE names a folder
 * built before.
 */
export async function servePage(): Promise<ServedPage> {
  const built = process.env.FUELWRIGHT_PAGE;
  const folder = built ?? (await buildPage());
  const server = createServer(async (request, response) => {
    const { pathname } = new URL(request.url ?? "/", "http://page");
    const send = (body: string | Buffer, type: string) =>
      response.writeHead(200, { "content-type": type, "cache-control": "no-store" }).end(body);
    if (pathname === ELSEWHERE) return send(elsewherePage, types[".html"]!);
    const path = normalize(pathname === "/" ? "/index.html" : pathname);
    try {
      send(await readFile(join(folder, path)), types[extname(path)] ?? "application/octet-stream");
    } catch {
      response.writeHead(404).end();
    }
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const address = `http://127.0.0.1:${(server.address() as AddressInfo).port}/`;
  return {
    address,
    elsewhere: new URL(ELSEWHERE, address).href,
    async close() {
      server.closeAllConnections();
      await new Promise((resolve) => server.close(resolve));
      if (!built) await rm(folder, { recursive: true });
    },
  };
}

async function buildPage(): Promise<string> {
  const outDir = await mkdtemp(join(tmpdir(), "fuelwright-page-"));
  // The test runner sets this to `test`, and libraries would come in their slower form for developers.
  const environment = process.env.NODE_ENV;
  process.env.NODE_ENV = "production";
  try {
    await build({ root: workbench, logLevel: "warn", build: { outDir, emptyOutDir: true } });
  } finally {
    process.env.NODE_ENV = environment;
  }
  return outDir;
}
