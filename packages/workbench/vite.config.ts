import { defineConfig, type Plugin } from "vite";

const core = new URL("../table-core/src/", import.meta.url).pathname;

/** What the page may do: nothing comes from outside and nothing goes there. */
const policy = (script: string) =>
  `default-src 'none'; script-src ${script}; style-src 'self' 'unsafe-inline'; img-src 'self' data: blob:; ` +
  "worker-src 'self' blob:; connect-src 'self' blob:; base-uri 'none'; form-action 'none'";

/** Puts the one script into the page itself, so that the file works from a disk. */
function inOneFile(): Plugin {
  return {
    name: "fuelwright-one-file",
    enforce: "post",
    generateBundle(_, bundle) {
      const page = Object.values(bundle).find((file) => file.fileName.endsWith(".html"));
      const script = Object.values(bundle).find((file) => file.type === "chunk" && file.isEntry);
      if (page?.type !== "asset" || script?.type !== "chunk")
        throw new Error("one file: a page and one script are needed");
      const code = script.code.replaceAll("</script", "<\\/script");
      page.source = String(page.source).replace(
        /<script type="module"[^>]*><\/script>/,
        () => `<script type="module">${code}</script>`,
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
        // One file can fetch no second one: there the worker's script is in the page.
        ...(oneFile && { "#start-worker": new URL("src/workers/start-worker.inline.ts", import.meta.url).pathname }),
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
