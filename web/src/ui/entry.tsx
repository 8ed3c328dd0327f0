// One reading: a number large enough for a glove, and beneath it at once what it means.

import { useSignal } from "@preact/signals";
import { readNumber, showNumber } from "../job/number";
import { getAt, pathText, type Path } from "../job/path";
import { putTest } from "../job/tests";
import type { JudgedReading, Outcome, Place, Reading } from "../job/types";
import { lastRead, readingErrors } from "../answers";
import { change, job } from "../state";
import type { Told } from "../tested";
import { words } from "words:page";
import { fieldId } from "./fields";
import { Standing, withUnit } from "./found";
import { useReading } from "./hooks";
import { goToEntry } from "./jump";
import { Icon, Mark } from "./marks";

const w = words.meter;

/** Where an entry is: its place, where the readings of that are kept, and the keys from there. */
export type Spot = { place: Place; base: Path; keys: Path };

export function within(spot: Spot, ...keys: (string | number)[]): Spot {
  return { ...spot, keys: [...spot.keys, ...keys] };
}

export function fullPath({ base, keys }: Spot): Path {
  return [...base, ...keys];
}

export function put(spot: Spot, value: unknown): void {
  const next = putTest(job.value, spot.place, spot.keys, value);
  change(next, pathText(fullPath(spot)));
}

function errorUnder(path: string): string | null {
  const errors = readingErrors.value;
  return errors.get(path) ?? errors.get(`${path}.shown`) ?? errors.get(`${path}.above`) ?? null;
}

type Entry = {
  label: string;
  spot: Spot;
  unit: string;
  /** The prefix of the unit on the display: -3 for ms and mA, 3 for kA. */
  shift?: number;
  /** What the display says where it has no figure: over range, or that nothing tripped. */
  beyond?: "over" | "noTrip" | null;
  /** Beside others in a row. */
  small?: boolean;
  told?: readonly Told[];
};

export function ReadingField({ label, spot, unit, shift = 0, beyond = "over", small = false, told = [] }: Entry) {
  const path = fullPath(spot);
  const key = pathText(path);
  const held = useReading(() => (getAt(job.value, path) ?? null) as Reading | null).value;
  const error = useReading(() => errorUnder(key)).value;
  const typed = useSignal<string | null>(null);
  // Set before a figure is there: what an empty reading is to be.
  const wantsAbove = useSignal(false);
  const id = fieldId(path);
  const above = held === null ? wantsAbove.value : "above" in held;
  const value = held === null ? null : "above" in held ? held.above : held.shown;
  const meant = (text: string) => readNumber(text, shift);
  const shown = typed.value !== null && Object.is(meant(typed.value) ?? null, value) ? typed.value : showNumber(value, shift);
  const set = (next: number | null, over: boolean) => {
    wantsAbove.value = over;
    put(spot, next === null ? null : over ? { above: next } : { shown: next });
    lastRead.value = { place: spot.place, path: key };
  };
  return (
    <div class={`reading${small ? " reading-small" : ""}${error === null ? "" : " is-wrong"}`}>
      <label for={id}>{label}</label>
      <div class="reading-line">
        <div class="entry reading-entry">
          {above && <span class="reading-over" aria-hidden="true">&gt;</span>}
          <input id={id} type="text" inputMode="decimal" autocomplete="off" enterkeyhint="done" value={shown}
            aria-invalid={error === null ? undefined : true} aria-describedby={error === null ? `${id}-unit` : `${id}-unit ${id}-error`}
            onInput={(event) => {
              performance.mark("edit");
              typed.value = event.currentTarget.value;
              set(meant(event.currentTarget.value), above);
            }} />
          <span class="unit" id={`${id}-unit`} aria-hidden="true">{unit}</span>
        </div>
        {beyond !== null && (
          <button type="button" class="beyond" aria-pressed={above} aria-label={beyond === "over" ? w.overFull(label) : w.noTripFull(label)}
            onClick={() => set(value, !above)}>
            {beyond === "over" ? w.over : w.noTrip}
          </button>
        )}
      </div>
      {error !== null && <p class="wrong" id={`${id}-error`}>{error}</p>}
      {told.map((one) => <Said key={one.path} told={one} name={label} />)}
    </div>
  );
}

/** What a reading means, in each way of judging that sees it otherwise. */
export function Said({ told, name, title }: { told: Told; name: string; title?: string }) {
  const read = told.each.filter(({ judged }) => judged.taken);
  const [first] = read;
  if (!first) return null;
  const alike = read.every(({ judged }) => JSON.stringify(judged) === JSON.stringify(first.judged));
  return (
    <>
      {title !== undefined && <p class="small-head">{title}</p>}
      {(alike ? [first] : read).map(({ earthing, judged }) => (
        <SaidOne key={earthing} judged={judged} name={name} when={alike ? null : earthing} />
      ))}
    </>
  );
}

function SaidOne({ judged, name, when }: { judged: JudgedReading; name: string; when: string | null }) {
  const open = useSignal(false);
  const { outcome, unit } = judged;
  const id = `why-${judged.path}-${when ?? ""}`;
  const truly = judged.low === null ? "" : judged.high === null ? `> ${withUnit(judged.shown_low, unit)}` : withUnit(w.to(judged.shown_low, judged.shown_high), unit);
  return (
    <div class={`outcome outcome-${outcome}`} role="group" aria-label={when === null ? name : `${name}, ${when}`}>
      <p class="outcome-head">
        <Mark outcome={outcome} size={32} />
        <span>{when !== null && <span class="when">{words.ifEarthing(when)}: </span>}<strong>{w.outcome[outcome]}</strong></span>
      </p>
      <Ruler judged={judged} />
      <dl class="outcome-facts">
        {truly !== "" && <div><dt>{w.truly}</dt><dd>{truly}</dd></div>}
        {judged.shown_limit !== "" && <div><dt>{w.limit}</dt><dd><b>{judged.sense === "at-most" ? w.atMost : w.atLeast} {withUnit(judged.shown_limit, unit)}</b></dd></div>}
        {judged.shown_expected !== "" && (
          <div>
            <dt>{w.design}</dt>
            <dd>{withUnit(judged.shown_expected, unit)}{judged.shown_band !== "" && `, ${w.band(withUnit(judged.shown_band, unit))}`}{judged.side !== null && <>: <b>{w.side[judged.side]}</b></>}</dd>
          </div>
        )}
        {judged.quick && (
          <div class="quick">
            <dt>{w.quick}</dt>
            <dd>
              {judged.quick.name}{judged.quick.shown_limit !== "" && `, ${judged.sense === "at-most" ? w.atMost : w.atLeast} ${withUnit(judged.quick.shown_limit, unit)}`}
              : <b>{judged.quick.outcome === "pass" ? w.quickMet : w.quickNot}</b> <Standing of={judged.quick.standing} />
            </dd>
          </div>
        )}
      </dl>
      <p class="outcome-text">{judged.meaning}</p>
      {judged.suspects.length > 0 && !(outcome === "pass" && judged.side === "within") && <><p class="small-head">{w.behind}</p><ul class="plain">{judged.suspects.map((one) => <li key={one}>{one}</li>)}</ul></>}
      {judged.lacking.length > 0 && <><p class="small-head">{w.lacking}</p><ul class="plain">{judged.lacking.map((one) => <li key={one}>{one}</li>)}</ul></>}
      {judged.entry !== null && <button type="button" class="link" onClick={() => goToEntry(judged.entry ?? "")}>{words.found.fix}<Icon name="go" /></button>}
      <button type="button" class="link" aria-expanded={open.value} aria-controls={id} onClick={() => (open.value = !open.value)}>
        {w.details}<Icon name={open.value ? "up" : "down"} />
      </button>
      <div id={id} hidden={!open.value}>
        {open.value && (
          <dl class="basis">
            <div><dt>{words.found.basis}</dt><dd>{judged.rule}</dd></div>
            <div><dt>{words.found.source}</dt><dd><Standing of={judged.standing} /> {judged.source}</dd></div>
          </dl>
        )}
      </div>
    </div>
  );
}

/**
 * The reading on a ruler, drawn only: the bar is what it may truly be, the notch the limit with its bad side hatched,
 * the strip above what the design has. The figures beside it say the same.
 */
function Ruler({ judged }: { judged: JudgedReading }) {
  const { low, high, limit, expected, band_low: from, band_high: to, sense } = judged;
  if (low === null || (limit === null && expected === null)) return null;
  const about = [limit, to, expected].filter((one) => one !== null);
  const known = [...about, ...(sense === "at-most" ? [high ?? low] : [])];
  const whole = sense === "at-most" ? 1.12 * Math.max(...known) : 3 * Math.max(...about, low > 3 * Math.max(...about) ? 0 : low / 3);
  if (!(whole > 0)) return null;
  const x = (value: number) => Math.max(0, Math.min(100, (100 * value) / whole));
  const end = high === null ? 100 : x(high);
  const start = Math.min(x(low), 97);
  const clip = `hatch-${judged.path}`;
  return (
    <svg class="ruler" viewBox="0 0 100 16" preserveAspectRatio="none" aria-hidden="true" focusable="false">
      <defs>
        <pattern id={clip} width="2" height="16" patternUnits="userSpaceOnUse"><rect class="ruler-bad" width="0.8" height="16" /></pattern>
      </defs>
      {limit !== null && (sense === "at-most"
        ? <rect x={x(limit)} y="4" width={100 - x(limit)} height="10" fill={`url(#${clip})`} />
        : <rect x="0" y="4" width={x(limit)} height="10" fill={`url(#${clip})`} />)}
      <rect class="ruler-way" x="0" y="8.4" width="100" height="1.2" />
      {from !== null && to !== null && <rect class="ruler-design" x={x(from)} y="0" width={Math.max(0.8, x(to) - x(from))} height="3" />}
      {expected !== null && <rect class="ruler-notch" x={x(expected) - 0.4} y="0" width="0.8" height="5" />}
      <rect class="ruler-read" x={start} y="6.5" width={Math.max(1.2, end - start)} height="5" />
      {limit !== null && <rect class="ruler-stop" x={Math.min(99, x(limit) - 0.5)} y="4" width="1" height="12" />}
    </svg>
  );
}

/** A figure in passing: what the display showed, or what was found. */
export function shownShort(judged: JudgedReading): string {
  if (judged.shown_value === "") return "";
  const over = judged.shown !== null && "above" in judged.shown && !/^[>\u2265]/.test(judged.shown_value);
  return `${over ? ">\u202f" : ""}${withUnit(judged.shown_value, judged.unit)}`;
}

export function OutcomeWord({ outcome }: { outcome: Outcome | null }) {
  return <span class={`said-${outcome ?? "none"}`}>{outcome === null ? w.notRead : w.outcome[outcome]}</span>;
}
