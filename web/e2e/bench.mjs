// What the page weighs, how soon the verdict is there, and how long an edit of a large job takes. Prints figures,
// asserts nothing about time.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { openBrowser } from "./browser.mjs";
import { serve } from "./serve.mjs";

const rounds = Number(process.env.ROUNDS ?? 60);
const visits = Number(process.env.VISITS ?? 7);
const phone = { width: 360, height: 740 };
const kB = (bytes) => `${(bytes / 1000).toFixed(1)} kB`;
const shareOf = (all, share) => all.toSorted((a, b) => a - b)[Math.min(all.length - 1, Math.floor(all.length * share))];
const browser = await openBrowser();

/** How much comes over the wire, and when the verdict is painted. `line`: [kbit/s, ms there and back]. */
async function firstVisit({ slow = 1, line, worker = false, pressed = "gzip" } = {}) {
  const site = await serve(undefined, undefined, pressed);
  const context = await browser.newContext({ viewport: phone, serviceWorkers: worker ? "allow" : "block" });
  const page = await context.newPage();
  const client = await context.newCDPSession(page);
  await client.send("Emulation.setCPUThrottlingRate", { rate: slow });
  if (line) {
    await client.send("Network.enable");
    await client.send("Network.emulateNetworkConditions", { offline: false, latency: line[1], downloadThroughput: line[0] * 125, uploadThroughput: line[0] * 125 });
  }
  await page.addInitScript(() => {
    const look = () => {
      if (!document.querySelector(".tag-big")) return requestAnimationFrame(look);
      const channel = new MessageChannel();
      channel.port1.onmessage = () => (window.painted = performance.now());
      return requestAnimationFrame(() => channel.port2.postMessage(0));
    };
    requestAnimationFrame(look);
  });
  await page.goto(site.url);
  await page.waitForFunction(() => window.painted !== undefined);
  const painted = await page.evaluate(() => window.painted);
  // Whatever the verdict waited for was asked for by the document, its scripts or the library that judges.
  const needed = new Set(await page.evaluate(() => performance.getEntriesByType("resource").filter(({ responseEnd }) => responseEnd < performance.getEntriesByName("verdict")[0].startTime).map(({ name }) => new URL(name).pathname)));
  const untilVerdict = site.sent.filter(({ path }) => needed.has(path) || path.endsWith("/"));
  if (worker) {
    await page.evaluate(() => navigator.serviceWorker.ready);
    await page.waitForTimeout(1000);
  }
  const each = new Map(site.sent.map(({ path, bytes }) => [path, bytes]));
  const kinds = new Map();
  for (const [path, bytes] of each) {
    const kind = /rows/.test(path) ? "rows of the self-check" : path.endsWith(".wasm") ? `library ${path.split("/").at(-1)}` : /\.(js|css|png|svg)$/.exec(path)?.[1] ?? "document, manifest";
    kinds.set(kind, (kinds.get(kind) ?? 0) + bytes);
  }
  await context.close();
  await site.stop();
  return { painted, untilVerdict: untilVerdict.reduce((sum, { bytes }) => sum + bytes, 0), all: [...each.values()].reduce((sum, bytes) => sum + bytes, 0), times: site.sent.length - each.size, kinds: [...kinds].sort(([, a], [, b]) => b - a) };
}

for (const pressed of ["gzip", "br"]) {
  const once = await firstVisit({ worker: true, pressed });
  console.log(`first visit, ${pressed}: ${kB(once.untilVerdict)} until the verdict, ${kB(once.all)} in all, with every part and what is kept for offline (each file counted once; ${once.times} of them are asked for again and answered by the browser's cache where the host lets it)`);
  if (pressed === "gzip") for (const [kind, bytes] of once.kinds) console.log(`  ${kB(bytes).padStart(9)}  ${kind}`);
}
for (const [what, options] of [
  ["CPU as it is, from this machine", {}], ["CPU /4, from this machine", { slow: 4 }], ["CPU /4, 10 Mbit/s and 40 ms", { slow: 4, line: [10_000, 40] }], ["CPU /4, 1.6 Mbit/s and 150 ms", { slow: 4, line: [1600, 150] }],
]) {
  const all = [];
  for (let at = 0; at < visits; at += 1) all.push((await firstVisit(options)).painted);
  console.log(`verdict painted, first visit, ${what}: median ${shareOf(all, 0.5).toFixed(0)} ms, slowest of ${visits} ${shareOf(all, 1).toFixed(0)} ms`);
}

// Not among this tree's packages: it brings 146 of its own. Version 12.2.3 downloads nothing when it is installed.
const lighthouse = await import("lighthouse").then((found) => found.default, () => null);
if (lighthouse === null) console.log("Lighthouse: not installed (npm install --no-save lighthouse@12.2.3)");
else {
  const port = 9391;
  const seen = await openBrowser(port);
  const pressed = await serve(undefined, undefined, "gzip");
  const { lhr } = await lighthouse(pressed.url, { port, output: "json", logLevel: "error" });
  console.log(`Lighthouse ${lhr.lighthouseVersion}: ${Object.values(lhr.categories).map(({ title, score }) => `${title} ${Math.round(score * 100)}`).join(", ")}; ${["first-contentful-paint", "largest-contentful-paint", "total-blocking-time", "cumulative-layout-shift"].map((id) => `${lhr.audits[id].title} ${lhr.audits[id].displayValue}`).join(", ")}`);
  await pressed.stop();
  await seen.close();
}

// "script": from the input event until the page's own work is done. "painted": until after the frame that shows it.
// "frame": the longest time from one frame to the next while the edit is drawn and kept; 16.7 ms is none lost.
const job = JSON.parse(await readFile(new URL("../src/example-job.json", import.meta.url), "utf8"));
const finals = job.circuits.filter(({ use }) => use !== "distribution");
for (let i = 0; job.circuits.length < 60; i += 1) {
  const like = finals[i % finals.length];
  job.circuits.push({ ...structuredClone(like), id: `more${i}`, name: `${like.name} ${i}` });
}
const lawn = job.circuits.findIndex(({ id }) => id === "lawn");
const site = await serve();
const edits = [
  ["a length, on its circuit", "#/circuit/lawn", /^Section 2/, `f-circuits[${lawn}].sections[1].length`, 20],
  ["Ze, on the supply", "#/supply", "What arrives", "f-supply.ze", 0.2],
  ["a stated demand, on the board with all circuits in view", "#/board/dome", "Demand and RCD", "f-boards[1].demand", 20],
];
for (const slow of [1, 4]) {
  for (const [what, hash, fold, id, from] of edits) {
    const context = await browser.newContext({ viewport: phone, serviceWorkers: "block", reducedMotion: "reduce" });
    const page = await context.newPage();
    await page.goto(`${site.url}#/jobs`);
    await page.locator("input[type=file]").setInputFiles({ name: "job.json", mimeType: "application/json", buffer: Buffer.from(JSON.stringify(job)) });
    await page.locator(".map").waitFor();
    await page.evaluate((to) => (location.hash = to), hash);
    await page.locator(".fold-head button").filter({ hasText: fold }).first().click();
    assert.equal(await page.evaluate(() => document.querySelectorAll(".fold.is-open").length), 1);
    const client = await context.newCDPSession(page);
    await client.send("Emulation.setCPUThrottlingRate", { rate: slow });
    const times = await page.evaluate(async ([field, start, count]) => {
      const input = document.getElementById(field);
      const put = Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, "value").set;
      const found = [];
      let frames = [];
      const beat = (now) => {
        frames.push(now);
        requestAnimationFrame(beat);
      };
      requestAnimationFrame(beat);
      for (let i = 0; i < count + 10; i += 1) {
        await new Promise((done) => setTimeout(done, 60));
        const seen = document.querySelector(".side-found").textContent;
        put.call(input, String(start + i / 100));
        performance.clearMarks();
        frames = frames.slice(-1);
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
        await new Promise((done) => setTimeout(done, 60));
        const frame = Math.max(...frames.slice(1).map((at, index) => at - frames[index]));
        const changed = document.querySelector(".side-found").textContent !== seen;
        if (i >= 10) found.push({ judged, script, painted, frame, changed });
      }
      return found;
    }, [id, from, rounds]);
    assert.ok(times.some(({ changed }) => changed), `${what}: the answer changes`);
    const tell = (key) => {
      const all = times.map((one) => one[key]);
      return `${key} median ${shareOf(all, 0.5).toFixed(1).padStart(6)} p95 ${shareOf(all, 0.95).toFixed(1).padStart(6)} ms`;
    };
    console.log(`CPU /${slow}, ${job.circuits.length} circuits, ${what}: ${["judged", "script", "painted", "frame"].map(tell).join(" · ")}`);
    await context.close();
  }
}
await browser.close();
await site.stop();
