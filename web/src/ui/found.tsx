// What the core found at a place: the verdict, the numbers, each check with its reasons and its working.

import { useSignal } from "@preact/signals";
import * as core from "../core";
import { parsePath } from "../job/path";
import { placeKey } from "../job/tree";
import type { Fact, Finding, Job, Judgement, Place, PlaceAnswer, Solutions, Step } from "../job/types";
import { answer, change, job, places, tell } from "../state";
import { setAt } from "../job/path";
import { nameOf } from "../job/edit";
import { verdictOf } from "../verdict";
import { words } from "words:page";
import { useLater, useReading } from "./hooks";
import { goToEntry } from "./jump";
import { Icon, Mark } from "./marks";

const w = words.found;

/** The verdict as a tag hung on the cable. */
export function Tag({ outcome, title, text, big = false }: { outcome: Finding["outcome"]; title?: string; text?: string; big?: boolean }) {
  return (
    <div class={`tag tag-${outcome}${big ? " tag-big" : ""}`}>
      <Mark outcome={outcome} size={big ? 64 : 44} />
      <div class="tag-words">
        {title !== undefined && <span class="tag-title">{title}</span>}
        <strong class="tag-word">{words.outcome[outcome]}</strong>
        {text !== undefined && <span class="tag-text">{text}</span>}
      </div>
    </div>
  );
}

/** The usual cautions in a line, wherever a verdict stands. */
export function Caution() {
  return <p class="caution-short">{words.caution.short} <a href="#/" onClick={() => setTimeout(() => document.getElementById("cautions")?.scrollIntoView(), 60)}>{words.caution.more}</a></p>;
}

export function Found({ place }: { place: Place }) {
  const key = placeKey(place);
  const count = useReading(() => answer.value.judgements.map(({ earthing }) => earthing)).value;
  return (
    <div class={`found${count.length > 1 ? " found-two" : ""}`} id="verdict">
      {count.length > 1 && <p class="both-ways">{words.twoWays}</p>}
      {count.map((earthing, judgement) => (
        <FoundOne key={`${key}-${earthing}`} place={place} judgement={judgement} earthing={count.length > 1 ? earthing : null} />
      ))}
      {count.length === 0 && <Tag outcome="cannot-say" text={words.whole.noJudgement} />}
      <Caution />
    </div>
  );
}

function FoundOne({ place, judgement, earthing }: { place: Place; judgement: number; earthing: Judgement["earthing"] | null }) {
  const key = placeKey(place);
  const found = useReading<PlaceAnswer | undefined>(() => places.value[judgement]?.get(key)).value;
  const head = useReading(() => (found ? { outcome: found.outcome } : null)).value;
  if (!found || !head) return <Tag outcome="cannot-say" text={words.whole.noJudgement} />;
  const open = found.findings.filter(({ outcome }) => outcome !== "pass");
  const passed = found.findings.filter(({ outcome }) => outcome === "pass");
  return (
    <section class="found-one" aria-label={earthing === null ? w.title : words.ifEarthing(words.earthing[earthing])}>
      {verdictOf(found) !== "none" && <Tag outcome={found.outcome} {...(earthing === null ? {} : { title: words.ifEarthing(words.earthing[earthing]) })} />}
      <Numbers place={place} judgement={judgement} facts={found.facts} />
      {found.findings.length === 0 ? <p class="hint">{w.nothing}</p> : verdictOf(found) === "none" && <p class="hint">{w.feedsNothing}</p>}
      {open.length > 0 && (
        <ul class="checks">
          {open.map((finding) => <Check key={`${finding.check}-${finding.section ?? ""}`} place={place} judgement={judgement} finding={finding} />)}
        </ul>
      )}
      {passed.length > 0 && <Passed place={place} judgement={judgement} findings={passed} />}
      {place.kind === "circuit" && <Ways key={key} circuit={place.id} judgement={judgement} />}
    </section>
  );
}

function Passed({ place, judgement, findings }: { place: Place; judgement: number; findings: Finding[] }) {
  const open = useSignal(false);
  const id = `passed-${judgement}`;
  return (
    <div class="passed">
      <button type="button" class="passed-head" aria-expanded={open.value} aria-controls={id} onClick={() => (open.value = !open.value)}>
        <Mark outcome="pass" />
        <span>{w.passed(findings.length)}</span>{" "}
        <span class="passed-way">{open.value ? w.hide : w.show}</span>
        <Icon name={open.value ? "up" : "down"} />
      </button>
      <div id={id} hidden={!open.value}>
        {open.value && (
          <ul class="checks">
            {findings.map((finding) => <Check key={`${finding.check}-${finding.section ?? ""}`} place={place} judgement={judgement} finding={finding} />)}
          </ul>
        )}
      </div>
    </div>
  );
}

/** The value and its limit, in words. */
export function figures({ shown_value: value, shown_limit: limit, unit, sense }: Pick<Finding, "shown_value" | "shown_limit" | "unit" | "sense">): string {
  return [withUnit(value, unit), limit === "" ? "" : `${w[sense]} ${withUnit(limit, unit)}`].filter((part) => part !== "").join(", ");
}

/** The unit after the figure, unless the core has put it there already. */
export function withUnit(shown: string, unit: string): string {
  return shown === "" || unit === "" || shown.endsWith(unit) ? shown : `${shown}\u00a0${unit}`;
}

/** The numbers a person looks for first; the others fold away. */
const first = new Set(["demand", "ib", "iz", "zs", "ipf-max", "drop-share"]);

function Numbers({ place, judgement, facts }: { place: Place; judgement: number; facts: Fact[] }) {
  const open = useSignal<string | null>(null);
  const all = useSignal(false);
  const told = facts.filter(({ fact, value }) => value !== null && (all.value || first.has(fact)));
  const more = facts.filter(({ fact, value }) => value !== null && !first.has(fact)).length;
  if (told.length === 0) return null;
  const shown = told.find(({ fact }) => fact === open.value);
  const id = `numbers-${judgement}`;
  return (
    <div class="numbers" role="group" aria-label={w.numbers}>
      <ul class="facts">
        {told.map((fact) => (
          <li key={fact.fact}>
            <button type="button" class="fact" aria-expanded={open.value === fact.fact} aria-controls={id}
              onClick={() => (open.value = open.value === fact.fact ? null : fact.fact)}>
              <span class="fact-name">{fact.name}</span>{" "}
              <span class="fact-line"><span class="fact-symbol">{fact.symbol}</span> <b>{withUnit(fact.shown, fact.unit)}</b></span>
            </button>
          </li>
        ))}
      </ul>
      <div id={id} hidden={!shown}>
        {shown && <Steps key={shown.fact} place={place} read={() => core.working(job.value, judgement, place, shown.fact)} none={words.working.none} />}
      </div>
      {more > 0 && (
        <button type="button" class="link" aria-expanded={all.value} onClick={() => (all.value = !all.value)}>
          {all.value ? w.fewerNumbers : w.moreNumbers}<Icon name={all.value ? "up" : "down"} />
        </button>
      )}
    </div>
  );
}

function Check({ place, judgement, finding }: { place: Place; judgement: number; finding: Finding }) {
  const open = useSignal(false);
  const id = `check-${judgement}-${finding.check}-${finding.section ?? ""}`;
  const used = finding.margin === null ? null : 1 - finding.margin;
  return (
    <li class={`check check-${finding.outcome}`}>
      <button type="button" class="check-head" aria-expanded={open.value} aria-controls={id} onClick={() => (open.value = !open.value)}>
        <Mark outcome={finding.outcome} />
        <span class="check-words">
          <span class="check-name">{finding.name} <span class="check-outcome">{words.outcome[finding.outcome]}</span></span>{" "}
          <span class="check-line">
            {finding.shown_value !== "" && <b>{withUnit(finding.shown_value, finding.unit)}</b>}
            {finding.shown_limit !== "" && <> {w[finding.sense]} {withUnit(finding.shown_limit, finding.unit)}</>}
          </span>{" "}
          {finding.outcome !== "pass" && <span class="check-text">{finding.text}</span>}
        </span>
        <Icon name={open.value ? "up" : "down"} />
        {used !== null && <Gauge used={used} />}
      </button>
      {finding.lacking.length > 0 && (
        <div class="lacking">
          <p class="lacking-head">{w.lacking}</p>
          <ul>
            {finding.lacking.map(({ text, path }) => (
              <li key={text}>
                {text}
                {path !== null && <button type="button" class="link" onClick={() => goToEntry(path)}>{w.fix}<Icon name="go" /></button>}
              </li>
            ))}
          </ul>
        </div>
      )}
      <div id={id} class="check-body" hidden={!open.value}>
        {open.value && (
          <>
            {finding.outcome === "pass" && <p>{finding.text}</p>}
            {finding.section !== null && <p>{w.section(finding.section + 1)}</p>}
            {finding.assumed.length > 0 && <><p class="small-head">{w.assumed}</p><ul class="plain">{finding.assumed.map((one) => <li key={one}>{one}</li>)}</ul></>}
            <dl class="basis">
              <div><dt>{w.basis}</dt><dd>{finding.basis}</dd></div>
              <div><dt>{w.source}</dt><dd><Standing of={finding.standing} /> {finding.source}</dd></div>
            </dl>
            <Steps place={place} read={() => core.working(job.value, judgement, place, finding.check)} none={words.working.none} />
          </>
        )}
      </div>
    </li>
  );
}

/** How much of the limit is used, drawn as a cable pulled towards its end stop. The figures beside it say the same. */
function Gauge({ used }: { used: number }) {
  const part = Math.max(0, Math.min(used, 1.25)) / 1.25;
  return (
    <svg class="gauge" viewBox="0 0 125 8" preserveAspectRatio="none" aria-hidden="true" focusable="false">
      <rect class="gauge-way" x="0" y="3" width="125" height="2" />
      <rect class="gauge-used" x="0" y="1.5" width={part * 125} height="5" />
      <rect class="gauge-stop" x="99" y="0" width="2" height="8" />
    </svg>
  );
}

export function Standing({ of }: { of: Step["standing"] }) {
  return (
    <span class={`standing standing-${of.replace(/ /g, "-")}`} title={words.working.standingMeaning[of]}>{words.working.standing[of]}</span>
  );
}

function Steps({ place, read, none }: { place: Place; read: () => Step[]; none: string }) {
  const made = useLater(read);
  if (made === undefined) return null;
  if (made === null) return <p class="hint">{words.working.unable}</p>;
  if (made.length === 0) return <p class="hint">{none}</p>;
  return (
    <div class="working">
      <p class="small-head">{words.working.title}</p>
      <ol class="steps">
        {groups(made).map(({ first, steps }) => {
          const [only] = steps;
          const last = steps.at(-1);
          if (steps.length === 1 && only) return <StepItem key={first} number={first + 1} step={only} place={place} where />;
          return last && (
            <li key={first} class="step-group">
              <details>
                <summary>
                  {whereOf(last, place)}: <span class="fact-symbol">{last.symbol}</span> = <b>{withUnit(last.shown, last.unit)}</b>
                  <span class="step-where"> {words.working.steps(steps.length)}</span>
                </summary>
                <ol class="steps">
                  {steps.map((step, index) => <StepItem key={index} number={first + index + 1} step={step} place={place} />)}
                </ol>
              </details>
            </li>
          );
        })}
      </ol>
    </div>
  );
}

/** Steps in a row at one section of one place fold together. */
function groups(steps: readonly Step[]): { first: number; steps: Step[] }[] {
  const found: { first: number; steps: Step[] }[] = [];
  for (const [index, step] of steps.entries()) {
    const last = found.at(-1);
    const before = last?.steps.at(-1);
    if (last && before && step.section !== null && before.section === step.section && placeKey(before.place) === placeKey(step.place)) last.steps.push(step);
    else found.push({ first: index, steps: [step] });
  }
  return found;
}

function whereOf(step: Step, place: Place): string {
  const elsewhere = placeKey(step.place) !== placeKey(place);
  const at = step.place.kind === "supply" ? words.place.supply : nameOf(job.value, step.place);
  return [elsewhere ? at : null, step.section === null ? null : words.section.title(step.section + 1)].filter((one) => one !== null).join(", ");
}

export function StepItem({ step, number, place, where = false }: { step: Step; number: number; place: Place; where?: boolean }) {
  const at = where ? whereOf(step, place) : "";
  return (
    <li class="step-item">
      <span class="step-number" aria-hidden="true">{number}</span>
      <p class="step-name">{step.name}{at !== "" && <span class="step-where"> {at}</span>}</p>
      <p class="sum"><span class="out">{words.working.formula}: </span>{step.formula}</p>
      {step.filled !== step.formula && <p class="sum sum-filled"><span class="out">{words.working.filled}: </span>{step.filled}</p>}
      <p class="sum-result"><span class="fact-symbol">{step.symbol}</span> = <b>{withUnit(step.shown, step.unit)}</b></p>
      <p class="step-source"><Standing of={step.standing} /> {step.source}</p>
    </li>
  );
}

/** How far the circuit can be taken, and the way out when it fails. Searched for only while it lies open. */
function Ways({ circuit, judgement }: { circuit: string; judgement: number }) {
  const open = useSignal(false);
  const id = `ways-${judgement}`;
  return (
    <div class="ways">
      <button type="button" class="passed-head" aria-expanded={open.value} aria-controls={id} onClick={() => (open.value = !open.value)}>
        <Icon name="go" />
        <span>{words.ways.title}</span>{" "}
        <span class="passed-way">{open.value ? w.hide : w.show}</span>
        <Icon name={open.value ? "up" : "down"} />
      </button>
      <div id={id} hidden={!open.value}>{open.value && <WaysOpen circuit={circuit} judgement={judgement} />}</div>
    </div>
  );
}

function WaysOpen({ circuit, judgement }: { circuit: string; judgement: number }) {
  const found = useLater<Solutions>(() => core.solve(job.value, judgement, circuit));
  const fails = useReading(() => places.value[judgement]?.get(`circuit:${circuit}`)?.outcome !== "pass").value;
  if (found === undefined) return null;
  if (found === null) return <p class="hint">{words.ways.unable}</p>;
  return (
    <div class="ways-body">
      <dl class="limits">
        {(["smallest_csa", "greatest_length", "largest_rating"] as const).map((key) => (
          <div key={key}><dt>{words.ways[key]}</dt><dd>{found[key].text}</dd></div>
        ))}
      </dl>
      {(fails || found.changes.length > 0) && (
        <>
          <p class="small-head">{words.ways.changes}</p>
          {found.changes.length === 0 && <p class="hint">{words.ways.noChange}</p>}
          <ul class="changes">
            {found.changes.map((one) => (
              <li key={one.text}>
                <span>{one.text}</span>
                <button type="button" class="act act-main" onClick={() => {
                  change(one.edits.reduce((next, { path, value }) => setAt(next, parsePath(path), value), job.value));
                  tell(words.ways.applied, true);
                  // The button may go with what it mended.
                  document.getElementById("here")?.focus({ preventScroll: true });
                }}>{words.ways.apply}</button>
              </li>
            ))}
          </ul>
        </>
      )}
    </div>
  );
}

/** Which entry it is; from the whole job's view with the place it is at. */
function entryName(of: Job, path: string, field: string | null, whole: boolean): string {
  if (field === null) return "";
  const [top, index, key, at] = parsePath(path);
  const place = top === "supply" ? words.place.supply : top === "boards" ? of.boards[Number(index)]?.name : top === "circuits" ? of.circuits[Number(index)]?.name : undefined;
  const sections = top === "circuits" && key === "sections" && typeof at === "number" ? of.circuits[Number(index)]?.sections.slice(0, at + 1) ?? [] : [];
  const part = sections.at(-1)?.part;
  const count = sections.filter((one) => one.part === part).length;
  const section = part === undefined ? undefined : part === "spur" ? words.section.spur(count) : words.section.title(count);
  return [whole ? place : undefined, section, field].filter((one) => one !== undefined && one !== "").join(", ");
}

/** Entries inside these paths that were refused, each a way to the entry. */
export function Refused({ under }: { under: string | null }) {
  const found = useReading(() => answer.value.errors
    .filter(({ path }) => under === null || path === under || path.startsWith(`${under}.`) || path.startsWith(`${under}[`))
    .map(({ path, field, text }) => ({ path, text, entry: entryName(job.value, path, field, under === null) }))).value;
  if (found.length === 0) return null;
  return (
    <div class="refused">
      <h3>{w.errors}</h3>
      <ul>
        {found.map(({ path, entry, text }) => (
          <li key={`${path} ${text}`}>
            <span>{entry !== "" && <><b class="refused-entry">{entry}</b><br /></>}{text}</span>
            {path !== "" && <button type="button" class="link" onClick={() => goToEntry(path)}>{w.fix}<Icon name="go" /></button>}
          </li>
        ))}
      </ul>
    </div>
  );
}
