// For every hand and eye, beyond what holds for every view: the keyboard alone, other looks, less motion; and installing.
import assert from "node:assert/strict";
import { describe, it } from "node:test";
import axe from "axe-core";
import { alone, circuit, desktop, eventually, example, field, here, home, kept, leave, phone, press, site, tabTo, take, unfold, visit, whole } from "./kit.mjs";

home();

const at = (page, hash) => page.evaluate((to) => (location.hash = to), hash);
const heading = (page, text) => page.waitForFunction((wanted) => document.activeElement?.id === "here" && document.activeElement.textContent === wanted, text);
const spoken = (page, wanted) => page.waitForFunction((source) => [...document.querySelectorAll("[role=status]")].some((one) => new RegExp(source).test(one.textContent)), wanted.source);

describe("the example job by keyboard alone", () => {
  it("goes from a fail to a pass, a reading, a copy, a code and the record", async () => {
    const page = await visit({ viewport: desktop });
    const go = async (test, most) => {
      const found = await tabTo(page, test, most);
      await page.keyboard.press("Enter");
      return found;
    };
    await go(({ text }) => text === "Skip to the verdict", 1);
    await go(({ text }) => text.startsWith("Outside socket"));
    await heading(page, "Outside socket");
    await go(({ text }) => text.startsWith("How far it can go"));
    await page.locator(".changes li").first().waitFor();
    await go(({ text }) => text.startsWith("Make this change"));
    await eventually(() => here(page), "Pass");
    await spoken(page, /Here: Pass\. Whole job: Pass\./);

    await go(({ text }) => text === "At the meter");
    await heading(page, "Outside socket");
    await go(({ text }) => text.startsWith("To this reading"));
    await page.waitForFunction(() => document.activeElement?.tagName === "INPUT");
    await page.keyboard.type("0.4");
    await spoken(page, /R1 \+ R2: /);
    await eventually(async () => (await kept(page))?.circuits[circuit("lawn")].tests?.r1r2?.shown, 0.4);

    await go(({ text }) => text === "This job", 120);
    await heading(page, "This job");
    await go(({ text }) => text === "All jobs on this device");
    await heading(page, "Jobs on this device");
    await tabTo(page, ({ id }) => id === "find");
    await page.keyboard.type("observ");
    await go(({ text }) => text === `What can be done with ${example.name}`);
    await go(({ text }) => text === "Duplicate");
    await page.locator(".job-tag").nth(1).waitFor();
    await go(({ text }) => text.startsWith(`Open ${example.name}, copy`));
    await heading(page, `${example.name}, copy`);

    await go(({ text }) => text === "This job", 120);
    await heading(page, "This job");
    await go(({ text }) => text.startsWith("Pass it on"));
    await heading(page, "Pass this job on");
    await page.getByText(/letters long/).waitFor();
    await go(({ text }) => text === "Show as a code");
    await page.locator("dialog svg.code").waitFor();
    await go(({ text }) => text === "Next code");
    await page.keyboard.press("Escape");
    await eventually(() => page.locator("dialog").count(), 0);
    await go(({ text }) => text === "This job", 120);
    await heading(page, "This job");
    await go(({ text }) => text === "Record and print");
    await heading(page, "Record");
    await page.evaluate(() => (window.print = () => { window.printed = document.querySelector(".paper").innerText; }));
    await go(({ text }) => text === "Print");
    assert.match(await page.evaluate(() => window.printed), /Observatory on the hill, copy[^]*0\.4/);
    await leave(page);
  });
});

describe("other looks", () => {
  it("are readable for axe: bright sun, high contrast, and as a device asks for more contrast", async () => {
    const open = {
      whole: async () => {},
      circuit: async (page) => {
        await at(page, "#/circuit/lawn");
        await page.locator(".check-head").first().click();
        await unfold(page, "Name and load", "What protects it");
      },
      meter: async (page) => {
        await at(page, "#/circuit/dew/meter");
        for (const step of ["insulation", "rcd"]) await page.locator(`#test-${step} button`).click();
      },
      earthing: async (page) => {
        await at(page, "#/earthing/dome");
        await page.locator(".way .tag").nth(2).waitFor();
      },
    };
    const seen = new Set();
    for (const [look, colorScheme] of [["sun", "dark"], ["contrast", "light"]]) {
      const page = await visit({ colorScheme, hash: "#/job" });
      await page.locator("#theme").selectOption(look);
      for (const [name, view] of Object.entries(open)) {
        await at(page, "#/");
        await view(page);
        await page.waitForTimeout(100);
        await page.setViewportSize({ width: phone.width, height: await page.evaluate(() => document.documentElement.scrollHeight) });
        await page.evaluate(axe.source);
        const { violations, passes } = await page.evaluate(() => window.axe.run(document, { runOnly: { type: "rule", values: ["color-contrast", "color-contrast-enhanced"] }, rules: { "color-contrast-enhanced": { enabled: true } } }));
        assert.ok(passes.length >= 1);
        assert.deepEqual(violations.map(({ id, nodes }) => `${look} ${name} ${id}: ${nodes.slice(0, 3).map(({ html, failureSummary }) => html.slice(0, 120) + failureSummary.slice(0, 200)).join(" ; ")}`), []);
        await page.setViewportSize(phone);
      }
      seen.add(await page.evaluate(() => getComputedStyle(document.body).backgroundColor));
      await page.emulateMedia({ colorScheme: look === "sun" ? "light" : "dark", contrast: "more" });
      await at(page, "#/job");
      await page.locator("#theme").selectOption("device");
      await eventually(() => page.evaluate(() => document.documentElement.dataset.theme), look);
      assert.equal(await page.evaluate(() => document.querySelector("meta[name=theme-color]").content), [...seen].at(-1));
      await leave(page);
    }
    assert.equal(seen.size, 2);
  });

  it("never tell a verdict or a choice by colour alone, with the device's own colours either", async () => {
    const page = await visit({ hash: "#/circuit/lawn" });
    await page.emulateMedia({ forcedColors: "active" });
    await unfold(page, "Name and load");
    const chip = await page.locator(".chip").evaluateAll((all) => {
      const look = (one) => getComputedStyle(one.querySelector("span")).backgroundColor;
      const picked = all.find((one) => one.querySelector("input").checked);
      const other = all.find((one) => !one.querySelector("input").checked && one.parentElement === picked.parentElement);
      return [look(picked), look(other)];
    });
    assert.notEqual(chip[0], chip[1]);
    for (const tag of await page.locator(".tag").all()) {
      assert.equal(await tag.locator("svg.mark").count(), 1);
      assert.match(await tag.locator(".tag-word").innerText(), /^(Pass|Doubtful|Cannot say|Fail)$/);
      assert.equal(await tag.evaluate((one) => getComputedStyle(one).borderTopStyle), "solid");
    }
    await leave(page);
  });

  it("move nothing for those who ask for less motion", async () => {
    const moving = (page) => page.evaluate(() => ({
      scroll: getComputedStyle(document.documentElement).scrollBehavior,
      all: [...document.querySelectorAll("*")].filter((one) => {
        const { animationName, transitionDuration } = getComputedStyle(one);
        return animationName !== "none" || Number.parseFloat(transitionDuration) > 0;
      }).length,
    }));
    const page = await visit({ hash: "#/circuit/lawn" });
    assert.deepEqual(await moving(page), { scroll: "auto", all: 0 });
    await page.emulateMedia({ reducedMotion: "no-preference" });
    assert.equal((await moving(page)).scroll, "smooth");
    await leave(page);
  });
});

describe("entries", () => {
  it("bring up the keypad with a decimal point, with the unit beside it", async () => {
    const page = await visit({ hash: "#/circuit/lawn" });
    await unfold(page, "Name and load", "What protects it", /^Section 2/, "Cable", "Where it lies");
    const inputs = await page.locator(".entry input[type=text]").evaluateAll((all) => all.filter((one) => /\.(length|current|breaking|ambient|operating_limit|grouped)$/.test(one.id)).map((one) => [one.id, one.inputMode, one.nextElementSibling?.textContent ?? "", one.getAttribute("aria-describedby")?.split(" ").map((id) => document.getElementById(id)?.textContent ?? id)]));
    assert.ok(inputs.length >= 3, String(inputs));
    for (const [id, mode, unit, heard] of inputs) {
      assert.equal(mode, "decimal", id);
      if (id.endsWith("grouped")) continue;
      assert.match(unit, /^(m|A|kA|°C)$/, id);
      assert.ok(heard.includes(unit), `${id}: ${heard}`);
    }
    await leave(page);
  });

  it("start as the last one was: only what differs has to be entered", async () => {
    const page = await visit({ hash: "#/board/dome" });
    const lawn = example.circuits[circuit("lawn")];
    await press(page, "Add a circuit");
    await page.locator("h1").filter({ hasText: "New circuit" }).waitFor();
    await eventually(async () => (await kept(page))?.circuits.length, example.circuits.length + 1);
    const added = (await kept(page)).circuits.at(-1);
    assert.deepEqual(added.device, lawn.device);
    assert.deepEqual([added.use, added.phase, added.load.class], [lawn.use, lawn.phase, lawn.load.class]);
    assert.deepEqual(added.sections, [{ ...lawn.sections[0], length: null, insulation_run: null, spur_fuse: null }]);
    assert.equal(added.tests, null);
    // What is one circuit's own is asked for.
    assert.equal(await here(page), "Cannot say");
    await field(page, `circuits[${example.circuits.length}].load.current`).fill("6");
    await field(page, `circuits[${example.circuits.length}].sections[0].length`).fill("4");
    await eventually(async () => (await here(page)) === "Cannot say", false);
    await leave(page);
  });
});

describe("installed", () => {
  it("opens a file that the device opens with it", async () => {
    // As a browser hands it over: nothing here can double-click one.
    const page = await visit();
    await page.addInitScript((job) => {
      const file = new File([JSON.stringify({ ...job, name: "Opened with it" })], "x.json");
      Object.defineProperty(window, "launchQueue", { value: { setConsumer: (take) => take({ files: [{ getFile: async () => file }] }) } });
    }, example);
    await page.reload();
    await eventually(() => page.locator("h1").innerText(), "Opened with it");
    await leave(page);
  });

  it("has what a browser asks of a page before it installs it, a phone's own marks too", async () => {
    const page = await visit({ worker: true });
    await page.evaluate(() => navigator.serviceWorker.ready);
    await page.reload();
    await page.waitForSelector(".tag-big");
    const client = await page.context().newCDPSession(page);
    const { errors, data, url } = await client.send("Page.getAppManifest");
    assert.deepEqual(errors, []);
    assert.ok(url.startsWith(site.url));
    const manifest = JSON.parse(data);
    assert.ok(manifest.name && manifest.short_name && manifest.start_url === "./" && manifest.scope === "./" && manifest.display === "standalone");
    const { installabilityErrors } = await client.send("Page.getInstallabilityErrors");
    // This context keeps nothing, which is no fault of the page.
    assert.deepEqual(installabilityErrors.map(({ errorId }) => errorId).filter((id) => id !== "in-incognito"), []);
    for (const { src, sizes, type, purpose } of manifest.icons) {
      const answer = await page.evaluate(async (of) => {
        const image = new Image();
        image.src = of;
        await image.decode();
        const canvas = document.createElement("canvas");
        canvas.width = canvas.height = 64;
        const paint = canvas.getContext("2d");
        paint.drawImage(image, 0, 0, 64, 64);
        return { width: image.naturalWidth, corner: paint.getImageData(0, 0, 1, 1).data[3] };
      }, new URL(src, url).href);
      if (type === "image/png") assert.equal(`${answer.width}x${answer.width}`, sizes, src);
      // A maskable icon fills its square: a phone cuts its own shape out of it.
      if (purpose === "maskable") assert.equal(answer.corner, 255, src);
    }
    assert.ok(manifest.icons.some(({ purpose }) => purpose === "maskable"));
    const marks = await page.evaluate(() => Object.fromEntries(["apple-mobile-web-app-capable", "mobile-web-app-capable", "apple-mobile-web-app-title"].map((name) => [name, document.querySelector(`meta[name="${name}"]`)?.content])));
    assert.deepEqual(marks, { "apple-mobile-web-app-capable": "yes", "mobile-web-app-capable": "yes", "apple-mobile-web-app-title": "Faultpath" });
    const touch = await page.evaluate(async () => (await fetch(document.querySelector("link[rel=apple-touch-icon]").href)).headers.get("content-type"));
    assert.equal(touch, "image/png");
    await leave(page);
  });

  it("opens every part without the network, keeps what is entered, and gives the one file its own address", async () => {
    const page = await visit({ worker: true, hash: "#/jobs" });
    await page.evaluate(() => navigator.serviceWorker.ready);
    await page.waitForFunction(async () => {
      const names = await caches.keys();
      const all = await Promise.all(names.map(async (name) => (await (await caches.open(name)).keys()).length));
      return all.some((count) => count > 15);
    });
    await page.reload();
    await page.waitForFunction(() => navigator.serviceWorker.controller);
    await page.goto(new URL("faultpath.html", site.url).href);
    await page.waitForSelector(".tag-big");
    assert.equal(await page.evaluate(() => document.querySelectorAll("script[src]").length), 0);
    await page.goto(site.url);
    await page.waitForSelector(".tag-big");
    await page.context().setOffline(true);
    await take(page, { ...example, name: "In the cellar" });
    for (const [hash, wanted] of [["#/earthing/dome", ".way .tag"], ["#/readings", ".glance-row"], ["#/record", ".paper"], ["#/jobs", ".job-tag"], ["#/pass", "#pass-readings"], ["#/rules", "#here"], ["#/circuit/warm/meter", ".gate"]]) {
      await at(page, hash);
      await page.reload();
      await page.locator(wanted).first().waitFor();
    }
    await at(page, "#/");
    await eventually(() => page.locator("h1").innerText(), "In the cellar");
    assert.equal(await whole(page), "Fail");
    await leave(page);
  });
});

alone();
