// What the browser tests share: the browser, the page's own host, a visitor, and what they find on the page.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { after, before, describe, it } from "node:test";
import { openBrowser } from "./browser.mjs";
import { serve } from "./serve.mjs";

export const phone = { width: 360, height: 740 };
export const desktop = { width: 1280, height: 800 };
export const example = JSON.parse(await readFile(new URL("../src/example-job.json", import.meta.url), "utf8"));
export const circuit = (id) => example.circuits.findIndex((one) => one.id === id);

export let browser;
export let site;
export const foreign = [];
export const complaints = [];

/** A fresh visitor. Every request to elsewhere and every complaint of the browser is collected. */
export async function visit({ hash = "", viewport = phone, colorScheme = "light", worker = false, base = site, files } = {}) {
  const context = await browser.newContext({
    viewport, colorScheme, reducedMotion: "reduce", serviceWorkers: worker ? "allow" : "block", hasTouch: viewport === phone, acceptDownloads: files === true,
  });
  context.on("request", (request) => {
    const url = request.url();
    if (!url.startsWith(base.origin) && !url.startsWith("blob:") && !url.startsWith("data:")) foreign.push(url);
  });
  context.setDefaultTimeout(patience);
  const page = await context.newPage();
  page.on("pageerror", (error) => complaints.push(String(error)));
  page.on("console", (message) => message.type() === "error" && !message.text().includes("ERR_INTERNET_DISCONNECTED") && complaints.push(message.text()));
  await page.addInitScript(() => {
    document.addEventListener("securitypolicyviolation", (event) => console.error(`policy: ${event.violatedDirective} ${event.blockedURI}`));
  });
  await page.goto(base.url + hash);
  await page.waitForSelector(".bar");
  // What a view is made of may come after the bar.
  await page.waitForSelector("h1", { state: "attached" });
  return page;
}

/** Long: what is awaited comes at once, but not on a machine that does much else. */
export const patience = 40_000;
export const leave = (page) => page.context().close();
export const whole = (page) => page.locator(".bar-said").first().locator("b").innerText();
export const here = (page) => page.locator(".bar-here b").innerText();
export const field = (page, path) => page.locator(`[id="f-${path}"]`);
export const press = (page, name) => page.getByRole("button", { name }).first().click();
export const unfold = async (page, ...names) => {
  for (const name of names) {
    const button = page.locator(".fold-head button").filter({ hasText: name }).first();
    if ((await button.getAttribute("aria-expanded")) === "false") await button.click();
  }
};
export const eventually = async (read, wanted, what = "") => {
  const until = performance.now() + patience;
  for (;;) {
    const got = await read();
    if (got === wanted) return;
    if (performance.now() > until) return assert.equal(got, wanted, what);
    await new Promise((done) => setTimeout(done, 30));
  }
};

/** The job that is open as the device keeps it. */
export const kept = (page) => page.evaluate(() => new Promise((done, failed) => {
  const asked = indexedDB.open("faultpath");
  asked.onerror = () => failed(asked.error);
  asked.onsuccess = () => {
    const tx = asked.result.transaction(["notes", "bodies"]);
    tx.objectStore("notes").get("open").onsuccess = ({ target }) => {
      const body = target.result === undefined ? null : tx.objectStore("bodies").get(target.result);
      tx.oncomplete = () => {
        asked.result.close();
        done(body?.result ?? null);
      };
    };
  };
}));

/** Gives the page a file, as a person does in the list of jobs. */
export const give = async (page, text, name = "x.json") => {
  await page.evaluate(() => (location.hash = "#/jobs"));
  await page.locator("input[type=file]").setInputFiles({ name, mimeType: "application/json", buffer: Buffer.from(text) });
};

/** Opens a job from a file. */
export const take = async (page, job) => {
  await give(page, JSON.stringify(job));
  await page.waitForFunction(() => location.hash === "#/" && document.querySelector(".map"));
};

/** Goes on by Tab to what is wanted. Wherever it stands on the way there, that can be seen. */
export async function tabTo(page, test, most = 80) {
  for (let i = 0; i < most; i += 1) {
    await page.keyboard.press("Tab");
    const at = await page.evaluate(() => {
      const one = document.activeElement;
      const style = getComputedStyle(one);
      const frame = one.closest(".entry, .chip, .switch") ?? one;
      return {
        text: (one.getAttribute("aria-label") ?? one.textContent ?? "").trim(), id: one.id, tag: one.tagName,
        ring: style.outlineStyle !== "none" || getComputedStyle(frame).outlineStyle !== "none" || (one.nextElementSibling && getComputedStyle(one.nextElementSibling).outlineStyle !== "none"),
      };
    });
    // Past the end of the page it begins anew.
    if (at.tag === "BODY") continue;
    assert.ok(at.ring, `focus can be seen on ${at.tag} ${at.text.slice(0, 40)}`);
    if (test(at)) return at;
  }
  return assert.fail("not reached by Tab");
}

/** A browser and the page's own host, for the tests of this file. */
export function home() {
  before(async () => {
    browser = await openBrowser();
    site = await serve();
  });
  after(async () => {
    await browser?.close();
    await site?.stop();
  });
}

/** The last test of a file: what nobody may have done meanwhile. */
export function alone() {
  describe("alone", () => {
    it("asked nothing of any other host, and the browser had nothing to complain about", () => {
      assert.deepEqual(foreign, []);
      assert.deepEqual(complaints, []);
      assert.ok(site.asked.every((path) => path.startsWith("/tools/faultpath/")), "everything stays under the sub-path");
    });
  });
}
