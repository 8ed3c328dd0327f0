// Standing at one place of the path: the way here above, what was found and what is there, the ways onward below.

import { addBoard, addCircuit, addLine, copyBoard, copyCircuit, nameOf, remove } from "../job/edit";
import { after, before, downstream, placeKey, trail } from "../job/tree";
import type { Job, Place } from "../job/types";
import { go, hrefOf, hrefOfPictures, meterOf } from "../route";
import { answer, change, job, tell } from "../state";
import { words } from "words:page";
import { setOpen } from "./fold";
import { BoardForm, CircuitForm, Run, SupplyForm } from "./forms";
import { Found, Refused } from "./found";
import { useReading } from "./hooks";
import { Icon } from "./marks";
import { Row, tellFacts } from "./row";

const w = words.place;

export function PlaceView({ place }: { place: Place }) {
  const way = useReading(() => trail(job.value, place)).value;
  const reached = useReading(() => place.kind === "supply" || before(job.value, place) !== null).value;
  const onward = useReading(() => after(job.value, place)).value;
  const about = useReading(() => describe(job.value, place)).value;
  const under = place.kind === "supply" ? "supply" : `${place.kind}s[${about.index}]`;
  return (
    <div class="path at-place">
      {way.length > 0 && (
        <nav class="trail" aria-label={w.from}>
          <ol>
            {way.map((stop) => (
              <li key={placeKey(stop)} class={`station station-${stop.kind}`}><Row place={stop} /></li>
            ))}
          </ol>
        </nav>
      )}
      {!reached && <p class="wrong loose">{w.notConnected}</p>}
      <section class={`here station station-${place.kind}`} aria-labelledby="here">
        <header class="here-head">
          <p class="here-kind">{w.here}: {about.kind}</p>
          <h1 id="here" tabIndex={-1}>{about.name}</h1>
          <Faces place={place} now="paper" />
        </header>
        <div class="here-body">
          <div class="side side-found">
            <h2 class="out">{words.found.title}</h2>
            <Refused under={under} />
            <Found key={placeKey(place)} place={place} />
            {place.kind === "circuit" && <p class="acts"><a class="act" href={hrefOfPictures(place.id)}><Icon name="drawing" />{w.pictures}</a></p>}
          </div>
          <div class="side side-there">
            <h2 class="side-head">{words.form.title}</h2>
            {place.kind === "supply" && <SupplyForm />}
            {place.kind === "board" && <BoardForm key={under} id={place.id} index={about.index} />}
            {place.kind === "circuit" && <CircuitForm key={under} id={place.id} index={about.index} />}
            {place.kind === "circuit" && <Run key={`${under}-run`} id={place.id} index={about.index} />}
            <Actions place={place} name={about.name} />
          </div>
        </div>
      </section>
      <Onward place={place} onward={onward} line={about.line} />
      <Beside place={place} />
    </div>
  );
}

export function placeName(of: Job, place: Place): string {
  const name = nameOf(of, place);
  return place.kind === "supply" ? w.supply : name === "" ? w.unnamed : name;
}

/** On paper or at the meter: the two ways to look at one place. */
export function Faces({ place, now }: { place: Place; now: "paper" | "meter" }) {
  return (
    <nav class="faces" aria-label={words.meter.views}>
      <a href={hrefOf(place)} aria-current={now === "paper" ? "page" : undefined}>{words.meter.paper}</a>
      <a href={meterOf(place)} aria-current={now === "meter" ? "page" : undefined}>{words.meter.meter}</a>
    </nav>
  );
}

export function describe(of: Job, place: Place): { name: string; kind: string; index: number; line: boolean } {
  if (place.kind === "supply") return { name: w.supply, kind: w.supply, index: 0, line: false };
  const name = nameOf(of, place);
  const index = (place.kind === "board" ? of.boards : of.circuits).findIndex(({ id }) => id === place.id);
  const line = place.kind === "circuit" && of.circuits[index]?.use === "distribution";
  return { name: name === "" ? w.unnamed : name, kind: place.kind === "board" ? w.board : line ? w.line : w.circuit, index, line };
}

function Actions({ place, name }: { place: Place; name: string }) {
  if (place.kind === "supply") return null;
  const copy = () => {
    const made = place.kind === "board" ? copyBoard(job.value, place.id, words.act.copyOf) : copyCircuit(job.value, place.id, words.act.copyOf);
    if (!made) return;
    change(made.job);
    tell(words.act.copied(name), true);
    go(hrefOf({ kind: place.kind, id: made.id }));
  };
  const drop = () => {
    const back = before(job.value, place);
    const more = downstream(job.value, place).length - 1;
    change(remove(job.value, place));
    tell(more > 0 ? words.act.removedWith(name, more) : words.act.removed(name), true);
    go(back ? hrefOf(back) : "#/");
  };
  return (
    <div class="acts">
      <button type="button" class="act" onClick={copy}><Icon name="copy" />{words.act.copy}</button>
      <button type="button" class="act act-remove" onClick={drop}><Icon name="remove" />{words.act.remove}</button>
    </div>
  );
}

function Onward({ place, onward, line }: { place: Place; onward: Place[]; line: boolean }) {
  const step = (made: Job, to: Place) => {
    tell(words.act.added(nameOf(made, to)), true);
    go(hrefOf(to));
  };
  const newCircuit = (board: string) => {
    const made = addCircuit(job.value, board, words.act.newCircuit);
    change(made.job);
    setOpen(`circuit-${made.id}-what`, true);
    setOpen(`section-${made.id}-0`, true);
    step(made.job, { kind: "circuit", id: made.id });
  };
  const newLine = (board: string) => {
    const made = addLine(job.value, board, words.act.newLine, words.act.newBoard);
    change(made.job);
    setOpen(`section-${made.line}-0`, true);
    step(made.job, { kind: "circuit", id: made.line });
  };
  const newBoard = (fedBy: string | null) => {
    const made = addBoard(job.value, fedBy, words.act.newBoard);
    change(made.job);
    setOpen(`board-${made.id}-what`, true);
    step(made.job, { kind: "board", id: made.id });
  };
  const ends = place.kind === "circuit" && !line && onward.length === 0;
  return (
    <section class={`onward${ends ? " is-end" : ""}`} aria-labelledby="onward">
      <h2 id="onward">{ends ? w.furthest : w.onward}</h2>
      {ends && <Furthest place={place} />}
      {onward.length > 0 && (
        <ul class="twigs">
          {onward.map((next) => <li key={placeKey(next)} class={`twig twig-${next.kind}`}><Row place={next} /></li>)}
        </ul>
      )}
      {!ends && (
        <div class="acts">
          {place.kind === "board" && <button type="button" class="act act-main" onClick={() => newCircuit(place.id)}><Icon name="add" />{words.act.addCircuit}</button>}
          {place.kind === "board" && <button type="button" class="act" onClick={() => newLine(place.id)}><Icon name="add" />{words.act.addLine}</button>}
          {place.kind === "supply" && <button type="button" class="act" onClick={() => newBoard(null)}><Icon name="add" />{words.act.addBoardOrigin}</button>}
          {place.kind === "circuit" && <button type="button" class="act" onClick={() => newBoard(place.id)}><Icon name="add" />{words.act.addBoardHere}</button>}
        </div>
      )}
    </section>
  );
}

function Furthest({ place }: { place: Place }) {
  const told = useReading(() => answer.value.judgements.map(({ earthing }, at) => ({ earthing: words.earthing[earthing], facts: tellFacts(place, at) }))).value;
  return (
    <>
      {told.filter(({ facts }) => facts.length > 0).map(({ earthing, facts }) => (
        <p key={earthing} class="furthest">
          {told.length > 1 && `${earthing}: `}
          {facts.map(({ symbol, shown }) => <span key={symbol}><span class="fact-symbol">{symbol}</span> <b>{shown}</b></span>)}
        </p>
      ))}
      <p class="hint">{w.furthestHint}</p>
    </>
  );
}

/** The neighbours on the same board, one step away. */
export function Beside({ place, to = hrefOf }: { place: Place; to?: (place: Place) => string }) {
  const beside = useReading(() => {
    if (place.kind !== "circuit") return { back: null, next: null, backName: "", nextName: "" };
    const board = before(job.value, place);
    const all = board ? after(job.value, board) : [];
    const at = all.findIndex((one) => placeKey(one) === placeKey(place));
    const back = all[at - 1] ?? null;
    const next = all[at + 1] ?? null;
    return { back, next, backName: back ? nameOf(job.value, back) : "", nextName: next ? nameOf(job.value, next) : "" };
  }).value;
  if (!beside.back && !beside.next) return null;
  return (
    <nav class="beside" aria-label={w.beside}>
      {beside.back && <a class="act" href={to(beside.back)}><Icon name="back" /><span class="out">{w.previous}: </span>{beside.backName}</a>}
      {beside.next && <a class="act act-next" href={to(beside.next)}><span class="out">{w.next}: </span>{beside.nextName}<Icon name="go" /></a>}
    </nav>
  );
}
