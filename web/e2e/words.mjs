// Every text on the page comes from the catalogue: the page built in a language in which each word of it is marked.
import assert from "node:assert/strict";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, before, describe, it } from "node:test";
import { build } from "vite";
import { alone, example, home, leave, visit } from "./kit.mjs";
import { serve } from "./serve.mjs";
import { views } from "./views.mjs";

home();

/** What a person has entered is theirs: names, notes, what is bonded. */
const entered = (of, key) => (typeof of === "string" ? (["name", "notes", "to"].includes(key) ? [of] : [])
  : typeof of === "object" && of !== null ? Object.entries(of).flatMap(([name, one]) => entered(one, name)) : []);
const theirs = entered(example).filter(Boolean).sort((a, b) => b.length - a.length);
/** The same in every language: units, powers of ten, signs of formulas and drawings, the letters and numbers of places. */
const symbols = /(?<!\p{L})(?:[A-Z]\d*|[smk]|ms|kA|mA|mm²?|[kM]?Ω|Ω·m|Ω\/km|km|°C|K·m\/W|A²s|RA|IΔn|[kMG]B|A√s\/mm²)(?!\p{L})|(?<=\d)e−?(?=\d)/gu;

/** Texts that can be seen or heard, as they stand in the document. */
const texts = (page) => page.evaluate(() => {
  const found = [document.title];
  const quoted = (at) => at.closest("[lang]") !== document.documentElement || at.closest("script, style, noscript") !== null;
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const at = walk.currentNode.parentElement;
    if (!quoted(at) && (at.tagName === "OPTION" || at.checkVisibility())) found.push(walk.currentNode.data);
  }
  for (const at of document.querySelectorAll("[aria-label], [title], [placeholder], [alt], [aria-description]")) {
    if (!quoted(at)) found.push(...["aria-label", "title", "placeholder", "alt", "aria-description"].map((name) => at.getAttribute(name) ?? ""));
  }
  return found;
});

/** What stands outside the marks, without what is nobody's word. */
function outside(text) {
  let left = text;
  for (let before = ""; before !== left;) {
    before = left;
    left = left.replace(/⟦[^⟦⟧]*⟧/g, " ");
  }
  for (const one of theirs) left = left.replaceAll(one, " ");
  return left.replace(symbols, " ");
}

describe("words", () => {
  let folder;
  let host;
  before(async () => {
    folder = await mkdtemp(join(tmpdir(), "faultpath-"));
    process.env.FAULTPATH_LANGUAGE = "marked";
    await build({ logLevel: "error", build: { outDir: folder, emptyOutDir: true } });
    delete process.env.FAULTPATH_LANGUAGE;
    host = await serve(folder);
  });
  after(async () => {
    await host?.stop();
    await rm(folder, { recursive: true, force: true });
  });

  it("of every view are those of the catalogue", async () => {
    assert.equal(outside("⟦one ⟦two⟧ of⟧ 3,5 mm² · ⟦x⟧").replace(/[^\p{L}]/gu, ""), "");
    assert.match(outside("⟦one⟧ and two"), /and two/);
    const amiss = [];
    for (const [name, open] of Object.entries(views)) {
      const page = await visit({ base: host });
      await open(page);
      await page.waitForTimeout(100);
      const seen = await texts(page);
      assert.ok(seen.filter((text) => text.includes("⟦")).length > 8, `${name} has words`);
      amiss.push(...new Set(seen.filter((text) => /\p{L}/u.test(outside(text))).map((text) => `${name}: ${text.trim()}`)));
      await leave(page);
    }
    assert.deepEqual(amiss, []);
  });
});

alone();
