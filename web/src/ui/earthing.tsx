// Ways of earthing a board away from the house: side by side, the electrode, what is known of the place.

import { useSignal } from "@preact/signals";
import type { ComponentChildren } from "preact";
import * as core from "../core";
import { checkOf, electrodeOf, isTaken, outcomeOf, waysOf, type Earthing, type Edit, type ElectrodeSaid, type Line, type Missing, type Scheme, type Side, type SituationSaid, type Ways } from "../earthing";
import { fresh } from "../job/fresh";
import { showNumber } from "../job/number";
import { parsePath, setAt, type Path } from "../job/path";
import { nameOf } from "../job/edit";
import { trail, placeKey } from "../job/tree";
import type { Finding, Job, PlannedElectrode, Rcd, Site, SituationKind, Step } from "../job/types";
import { change, edit, job, offered, tell } from "../state";
import { words } from "words:page";
import { ChoiceField, Choosing, fieldId, nameIn, NumberField, Optional, optionsOf, Switch, YesNo } from "./fields";
import { Fold } from "./fold";
import { Caution, Refused, Standing, StepItem, Tag } from "./found";
import { useError, useLater, useReading, useValue } from "./hooks";
import { goToEntry } from "./jump";
import { Icon, Mark } from "./marks";
import { Row } from "./row";

const w = words.ways_of_earthing;

export function EarthingView({ board }: { board: string }) {
  const place = useReading(() => ({ kind: "board" as const, id: board })).value;
  const way = useReading(() => [...trail(job.value, place), place]).value;
  const about = useReading(() => {
    const index = job.value.boards.findIndex(({ id }) => id === board);
    const name = nameOf(job.value, place);
    return { index, name: name === "" ? words.place.unnamed : name, origin: job.value.boards[index]?.fed_by === null };
  }).value;
  const under = `boards[${about.index}]`;
  return (
    <div class="path at-place at-earthing">
      <nav class="trail" aria-label={words.place.from}>
        <ol>{way.map((stop) => <li key={placeKey(stop)} class={`station station-${stop.kind}`}><Row place={stop} /></li>)}</ol>
      </nav>
      <section class="here station station-board" aria-labelledby="here">
        <header class="here-head">
          <p class="here-kind">{words.place.here}: {about.name}</p>
          <h1 id="here" tabIndex={-1}>{w.title}</h1>
        </header>
        <Refused under={under} />
        {about.origin ? <p>{w.atOrigin}</p> : <Compared board={board} index={about.index} />}
      </section>
    </div>
  );
}

function Compared({ board, index }: { board: string; index: number }) {
  // Together: what the electrode is to be comes of the comparison, which takes its time.
  const said = useLater<{ ways: Ways; electrode: ElectrodeSaid }>(() => {
    const compared = waysOf(job.value, board);
    return { ways: compared, electrode: electrodeOf(job.value, board, compared.error === null ? compared.target : null) };
  });
  const ways = said === null ? null : said?.ways;
  const electrode = said === null ? null : said?.electrode;
  const many = (ways?.judgements.length ?? 0) > 1;
  return (
    <>
      <div class="found" id="verdict">
        <h2 class="out">{words.found.title}</h2>
        {ways === undefined && <p class="hint" role="status">{w.comparing}</p>}
        {(ways === null || typeof ways?.error === "string") && <Tag outcome="cannot-say" text={w.unable} />}
        {many && <p class="both-ways">{words.twoWays}</p>}
        {ways?.judgements.map(({ earthing, sides }, judgement) => (
          <Judged key={earthing} board={board} judgement={judgement} earthing={earthing} sides={sides} ways={ways} many={many} />
        ))}
        <Caution />
      </div>
      <div class="here-body">
        <div class="side">
          <h2 class="side-head">{w.electrode.title}</h2>
          {ways && electrode?.error === null && <ElectrodePart ways={ways} said={electrode} />}
          {electrode === null && <p class="hint">{w.unable}</p>}
        </div>
        <div class="side">
          <h2 class="side-head">{w.form.title}</h2>
          <SiteForm index={index} said={electrode ?? null} limit={ways?.limit ?? ""} />
        </div>
      </div>
    </>
  );
}

/** What to think of first: places to which the earth of such a supply is not simply taken. */
function Situations({ all }: { all: SituationSaid[] }) {
  if (all.length === 0) return null;
  return (
    <section class="places" aria-labelledby="places">
      <h3 id="places">{w.situations.title}</h3>
      <ul>
        {all.map(({ name, why, stance, stanceText, source, standing, byJob }) => (
          <li key={name} class={`place-said place-${stance}`}>
            <Mark outcome={stance === "not-allowed" ? "cannot-say" : "doubtful"} />
            <div>
              <p class="place-name">{name} <span class="check-outcome">{w.situations[stance]}{byJob && `, ${w.situations.byJob}`}</span></p>
              <p>{stanceText}</p>
              <details>
                <summary>{w.situations.why}</summary>
                <p>{why}</p>
                <p class="step-source"><Standing of={standing} /> {source}</p>
              </details>
            </div>
          </li>
        ))}
      </ul>
    </section>
  );
}

type Judging = { board: string; judgement: number; earthing: Earthing; sides: Side[]; ways: Ways; many: boolean };

function Judged({ board, judgement, earthing, sides, ways, many }: Judging) {
  const title = many ? words.ifEarthing(words.earthing[earthing]) : w.sideBySide;
  const id = (scheme: Scheme) => `way-${judgement}-${scheme}`;
  return (
    <section class="judged" aria-label={title}>
      <h3 class={many ? "judged-head" : "out"}>{title}</h3>
      <ul class="glance">
        {sides.map((side) => (
          <li key={side.scheme}>
            <a class="row" href={`#${id(side.scheme)}`} onClick={(event) => {
              event.preventDefault();
              const to = document.getElementById(id(side.scheme));
              to?.scrollIntoView({ block: "start" });
              to?.focus({ preventScroll: true });
            }}>
              <span class="row-marks"><Mark outcome={outcomeOf(side)} /></span>
              <span class="row-words"><span class="row-name">{w.short[side.scheme]}</span></span>
              <span class="row-said"><b class={`said-${outcomeOf(side)}`}>{words.outcome[outcomeOf(side)]}</b></span>
            </a>
          </li>
        ))}
      </ul>
      {judgement === 0 && <Situations all={ways.situations} />}
      <div class="ways-three">
        {sides.map((side) => <WayCard key={side.scheme} id={id(side.scheme)} board={board} judgement={judgement} side={side} ways={ways}
          everywhere={sides.every((one) => checkOf(one) === checkOf(side))} />)}
      </div>
    </section>
  );
}

type Card = { id: string; board: string; judgement: number; side: Side; ways: Ways; everywhere: boolean };

function WayCard({ id, board, judgement, side, ways, everywhere }: Card) {
  const outcome = outcomeOf(side);
  const decided = checkOf(side);
  const taken = useReading(() => isTaken(job.value, side)).value;
  const open = useSignal(false);
  const working = `${id}-working`;
  // The verdict is with the RCD it needs, each finding with those there are.
  const now = side.rcd.need === "this" ? w.now : "";
  return (
    <article class="way" aria-labelledby={`${id}-name`}>
      <h4 class="way-name" id={`${id}-name`}><span id={id} tabIndex={-1}>{w.name[side.scheme]}</span></h4>
      <Tag outcome={outcome} title={side.rcd.need === "this" ? w.withRcd : w.asFitted} />
      {side.rcd.need === "this" && side.outcome !== outcome && (
        <p class="way-now"><Mark outcome={side.outcome} size={20} /> {w.now}: <b>{words.outcome[side.outcome]}</b>{side.check !== "" && ` (${side.check})`}</p>
      )}
      {/* The outcome is of the board and what hangs on it: its feed has its own. */}
      {side.feed !== "pass" && <p class="way-now"><Mark outcome={side.feed} size={20} /> {w.feed}: <b>{words.outcome[side.feed]}</b></p>}
      {decided !== "" && <p class="way-now">{everywhere ? w.whichever(decided) : w.because(decided)}</p>}
      <Cautions grave={side.grave} others={side.cautions} />
      <dl class="way-figures">
        <Item name={w.rcd}><RcdSaid side={side} /></Item>
        <Item name={w.disconnection}><FindingSaid of={side.disconnection} none={w.noCircuits} name={now} /></Item>
        {side.atBoard && <Item name={w.atBoard}><FindingSaid of={side.atBoard} name={now} /></Item>}
        <Item name={w.touch}><FindingSaid of={side.touch} none={side.scheme === "own-electrode" ? w.noTouchRcd : w.noTouch} name={now} /></Item>
        {side.scheme === "own-electrode" && (
          <Item name={w.sought}>
            <p>{side.sought ? <>{w.atMost} <b>{side.sought.ra}</b> {w.soughtWith(rcdText(side.sought.rcd))}</> : w.noSought}</p>
          </Item>
        )}
        {side.scheme !== "extend-supply" && (
          <Item name={w.planned}>
            {ways.electrode === "" ? <p>{w.electrodeOpen}</p> : (
              <>
                <p><b>{ways.electrode}</b> ({w.from[ways.electrodeFrom ?? "entered"]})</p>
                <p class="way-small">{side.stable === true ? w.stable : w.notStable}</p>
              </>
            )}
          </Item>
        )}
        <Item name={w.bonding}>
          {side.bondingNeeded !== "" && <p>{w.atLeast} <b>{side.bondingNeeded}</b> {w.copper}</p>}
          <Open all={side.bondingMissing} />
          <FindingSaid of={side.bonding} none={w.noBonding} name={w.fitted} />
          {side.feedBonding && <FindingSaid of={side.feedBonding} name={w.feedBonding} />}
        </Item>
        {side.earthingConductor && <Item name={w.earthingConductor}><FindingSaid of={side.earthingConductor} /></Item>}
        <Item name={w.armour}>
          <p>{w.armours[side.armour]}</p>
          {side.apartAtOrigin && <p class="way-small"><Mark outcome={side.apartAtOrigin} size={18} /> {w.otherEnd}: {words.outcome[side.apartAtOrigin]}</p>}
        </Item>
        <Item name={w.lost}><LostSaid side={side} limit={ways.limit} /></Item>
        {side.through !== "" && <Item name={w.through}><b>{side.through}</b></Item>}
      </dl>
      <button type="button" class="passed-head way-working" aria-expanded={open.value} aria-controls={working} onClick={() => (open.value = !open.value)}>
        <span>{words.working.title}</span> <Icon name={open.value ? "up" : "down"} />
      </button>
      <div id={working} hidden={!open.value}>{open.value && <Worked judgement={judgement} side={side} />}</div>
      <div class="acts">
        {taken ? <p class="taken">{w.taken}</p> : (
          <button type="button" class="act act-main" onClick={() => {
            change(withEdits(job.value, board, side));
            tell(w.tookOver(w.name[side.scheme]), true);
          }}>{w.take}<span class="out">: {w.name[side.scheme]}</span></button>
        )}
      </div>
    </article>
  );
}

function Item({ name, children }: { name: string; children: ComponentChildren }) {
  return <div><dt>{name}</dt><dd>{children}</dd></div>;
}

function Cautions({ grave, others }: { grave: string[]; others: string[] }) {
  if (grave.length + others.length === 0) return null;
  return (
    <div class="way-cautions">
      {grave.length > 0 && <ul class="warn">{grave.map((one) => <li key={one}>{one}</li>)}</ul>}
      {others.length > 0 && (
        <details>
          <summary>{w.think(others.length)}</summary>
          <ul class="warn">{others.map((one) => <li key={one}>{one}</li>)}</ul>
        </details>
      )}
    </div>
  );
}

function Open({ all }: { all: Missing[] }) {
  if (all.length === 0) return null;
  return (
    <ul>
      {all.map(({ text, path }) => (
        <li key={text}>
          {text}
          {path !== null && <button type="button" class="link" onClick={() => goToEntry(path)}>{words.found.fix}<Icon name="go" /></button>}
        </li>
      ))}
    </ul>
  );
}

/** A finding in a line: its mark, its figures and where. */
function FindingSaid({ of, none = "", name = "" }: { of: Finding | null; none?: string; name?: string }) {
  if (!of) return <p class="way-small">{none}</p>;
  return (
    <>
      <p class="way-finding">
        <Mark outcome={of.outcome} size={20} />
        <span>
          {name !== "" && `${name}: `}{words.outcome[of.outcome]}
          {of.value !== null && <>, <b>{of.shown_value}</b></>}
          {of.limit !== null && <>{of.value === null && ","} {words.found[of.sense]} {of.shown_limit}</>}
        </span>
      </p>
      {of.outcome !== "pass" && of.lacking.length === 0 && <p class="way-small">{of.text}</p>}
      <Open all={of.lacking} />
    </>
  );
}

export function rcdText(rcd: Rcd): string {
  const type = w.type(nameIn("rcd", rcd.kind));
  return [`${showNumber(rcd.sensitivity, -3)}\u00a0mA`, type, rcd.delay === "none" ? "" : w.selective]
    .filter((one) => one !== "").join(", ");
}

function RcdSaid({ side: { rcd } }: { side: Side }) {
  if (rcd.need === "this" && rcd.rcd) return <><p><b>{rcdText(rcd.rcd)}</b></p><p class="way-small">{rcd.selective}</p></>;
  if (rcd.need === "not-known") return rcd.missing.length > 0 ? <Open all={rcd.missing} /> : <p>{w.noCircuits}</p>;
  return <p>{rcd.need === "none" ? w.noRcd : w.noneServes}</p>;
}

function LostSaid({ side: { lost }, limit }: { side: Side; limit: string }) {
  if (lost.lost === "not-joined") return <p>{w.notJoined}</p>;
  if (lost.missing.length > 0 || lost.lost === "not-known") return <><p>{w.lostNotKnown}</p><Open all={lost.missing} /></>;
  const volts = lost.low === lost.high ? lost.high : w.range(lost.low, lost.high);
  if (lost.lost === "apart") return <p>{w.between} <b>{volts}</b></p>;
  return (
    <>
      <p>{w.onMetal} <b>{volts}</b></p>
      {lost.current !== "" && <p class="way-small">{w.lostCurrent(lost.current)}</p>}
      {lost.sought === "at-most" && <p class="way-small">{w.lostSought(limit, lost.soughtRa)}</p>}
      {lost.sought === "impossible" && <p class="way-small">{w.lostImpossible(limit)}</p>}
      {lost.sought === "none" && <p class="way-small">{w.lostBelow(limit)}</p>}
    </>
  );
}

// What makes the job so.

function withSite(of: Job, board: string): Job {
  const index = of.boards.findIndex(({ id }) => id === board);
  return of.boards[index]?.site === null ? setAt(of, ["boards", index, "site"], fresh.site()) : of;
}

function withEdits(of: Job, board: string, side: Side): Job {
  return edited(withSite(of, board), side.edits);
}

function edited(of: Job, edits: readonly Edit[]): Job {
  return edits.reduce((next, { path, value }) => setAt(next, parsePath(path), value), of);
}

function takeRods(edits: readonly Edit[]): void {
  change(edited(job.value, edits));
  tell(w.electrode.tookRods, true);
}

function Worked({ judgement, side }: { judgement: number; side: Side }) {
  // The findings of the walk have theirs in the job as it would be.
  const steps = useLater<{ finding: Finding; steps: Step[] }[]>(() => {
    const board = parsePath(side.edits[0]?.path ?? "")[1];
    const id = typeof board === "number" ? job.value.boards[board]?.id : undefined;
    if (id === undefined) return [];
    const as = edited(withSite(job.value, id), side.edits.filter(({ path }) => !path.endsWith(".rcd")));
    return [side.disconnection, side.atBoard, side.touch, side.bonding].flatMap((finding) => {
      const at = finding && core.judge(as).judgements[judgement]?.places.find(({ findings }) => findings.some((one) =>
        one.check === finding.check && one.value === finding.value && one.limit === finding.limit && one.outcome === finding.outcome));
      return finding && at ? [{ finding, steps: core.working(as, judgement, at.place, finding.check) }] : [];
    });
  });
  return (
    <div class="working">
      {side.working.length > 0 && <Lines all={side.working} />}
      {steps?.map(({ finding, steps: found }) => found.length > 0 && (
        <details key={`${finding.check} ${finding.value ?? ""}`}>
          <summary>{finding.name}</summary>
          <ol class="steps">{found.map((step, index) => <StepItem key={index} number={index + 1} step={step} place={step.place} where />)}</ol>
        </details>
      ))}
      {side.working.length === 0 && steps?.length === 0 && <p class="hint">{words.working.none}</p>}
    </div>
  );
}

function Lines({ all }: { all: Line[] }) {
  return (
    <ol class="steps">
      {all.map((line, index) => (
        <li key={index} class="step-item">
          <span class="step-number" aria-hidden="true">{index + 1}</span>
          <p class="step-name">{line.name}</p>
          <p class="sum"><span class="out">{words.working.formula}: </span>{line.formula}</p>
          {line.filled !== line.formula && <p class="sum sum-filled"><span class="out">{words.working.filled}: </span>{line.filled}</p>}
          <p class="sum-result"><span class="fact-symbol">{line.symbol}</span> = <b>{line.shown}</b></p>
          <p class="step-source"><Standing of={line.standing} /> {line.source}</p>
        </li>
      ))}
    </ol>
  );
}

function ElectrodePart({ ways, said }: { ways: Ways; said: ElectrodeSaid }) {
  const open = useSignal(false);
  const e = w.electrode;
  const { reverse } = said;
  return (
    <div class="electrode-said">
      {said.resistance === "" ? <p>{said.open.length === 0 ? e.none : e.open}</p> : (
        <ul class="facts">
          <li><div class="fact"><span class="fact-name">{e.worst}</span> <span class="fact-line"><span class="fact-symbol">RA</span> <b>{said.resistance}</b></span></div></li>
          <li><div class="fact"><span class="fact-name">{e.today}</span> <span class="fact-line"><span class="fact-symbol">R</span> <b>{said.today}</b></span></div></li>
          {said.approximate !== "" && <li><div class="fact"><span class="fact-name">{e.approximate}</span> <span class="fact-line"><span class="fact-symbol">R</span> <b>{said.approximate}</b></span></div></li>}
        </ul>
      )}
      {said.open.length > 0 && (
        <ul class="electrode-open">
          {said.open.map((path) => (
            <li key={path}><button type="button" class="link" onClick={() => goToEntry(path)}>{e.needs(path.split(".").at(-1) ?? "")}<Icon name="go" /></button></li>
          ))}
        </ul>
      )}
      {said.soilLow !== "" && <p class="way-small">{e.bySoil(said.soilLow, said.soilHigh)}</p>}
      {said.resistance !== "" && <p class="warn-line">{e.measure}</p>}
      {said.stable === false && <p class="warn-line">{w.notStable}</p>}
      {reverse && (
        <dl class="limits">
          <div><dt>{e.target(w.targetFrom[ways.targetFrom])}</dt><dd>{w.atMost} {reverse.target}{reverse.meets !== null && `: ${reverse.meets ? e.meets : e.misses}`}</dd></div>
          <div><dt>{e.length}</dt><dd>{reverse.length !== "" ? `${w.atLeast} ${reverse.length}` : reverse.lengthReason === null ? e.needsDiameter : e.tooLong}</dd></div>
          {(reverse.rods ?? reverse.rodsReason) !== null && (
            <div>
              <dt>{e.rods}</dt>
              <dd>{reverse.rods ? e.rodsSaid(reverse.rods.count, reverse.rods.length, reverse.rods.spacing, reverse.rods.layout === "square", reverse.rods.resistance) : e.tooMany}</dd>
            </div>
          )}
        </dl>
      )}
      {reverse?.meets === false && reverse.rods && (
        <div class="acts">
          <button type="button" class="act" onClick={() => takeRods(reverse.rods?.edits ?? [])}>{e.takeRods(reverse.rods.count)}</button>
        </div>
      )}
      {said.working.length > 0 && (
        <>
          <button type="button" class="passed-head way-working" aria-expanded={open.value} aria-controls="electrode-working" onClick={() => (open.value = !open.value)}>
            <span>{words.working.title}</span> <Icon name={open.value ? "up" : "down"} />
          </button>
          <div id="electrode-working" hidden={!open.value}>{open.value && <div class="working"><Lines all={said.working} /></div>}</div>
        </>
      )}
    </div>
  );
}

/** The dimensions each kind of electrode has. */
const sized: Record<PlannedElectrode["kind"], readonly (keyof PlannedElectrode)[]> = {
  rod: ["length", "diameter"],
  rods: ["length", "diameter", "count", "layout", "spacing"],
  plate: ["width", "height"],
  tape: ["length", "width", "depth"],
  wire: ["length", "diameter", "depth"],
  foundation: ["length", "width", "depth", "in_contact"],
};
/** Thin things are entered in millimetres. */
const thin = new Set<string>(["rod diameter", "rods diameter", "wire diameter", "tape width"]);

function SiteForm({ index, said, limit }: { index: number; said: ElectrodeSaid | null; limit: string }) {
  const at = (...keys: (string | number)[]): Path => ["boards", index, ...keys];
  const site = (...keys: (string | number)[]): Path => at("site", ...keys);
  const f = w.form;
  const [soilFrom, soilTo] = said?.soil ?? [0, 0];
  const [seasonFrom, seasonTo] = said?.seasons ?? [0, 0];
  return (
    <>
      <NumberField label={f.ra} hint={f.raHint} path={at("ra")} unit="Ω" open />
      <Optional label={f.site} path={site()} start={fresh.site}>
        <ChoiceField label={f.soil} path={site("soil")} group="soil" open />
        <NumberField label={f.resistivity} hint={soilTo > 0 ? f.soilHint(showNumber(soilFrom), showNumber(soilTo)) : f.resistivityHint} path={site("resistivity")} unit="Ω·m" open />
        <NumberField label={f.season} path={site("season")} open
          {...(seasonTo > 0 ? { hint: f.seasonHint(showNumber(seasonFrom), showNumber(seasonTo)) } : {})} />
        <ElectrodeForm path={site("electrode")} />
        <Fold name={`site-${index}-compare`} class="field-wide" level={3} title={f.compare} covers={["target", "limit", "least_load", "rcd_kind", "in_addition"].map((key) => site(key))}>
          <NumberField label={f.target} hint={f.targetHint} path={site("target")} unit="Ω" open />
          <ChoiceField label={f.rcdKind} path={site("rcd_kind")} group="rcd" />
          <NumberField label={f.limit} path={site("limit")} unit="V" open {...(limit === "" ? {} : { hint: f.limitHint(limit) })} />
          <NumberField label={f.least} hint={f.leastHint} path={site("least_load")} unit="%" shift={-2} open />
          <YesNo label={f.inAddition} path={site("in_addition")} />
        </Fold>
        <SituationForm index={index} path={site("situations")} />
      </Optional>
    </>
  );
}

function ElectrodeForm({ path }: { path: Path }) {
  const value = useValue(path) as PlannedElectrode | null;
  const error = useError(path);
  const f = w.form;
  const kind = value?.kind ?? "";
  return (
    <>
      <Choosing id={fieldId(path)} label={f.electrode} value={kind} error={error}
        options={[{ value: "", text: f.noElectrode }, ...optionsOf([...path, "kind"], "electrode")]}
        onPick={(picked) => edit(path, picked === "" ? null : { ...(value ?? fresh.electrode()), kind: picked })} />
      {value !== null && sized[value.kind].map((key) => {
        const here = [...path, key];
        if (key === "layout") return <ChoiceField key={key} label={f.layout} path={here} group="layout" open />;
        if (key === "in_contact") return <YesNo key={key} label={f.inContact} hint={f.inContactHint} path={here} />;
        const mm = thin.has(`${value.kind} ${key}`);
        const label = key === "length" && (value.kind === "rod" || value.kind === "rods") ? f.rodLength : f.sizes[key] ?? key;
        return <NumberField key={key} label={label} path={here} open {...(key === "count" ? {} : { unit: mm ? "mm" : "m", shift: mm ? -3 : 0 })} />;
      })}
    </>
  );
}

function SituationForm({ index, path }: { index: number; path: Path }) {
  const chosen = (useValue(path) as Site["situations"] | undefined) ?? [];
  const f = w.form;
  const names = offered.value.names.situation ?? {};
  return (
    <Fold name={`site-${index}-situations`} class="field-wide" level={3} title={f.situations} covers={[path]}
      summary={chosen.length === 0 ? words.form.none : chosen.map((one) => names[one] ?? one).join(" · ")}>
      {Object.entries(names).map(([value, text]) => (
        <Switch key={value} id={`${fieldId(path)}-${value}`} label={text} on={chosen.includes(value as SituationKind)}
          onFlip={(on) => edit(path, on ? [...chosen, value] : chosen.filter((one) => one !== value))} />
      ))}
    </Fold>
  );
}
