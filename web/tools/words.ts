// The words of the page: which language it is built in, and its parts, each a module of its own.

import { readFileSync } from "node:fs";
import type { Plugin } from "vite";

export type Language = typeof import("../words/en.ts");
type Tree = string | number | boolean | null | Tree[] | { [key: string]: Tree };

const made = new URL("../src/pkg/words.en.json", import.meta.url);
const file = (language: string) => new URL(`../words/${language}.ts`, import.meta.url).pathname;

/** What in the core's catalogue is read by the page and not by people. */
const codes: ReadonlySet<string> = new Set(["language", "standing", "reason", "drop_basis"]);

/** The core's catalogue with each of its words put through `say`. */
export function said(of: Tree, say: (text: string) => string): Tree {
  if (typeof of === "string") return of === "" ? of : say(of);
  if (Array.isArray(of)) return of.map((one) => said(one, say));
  if (typeof of !== "object" || of === null) return of;
  return Object.fromEntries(Object.entries(of).map(([key, one]) => [key, codes.has(key) && typeof one === "string" ? one : said(one, say)]));
}

/** The words of the core, each once, in the order of its catalogue. */
export function coreWords(): string[] {
  const found = new Set<string>();
  said(catalogue(), (text) => {
    found.add(text);
    return text;
  });
  return [...found];
}

function catalogue(): Tree {
  return JSON.parse(readFileSync(made, "utf8")) as Tree;
}

/** Every text within these signs, whatever it is put together from: what is on the page without them is in no catalogue. */
const mark = `const codes = new Set(["published", "common practice", "from memory", "own"]);
const mark = (of, key) => typeof of === "string" ? (of === "" || key === "tag" || (key === "standing" && codes.has(of)) ? of : "\\u27e6" + of + "\\u27e7")
  : typeof of === "function" ? (...parts) => mark(of(...parts))
  : Array.isArray(of) ? of.map((one) => mark(one))
  : of && typeof of === "object" ? Object.fromEntries(Object.entries(of).map(([name, one]) => [name, mark(one, name)])) : of;`;

/** `marked`: a language for tests, in which every word tells that it comes from the catalogue. */
export function words(language: string, core: Record<string, string>, marked: boolean): Plugin {
  const scheme = "words:";
  return {
    name: "words",
    enforce: "pre",
    resolveId: (id) => (id.startsWith(scheme) ? `\0${id}` : null),
    load(id) {
      if (!id.startsWith(`\0${scheme}`)) return null;
      const part = id.slice(scheme.length + 1);
      if (part === "core") {
        this.addWatchFile(made.pathname);
        const text = JSON.stringify(said(catalogue(), (of) => (marked ? `\u27e6${of}\u27e7` : core[of] ?? of)));
        return `export const words = JSON.parse(${JSON.stringify(text)})`;
      }
      // A module for each part, which takes no other along.
      const from = JSON.stringify(`${file(language)}?${part}`);
      return marked ? `import { ${part} } from ${from}; ${mark} export const words = mark(${part})` : `export { ${part} as words } from ${from}`;
    },
  };
}
