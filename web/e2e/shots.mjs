// Pictures of every view, for looking at: web/shots (not kept), and what comes out of a printer, page by page where
// pdftoppm is there. Optional words choose some: node e2e/shots.mjs phone dark
import { spawnSync } from "node:child_process";
import { mkdir } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { openBrowser } from "./browser.mjs";
import { serve } from "./serve.mjs";
import { views as others } from "./views.mjs";

const folder = fileURLToPath(new URL("../shots/", import.meta.url));
await mkdir(folder, { recursive: true });
const wanted = process.argv.slice(2);
const site = await serve();
const browser = await openBrowser();
const sizes = { phone: { width: 360, height: 740 }, desktop: { width: 1280, height: 800 } };

const pick = (name) => async (page) => {
  await page.getByRole("button", { name }).first().click();
};
const notKnown = (page) => page.locator("[name=\"f-supply.earthing\"][value=not-known], [id=\"f-supply.earthing\"]").last().evaluate((at) => (at.tagName === "SELECT" ? ((at.value = "not-known"), at.dispatchEvent(new Event("change", { bubbles: true }))) : at.click()));
const ready = (page) => page.locator(".way .tag").first().waitFor();
const enter = (page, path, text) => page.locator(`[id="f-${path}"]`).fill(text);
const warm = "circuits[7].tests";
const toJobs = async (page) => {
  await page.waitForFunction(() => location.hash === "#/");
  await page.evaluate(() => (location.hash = "#/jobs"));
};
/** A few readings: clear, too near, beyond. */
const readWarm = async (page) => {
  await pick(/^Continuity of protective/)(page);
  await enter(page, `${warm}.r1r2`, "0,31");
  await enter(page, `${warm}.r2`, "0.9");
  await pick(/^Insulation resistance/)(page);
  await pick("Add a reading")(page);
  await enter(page, `${warm}.insulation[0].reading`, "1.2");
};
const readRing = async (page) => {
  await pick("Add a socket")(page);
  await enter(page, "circuits[0].tests.ring.sockets[4].line_neutral", "0.36");
  await enter(page, "circuits[0].tests.ring.sockets[4].line_protective", "0.46");
};
const views = {
  whole: ["#/"],
  supply: ["#/supply", pick("What arrives")],
  board: ["#/board/dome"],
  circuit: ["#/circuit/lawn"],
  check: ["#/circuit/lawn", pick(/^(Volt|Loop|Disconnection)/)],
  ways: ["#/circuit/lawn", pick(/How far it can go/)],
  form: ["#/circuit/lawn", pick("Name and load"), pick("What protects it")],
  section: ["#/circuit/hill", pick(/^Section 2/)],
  two: ["#/supply", pick("What arrives"), notKnown],
  twowhole: ["#/supply", pick("What arrives"), async (page) => {
    await notKnown(page);
    await page.evaluate(() => (location.hash = "#/"));
  }],
  bad: ["#/circuit/lawn", pick(/^Section 2/), async (page) => page.getByLabel("Length", { exact: true }).fill("-3")],
  earthing: ["#/earthing/dome", ready],
  earthingopen: ["#/earthing/dome", ready, async (page) => {
    for (const one of await page.locator(".way-working").all()) await one.click();
    for (const one of await page.locator(".way-cautions summary").all()) await one.click();
    await pick("What it is compared by")(page);
    await pick("What this place is")(page);
  }],
  earthingtwo: ["#/supply", pick("What arrives"), notKnown, async (page) => {
    await page.evaluate(() => (location.hash = "#/earthing/dome"));
    await ready(page);
  }],
  drawing: ["#/drawing", (page) => page.locator(".drawing a").last().waitFor()],
  lesson: ["#/lesson", (page) => page.locator("#lesson-seed").waitFor()],
  exercises: ["#/lesson/4711/max-zs.drop-spread.ring-r1r2/3/same", async (page) => {
    await page.locator("#exercise-1").fill("8");
    await pick("Check it")(page);
    await pick("Show the working")(page);
  }],
  answersheet: ["#/lesson/4711/max-zs.drop-spread.ring-r1r2/3/each/sheet", (page) => page.locator(".answer").last().waitFor()],
  pictures: ["#/pictures/lawn", (page) => page.locator(".present").waitFor()],
  picturesring: ["#/pictures/kitchen", (page) => page.locator(".plot").last().waitFor()],
  picturesspread: ["#/pictures/dew", (page) => page.locator(".plot").last().waitFor()],
  picturesfeed: ["#/pictures/hill", (page) => page.locator(".plot").last().waitFor()],
  job: ["#/job"],
  take: ["#/take/q1ZKVLJSKk9MLElMTVGyMtRRKkstKs7Mz1OyUjJUqgUA", (page) => page.locator("[role=alert]").waitFor()],
  pass: ["#/pass", (page) => page.getByText(/letters long/).waitFor()],
  codes: ["#/pass", (page) => page.getByText(/letters long/).waitFor(), pick("Show as a code")],
  jobs: ["#/jobs", pick("Start from the example"), toJobs, pick("Start a new job"), toJobs, pick(/What can be done with New job/)],
  glance: ["#/readings"],
  metersupply: ["#/supply/meter"],
  meter: ["#/circuit/warm/meter", readWarm],
  metergood: ["#/circuit/hall/meter", pick(/^Zs/)],
  meterrcd: ["#/circuit/kitchen/meter", pick(/^RCDs/)],
  meterring: ["#/circuit/kitchen/meter", pick(/^Ring circuit/), readRing],
  metertwo: ["#/supply", pick("What arrives"), notKnown, async (page) => page.evaluate(() => (location.hash = "#/circuit/warm/meter")), readWarm],
  instruments: ["#/instruments", pick(/^Continuity/)],
  record: ["#/circuit/warm/meter", readWarm, async (page) => page.evaluate(() => (location.hash = "#/record"))],
  rules: ["#/rules"],
  selfcheck: ["#/self-check", (page) => page.locator(".held-topics").waitFor()],
  learner: ["#/", others.learner],
  taking: ["#/", others.taking],
  part: ["#/", others.part],
  sun: ["#/job", (page) => page.locator("#theme").selectOption("sun"), (page) => page.evaluate(() => (location.hash = "#/circuit/lawn"))],
  contrast: ["#/job", (page) => page.locator("#theme").selectOption("contrast"), (page) => page.evaluate(() => (location.hash = "#/circuit/lawn"))],
  large: ["#/circuit/lawn", (page) => page.evaluate(() => (document.documentElement.style.fontSize = "200%")), pick("Name and load")],
};
const papers = ["whole", "circuit", "record", "drawing", "pictures", "answersheet", "glance", "selfcheck"];

for (const [size, viewport] of Object.entries(sizes)) {
  for (const scheme of ["light", "dark"]) {
    for (const [name, [hash, ...steps]] of Object.entries(views)) {
      const file = `${size}-${scheme}-${name}`;
      if (!wanted.every((word) => file.includes(word))) continue;
      const page = await browser.newPage({ viewport, colorScheme: scheme, reducedMotion: "reduce", deviceScaleFactor: size === "phone" ? 2 : 1, serviceWorkers: "block" });
      page.on("pageerror", (error) => console.log(file, String(error)));
      page.on("console", (message) => message.type() === "error" && console.log(file, message.text()));
      await page.goto(site.url + hash);
      await page.waitForSelector(".bar");
      page.setDefaultTimeout(60_000);
      try {
        for (const step of steps) await step(page);
      } catch (reason) {
        console.log(file, String(reason).split("\n")[0]);
      }
      await page.waitForTimeout(100);
      await page.screenshot({ path: `${folder}${file}.png` });
      const tall = await page.evaluate(() => {
        scrollTo(0, 0);
        for (const one of document.querySelectorAll(".bar, .notices")) one.style.position = "static";
        return document.documentElement.scrollWidth > innerWidth + 1;
      });
      if (tall) console.log(file, "scrolls sideways");
      await page.screenshot({ path: `${folder}${file}-full.png`, fullPage: true });
      await page.close();
    }
  }
}
for (const name of papers) {
  if (!wanted.every((word) => `paper-${name}`.includes(word))) continue;
  const [hash, ...steps] = views[name];
  const page = await browser.newPage({ viewport: sizes.desktop, colorScheme: "dark", reducedMotion: "reduce", serviceWorkers: "block" });
  await page.goto(site.url + hash);
  await page.waitForSelector(".bar");
  for (const step of steps) await step(page);
  const file = `${folder}paper-${name}`;
  await page.pdf({ path: `${file}.pdf`, preferCSSPageSize: true, printBackground: false });
  spawnSync("pdftoppm", ["-r", "60", "-png", "-l", "6", `${file}.pdf`, file]);
  await page.close();
}
await browser.close();
await site.stop();
