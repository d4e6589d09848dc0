import { defineConfig } from "vite";

const core = new URL("../table-core/src/", import.meta.url).pathname;

export default defineConfig({
  base: "./",
  resolve: {
    alias: {
      "@fuelwright/table-core": `${core}index.ts`,
      "#expression-engine": `${core}cells/expression-engine.lazy.ts`,
    },
  },
  build: { target: "es2022", sourcemap: false },
  worker: { format: "es" },
});
