// The page in one file, as it is opened from an attachment: no host, no network.
import assert from "node:assert/strict";
import { cp, mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { describe, it } from "node:test";
import { alone, browser, complaints, eventually, example, field, home, kept, leave, phone, patience, press, take, unfold, whole } from "./kit.mjs";
import { dist } from "./serve.mjs";

home();

describe("one file", () => {
  it("judges, keeps and opens jobs from the disk, and asks for nothing", async () => {
    const folder = await mkdtemp(join(tmpdir(), "faultpath-"));
    try {
      // Nothing beside it.
      const file = join(folder, "sent by mail.html");
      await cp(join(dist, "faultpath.html"), file);
      const context = await browser.newContext({ viewport: phone, reducedMotion: "reduce", offline: true });
      const asked = [];
      context.on("request", (request) => asked.push(request.url()));
      const page = await context.newPage();
      page.setDefaultTimeout(patience);
      page.on("pageerror", (error) => complaints.push(String(error)));
      page.on("console", (message) => ["error", "warning"].includes(message.type()) && complaints.push(message.text()));
      await page.addInitScript(() => document.addEventListener("securitypolicyviolation", (event) => console.error(`policy: ${event.violatedDirective} ${event.blockedURI}`)));
      await page.goto(pathToFileURL(file).href);
      await page.waitForSelector(".tag-big");
      assert.equal(await whole(page), "Fail");
      // The second library too, and a part whose code comes later.
      await page.evaluate(() => (location.hash = "#/earthing/dome"));
      await page.locator(".way .tag").nth(2).waitFor();
      await page.evaluate(() => (location.hash = "#/self-check"));
      await page.locator(".held-topics").waitFor();
      assert.equal(await page.locator(".self-check .tag-pass").count(), 1);
      await page.evaluate(() => (location.hash = "#/circuit/lawn"));
      await press(page, /How far it can go/);
      await page.locator(".changes button").first().click();
      await eventually(() => whole(page), "Pass");
      await eventually(async () => (await kept(page))?.name, example.name);
      await page.reload();
      await page.waitForSelector(".tag-word");
      assert.equal(await whole(page), "Pass");
      await take(page, { ...example, name: "From a file" });
      await eventually(() => page.locator("h1").innerText(), "From a file");
      await page.evaluate(() => (location.hash = "#/supply"));
      await unfold(page, "What arrives");
      await field(page, "supply.ze").fill("0,9");
      await eventually(async () => (await kept(page)).supply.ze, 0.9);
      assert.deepEqual(asked.filter((url) => !url.startsWith(pathToFileURL(file).href)), []);
      await leave(page);
    } finally {
      await rm(folder, { recursive: true, force: true });
    }
  });

  it("lets no other script in", async () => {
    const context = await browser.newContext();
    const page = await context.newPage();
    const refused = [];
    await page.exposeFunction("refused", (what) => refused.push(what));
    await page.addInitScript(() => document.addEventListener("securitypolicyviolation", (event) => window.refused(event.violatedDirective)));
    await page.goto(pathToFileURL(join(dist, "faultpath.html")).href);
    await page.waitForSelector(".tag-big");
    await page.evaluate(() => {
      const script = document.createElement("script");
      script.textContent = "window.came = 1";
      document.head.append(script);
      const image = new Image();
      image.src = "http://127.0.0.1:9/x.png";
      return fetch("http://127.0.0.1:9/").catch(() => {});
    });
    await eventually(async () => [...new Set(refused)].sort().join(), "connect-src,img-src,script-src-elem");
    assert.equal(await page.evaluate(() => window.came), undefined);
    await leave(page);
  });
});

alone();
