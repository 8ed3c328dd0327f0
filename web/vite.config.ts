import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { defineConfig, runnerImport, type Plugin } from "vite";
import { VitePWA } from "vite-plugin-pwa";
import { rows } from "./tools/rows.ts";
import { words, type Language } from "./tools/words.ts";

/** The job's shape is read at run time, what people are told about it is not. */
const plainSchema: Plugin = {
  name: "plain-schema",
  enforce: "pre",
  transform(code, id) {
    if (!id.endsWith("/job.schema.json")) return null;
    return JSON.stringify(JSON.parse(code), (key, value: unknown) => (["title", "description"].includes(key) && typeof value === "string" ? undefined : value));
  },
};

/** The file that judges is asked for together with the script, not after it. */
const judgeEarly: Plugin = {
  name: "judge-early",
  transformIndexHtml: {
    order: "post",
    handler: (_html, { bundle }) => Object.values(bundle ?? {})
      .filter((file) => file.type === "asset" && file.originalFileNames.some((name) => name.includes("src/pkg/") && name.endsWith(".wasm")))
      .map(({ fileName }) => ({ tag: "link", attrs: { rel: "preload", as: "fetch", type: "application/wasm", crossorigin: "", href: `./${fileName}` }, injectTo: "head" as const })),
  },
};

/** `--mode single`: the whole page in one file, which asks for nothing and so runs from anywhere. */
const oneFile: Plugin[] = [
  {
    name: "wasm-inside",
    enforce: "pre",
    transform(code, id) {
      if (!id.endsWith("/faultpath_wasm.js")) return null;
      const bytes = readFileSync(join(dirname(id), "faultpath_wasm_bg.wasm")).toString("base64");
      const wanted = "new URL('faultpath_wasm_bg.wasm', import.meta.url)";
      if (!code.includes(wanted)) throw new Error(`${id}: the library is loaded in another way`);
      return code.replace(wanted, `Uint8Array.from(atob("${bytes}"), (one) => one.charCodeAt(0))`);
    },
  },
  {
    name: "one-file",
    enforce: "post",
    generateBundle(_options, bundle) {
      let html = "";
      let script = "";
      let style = "";
      for (const [name, file] of Object.entries(bundle)) {
        if (file.type === "chunk") script += file.code;
        else if (name.endsWith(".css")) style += text(file.source);
        else if (name.endsWith(".html")) html = text(file.source);
        else throw new Error(`${name} would be left outside`);
        // eslint-disable-next-line @typescript-eslint/no-dynamic-delete -- how a bundle is told
        delete bundle[name];
      }
      // What Vite puts in where a part comes later, and leaves where it does not.
      script = script.trim().replaceAll("__VITE_PRELOAD__", "void 0").replaceAll("</script", "<\\/script").replaceAll("<!--", "<\\!--");
      style = style.trim();
      const icon = readFileSync("public/icon.svg").toString("base64");
      const policy = [
        "default-src 'none'", `script-src ${hash(script)} 'wasm-unsafe-eval'`, `style-src ${hash(style)}`, "img-src data:", "base-uri 'none'", "form-action 'none'",
      ].join("; ");
      html = html
        .replace(/<script[^>]*><\/script>|<link rel="(?:stylesheet|modulepreload|apple-touch-icon)"[^>]*>/g, "")
        .replace(/(http-equiv="Content-Security-Policy"\s+content=")[^"]*/, (_, start: string) => start + policy)
        .replace(/href="[^"]*icon\.svg"/, `href="data:image/svg+xml;base64,${icon}"`)
        // Functions, because a text would have its dollars read.
        .replace("</head>", () => `<style>${style}</style>\n<script type="module">${script}</script>\n</head>`);
      this.emitFile({ type: "asset", fileName: "faultpath.html", source: html });
    },
  },
];

const text = (source: string | Uint8Array) => (typeof source === "string" ? source : Buffer.from(source).toString());
const hash = (of: string) => `'sha256-${createHash("sha256").update(of).digest("base64")}'`;

/** What the document says, in the language the page is built in. */
const document = (about: Language["about"]): Plugin => ({
  name: "document",
  transformIndexHtml: { order: "pre", handler: (html) => html.replace(/%(\w+)%/g, (whole, key: string) => (key in about ? escaped(about[key as keyof typeof about]) : whole)) },
});

const escaped = (of: string) => of.replace(/[&<>"]/g, (sign) => `&#${sign.charCodeAt(0)};`);

const installable = ({ name, description, tag, direction }: Language["about"]) => VitePWA({
  registerType: "prompt",
  injectRegister: null,
  includeManifestIcons: false,
  manifest: {
    name,
    short_name: name,
    description,
    lang: tag,
    dir: direction,
    start_url: "./",
    scope: "./",
    id: "./",
    display: "standalone",
    background_color: "#101716",
    theme_color: "#101716",
    categories: ["utilities", "productivity"],
    share_target: {
      action: "./hand-in", method: "POST", enctype: "multipart/form-data",
      params: { files: [{ name: "files", accept: ["application/json", ".json", "text/plain", ".txt"] }] },
    },
    file_handlers: [{ action: "./", accept: { "application/json": [".json"] } }],
    icons: [
      { src: "icon-192.png", sizes: "192x192", type: "image/png" },
      { src: "icon-512.png", sizes: "512x512", type: "image/png" },
      { src: "icon-maskable-512.png", sizes: "512x512", type: "image/png", purpose: "maskable" },
      { src: "icon.svg", sizes: "any", type: "image/svg+xml" },
    ],
  },
  workbox: {
    // Not the icons of an installed page: the device has them by then.
    globPatterns: ["**/*.{html,js,css,wasm,svg,webmanifest}"],
    // Made for those who want it, too large for everybody.
    globIgnores: ["faultpath.html", "hand-in.js"],
    importScripts: ["hand-in.js"],
    cleanupOutdatedCaches: true,
    navigateFallback: "index.html",
    navigateFallbackDenylist: [/\/faultpath\.html$/],
    sourcemap: false,
  },
});

export default defineConfig(async ({ mode }) => {
  const single = mode === "single";
  // "marked" is English with every word marked, for the tests.
  const asked = process.env.FAULTPATH_LANGUAGE ?? "en";
  const language = asked === "marked" ? "en" : asked;
  const { module: { about, core } } = await runnerImport<Language>(`./words/${language}.ts`);
  return {
    // Relative addresses: the page works on any static host, under any sub-path.
    base: "./",
    publicDir: single ? false as const : "public",
    build: {
      target: "es2022",
      assetsInlineLimit: 0,
      modulePreload: { polyfill: false },
      emptyOutDir: !single,
      cssCodeSplit: !single,
      ...(single ? { rolldownOptions: { output: { codeSplitting: false } } } : {}),
    },
    plugins: [plainSchema, rows(), words(language, core, asked === "marked"), document(about), ...(single ? oneFile : [judgeEarly, installable(about)])],
    test: { include: ["src/**/*.test.ts"] },
  };
});
