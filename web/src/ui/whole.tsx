// The whole job: its verdict, what to look at first, and the path from the supply to every furthest point.

import { nameOf } from "../job/edit";
import { parsePath } from "../job/path";
import { placeOfPath } from "../job/tests";
import { before, placeKey, trail, walk } from "../job/tree";
import type { Finding, Outcome, Place } from "../job/types";
import { hrefOf } from "../route";
import { answer, errorsByPath, job, offered } from "../state";
import { words } from "words:page";
import { Caution, figures, Refused, Tag } from "./found";
import { useReading } from "./hooks";
import { goToEntry } from "./jump";
import { Icon, Mark } from "./marks";
import { Row } from "./row";

const w = words.whole;

export function WholeView() {
  const name = useReading(() => job.value.name).value;
  const rules = useReading(() => {
    const { profile } = job.value;
    return typeof profile === "string" ? offered.value.profiles[profile].name : profile.name;
  }).value;
  return (
    <div class="whole">
      <header class="whole-head">
        <p class="app-name">{words.app}</p>
        <h1 id="here" tabIndex={-1}>{name === "" ? words.place.unnamed : name}</h1>
      </header>
      <div class="whole-top">
        <section class="whole-verdict" id="verdict" aria-label={words.found.title}>
          <Verdict />
          <Caution />
          <p class="acts whole-acts"><a class="act" href="#/readings"><Icon name="meter" />{words.meter.glance.title}</a><a class="act" href="#/drawing"><Icon name="drawing" />{w.drawing}</a></p>
          <p class="rules-now"><a href="#/rules">{w.rulesNow(rules)}</a> <a href="#/self-check">{words.selfCheck.title}</a></p>
        </section>
        <div class="whole-first">
          <Refused under={null} />
          <First />
        </div>
      </div>
      <section class="path" aria-labelledby="path">
        <h2 id="path">{w.path}</h2>
        <p class="hint path-hint">{w.pathHint}</p>
        <Path />
      </section>
      <Cautions />
    </div>
  );
}

function count(findings: readonly Finding[], outcome: Finding["outcome"]): number {
  return findings.filter((one) => one.outcome === outcome).length;
}

function Verdict() {
  const said = useReading(() => ({
    outcome: answer.value.outcome,
    each: answer.value.judgements.map(({ earthing, outcome, places }) => {
      const all = places.flatMap(({ findings }) => findings);
      return { earthing, outcome, fails: count(all, "fail"), unsaid: count(all, "cannot-say") + count(all, "doubtful") };
    }),
    refused: errorsByPath.value.size,
    empty: job.value.circuits.length === 0,
  })).value;
  const tell = ({ outcome, fails, unsaid }: { outcome: Outcome; fails: number; unsaid: number }) => [
    fails + unsaid > 0 ? w.counts(fails, unsaid) : outcome === "pass" ? w.passes : "",
    said.refused > 0 ? w.unread(said.refused) : "",
    said.empty ? w.empty : "",
  ].filter((text) => text !== "").join(" ");
  const [only] = said.each;
  if (said.each.length <= 1) {
    return <Tag outcome={said.outcome} big text={only ? tell(only) : w.noJudgement} />;
  }
  return (
    <>
      <Tag outcome={said.outcome} big text={words.twoWays} />
      <div class="two">
        {said.each.map((one) => (
          <Tag key={one.earthing} outcome={one.outcome} title={words.ifEarthing(words.earthing[one.earthing])} text={tell(one)} />
        ))}
      </div>
    </>
  );
}

const most = 8;

type Told = { key: string; outcome: Outcome; name: string; when: string; said: string; text: string; place: Place; entry: string | null; checks: number };

function isOf(entry: string, place: Place): boolean {
  const of = placeOfPath(job.value, parsePath(entry));
  return of !== null && placeKey(of) === placeKey(place);
}

/** What does not pass, told once: both ways together, and with one line for an entry that several checks wait for. */
function tellFirst(): { shown: Told[]; more: number } {
  const many = answer.value.judgements.length > 1;
  const told = new Map<string, Told>();
  for (const { earthing, places } of answer.value.judgements) {
    const when = many ? words.earthing[earthing] : "";
    for (const { place, findings } of places) {
      const where = place.kind === "supply" ? words.place.supply : nameOf(job.value, place);
      for (const finding of findings) {
        if (finding.outcome === "pass") continue;
        const [open] = finding.outcome === "cannot-say" ? finding.lacking : [];
        const entry = open?.path ?? null;
        const key = entry ?? `${placeKey(place)} ${finding.check} ${finding.text}`;
        const before = told.get(key);
        if (before) {
          before.checks += 1;
          // In the words of the place where it is entered.
          if (open && entry !== null && isOf(entry, place)) [before.text, before.place] = [open.text, place];
          if (when !== "" && !before.when.includes(when)) before.when = `${before.when}, ${when}`;
        } else if (open && entry !== null) {
          told.set(key, { key, outcome: finding.outcome, name: w.open, when, said: "", text: open.text, place, entry, checks: 1 });
        } else {
          told.set(key, {
            key, outcome: finding.outcome, name: `${where}: ${finding.name}`, when, said: figures(finding), text: open?.text ?? finding.text, place, entry, checks: 1,
          });
        }
      }
    }
  }
  const order = (["fail", "doubtful", "cannot-say"] as const).flatMap((wanted) => [...told.values()].filter(({ outcome }) => outcome === wanted));
  return { shown: order.slice(0, most), more: Math.max(0, order.length - most) };
}

function First() {
  const found = useReading(tellFirst).value;
  if (found.shown.length === 0) return null;
  return (
    <section class="first" aria-labelledby="first">
      <h2 id="first">{w.first}</h2>
      <ul>
        {found.shown.map(({ key, place, name, when, outcome, text, said, entry, checks }) => (
          <li key={key}>
            <a class="row first-row" href={hrefOf(place)} onClick={(event) => {
              if (entry === null) return;
              event.preventDefault();
              goToEntry(entry);
            }}>
              <span class="row-marks"><Mark outcome={outcome} /></span>
              <span class="row-words">
                <span class="row-name">{name}{when !== "" && <span class="when"> {when}</span>}</span>{" "}
                {said !== "" && <b class="row-figures">{said} </b>}
                <span class="row-what">{text}</span>{" "}
                {entry !== null && checks > 1 && <span class="row-what">{w.waiting(checks)}</span>}
              </span>
              <Icon name="go" />
            </a>
          </li>
        ))}
      </ul>
      {found.more > 0 && <p class="hint">{words.file.more(found.more)}</p>}
    </section>
  );
}

function Path() {
  const stops = useReading(() => {
    const loose = (place: Place) => place.kind !== "supply" && trail(job.value, place)[0]?.kind !== "supply";
    const feeds = new Set(job.value.boards.map(({ fed_by }) => fed_by));
    let last = "";
    return walk(job.value).map(({ place, depth }) => {
      const end = place.kind === "circuit" && !feeds.has(place.id);
      const from = before(job.value, place);
      // Said only where the eye can't tell it from what stands above.
      const fedFrom = from && placeKey(from) !== last ? nameOf(job.value, from) : null;
      if (!end) last = placeKey(place);
      return { place, depth, loose: loose(place), end, fedFrom };
    });
  }).value;
  return (
    <ol class="map">
      {stops.map(({ place, depth, loose, end, fedFrom }, index) => (
        <li key={placeKey(place)} data-depth={Math.min(depth, 4)}
          class={`${end ? "twig" : "station"} station-${place.kind}${loose ? " is-loose" : ""}${index === stops.length - 1 ? " is-last" : ""}`}>
          {loose && <span class="loose-word">{w.loose}</span>}
          <Row place={place} fedFrom={fedFrom} />
        </li>
      ))}
    </ol>
  );
}

export function Cautions() {
  return (
    <aside class="cautions" aria-labelledby="cautions">
      <h2 id="cautions">{words.caution.title}</h2>
      <ul>{words.caution.points.map((point) => <li key={point}>{point}</li>)}</ul>
    </aside>
  );
}
