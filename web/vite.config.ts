import { defineConfig } from "vite";
import { VitePWA } from "vite-plugin-pwa";

export default defineConfig({
  // Relative addresses: the page works on any static host, under any sub-path.
  base: "./",
  build: {
    target: "es2022",
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
  },
  plugins: [
    VitePWA({
      registerType: "prompt",
      injectRegister: null,
      includeManifestIcons: false,
      manifest: {
        name: "Faultpath",
        short_name: "Faultpath",
        description: "Is this circuit safe to energise? A design check from the supply to the furthest point.",
        lang: "en-GB",
        start_url: "./",
        scope: "./",
        id: "./",
        display: "standalone",
        background_color: "#101716",
        theme_color: "#101716",
        categories: ["utilities", "productivity"],
        icons: [
          { src: "icon-192.png", sizes: "192x192", type: "image/png" },
          { src: "icon-512.png", sizes: "512x512", type: "image/png" },
          { src: "icon-maskable-512.png", sizes: "512x512", type: "image/png", purpose: "maskable" },
          { src: "icon.svg", sizes: "any", type: "image/svg+xml" },
        ],
      },
      workbox: {
        globPatterns: ["**/*.{html,js,css,wasm,svg,png,webmanifest}"],
        cleanupOutdatedCaches: true,
        navigateFallback: "index.html",
        sourcemap: false,
      },
    }),
  ],
  test: { include: ["src/**/*.test.ts"] },
} as Parameters<typeof defineConfig>[0]);
