import { render } from "preact";
import { choices, openCore } from "./core";
import { followHanded } from "./keep/handed";
import { keep, openLast } from "./keep/open";
import { followHash, view } from "./route";
import { openSite } from "./site";
import { offered } from "./state";
import "./style/base.css";
import "./style/path.css";
import "./style/forms.css";
import "./style/earthing.css";
import "./style/meter.css";
import "./style/record.css";
import "./style/narrow.css";
import "./style/jobs.css";
import "./style/self-check.css";
import { followTheme } from "./theme";
import { App } from "./ui/app";
import { fetchViews } from "./ui/later";
import { keepOffline } from "./update";
import { words } from "words:page";

/** What the first file alone can show. */
const verdictViews: ReadonlySet<string> = new Set(["whole", "place", "job", "jobs", "pass", "take", "part", "rules"]);

async function open(): Promise<void> {
  followTheme();
  const page = document.getElementById("page");
  if (!page) return;
  const last = openLast();
  try {
    await openCore();
  } catch (reason) {
    console.error(reason);
    const text = document.createElement("p");
    text.className = "opening";
    text.textContent = words.noCore;
    page.replaceChildren(text);
    return;
  }
  offered.value = choices();
  await last;
  followHash();
  followHanded();
  // Who comes straight to what it judges waits for it; otherwise it waits until the verdict can be seen.
  const waits = !verdictViews.has(view.value.view) || "aspect" in view.value;
  if (waits) await openSite();
  page.replaceChildren();
  render(<App />, page);
  keep();
  performance.mark("verdict");
  if (!waits) {
    await drawn();
    await openSite();
  }
  keepOffline();
  await fetchViews();
}

/** Done once what is on the page has been drawn; a page in the background is not drawn. */
function drawn(): Promise<void> {
  return new Promise((done) => {
    if (document.visibilityState === "hidden") done();
    else requestAnimationFrame(() => setTimeout(done));
  });
}

void open();
