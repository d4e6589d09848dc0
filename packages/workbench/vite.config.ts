import { gzipSync } from "node:zlib";
import { defineConfig, type Plugin } from "vite";

const core = new URL("../table-core/src/", import.meta.url).pathname;

/** What the page may do: nothing comes from outside and nothing goes there. */
const policy = (script: string) =>
  `default-src 'none'; script-src ${script}; style-src 'self' 'unsafe-inline'; img-src 'self' data: blob:; ` +
  "worker-src 'self' blob:; connect-src 'self' blob:; base-uri 'none'; form-action 'none'";

/** What stands in the one file: it unpacks the page's script and puts it in. */
const unpack = (packed: string) => `const bytes = Uint8Array.from(atob("${packed}"), (c) => c.charCodeAt(0));
const plain = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
const script = document.createElement("script");
script.id = "fuelwright";
script.textContent = await new Response(plain).text();
document.head.append(script);`;

/** Puts the one script into the page itself, packed, so that the file works from a disk. */
function inOneFile(): Plugin {
  return {
    name: "fuelwright-one-file",
    enforce: "post",
    transformIndexHtml: { order: "pre", handler: (page) => page.replace("/src/main.ts", "/src/one-file.ts") },
    generateBundle(_, bundle) {
      const page = Object.values(bundle).find((file) => file.fileName.endsWith(".html"));
      const script = Object.values(bundle).find((file) => file.type === "chunk" && file.isEntry);
      if (page?.type !== "asset" || script?.type !== "chunk")
        throw new Error("one file: a page and one script are needed");
      // Nothing is fetched ahead of a script that is the whole page; and as its own worker it is no module.
      const code = script.code
        .replaceAll("__VITE_PRELOAD__", "[]")
        .replaceAll(/\bimport\.meta\.(url|resolve)\b/g, "undefined");
      if (/\bimport\.meta\b/.test(code)) throw new Error("one file: its script asks for its address, and has none");
      const packed = gzipSync(`(() => {"use strict";${code}\n})();`, { level: 9 }).toString("base64");
      page.source = String(page.source).replace(
        /<script type="module"[^>]*><\/script>/,
        () => `<script type="module">${unpack(packed)}</script>`,
      );
      page.fileName = "fuelwright.html";
      delete bundle[script.fileName];
    },
  };
}

const withPolicy = (script: string): Plugin => ({
  name: "fuelwright-policy",
  apply: "build",
  transformIndexHtml: () => [
    {
      tag: "meta",
      attrs: { "http-equiv": "Content-Security-Policy", content: policy(script) },
      injectTo: "head-prepend",
    },
  ],
});

export default defineConfig(({ mode }) => {
  const oneFile = mode === "one-file";
  return {
    base: "./",
    resolve: {
      alias: {
        "@fuelwright/table-core": `${core}index.ts`,
        "#expression-engine": `${core}cells/expression-engine.lazy.ts`,
        ...(oneFile && { "#start-worker": new URL("src/workers/start-worker.one-file.ts", import.meta.url).pathname }),
      },
    },
    plugins: oneFile ? [withPolicy("'unsafe-inline' blob:"), inOneFile()] : [withPolicy("'self'")],
    build: {
      target: "es2022",
      sourcemap: false,
      modulePreload: { polyfill: false },
      emptyOutDir: !oneFile,
      ...(oneFile && { rolldownOptions: { output: { codeSplitting: false } } }),
    },
    worker: { format: "es" },
  };
});
