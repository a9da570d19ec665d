import { defineConfig } from "vite";

// The page is one script and one style sheet, embedded in the program. The core is not bundled: it is built from C++ and
// lies beside the page under core/.
export default defineConfig({
  build: {
    target: "es2020",
    outDir: "dist",
    assetsInlineLimit: 0,
    modulePreload: false,
    rollupOptions: {
      output: {
        entryFileNames: "assets/[name]-[hash].js",
        assetFileNames: "assets/[name]-[hash][extname]",
      },
    },
  },
  esbuild: { jsx: "automatic", jsxImportSource: "preact" },
});
