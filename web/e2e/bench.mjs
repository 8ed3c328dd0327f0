// How long an edit takes until its verdict is painted, with 60 circuits. Prints figures, asserts nothing about time.
// "script": from the input event until the page's own work is done. "painted": until after the frame that shows it;
// a frame comes every 16.7 ms at best, so "painted" holds the wait for the next one as well.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { openBrowser } from "./browser.mjs";
import { serve } from "./serve.mjs";

const rounds = Number(process.env.ROUNDS ?? 60);
const job = JSON.parse(await readFile(new URL("../src/example-job.json", import.meta.url), "utf8"));
const finals = job.circuits.filter(({ use }) => use !== "distribution");
for (let i = 0; job.circuits.length < 60; i += 1) {
  const like = finals[i % finals.length];
  job.circuits.push({ ...structuredClone(like), id: `more${i}`, name: `${like.name} ${i}` });
}
const lawn = job.circuits.findIndex(({ id }) => id === "lawn");
const site = await serve();
const browser = await openBrowser();
const edits = [
  ["a length, on its circuit", "#/circuit/lawn", /^Section 2/, `f-circuits[${lawn}].sections[1].length`, 20],
  ["Ze, on the supply", "#/supply", "What arrives", "f-supply.ze", 0.2],
  ["a stated demand, on the board with all circuits in view", "#/board/dome", "Demand and RCD", "f-boards[1].demand", 20],
];

for (const slow of [1, 4]) {
  for (const [what, hash, fold, id, from] of edits) {
    const context = await browser.newContext({ viewport: { width: 360, height: 740 }, serviceWorkers: "block", reducedMotion: "reduce" });
    await context.addInitScript((text) => localStorage.setItem("faultpath.job", text), JSON.stringify(job));
    const page = await context.newPage();
    await page.goto(site.url + hash);
    await page.locator(".fold-head button").filter({ hasText: fold }).first().click();
    assert.equal(await page.evaluate(() => document.querySelectorAll(".fold.is-open").length), 1);
    const client = await context.newCDPSession(page);
    await client.send("Emulation.setCPUThrottlingRate", { rate: slow });
    const times = await page.evaluate(async ([field, start, count]) => {
      const input = document.getElementById(field);
      const put = Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, "value").set;
      const found = [];
      for (let i = 0; i < count + 10; i += 1) {
        await new Promise((done) => setTimeout(done, 60));
        const seen = document.querySelector(".side-found").textContent;
        put.call(input, String(start + i / 100));
        performance.clearMarks();
        const begun = performance.now();
        input.dispatchEvent(new Event("input", { bubbles: true }));
        await null;
        const script = performance.now() - begun;
        await new Promise((done) => requestAnimationFrame(() => {
          const channel = new MessageChannel();
          channel.port1.onmessage = done;
          channel.port2.postMessage(0);
        }));
        const painted = performance.now() - begun;
        const judged = performance.measure("judge", "judge-start", "judge-end").duration;
        const changed = document.querySelector(".side-found").textContent !== seen;
        if (i >= 10) found.push({ judged, script, painted, changed });
      }
      return found;
    }, [id, from, rounds]);
    assert.ok(times.some(({ changed }) => changed), `${what}: the answer changes`);
    const tell = (key) => {
      const all = times.map((one) => one[key]).sort((a, b) => a - b);
      const at = (share) => all[Math.min(all.length - 1, Math.floor(all.length * share))].toFixed(1).padStart(6);
      return `${key} median ${at(0.5)} p95 ${at(0.95)} ms`;
    };
    console.log(`CPU /${slow}, ${job.circuits.length} circuits, ${what}: ${["judged", "script", "painted"].map(tell).join(" · ")}`);
    await context.close();
  }
}
await browser.close();
await site.stop();
