// Within reach of the thumb: the verdict at all times, taking back, and the way to the whole job.

import { useComputed } from "@preact/signals";
import { placeKey } from "../job/tree";
import type { Place } from "../job/types";
import { lastRead, waysOf } from "../answers";
import { view } from "../route";
import { answer, canRedo, canUndo, notice, places, redo, said, undo } from "../state";
import { newer, useNewer } from "../update";
import { isThrough, mayEnergise, nextOf, stations } from "../tested";
import { words } from "../words";
import { wholeStanding } from "./glance";
import { useReading } from "./hooks";
import { Icon, Mark } from "./marks";
import { toStation } from "./meter";

function toVerdict(): void {
  document.getElementById("verdict")?.scrollIntoView({ block: "start" });
  document.getElementById("here")?.focus({ preventScroll: true });
}

const readingViews: readonly string[] = ["meter", "readings", "instruments", "record"];

export function Bar() {
  const at = view.value.view;
  return (
    <nav class="bar" aria-label={words.found.title}>
      {readingViews.includes(at) ? <BarReadings /> : <BarDesign />}
      <span class="bar-acts">
        <button type="button" class="bar-act" disabled={!canUndo.value} onClick={undo} aria-label={words.act.undo}><Icon name="undo" /><span class="bar-word">{words.act.undo}</span></button>
        <button type="button" class="bar-act" disabled={!canRedo.value} onClick={redo} aria-label={words.act.redo}><Icon name="redo" /><span class="bar-word">{words.act.redo}</span></button>
        {(at === "whole" || at === "job" || at === "rules") && (
          <a class="bar-act" href="#/readings" aria-label={words.meter.glance.title}><Icon name="meter" /><span class="bar-word">{words.meter.glance.title}</span></a>
        )}
        <a class="bar-act" href="#/job" aria-label={words.job.title} aria-current={at === "job" ? "page" : undefined}><Icon name="job" /><span class="bar-word">{words.job.title}</span></a>
      </span>
    </nav>
  );
}

function BarDesign() {
  const whole = useComputed(() => answer.value.outcome).value;
  const here = useReading(() => {
    const at = view.value;
    if (at.view !== "place") return [];
    const key = placeKey(at.place);
    return places.value.map((all) => all.get(key)?.outcome ?? "cannot-say");
  }).value;
  const at = view.value.view;
  return (
    <>
      <a class="bar-said" href="#/" aria-current={at === "whole" ? "page" : undefined} onClick={() => at === "whole" && toVerdict()}>
        <Mark outcome={whole} size={26} />
        <span><small>{words.whole.title}</small>{" "}<b>{words.outcome[whole]}</b></span>
      </a>
      {at === "place" && (
        <button type="button" class="bar-said bar-here" onClick={toVerdict}>
          {here.length === 1 && here.map((outcome) => <Mark key={outcome} outcome={outcome} size={26} />)}
          <span>
            <small>{words.place.hereShort}</small>{" "}
            {here.map((outcome, index) => (here.length === 1
              ? <b key={index}>{words.outcome[outcome]}</b>
              : <span key={index} class="bar-pair"><Mark outcome={outcome} size={18} /><b>{words.outcome[outcome]}</b></span>))}
          </span>
        </button>
      )}
    </>
  );
}

/** How far the testing is, and the next test at all times. */
function BarReadings() {
  const whole = useReading(wholeStanding).value;
  const next = useReading(() => {
    const at = view.value;
    if (at.view !== "meter") return null;
    const ways = waysOf(at.place);
    const found = nextOf(ways);
    if (found?.kind === "test") return { name: words.meter.steps[found.step], place: at.place, step: found.step };
    return { name: isThrough(ways) ? words.meter.complete : mayEnergise(ways) ? words.meter.energise : words.meter.keepOff, place: at.place, step: null };
  }).value;
  const may = whole.may || whole.through;
  return (
    <>
      <a class="bar-said" href="#/readings" aria-current={view.value.view === "readings" ? "page" : undefined}>
        <Mark outcome={whole.through ? "pass" : may ? "cannot-say" : "fail"} size={26} />
        <span><small>{words.whole.title}</small>{" "}<b>{whole.through ? words.meter.complete : may ? words.meter.mayShort : words.meter.keepOffShort}</b></span>
      </a>
      {next && (
        <button type="button" class="bar-said bar-here bar-next" onClick={() => (next.step === null ? document.getElementById("next")?.scrollIntoView({ block: "center" }) : toStation(next.place, next.step))}>
          <span><small>{words.meter.nextShort}</small>{" "}<b>{next.name}</b></span>
        </button>
      )}
    </>
  );
}

export function Notices() {
  const note = notice.value;
  return (
    <div class="notices">
      {newer.value && (
        <div class="notice">
          <p>{words.update.ready}</p>
          <button type="button" class="act act-main" onClick={useNewer}>{words.update.use}</button>
          <button type="button" class="act" onClick={() => (newer.value = null)}>{words.update.later}</button>
        </div>
      )}
      {note && (
        <div class="notice">
          <p>{note.text}</p>
          {note.undo && <button type="button" class="act act-main" onClick={undo}>{words.act.undo}</button>}
          <button type="button" class="act" onClick={() => (notice.value = null)}>{words.act.close}</button>
        </div>
      )}
    </div>
  );
}

/** Speaks the verdict when it changes, and what was done. */
export function Spoken() {
  const verdict = useComputed(() => {
    const at = view.value;
    if (readingViews.includes(at.view)) return "place" in at ? spokenReading(at.place) : "";
    const whole = words.outcome[answer.value.outcome];
    if (at.view !== "place") return words.announce(whole, null);
    const key = placeKey(at.place);
    const here = places.value.map((all) => words.outcome[all.get(key)?.outcome ?? "cannot-say"]);
    return words.announce(whole, here.join(", "));
  });
  return (
    <>
      <p class="out" role="status">{verdict}</p>
      <p class="out" role="status">{said}</p>
    </>
  );
}

/** The reading that was just entered, whether it may be energised, and what comes next. */
function spokenReading(place: Place): string {
  const m = words.meter;
  const ways = waysOf(place);
  const last = lastRead.value;
  const parts: string[] = [];
  if (last && placeKey(last.place) === placeKey(place)) {
    for (const { readings } of stations(ways)) {
      for (const { path, each } of readings) {
        if (path !== last.path && !last.path.startsWith(`${path}.`)) continue;
        for (const { earthing, judged } of each) {
          if (judged.taken) parts.push(m.spoken(each.length > 1 ? `${judged.name}, ${earthing}` : judged.name, m.outcome[judged.outcome]));
        }
      }
    }
  }
  const next = nextOf(ways);
  parts.push(`${isThrough(ways) ? m.complete : mayEnergise(ways) ? m.energise : m.keepOff}.`);
  if (next?.kind === "test") parts.push(m.spokenNext(next.name));
  return parts.join(" ");
}
