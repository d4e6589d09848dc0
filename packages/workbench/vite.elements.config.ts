import { defineConfig } from "vite";

const file = (path: string) => new URL(path, import.meta.url).pathname;

/** The elements and the library as files that a page without a bundler can load; both share what they have in common. */
export default defineConfig({
  resolve: {
    alias: {
      "@fuelwright/table-core": file("../table-core/src/index.ts"),
      "#expression-engine": file("../table-core/src/cells/expression-engine.lazy.ts"),
    },
  },
  build: {
    target: "es2022",
    outDir: "lib/browser",
    // What a page loads as it is: whitespace too is left out.
    rolldownOptions: { output: { minify: true } },
    lib: {
      entry: { elements: file("src/elements/index.ts"), "table-core": file("../table-core/src/index.ts") },
      formats: ["es"],
    },
  },
});
