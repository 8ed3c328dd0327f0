// Begins another language: npm run language -- de. Writes words/de.ts, the English one with the core's words written out.
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { runnerImport } from "vite";

const [name = ""] = process.argv.slice(2);
const made = new URL(`../words/${name}.ts`, import.meta.url);
if (!/^[a-z]{2,3}(-[A-Za-z0-9]+)*$/.test(name) || existsSync(made)) {
  console.error("Name a language that is not there yet: npm run language -- de");
  process.exit(1);
}
const { module: { coreWords } } = await runnerImport("./tools/words.ts");
const english = readFileSync(new URL("../words/en.ts", import.meta.url), "utf8");
const none = "export const core: Record<string, string> = {};";
if (!english.includes(none)) throw new Error("words/en.ts is made in another way");
const core = coreWords().map((text) => `  ${JSON.stringify(text)}: ${JSON.stringify(text)},\n`).join("");
const [, ...rest] = english.split("\n");
writeFileSync(made, `// Every word of the page, in ${name}: what is on the left of a colon stays as it is.\n${rest.join("\n")
  .replace(none, () => `export const core: Record<string, string> = {\n${core}};`)
  .replace(/tag: "[^"]*"/, () => `tag: ${JSON.stringify(name)}`)}`);
console.log(`words/${name}.ts has every word, still in English. FAULTPATH_LANGUAGE=${name} ./run builds the page with it.`);
