// Jobs on this device: kept over anything that can happen to a page, listed, taken in and handed on.
import assert from "node:assert/strict";
import { readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, it } from "node:test";
import jsQR from "jsqr";
import { PNG } from "pngjs";
import { alone, eventually, example, give, home, kept, leave, phone, press, site, take, visit } from "./kit.mjs";

home();

const list = (page) => page.evaluate(() => (location.hash = "#/jobs"));
const names = async (page) => {
  await page.locator("#here").filter({ hasText: "Jobs on this device" }).waitFor();
  return page.locator(".job-name").allInnerTexts();
};
const title = (page) => page.locator("h1").innerText();
const notice = (page) => page.locator(".notice p").allInnerTexts();
const more = async (page, name, what) => {
  const tag = page.locator(".job-tag").filter({ has: page.getByText(name, { exact: true }) });
  if ((await tag.locator(".job-more").getAttribute("aria-expanded")) === "false") await tag.locator(".job-more").click();
  await tag.getByRole("button", { name: what, exact: true }).click();
};
const rename = async (page, name) => {
  await page.evaluate(() => (location.hash = "#/job"));
  await page.getByRole("textbox", { name: "Name" }).fill(name);
};
/** Another tab of the same person. */
const tab = async (page, prepare) => {
  const other = await page.context().newPage();
  if (prepare) await other.addInitScript(prepare);
  await other.goto(site.url);
  await other.waitForSelector(".bar");
  return other;
};
/** Writes into the page's database behind its back. */
const spoil = (page, table, key, value) => page.evaluate(([at, id, data]) => new Promise((done) => {
  indexedDB.open("faultpath").onsuccess = ({ target: { result } }) => {
    const tx = result.transaction(["notes", at], "readwrite");
    const put = (of) => (at === "bodies" ? tx.objectStore(at).put(data, of) : tx.objectStore(at).put(data));
    if (id === null) tx.objectStore("notes").get("open").onsuccess = (event) => put(event.target.result);
    else put(id);
    tx.oncomplete = () => done(result.close());
  };
}), [table, key, value]);

describe("a job is kept", () => {
  it("at every edit: a page killed while somebody types loses the last keystroke at most", async () => {
    const page = await visit();
    await rename(page, "");
    const text = "Dome on the moor, north side";
    const name = page.getByRole("textbox", { name: "Name" });
    await name.focus();
    await page.keyboard.type(text.slice(0, -1), { delay: 15 });
    // As long as a quick hand takes to its next key, in frames of this machine.
    await page.evaluate(() => new Promise((done) => {
      let frames = 0;
      const beat = () => (++frames < 6 ? requestAnimationFrame(beat) : setTimeout(done, 50));
      requestAnimationFrame(beat);
    }));
    await page.keyboard.type(text.slice(-1));
    const crashed = page.waitForEvent("crash");
    const client = await page.context().newCDPSession(page);
    client.send("Page.crash").catch(() => {});
    await crashed;
    const again = await tab(page);
    const found = await title(again);
    assert.ok(found === text || found === text.slice(0, -1), found);
    await leave(again);
  });

  it("with what can be taken back and done again, over a closed page", async () => {
    const page = await visit({ hash: "#/board/dome" });
    const count = async () => (await kept(page)).circuits.length;
    await press(page, "Add a circuit");
    await eventually(() => title(page), "New circuit");
    await rename(page, "Two steps");
    await press(page, "Undo");
    await eventually(async () => (await kept(page))?.name, example.name);
    await page.goto("about:blank");
    await page.goto(site.url);
    await eventually(() => title(page), example.name);
    assert.equal(await count(), example.circuits.length + 1);
    await press(page, "Redo");
    await eventually(() => title(page), "Two steps");
    await press(page, "Undo");
    await press(page, "Undo");
    await eventually(count, example.circuits.length);
    await press(page, "Redo");
    await eventually(count, example.circuits.length + 1);
    // A new step ends what could be done again, after a reload too.
    await rename(page, "Another way");
    await eventually(async () => (await kept(page)).name, "Another way");
    await page.reload();
    await page.waitForSelector(".bar");
    assert.ok(await page.getByRole("button", { name: "Redo" }).isDisabled());
    await leave(page);
  });

  it("as earlier versions kept it, and puts in the list what it can't read", async () => {
    const page = await visit();
    await page.evaluate((job) => {
      localStorage.setItem("faultpath.job", JSON.stringify({ ...job, name: "From before" }));
      localStorage.setItem("faultpath.job.unread", "{not json");
    }, example);
    await page.reload();
    await eventually(() => title(page), "From before");
    assert.deepEqual(await page.evaluate(() => Object.keys(localStorage).filter((key) => key.startsWith("faultpath.job"))), []);
    await list(page);
    await eventually(async () => (await names(page)).sort().join(), "A job that could not be read,From before");
    await leave(page);
  });

  it("and one that was damaged, or comes from a newer version, stays as it is and takes nothing along", async () => {
    const page = await visit();
    await take(page, { ...example, name: "Sound" });
    await take(page, { ...example, name: "To be spoiled" });
    for (const [body, wanted] of [[{ format: "faultpath-job", version: 9, extra: 1 }, /newer version/], [{ format: "faultpath-job", version: 1 }, /could not be read/], ["rubbish", /could not be read/]]) {
      await spoil(page, "bodies", null, body);
      await page.evaluate(() => (location.hash = "#/"));
      await page.reload();
      await page.waitForSelector(".bar");
      assert.match((await notice(page)).join(), wanted);
      assert.equal(await title(page), example.name);
      await list(page);
      await eventually(async () => (await names(page)).sort().join(), "Sound,To be spoiled");
    }
    await spoil(page, "heads", "odd", { id: "odd", name: 7, changed: "never" });
    await page.reload();
    await eventually(async () => (await names(page)).length, 3);
    await page.getByRole("link", { name: "Open Sound" }).click();
    await eventually(() => title(page), "Sound");
    await leave(page);
  });

  it("is said not to be kept when the device has no room, and the rest stays", async () => {
    const page = await visit();
    const client = await page.context().newCDPSession(page);
    await client.send("Storage.overrideQuotaForOrigin", { origin: site.origin, quotaSize: 1 });
    const refused = page.locator(".notice").filter({ hasText: "refuses to keep" });
    // Each edit tries again, and each time it is said.
    for (const name of ["No room for it", "Still no room", "No room for this"]) {
      await rename(page, name);
      await refused.waitFor();
      await refused.getByRole("button", { name: "Close" }).click();
      assert.equal((await kept(page))?.name, undefined);
    }
    // It is not left for another one while it is only on the page.
    await list(page);
    await press(page, "Start a new job");
    await page.locator(".notice").filter({ hasText: "stays on the page" }).waitFor();
    await page.evaluate(() => (location.hash = "#/"));
    await eventually(() => title(page), "No room for this");
    await client.send("Storage.overrideQuotaForOrigin", { origin: site.origin });
    assert.notEqual((await kept(page))?.name, "No room for this");
    await rename(page, "Room again");
    await eventually(async () => (await kept(page))?.name, "Room again");
    await leave(page);
  });
});

describe("a browser whose database does not answer", () => {
  it("shows the page all the same, and says that nothing is kept", async () => {
    const page = await visit();
    await page.addInitScript(() => {
      // The page's own patience, shortened.
      const wait = window.setTimeout;
      window.setTimeout = (then, time = 0) => wait(then, time / 20);
      const open = IDBFactory.prototype.open;
      IDBFactory.prototype.open = function silent(...of) {
        const request = open.apply(this, of);
        request.addEventListener = () => {};
        return request;
      };
    });
    await page.reload();
    await page.waitForSelector(".tag-big");
    const told = page.locator(".notice");
    await told.filter({ hasText: "keeps no jobs here" }).waitFor();
    await rename(page, "Nowhere to keep it");
    await told.filter({ hasText: "refuses to keep" }).waitFor();
    assert.equal(await page.getByRole("textbox", { name: "Name" }).inputValue(), "Nowhere to keep it");
    await leave(page);
  });
});

describe("two tabs", () => {
  it("show the same: what is changed in one is seen in the other", async () => {
    const page = await visit();
    await rename(page, "Seen by both");
    await eventually(async () => (await kept(page))?.name, "Seen by both");
    const other = await tab(page);
    await eventually(() => title(other), "Seen by both");
    await rename(other, "Changed over there");
    await eventually(async () => page.getByRole("textbox", { name: "Name" }).inputValue(), "Changed over there");
    await press(page, "Undo");
    await other.evaluate(() => (location.hash = "#/"));
    await eventually(() => title(other), "Seen by both");
    await leave(page);
  });

  it("never write over each other: what both changed at once is kept twice", async () => {
    const page = await visit();
    await rename(page, "Start");
    await eventually(async () => (await kept(page))?.name, "Start");
    // This one hears nothing of the other, as a page that a phone had put to sleep.
    const deaf = await tab(page, () => (BroadcastChannel.prototype.addEventListener = () => {}));
    await rename(page, "Changed here");
    await eventually(async () => (await kept(page)).name, "Changed here");
    await deaf.evaluate(() => (location.hash = "#/job"));
    await deaf.getByRole("textbox", { name: "Notes" }).fill("Changed there");
    await deaf.locator(".notice").filter({ hasText: "Both are kept" }).waitFor();
    await eventually(async () => (await kept(deaf)).name, "Start, copy");
    assert.equal((await kept(deaf)).notes, "Changed there");
    await list(page);
    await eventually(async () => (await names(page)).sort().join(), "Changed here,Start, copy");
    await deaf.getByRole("button", { name: "show the other" }).click();
    await eventually(() => deaf.getByRole("textbox", { name: "Name" }).inputValue(), "Changed here");
    await eventually(async () => (await names(page)).join(), "Changed here");
    await press(deaf, "Undo");
    await eventually(async () => (await names(page)).sort().join(), "Changed here,Start, copy");
    await leave(page);
  });
});

describe("the list of jobs", () => {
  it("starts, duplicates, finds, archives and deletes, and takes that back", async () => {
    const page = await visit();
    await list(page);
    assert.deepEqual(await names(page), []);
    await press(page, "Start a new job");
    await eventually(() => title(page), "New job");
    await rename(page, "Mill");
    await list(page);
    await press(page, "Start from the example");
    await eventually(() => title(page), example.name);
    await list(page);
    await eventually(async () => (await names(page)).join("|"), `${example.name}|Mill`);
    await more(page, "Mill", "Duplicate");
    await eventually(async () => (await names(page)).join("|"), `Mill, copy|${example.name}|Mill`);
    // By its boards as well as by its name.
    await page.getByLabel("Find a job").fill("WARDEN hou");
    await eventually(async () => (await names(page)).join("|"), example.name);
    await page.getByLabel("Find a job").fill("nothing like it");
    await page.getByText("None of these jobs").waitFor();
    await page.getByLabel("Find a job").fill("");
    await more(page, "Mill, copy", "Archive");
    await eventually(async () => (await names(page)).join("|"), `${example.name}|Mill`);
    await page.locator('[name="which"][value="archived"]').check({ force: true });
    await eventually(async () => (await names(page)).join("|"), "Mill, copy");
    await more(page, "Mill, copy", "Bring back");
    await page.locator('[name="which"][value="current"]').click({ force: true });
    await eventually(async () => (await names(page)).length, 3);
    await more(page, "Mill", "Delete");
    await eventually(async () => (await names(page)).join("|"), `Mill, copy|${example.name}`);
    await page.locator(".notice").getByRole("button", { name: "Undo" }).click();
    await eventually(async () => (await names(page)).length, 3);
    await page.getByRole("link", { name: /^Open Mill \d/ }).click();
    await eventually(() => title(page), "Mill");
    // It is the one that opens next time.
    await page.goto("about:blank");
    await page.goto(site.url);
    await eventually(() => title(page), "Mill");
    await leave(page);
  });

  it("keeps deleted jobs in a list of their own, brings them back, and lets them go for good", async () => {
    const page = await visit();
    for (const name of ["Barn", "Mill"]) {
      await take(page, { ...example, name });
      await list(page);
    }
    await eventually(async () => (await names(page)).join("|"), "Mill|Barn");
    await more(page, "Barn", "Delete");
    await eventually(async () => (await names(page)).join("|"), "Mill");
    await page.reload();
    const show = (which) => page.locator(`[name="which"][value="${which}"]`).click({ force: true });
    await show("deleted");
    await eventually(async () => (await names(page)).join("|"), "Barn");
    await page.getByText("30 days after it was deleted").waitFor();
    await press(page, "Bring back Barn");
    await page.getByText("Nothing is deleted.").waitFor();
    await show("current");
    await eventually(async () => (await names(page)).join("|"), "Mill|Barn");
    await more(page, "Barn", "Delete");
    await show("deleted");
    await press(page, "Delete Barn for good");
    await page.getByText("Nothing is deleted.").waitFor();
    const held = () => page.evaluate(() => new Promise((done) => {
      indexedDB.open("faultpath").onsuccess = ({ target: { result: db } }) => {
        const tx = db.transaction(["heads", "bodies", "steps"]);
        const asked = ["heads", "bodies"].map((name) => tx.objectStore(name).count());
        tx.oncomplete = () => {
          db.close();
          done(asked.map(({ result }) => result).join());
        };
      };
    }));
    await eventually(held, "1,1");
    await leave(page);
  });

  it("brings back a job that is deleted while it is edited", async () => {
    const page = await visit();
    await rename(page, "Still wanted");
    await list(page);
    await eventually(async () => (await names(page)).join(), "Still wanted");
    await more(page, "Still wanted", "Delete");
    await eventually(async () => (await names(page)).length, 0);
    await rename(page, "Still wanted, and changed");
    await list(page);
    await eventually(async () => (await names(page)).join(), "Still wanted, and changed");
    await leave(page);
  });

  it("shows how much room is used", async () => {
    const page = await visit({ hash: "#/jobs" });
    await page.getByText(/used of .* that the browser allows/).waitFor();
    // Asked for, and said which way the browser answers.
    const asked = [];
    await page.exposeFunction("asked", () => asked.push(1) > 1);
    await page.evaluate(() => (navigator.storage.persist = () => window.asked()));
    await press(page, "Ask the browser to keep it");
    await page.getByText(/The browser has not agreed/).waitFor();
    await press(page, "Ask the browser to keep it");
    await page.getByText(/The browser has promised/).waitFor();
    assert.equal(asked.length, 2);
    await leave(page);
  });
});

describe("files", () => {
  it("hold one job or all, and open again beside what is there", async () => {
    const page = await visit({ files: true });
    await take(page, { ...example, name: "One" });
    await take(page, { ...example, name: "Two", notes: "With a note" });
    await list(page);
    await page.locator(".job-tag").nth(1).locator(".job-more").click();
    const [one] = await Promise.all([page.waitForEvent("download"), press(page, "Save as a file")]);
    assert.equal(one.suggestedFilename(), "one.faultpath.json");
    assert.deepEqual(JSON.parse(await readFile(await one.path(), "utf8")), { ...example, name: "One" });
    const [both] = await Promise.all([page.waitForEvent("download"), press(page, "Save all in one file")]);
    const text = await readFile(await both.path(), "utf8");
    await leave(page);
    const elsewhere = await visit();
    await give(elsewhere, text);
    await elsewhere.locator(".notice").filter({ hasText: "2 jobs opened" }).waitFor();
    await eventually(async () => (await names(elsewhere)).sort().join(), "One,Two");
    await elsewhere.getByRole("link", { name: "Open Two" }).click();
    await eventually(() => title(elsewhere), "Two");
    await eventually(async () => (await kept(elsewhere))?.notes, "With a note");
    await leave(elsewhere);
  });

  it("can be dropped on the page, wherever one stands on it", async () => {
    for (const [hash, on] of [["#/jobs", ".jobs"], ["#/circuit/lawn", ".here"]]) {
      const page = await visit({ hash });
      await page.locator(on).waitFor();
      const files = await page.evaluateHandle((job) => {
        const data = new DataTransfer();
        for (const name of ["Left", "Right"]) data.items.add(new File([JSON.stringify({ ...job, name })], `${name}.json`));
        return data;
      }, example);
      await page.dispatchEvent(on, "dragover", { dataTransfer: files });
      if (hash === "#/jobs") await page.locator(".drop").waitFor();
      await page.dispatchEvent(on, "drop", { dataTransfer: files });
      await eventually(async () => (await names(page)).sort().join(), "Left,Right");
      assert.equal(await page.locator(".drop").count(), 0);
      await leave(page);
    }
  });

  it("are taken from the device's share sheet by the installed page", async () => {
    const page = await visit({ worker: true });
    await page.evaluate(() => navigator.serviceWorker.ready);
    await page.reload();
    await page.waitForFunction(() => navigator.serviceWorker.controller);
    const led = await page.evaluate(async (job) => {
      const { share_target: sheet } = await (await fetch(document.querySelector("link[rel=manifest]").href)).json();
      const form = new FormData();
      for (const name of ["Shared", "Shared too"]) form.append(sheet.params.files[0].name, new File([JSON.stringify({ ...job, name })], `${name}.json`, { type: "application/json" }));
      return (await fetch(sheet.action, { method: sheet.method, body: form })).url;
    }, example);
    assert.ok(led.startsWith(site.url), led);
    await page.goto("about:blank");
    await page.goto(`${site.url}#/jobs`);
    await eventually(async () => (await names(page)).sort().join(), "Shared,Shared too");
    await page.reload();
    await page.locator(".job-tag").nth(1).waitFor();
    assert.equal((await names(page)).length, 2);
    await leave(page);
  });

  it("that are no jobs, hostile or huge are refused with the reason, and nothing else is lost", async () => {
    const page = await visit();
    await take(page, { ...example, name: "Untouched" });
    const deep = `${"[".repeat(200_000)}${"]".repeat(200_000)}`;
    const many = { ...example, circuits: Array.from({ length: 9000 }, (_, at) => ({ ...example.circuits[0], id: `c${at}` })) };
    for (const [text, wanted] of [
      ["not json", /not JSON/],
      ["", /not JSON/],
      ["[]", /was expected/],
      [deep, /not JSON|was expected/],
      ['{"__proto__":{"polluted":1},"format":"faultpath-job","version":1}', /__proto__: there is no such entry/],
      [JSON.stringify({ ...example, colour: "red" }), /colour: there is no such entry/],
      [JSON.stringify({ ...example, version: 2 }), /newer version/],
      [JSON.stringify({ ...example, boards: [{ ...example.boards[0], extraneous: "yes" }] }), /boards\[0\]\.extraneous/],
      [JSON.stringify({ format: "faultpath-jobs", version: 2, jobs: [] }), /newer version/],
      [JSON.stringify({ format: "faultpath-jobs", version: 1, jobs: "many" }), /jobs/],
      [JSON.stringify(many), /too large/],
    ]) {
      await give(page, text);
      await eventually(async () => wanted.test(await page.locator(".refused-file").innerText().catch(() => "")), true, text.slice(0, 40));
    }
    const huge = join(tmpdir(), `faultpath-huge-${process.pid}.json`);
    await writeFile(huge, Buffer.alloc(50_000_000, " "));
    await page.locator("input[type=file]").setInputFiles(huge);
    await eventually(async () => /huge.*too large/.test(await page.locator(".refused-file").innerText()), true);
    await rm(huge);
    assert.equal(await page.evaluate(() => ({}).polluted), undefined);
    await eventually(async () => (await names(page)).join(), "Untouched");
    // What is sound in a file of many comes in, what is not is told.
    await give(page, JSON.stringify({ format: "faultpath-jobs", version: 1, jobs: [{ ...example, name: "Good" }, { name: "Bad" }] }));
    await eventually(async () => (await names(page)).sort().join(), "Good,Untouched");
    assert.match(await page.locator(".refused-file").innerText(), /x\.json, Bad: This was not opened/);
    // The data of a record holds its job.
    await give(page, JSON.stringify({ format: "faultpath-record", version: 1, job: { ...example, name: "Of a record" } }));
    await eventually(() => title(page), "Of a record");
    await give(page, JSON.stringify({ ...example, name: "<img src=x onerror=alert(1)>" }));
    await eventually(() => title(page), "<img src=x onerror=alert(1)>");
    await leave(page);
  });
});

describe("a link", () => {
  const link = async (page) => {
    await page.evaluate(() => (location.hash = "#/pass"));
    await page.getByText(/letters long/).waitFor();
    await page.evaluate(() => (navigator.clipboard.writeText = async (text) => { window.copied = text; }));
    await press(page, "Copy the link");
    await page.locator(".notice").filter({ hasText: "is copied" }).waitFor();
    return page.evaluate(() => window.copied);
  };

  it("holds the job, and opens it on another device after asking", async () => {
    const page = await visit();
    await take(page, { ...example, name: "Sent around", notes: "Größe Ω" });
    const url = await link(page);
    assert.ok(url.startsWith(`${site.url}#/take/`) && url.length < 4000, url);
    // The job is in the part of the address that no server sees.
    assert.ok(!site.asked.some((path) => path.includes(url.slice(-40))));
    await leave(page);
    const elsewhere = await visit();
    await rename(elsewhere, "Was here before");
    await eventually(async () => (await kept(elsewhere))?.name, "Was here before");
    await elsewhere.goto(url);
    await elsewhere.getByText("Sent around").waitFor();
    assert.equal((await kept(elsewhere)).name, "Was here before");
    await press(elsewhere, "Open it as a new job");
    await eventually(() => title(elsewhere), "Sent around");
    await eventually(async () => (await kept(elsewhere)).name, "Sent around");
    assert.deepEqual(await kept(elsewhere), { ...example, name: "Sent around", notes: "Größe Ω" });
    await list(elsewhere);
    await eventually(async () => (await names(elsewhere)).sort().join(), "Sent around,Was here before");
    for (const bad of [url.slice(0, -30), `${site.url}#/take/%%%`, `${site.url}#/take/`, `${site.url}#/part/x/9/2/abc`]) {
      await elsewhere.goto(bad);
      await elsewhere.locator("[role=alert]").filter({ hasText: "damaged" }).waitFor();
    }
    await elsewhere.locator("main").getByRole("button", { name: "Close" }).click();
    await eventually(() => title(elsewhere), "Sent around");
    await leave(elsewhere);
  });

  it("is shown as codes that a camera reads, each fit for a phone, and put together from them", async () => {
    const page = await visit();
    await take(page, { ...example, name: "By camera" });
    await page.evaluate(() => (location.hash = "#/pass"));
    await page.getByText(/letters long/).waitFor();
    const addresses = [];
    await press(page, "Show as a code");
    const count = Number(/ of (\d+)/.exec(await page.locator("#code-title").innerText())[1]);
    assert.ok(count > 1);
    for (let at = 0; at < count; at += 1) {
      const code = page.locator("svg.code");
      const box = await code.boundingBox();
      const side = await code.evaluate((one) => one.viewBox.baseVal.width);
      assert.ok(box.width >= 340 && box.x >= 0 && box.x + box.width <= phone.width, `${box.width}`);
      assert.ok(box.width / side > 2.4, `${box.width / side} px each`);
      // As a camera sees it.
      const seen = PNG.sync.read(await code.screenshot());
      const read = jsQR(new Uint8ClampedArray(seen.data), seen.width, seen.height);
      assert.ok(read, `code ${at + 1} is read`);
      addresses.push(read.data);
      await press(page, "Next code");
    }
    await press(page, "Close");
    // Without the readings it is less.
    const long = await page.getByText(/letters long/).innerText();
    await page.getByLabel("With the readings").uncheck({ force: true });
    await eventually(async () => (await page.getByText(/letters long/).innerText()) !== long, true);
    await leave(page);
    const elsewhere = await visit();
    for (const [at, url] of addresses.toReversed().entries()) {
      await elsewhere.goto("about:blank");
      await elsewhere.goto(url);
      if (at < count - 1) await elsewhere.getByText(/Scan next: code [\d, ]+\./).waitFor();
    }
    await press(elsewhere, "Open it as a new job");
    await eventually(() => title(elsewhere), "By camera");
    await eventually(async () => (await kept(elsewhere))?.circuits.length, example.circuits.length);
    await leave(elsewhere);
  });

  it("is shown to be copied by hand where the browser has no clipboard, as over plain http", async () => {
    const page = await visit();
    await page.evaluate(() => Object.defineProperty(navigator, "clipboard", { value: undefined }));
    await page.evaluate(() => (location.hash = "#/pass"));
    await page.getByText(/letters long/).waitFor();
    await press(page, "Copy the link");
    assert.match(await page.locator("#by-hand").inputValue(), /#\/take\//);
    await leave(page);
  });

  it("says so where the job is too large for codes", async () => {
    const page = await visit();
    const noise = (at) => Array.from({ length: 60 }, (_, n) => ((at * 7919 + n * 104_729) % 1_679_616).toString(36)).join("");
    await take(page, { ...example, circuits: Array.from({ length: 90 }, (_, at) => ({ ...example.circuits[0], id: `c${at}`, name: noise(at + 1) })) });
    await page.evaluate(() => (location.hash = "#/pass"));
    await page.getByText("Too much for codes").waitFor();
    assert.ok(await page.getByRole("button", { name: "Show as a code" }).isDisabled());
    await leave(page);
  });

  it("and a file go to the share sheet where there is one", async () => {
    const page = await visit();
    await page.evaluate(() => {
      window.sent = [];
      navigator.share = async (what) => { window.sent.push({ url: what.url, file: what.files && [what.files[0].name, await what.files[0].text()] }); };
      // As where JSON is not let through.
      navigator.canShare = ({ files }) => files.every(({ type }) => type === "text/plain");
    });
    await page.evaluate(() => (location.hash = "#/pass"));
    await page.getByText(/letters long/).waitFor();
    await press(page, "Send the link");
    await press(page, "Send the file");
    await page.waitForFunction(() => window.sent.length === 2);
    const [{ url }, { file: [name, text] }] = await page.evaluate(() => window.sent);
    assert.match(url, /#\/take\//);
    assert.match(name, /\.faultpath\.txt$/);
    await give(page, text, name);
    await eventually(() => title(page), example.name);
    await leave(page);
  });
});

alone();
