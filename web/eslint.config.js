import js from "@eslint/js";
import ts from "typescript-eslint";

export default ts.config(
  { ignores: ["dist", "src/pkg", "src/pkg-site", "shots", "node_modules"] },
  js.configs.recommended,
  {
    files: ["src/**/*.{ts,tsx}", "tools/*.ts", "words/*.ts", "vite.config.ts"],
    extends: [...ts.configs.strictTypeChecked, ...ts.configs.stylisticTypeChecked],
    languageOptions: { parserOptions: { projectService: true, tsconfigRootDir: import.meta.dirname } },
    rules: {
      "@typescript-eslint/restrict-template-expressions": ["error", { allowNumber: true }],
      "@typescript-eslint/no-confusing-void-expression": ["error", { ignoreArrowShorthand: true }],
      "@typescript-eslint/consistent-type-definitions": "off",
    },
  },
  {
    files: ["public/*.js"],
    languageOptions: { globals: Object.fromEntries(["self", "caches", "URL", "Response"].map((name) => [name, "readonly"])) },
  },
  {
    files: ["**/*.mjs", "eslint.config.js"],
    languageOptions: {
      globals: Object.fromEntries(
        ["process", "console", "URL", "Buffer", "setTimeout", "performance", "window", "document", "location", "localStorage", "sessionStorage",
          "navigator", "requestAnimationFrame", "scrollTo", "innerWidth", "getComputedStyle", "Event", "HTMLInputElement", "fetch", "MutationObserver", "cancelAnimationFrame", "caches", "structuredClone", "MessageChannel", "indexedDB", "DataTransfer", "File", "BroadcastChannel", "Image", "FormData", "NodeFilter", "IDBFactory"].map((name) => [name, "readonly"]),
      ),
    },
  },
);
