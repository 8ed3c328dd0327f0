// Every view of the page, each with much of it open: for what has to hold on all of them.
import { circuit, field, press, unfold } from "./kit.mjs";

/** The ways of earthing the observatory, once they are there. */
export const compared = async (page) => {
  await page.evaluate(() => (location.hash = "#/earthing/dome"));
  await page.locator(".way .tag").nth(2).waitFor();
};

/** The self-check, run to its end. */
export const selfChecked = async (page) => {
  await page.evaluate(() => (location.hash = "#/self-check"));
  await page.locator(".held-topics").waitFor();
};

export const views = {
  whole: async () => {},
  drawing: async (page) => {
    await page.evaluate(() => (location.hash = "#/drawing"));
    await page.locator(".drawing a").last().waitFor();
  },
  lesson: async (page) => {
    await page.evaluate(() => (location.hash = "#/lesson"));
    await page.locator("#lesson-seed").waitFor();
  },
  exercises: async (page) => {
    await page.evaluate(() => (location.hash = "#/lesson/4711/max-zs.drop-spread/2/same"));
    await page.locator("#exercise-1").fill("1");
    await press(page, "Check it");
    await press(page, "Show the working");
  },
  answersheet: async (page) => {
    await page.evaluate(() => (location.hash = "#/lesson/4711/max-zs.drop-spread/2/each/sheet"));
    await page.locator(".answer").last().waitFor();
  },
  pictures: async (page) => {
    await page.evaluate(() => (location.hash = "#/pictures/lawn"));
    await page.locator(".present").waitFor();
  },
  supply: async (page) => {
    await page.evaluate(() => (location.hash = "#/supply"));
    await unfold(page, "What arrives", "Fault current", "Device ahead", "Conductors at", "Earthing and bonding");
  },
  board: async (page) => {
    await page.evaluate(() => (location.hash = "#/board/dome"));
    await unfold(page, "Name and feed", "Demand and RCD", "Earthing and bonding");
  },
  circuit: async (page) => {
    await page.evaluate(() => (location.hash = "#/circuit/lawn"));
    await page.locator(".check-head").first().click();
    await press(page, /checks pass/);
    await press(page, /How far it can go/);
    await page.locator(".limits dd").first().waitFor();
    await press(page, "More numbers");
    await page.locator(".fact").first().click();
    await unfold(page, "Name and load", "What protects it", "Where it is", "Section 2", "Cable", "Where it lies");
  },
  wrong: async (page) => {
    await page.evaluate(() => (location.hash = "#/circuit/lawn"));
    await unfold(page, "Section 2");
    await field(page, `circuits[${circuit("lawn")}].sections[1].length`).fill("-1");
    await page.locator(".refused").first().waitFor();
  },
  two: async (page) => {
    await page.evaluate(() => (location.hash = "#/supply"));
    await unfold(page, "What arrives");
    // Longer words make a list of what else lies open.
    const chip = page.locator('[name="f-supply.earthing"][value="not-known"]');
    if (await chip.count()) await chip.check({ force: true });
    else await field(page, "supply.earthing").selectOption("not-known");
    await page.evaluate(() => (location.hash = "#/"));
    await page.locator(".two .tag").nth(1).waitFor();
  },
  earthing: async (page) => {
    await compared(page);
    for (const one of await page.locator(".way-working, .way-cautions summary, .place-said summary").all()) await one.click();
    await unfold(page, "What it is compared by", "What this place is");
    await page.locator(".way .step-item").first().waitFor();
  },
  meter: async (page) => {
    await page.evaluate(() => (location.hash = "#/circuit/dew/meter"));
    for (const step of ["protective", "insulation", "polarity", "rcd"]) await page.locator(`#test-${step} button`).click();
    await press(page, "Rule and source");
    await press(page, "Add a time");
  },
  metersupply: async (page) => {
    await page.evaluate(() => (location.hash = "#/supply/meter"));
    for (const step of ["bonding", "ze", "fault-current"]) await page.locator(`#test-${step} button`).click();
  },
  meterring: async (page) => {
    await page.evaluate(() => (location.hash = "#/circuit/kitchen/meter"));
    await page.locator("#test-ring button").click();
  },
  glance: async (page) => {
    await page.evaluate(() => (location.hash = "#/readings"));
    await page.locator(".glance-row").last().waitFor();
  },
  instruments: async (page) => {
    await page.evaluate(() => (location.hash = "#/instruments"));
    await page.locator(".fold-head button").first().click();
  },
  record: async (page) => {
    await page.evaluate(() => (location.hash = "#/record"));
    await page.locator(".paper-legend").last().waitFor();
  },
  job: async (page) => {
    await page.evaluate(() => (location.hash = "#/job"));
    await page.locator("#theme").waitFor();
  },
  pass: async (page) => {
    await page.evaluate(() => (location.hash = "#/pass"));
    await page.getByText(/letters long/).waitFor();
  },
  codes: async (page) => {
    await page.evaluate(() => (location.hash = "#/pass"));
    await page.getByText(/letters long/).waitFor();
    await press(page, "Show as a code");
  },
  take: async (page) => {
    await page.evaluate(() => (location.hash = "#/take/q1ZKVLJSKk9MLElMTVGyMtRRKkstKs7Mz1OyUjJUqgUA"));
    await page.locator("[role=alert]").waitFor();
  },
  taking: async (page) => {
    await page.evaluate(() => (location.hash = "#/pass"));
    await page.getByText(/letters long/).waitFor();
    await page.evaluate(() => (navigator.clipboard.writeText = async (text) => { window.copied = text; }));
    await press(page, "Copy the link");
    await page.waitForFunction(() => window.copied);
    await page.evaluate(() => (location.href = window.copied));
    await page.locator(".came").waitFor();
  },
  part: async (page) => {
    await page.evaluate(() => (location.hash = "#/part/x/2/3/abc"));
    await page.getByText(/Scan next/).waitFor();
  },
  learner: async (page) => {
    await page.evaluate(() => (location.hash = "#/lesson/4711/max-zs.drop-spread/2/each"));
    await page.locator("#lesson-learner").waitFor();
  },
  jobs: async (page) => {
    await page.evaluate(() => (location.hash = "#/jobs"));
    await press(page, "Start from the example");
    await page.waitForFunction(() => location.hash === "#/");
    await page.evaluate(() => (location.hash = "#/jobs"));
    await page.locator(".job-more").first().click();
    await press(page, "Duplicate");
    await page.locator(".notice").waitFor();
  },
  selfcheck: selfChecked,
  rules: async (page) => {
    await page.evaluate(() => (location.hash = "#/rules"));
    await press(page, "Make a copy I can change");
    await page.locator(".fold-head button").first().click();
  },
};
