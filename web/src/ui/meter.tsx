// At the meter: one place, its tests in their order along a lead. Between those that are made dead and those that are
// made live lies a switch. It is drawn closed only where the core lets it be.

import type { ComponentChildren } from "preact";
import { before, placeKey, trail } from "../job/tree";
import { pathText, type Path } from "../job/path";
import { placeOfPath, testsOf, testsPath } from "../job/tests";
import { parsePath } from "../job/path";
import type { Fact, NextTest, Place, TestStep } from "../job/types";
import { hrefOf, meterOf } from "../route";
import { job } from "../state";
import { readingErrors, waysOf } from "../answers";
import { isHere, isThrough, mayEnergise, nextOf, notesOf, reasons, stations, type Reason, type Station, type Way } from "../tested";
import type { Verdict } from "../verdict";
import { words } from "words:page";
import { OutcomeWord, put, shownShort } from "./entry";
import { fieldId, Switch } from "./fields";
import { isOpen, setOpen } from "./fold";
import { Caution, withUnit } from "./found";
import { useReading } from "./hooks";
import { Icon, Mark } from "./marks";
import { Beside, describe, Faces, placeName } from "./place";
import { entersAt, StationBody } from "./stations";

const w = words.meter;

export function MeterView({ place }: { place: Place }) {
  const about = useReading(() => describe(job.value, place)).value;
  const way = useReading(() => trail(job.value, place).map((stop) => ({ stop, name: placeName(job.value, stop) }))).value;
  const base = useReading(() => testsPath(job.value, place)).value;
  const ways = useReading(() => waysOf(place)).value;
  const list = stations(ways);
  const next = nextOf(ways);
  const first = list.findIndex(({ when }) => when === "live");
  const gate = first < 0 ? list.length : first;
  if (base === null) return null;
  const shared = { place, base, next };
  return (
    <div class="path at-place at-meter">
      <nav class="crumbs" aria-label={words.place.from}>
        <ol>
          {way.map(({ stop, name }) => <li key={placeKey(stop)}><a href={meterOf(stop)}>{name}</a></li>)}
        </ol>
      </nav>
      <section class={`here station station-${place.kind}`} aria-labelledby="here">
        <header class="here-head">
          <p class="here-kind">{words.place.here}: {about.kind}</p>
          <h1 id="here" tabIndex={-1}>{about.name}</h1>
          <Faces place={place} now="meter" />
        </header>
        <div class="meter-body">
          <div class="meter-side">
            <Refused under={pathText(base)} />
            <NextCard place={place} ways={ways} next={next} list={list} />
            <Caution />
          </div>
          {/* A board without a test of its own has all that is to be said in the card above. */}
          {(list.length > 0 || place.kind !== "board") && <div class="meter-main">
            <h2 class="side-head">{w.sequence}</h2>
            <ol class="lead">
              {list.slice(0, gate).map((station, index) => <Stop key={station.step} station={station} starts={starts(list, index)} {...shared} />)}
            </ol>
            <Gate place={place} base={base} ways={ways} />
            {gate < list.length && (
              <ol class="lead lead-live">
                {list.slice(gate).map((station, index) => <Stop key={station.step} station={station} starts={index === 0} {...shared} />)}
              </ol>
            )}
          </div>}
          <div class="meter-side meter-more">
            <Notes ways={ways} />
            <Expected ways={ways} />
          </div>
        </div>
      </section>
      <p class="acts"><a class="act" href="#/readings"><Icon name="meter" />{w.toWhole}</a></p>
      <Beside place={place} to={meterOf} />
    </div>
  );
}

/** A station with which another state of the installation begins. */
function starts(list: readonly Station[], index: number): boolean {
  return list[index]?.when !== list[index - 1]?.when;
}

function Refused({ under }: { under: string }) {
  const found = useReading(() => {
    return [...readingErrors.value].filter(([path]) => path === "" || path === under || path.startsWith(`${under}.`));
  }).value;
  if (found.length === 0) return null;
  return (
    <div class="refused">
      <h2>{w.refused}</h2>
      <ul>{found.map(([path, text]) => <li key={path}><span>{text}</span></li>)}</ul>
    </div>
  );
}

function stationName(place: Place, step: TestStep): string {
  return `${placeKey(place)}-${step}`;
}

export function toStation(place: Place, step: TestStep): void {
  setOpen(stationName(place, step), true);
  requestAnimationFrame(() => {
    const at = document.getElementById(`test-${step}`);
    at?.scrollIntoView({ block: "start" });
    const entry = at?.parentElement?.querySelector<HTMLElement>(".stop-body input, .stop-body select, .stop-body button");
    (entry ?? at)?.focus({ preventScroll: true });
  });
}

/** What to do now, and what must be true before. */
function NextCard({ place, ways, next, list }: { place: Place; ways: readonly Way[]; next: NextTest | null; list: readonly Station[] }) {
  const may = mayEnergise(ways);
  if (next === null) {
    return <Plate outcome="cannot-say" title={w.next} word={w.keepOff} id="next"><p>{w.noneKnown}</p></Plate>;
  }
  if (next.kind === "complete" && isThrough(ways)) {
    if (list.length === 0) return <Plate outcome="none" title={words.place.hereShort} word={w.noTest} id="next"><p>{w.noTestText}</p></Plate>;
    return <Plate outcome="pass" title={words.place.hereShort} word={w.complete} id="next"><p>{w.completeText}</p></Plate>;
  }
  if (next.kind === "test") {
    const station = list.find(({ step }) => step === next.step);
    return (
      <div class="next" id="next">
        <p class="next-kind">{next.again === null ? w.next : `${w.nextAgain}: ${w.outcome[next.again]}`}</p>
        <p class="next-name">{next.name}</p>
        {next.before.length > 0 && (
          <>
            <p class="small-head">{w.before}</p>
            <ul class="before">{next.before.map((one) => <li key={one}>{one}</li>)}</ul>
          </>
        )}
        {station && (entersAt(next.step, place.kind)
          ? <div class="acts"><button type="button" class="act act-main" onClick={() => toStation(place, next.step)}>{w.nextGo}<Icon name="go" /></button></div>
          : <Elsewhere place={place} station={station} />)}
      </div>
    );
  }
  return may
    ? <Plate outcome="pass" title={w.next} word={w.energise} id="next"><p>{w.energiseText}</p></Plate>
    : <Plate outcome="fail" title={list.length === 0 ? words.place.hereShort : w.next} word={w.keepOff} id="next"><Why ways={ways} /></Plate>;
}

function Plate({ outcome, title, word, id, children }: { outcome: Verdict; title: string; word: string; id?: string; children?: ComponentChildren }) {
  return (
    <div class={`plate plate-${outcome}`} id={id}>
      <p class="plate-head"><Mark outcome={outcome} size={44} /><span><small>{title}</small><strong>{word}</strong></span></p>
      {children}
    </div>
  );
}

/** Every reason, each with the way to it. */
function Why({ ways }: { ways: readonly Way[] }) {
  const all = reasons(ways);
  if (all.length === 0) return <p>{w.noneKnown}</p>;
  return <ul class="why">{all.map((one) => <WhyOne key={JSON.stringify(one.stop)} reason={one} />)}</ul>;
}

function WhyOne({ reason: { stop, when } }: { reason: Reason }) {
  const where = useReading(() => placeName(job.value, stop.place)).value;
  const what = stop.name === null ? stop.text : `${stop.name}: ${stop.text}`;
  const { step } = stop;
  return (
    <li>
      <Mark outcome={stop.outcome ?? "cannot-say"} size={20} />
      <span>{when.length > 0 && <span class="when">{when.join(", ")}: </span>}{what} <a class="why-where" href={step === null && stop.name === null && stop.outcome !== null ? hrefOf(stop.place) : meterOf(stop.place)}
        onClick={() => step !== null && setOpen(stationName(stop.place, step), true)}>{where}</a></span>
    </li>
  );
}

/** The switch between dead and live. */
function Gate({ place, base, ways }: { place: Place; base: Path; ways: readonly Way[] }) {
  const may = mayEnergise(ways);
  const live = useReading(() => {
    const held = testsOf(job.value, place);
    return held !== null && "energised" in held && held.energised;
  }).value;
  const spot = { place, base, keys: ["energised"] };
  const outcome = may ? "pass" : "fail";
  return (
    <div class={`gate gate-${may ? "may" : "off"}`}>
      <svg class="gate-switch" viewBox="0 0 40 72" width="40" height="72" aria-hidden="true" focusable="false">
        <path class="gate-wire" d="M20 0v14M20 58v14" />
        <circle class="gate-pole" cx="20" cy="16" r="5" />
        <circle class="gate-pole" cx="20" cy="56" r="5" />
        {may ? <path class="gate-arm" d="M20 16v40" /> : <path class="gate-arm" d="M20 56 38 20" />}
      </svg>
      <Plate outcome={outcome} title={words.place.hereShort} word={may ? w.energise : live ? w.liveAlready : w.keepOff}>
        {may ? <p>{w.energiseText}</p> : <Why ways={ways} />}
        {place.kind !== "board" && (may || live
          ? <Switch id={fieldId([...base, "energised"])} label={place.kind === "supply" ? w.mainLive : w.isLive} hint={may ? w.isLiveHint : undefined} on={live} onFlip={(on) => put(spot, on)} />
          : <button type="button" class="link" onClick={() => put(spot, true)}>{w.isLiveUnder}</button>)}
      </Plate>
    </div>
  );
}

function Stop({ station, place, base, next, starts: begins }: { station: Station; place: Place; base: Path; next: NextTest | null; starts: boolean }) {
  const name = stationName(place, station.step);
  const here = entersAt(station.step, place.kind);
  const open = here && isOpen(name);
  const isNext = next?.kind === "test" && next.step === station.step;
  const id = `stop-${station.step}`;
  const read = station.readings.filter(({ each }) => each.some(({ judged }) => judged.taken));
  return (
    <>
      {begins && <li class="lead-phase">{w.phase[station.when]}</li>}
      <li class={`stop stop-${station.outcome ?? "none"}${isNext ? " is-next" : ""}`}>
        <span class="stop-bead" aria-hidden="true"><Mark outcome={station.outcome ?? "none"} size={28} /></span>
        <div class={`stop-card${open ? " is-open" : ""}`}>
          <h3 class="stop-head" id={`test-${station.step}`} tabIndex={-1}>
            {here ? (
              <button type="button" aria-expanded={open} aria-controls={id} onClick={() => setOpen(name, !open)}>
                <StopWords station={station} isNext={isNext} read={read.length} />
                <Icon name={open ? "up" : "down"} />
              </button>
            ) : <span class="stop-there"><StopWords station={station} isNext={isNext} read={read.length} /></span>}
          </h3>
          {!here && <Elsewhere place={place} station={station} />}
          {here && (
            <div id={id} class="stop-body" hidden={!open}>
              {open && (
                <>
                  {station.before.length > 0 && (
                    <details class="stop-before" open={isNext}>
                      <summary>{w.before}</summary>
                      <ul class="before">{station.before.map((one) => <li key={one}>{one}</li>)}</ul>
                    </details>
                  )}
                  <StationBody station={station} place={place} base={base} />
                </>
              )}
            </div>
          )}
        </div>
      </li>
    </>
  );
}

function StopWords({ station, isNext, read }: { station: Station; isNext: boolean; read: number }) {
  const figures = station.readings.flatMap(({ each }) => {
    const [one] = each;
    return one?.judged.taken ? [shownShort(one.judged)] : [];
  }).filter((text) => text !== "");
  return (
    <span class="stop-words">
      <span class="stop-name">{station.name}{isNext && <span class="stop-next">{w.nextShort}</span>}</span>{" "}
      <span class="stop-line"><OutcomeWord outcome={station.outcome} />{figures.length > 0 && <> <b>{figures.slice(0, 3).join(", ")}{read > 3 ? " …" : ""}</b></>}</span>
    </span>
  );
}

/** A test that is made nearer the supply and counts here too. */
function Elsewhere({ place, station }: { place: Place; station: Station }) {
  const where = useReading(() => {
    const own = testsPath(job.value, place);
    const paths = station.readings.map(({ path }) => path).filter((path) => own === null || !isHere(path, pathText(own)));
    const named = paths.map((path) => placeOfPath(job.value, parsePath(path))).find((one) => one !== null);
    // The nearest place upstream where it is entered.
    for (let at = before(job.value, place), hops = 0; !named && at && hops < 64; at = before(job.value, at), hops += 1) {
      if (entersAt(station.step, at.kind)) return { at, name: placeName(job.value, at) };
    }
    return named ? { at: named, name: placeName(job.value, named) } : null;
  }).value;
  if (!where) return null;
  return <a class="link stop-elsewhere" href={meterOf(where.at)} onClick={() => setOpen(stationName(where.at, station.step), true)}>{w.elsewhere(where.name)}<Icon name="go" /></a>;
}

function Expected({ ways }: { ways: readonly Way[] }) {
  const cold = useReading(() => (job.value.testing?.ambient ?? null) === null).value;
  const told = ways.flatMap(({ earthing, place }) => (place && place.expected.length > 0 ? [{ earthing, facts: place.expected }] : []));
  const [first] = told;
  if (!first) return null;
  const alike = told.every(({ facts }) => JSON.stringify(facts) === JSON.stringify(first.facts));
  return (
    <section class="expected" aria-labelledby="expected">
      <h2 id="expected">{w.expected}</h2>
      <p class="hint">{cold ? w.expectedCold : w.expectedHint}</p>
      {(alike ? [first] : told).map(({ earthing, facts }) => (
        <div key={earthing}>
          {!alike && <p class="small-head">{words.ifEarthing(earthing)}</p>}
          <dl class="expected-list">{facts.filter(({ shown }) => shown !== "").map((fact) => <ExpectedFact key={fact.fact} fact={fact} />)}</dl>
        </div>
      ))}
    </section>
  );
}

function ExpectedFact({ fact }: { fact: Fact }) {
  return <div><dt>{fact.name}</dt><dd><span class="fact-symbol">{fact.symbol}</span> <b>{withUnit(fact.shown, fact.unit)}</b></dd></div>;
}

function Notes({ ways }: { ways: readonly Way[] }) {
  const notes = notesOf(ways);
  const names = useReading(() => new Map(job.value.circuits.map(({ id, name }) => [id, name]))).value;
  if (notes.length === 0) return null;
  return (
    <section class="notes" aria-labelledby="notes">
      <h2 id="notes">{w.notes}</h2>
      <ul>
        {notes.map((note) => {
          const what = [note.section === null ? "" : words.section.title(note.section + 1), note.circuit === null ? "" : (names.get(note.circuit) ?? note.circuit), note.conductors.join(", ")].filter((one) => one !== "");
          return <li key={JSON.stringify(note)}>{note.text}{what.length > 0 && <span class="note-what"> {what.join("; ")}</span>}</li>;
        })}
      </ul>
    </section>
  );
}

