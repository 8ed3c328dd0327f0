// The installation at a glance: how far the testing is, place by place, and what stops it.

import { before, placeKey, walk } from "../job/tree";
import type { Outcome, Place } from "../job/types";
import { meterOf } from "../route";
import { job } from "../state";
import { tested, waysOf } from "../answers";
import { isThrough, mayEnergise, nextOf, reasons, stations } from "../tested";
import type { Verdict } from "../verdict";
import { words } from "words:page";
import { Caution } from "./found";
import { useReading } from "./hooks";
import { Icon, Mark } from "./marks";
import { placeName } from "./place";
import { Cautions } from "./whole";

const w = words.meter;

type Bead = { name: string; outcome: Outcome | null; live: boolean };
export type Standing = { place: Place; name: string; beads: Bead[]; may: boolean; through: boolean; next: string | null; stops: number };

/** Where the testing of a place stands. */
export function standingOf(place: Place): Standing {
  const ways = waysOf(place);
  const list = stations(ways);
  const next = nextOf(ways);
  return {
    place,
    name: placeName(job.value, place),
    beads: list.map(({ name, outcome, when }) => ({ name, outcome, live: when === "live" })),
    may: mayEnergise(ways),
    through: isThrough(ways),
    next: next?.kind === "test" ? next.name : null,
    stops: reasons(ways).length,
  };
}

export function wholeStanding() {
  const all = walk(job.value).map(({ place }) => standingOf(place));
  const beads = all.flatMap((one) => one.beads);
  const count = (outcome: Outcome) => beads.filter((bead) => bead.outcome === outcome).length;
  const judged = tested.value.judgements.length > 0;
  return {
    passed: count("pass"), failed: count("fail"), open: count("doubtful") + count("cannot-say"), all: beads.length,
    off: all.filter(({ may }) => !may).length, through: judged && all.every((one) => one.through), may: judged && all.every((one) => one.may),
  };
}

export function GlanceView() {
  const name = useReading(() => job.value.name).value;
  return (
    <div class="whole">
      <header class="whole-head">
        <p class="app-name">{w.glance.title}</p>
        <h1 id="here" tabIndex={-1}>{name === "" ? words.place.unnamed : name}</h1>
      </header>
      <div class="whole-top">
        <section class="whole-verdict" id="verdict" aria-label={w.glance.state}>
          <Whole />
          <Caution />
        </section>
        <div class="acts acts-wide glance-acts">
          <a class="act act-main" href="#/record"><Icon name="print" />{words.record.open}</a>
          <a class="act" href="#/instruments"><Icon name="meter" />{words.instruments.open}</a>
        </div>
      </div>
      <section class="path" aria-labelledby="path">
        <h2 id="path">{w.glance.path}</h2>
        <p class="hint path-hint">{w.glance.hint}</p>
        <Path />
      </section>
      <Cautions />
    </div>
  );
}

function Whole() {
  const at = useReading(wholeStanding).value;
  // Green only when nothing is missing any more.
  const outcome: Outcome = at.through ? "pass" : at.may ? "cannot-say" : "fail";
  const word = at.through ? w.complete : at.may ? w.energise : w.keepOff;
  return (
    <div class={`tag tag-big tag-${outcome}`}>
      <Mark outcome={outcome} size={64} />
      <div class="tag-words">
        <strong class="tag-word">{word}</strong>
        <span class="tag-text">{at.through ? w.glance.all : at.may ? w.glance.on : w.glance.off(at.off)}</span>
        <span class="tag-text">{[w.glance.done(at.passed, at.all), at.failed > 0 && w.glance.failed(at.failed), at.open > 0 && w.glance.open(at.open)].filter(Boolean).join(", ")}.</span>
      </div>
    </div>
  );
}

function Path() {
  const stops = useReading(() => {
    const feeds = new Set(job.value.boards.map(({ fed_by }) => fed_by));
    return walk(job.value).map(({ place, depth }) => ({
      ...standingOf(place), depth, end: place.kind === "circuit" && !feeds.has(place.id), loose: place.kind !== "supply" && before(job.value, place) === null,
    }));
  }).value;
  return (
    <ol class="map">
      {stops.map(({ depth, end, loose, ...at }, index) => (
        <li key={placeKey(at.place)} data-depth={Math.min(depth, 4)} class={`${end ? "twig" : "station"} station-${at.place.kind}${loose ? " is-loose" : ""}${index === stops.length - 1 ? " is-last" : ""}`}>
          <GlanceRow at={at} />
        </li>
      ))}
    </ol>
  );
}

function GlanceRow({ at }: { at: Standing }) {
  // Where no test is to be made, none has passed.
  const untested = at.through && at.beads.length === 0;
  const state: Verdict = untested ? "none" : at.through ? "pass" : at.beads.some(({ outcome }) => outcome === "fail") ? "fail" : "cannot-say";
  const said = untested ? w.noTest : at.through ? w.complete : at.may ? w.energise : w.keepOff;
  return (
    <a class="row glance-row" href={meterOf(at.place)}>
      <span class="row-words">
        <span class="row-name">{at.name}</span>{" "}
        <span class="row-what">{at.next === null ? "" : `${w.nextShort}: ${at.next}`}</span>
      </span>{" "}
      <span class="row-said">
        <b class={`said-${state}`}>{said}</b>{" "}
        {!at.may && at.stops > 0 && <span class="row-facts">{w.reasons(at.stops)}</span>}
      </span>
      {at.beads.length > 0 && (
        <span class="beads">
          {at.beads.map((bead, index) => (
            <span key={bead.name} class={`bead${bead.live && !at.beads[index - 1]?.live ? " bead-first-live" : ""}`} title={w.glance.bead(bead.name, bead.outcome === null ? w.notRead : w.outcome[bead.outcome])}>
              <Mark outcome={bead.outcome ?? "none"} size={20} />
              <span class="out">{w.glance.bead(bead.name, bead.outcome === null ? w.notRead : w.outcome[bead.outcome])}, </span>
            </span>
          ))}
        </span>
      )}
    </a>
  );
}
