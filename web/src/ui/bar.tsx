// Within reach of the thumb: the verdict at all times, taking back, and the way to the whole job.

import { useComputed } from "@preact/signals";
import { placeKey } from "../job/tree";
import { parted, takeOther } from "../keep/open";
import { view } from "../route";
import { answer, canRedo, canUndo, job, notice, places, redo, said, undo } from "../state";
import { newer, useNewer } from "../update";
import { verdictOf } from "../verdict";
import { words } from "words:page";
import { useReading } from "./hooks";
import { later } from "./later";
import { Icon, Mark } from "./marks";

const BarReadings = later((of) => of.BarReadings);
const SpokenReadings = later((of) => of.SpokenReadings);

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
        {at !== "place" && !readingViews.includes(at) && (
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
    return places.value.map((all) => verdictOf(all.get(key)));
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

export function Notices() {
  const note = notice.value;
  const apart = parted.value;
  if (!note && !apart && !newer.value) return null;
  return (
    <aside class="notices" aria-label={words.act.messages}>
      {newer.value && (
        <div class="notice">
          <p>{words.update.ready}</p>
          <button type="button" class="act act-main" onClick={() => void useNewer()}>{words.update.use}</button>
          <button type="button" class="act" onClick={() => (newer.value = null)}>{words.update.later}</button>
        </div>
      )}
      {apart && (
        <div class="notice">
          <p>{words.jobs.parted(job.value.name)}</p>
          <button type="button" class="act act-main" onClick={() => (parted.value = null)}>{words.jobs.keepBoth}</button>
          <button type="button" class="act" onClick={() => void takeOther()}>{words.jobs.takeOther}</button>
        </div>
      )}
      {note && (
        <div class="notice">
          <p>{note.text}</p>
          {note.undo && <button type="button" class="act act-main" onClick={note.undo}>{words.act.undo}</button>}
          <button type="button" class="act" onClick={() => (notice.value = null)}>{words.act.close}</button>
        </div>
      )}
    </aside>
  );
}

/** Speaks the verdict when it changes, and what was done. */
export function Spoken() {
  return (
    <>
      <p class="out" role="status">{readingViews.includes(view.value.view) ? <SpokenReadings /> : <SpokenDesign />}</p>
      <p class="out" role="status">{said}</p>
    </>
  );
}

function SpokenDesign() {
  const verdict = useComputed(() => {
    const at = view.value;
    const whole = words.outcome[answer.value.outcome];
    if (at.view !== "place") return words.announce(whole, null);
    const key = placeKey(at.place);
    const here = places.value.map((all) => words.outcome[verdictOf(all.get(key))]);
    return words.announce(whole, here.join(", "));
  });
  return <>{verdict}</>;
}
