// Entries of a form, each bound to one path of the job. What was said about the path stands at the entry.

import { useSignal } from "@preact/signals";
import type { ComponentChildren } from "preact";
import { useRef } from "preact/hooks";
import { readNumber, showNumber } from "../job/number";
import { getAt, pathText, type Path } from "../job/path";
import { valuesAt } from "../job/read";
import { edit, job, offered, said } from "../state";
import { words } from "words:page";
import { useError, useValue } from "./hooks";
import { Icon } from "./marks";

export function fieldId(path: Path): string {
  return `f-${pathText(path)}`;
}

function describedBy(id: string, error: string | null, hint: string | undefined, unit?: string): string | undefined {
  const ids = [unit === undefined ? null : `${id}-unit`, hint === undefined ? null : `${id}-hint`, error === null ? null : `${id}-error`].filter((one) => one !== null);
  return ids.length > 0 ? ids.join(" ") : undefined;
}

function Notes({ id, error, hint }: { id: string; error: string | null; hint: string | undefined }) {
  return (
    <>
      {hint !== undefined && <p class="hint" id={`${id}-hint`}>{hint}</p>}
      {error !== null && <p class="wrong" id={`${id}-error`}>{error}</p>}
    </>
  );
}

type Bound = { label: string; path: Path; hint?: string };

type Numeric = Bound & {
  unit?: string;
  /** The prefix of the unit shown: 3 for kA, -3 for mA, -2 for %. */
  shift?: number;
  /** It may be left empty. */
  open?: boolean;
  /** What an empty entry means; not a number where null already means something else. */
  empty?: number | null;
};

export function NumberField({ label, path, hint, unit, shift = 0, open = false, empty = null }: Numeric) {
  const value = useValue(path) as number | null | undefined;
  const error = useError(path);
  const typed = useSignal<string | null>(null);
  const id = fieldId(path);
  const meant = (text: string) => readNumber(text, shift) ?? empty;
  const now = value ?? empty;
  const shown = typed.value !== null && Object.is(meant(typed.value), now) ? typed.value : showNumber(now, shift);
  return (
    <div class={`field${error === null ? "" : " is-wrong"}`}>
      <label for={id}>{label}</label>
      <div class="entry">
        <input
          id={id}
          type="text"
          inputMode="decimal"
          autocomplete="off"
          enterkeyhint="done"
          value={shown}
          placeholder={open ? words.form.notGiven : undefined}
          aria-invalid={error === null ? undefined : true}
          aria-describedby={describedBy(id, error, hint, unit)}
          onInput={(event) => {
            performance.mark("edit");
            typed.value = event.currentTarget.value;
            edit(path, meant(event.currentTarget.value));
          }}
        />
        {unit !== undefined && <span class="unit" id={`${id}-unit`} aria-hidden="true">{unit}</span>}
      </div>
      <Notes id={id} error={error} hint={hint} />
    </div>
  );
}

export function TextField({ label, path, hint, lines = 1, open = false }: Bound & { lines?: number; open?: boolean }) {
  const value = (useValue(path) as string | null | undefined) ?? "";
  const error = useError(path);
  const id = fieldId(path);
  const put = (text: string) => edit(path, open && text === "" ? null : text);
  return (
    <div class={`field field-wide${error === null ? "" : " is-wrong"}`}>
      <label for={id}>{label}</label>
      <div class="entry">
        {lines === 1 ? (
          <input id={id} type="text" autocomplete="off" enterkeyhint="done" value={value} aria-invalid={error === null ? undefined : true}
            aria-describedby={describedBy(id, error, hint)} onInput={(event) => put(event.currentTarget.value)} />
        ) : (
          <textarea id={id} rows={lines} value={value} aria-describedby={describedBy(id, error, hint)}
            onInput={(event) => put(event.currentTarget.value)} />
        )}
      </div>
      <Notes id={id} error={error} hint={hint} />
    </div>
  );
}

export type Option = { value: string; text: string };

/** What a field may hold, named as the core names it. */
export function optionsOf(path: Path, group: string): Option[] {
  return valuesAt(path).map((value) => ({ value, text: nameIn(group, value) }));
}

export function nameIn(group: string, value: string): string {
  return offered.value.names[group]?.[value] ?? value;
}

/** The name without what stands in brackets behind it, for a line that has little room. */
export function shortNameIn(group: string, value: string): string {
  return nameIn(group, value).replace(/ \([^)]*\)$/, "");
}

type Choosing = {
  id: string; label: string; value: string; options: Option[]; error: string | null; hint?: string | undefined; onPick: (value: string) => void;
};

/** A few short options lie open to the thumb; more of them fold into a list. */
export function Choosing({ id, label, value, options, error, hint, onPick }: Choosing) {
  const known = options.some((option) => option.value === value);
  const all = known ? options : [...options, { value, text: words.form.notOffered(value) }];
  const short = all.length <= 4 && all.every(({ text }) => text.length <= 14) && all.reduce((sum, { text }) => sum + text.length, 0) <= 34;
  if (short) {
    return (
      <fieldset class={`field${error === null ? "" : " is-wrong"}`} aria-describedby={describedBy(id, error, hint)}>
        <legend>{label}</legend>
        <div class="chips">
          {all.map((option, index) => (
            <label key={option.value} class="chip">
              <input id={index === 0 ? id : undefined} type="radio" name={id} value={option.value} checked={option.value === value}
                onChange={() => onPick(option.value)} />
              <span>{option.text}</span>
            </label>
          ))}
        </div>
        <Notes id={id} error={error} hint={hint} />
      </fieldset>
    );
  }
  return (
    <div class={`field${error === null ? "" : " is-wrong"}`}>
      <label for={id}>{label}</label>
      <div class="entry entry-list">
        <select id={id} value={value} aria-invalid={error === null ? undefined : true} aria-describedby={describedBy(id, error, hint)}
          onChange={(event) => onPick(event.currentTarget.value)}>
          {all.map((option) => <option key={option.value} value={option.value}>{option.text}</option>)}
        </select>
        <Icon name="down" />
      </div>
      <Notes id={id} error={error} hint={hint} />
    </div>
  );
}

/** One of the values the core offers for a group; `open` adds "none of them". */
export function ChoiceField({ label, path, hint, group, options, open = false, onPick }:
  Bound & { group?: string; options?: Option[]; open?: boolean; onPick?: (value: string) => void }) {
  const value = useValue(path) as string | number | null | undefined;
  const error = useError(path);
  const list = options ?? optionsOf(path, group ?? String(path.at(-1)));
  const all = open ? [{ value: "", text: words.form.notGiven }, ...list] : list;
  return (
    <Choosing id={fieldId(path)} label={label} value={String(value ?? "")}
      options={all} error={error} hint={hint}
      onPick={(picked) => (onPick ? onPick(picked) : edit(path, open && picked === "" ? null : picked))} />
  );
}

/** Sizes and ratings: only what is made, one step at a time or straight from the list. */
export function StepField({ label, path, hint, unit, values, shift = 0, open = false }:
  Bound & { unit: string; values: readonly number[]; shift?: number; open?: boolean }) {
  const value = useValue(path) as number | null | undefined;
  const error = useError(path);
  const id = fieldId(path);
  const number = value === undefined || (value !== null && Number.isNaN(value)) ? null : value;
  const made = number === null || values.includes(number);
  const pick = (next: number | undefined, atEnd: string) => {
    if (next === undefined) said.value = atEnd;
    else edit(path, next);
  };
  const below = () => (number === null ? undefined : values.findLast((one) => one < number));
  const above = () => (number === null ? values[0] : values.find((one) => one > number));
  return (
    <div class={`field${error === null ? "" : " is-wrong"}`}>
      <label for={id}>{label}</label>
      <div class="stepper">
        <button type="button" class="step" aria-label={words.form.smaller(label)} onClick={() => pick(below(), words.form.nothingSmaller)}>
          <Icon name="minus" />
        </button>
        <div class="entry entry-list">
          <select id={id} value={number === null ? "" : String(number)} aria-invalid={error === null ? undefined : true}
            aria-describedby={describedBy(id, error, hint)}
            onChange={(event) => {
              const picked = event.currentTarget.value;
              edit(path, picked === "" ? null : Number(picked));
            }}>
            {(open || number === null) && <option value="">{words.form.notGiven}</option>}
            {!made && <option value={String(number)}>{words.form.notOffered(`${showNumber(number, shift)} ${unit}`)}</option>}
            {values.map((one) => <option key={one} value={String(one)}>{`${showNumber(one, shift)} ${unit}`}</option>)}
          </select>
          <Icon name="down" />
        </div>
        <button type="button" class="step" aria-label={words.form.larger(label)} onClick={() => pick(above(), words.form.nothingLarger)}>
          <Icon name="add" />
        </button>
      </div>
      <Notes id={id} error={error} hint={hint} />
    </div>
  );
}

export function Switch({ id, label, hint, on, error = null, onFlip }:
  { id: string; label: string; hint?: string | undefined; on: boolean; error?: string | null; onFlip: (on: boolean) => void }) {
  return (
    <div class={`field field-wide${error === null ? "" : " is-wrong"}`}>
      <label class="switch">
        <input id={id} type="checkbox" checked={on} aria-describedby={describedBy(id, error, hint)}
          onChange={(event) => onFlip(event.currentTarget.checked)} />
        <span class="switch-way" aria-hidden="true" />
        <span class="switch-text">{label}</span>
      </label>
      <Notes id={id} error={error} hint={hint} />
    </div>
  );
}

export function YesNo({ label, path, hint }: Bound) {
  const value = useValue(path) === true;
  return <Switch id={fieldId(path)} label={label} hint={hint} on={value} error={useError(path)} onFlip={(on) => edit(path, on)} />;
}

/** Something that is there or not; switched on again, it comes back as it was. */
export function Optional({ label, path, hint, start, children }: Bound & { start: () => unknown; children: ComponentChildren }) {
  const value = useValue(path);
  const error = useError(path);
  const last = useRef<unknown>(null);
  const on = value !== null && value !== undefined;
  return (
    <>
      <Switch id={fieldId(path)} label={label} hint={hint} on={on} error={error} onFlip={(flip) => {
        if (!flip) last.current = getAt(job.value, path);
        edit(path, flip ? (last.current ?? start()) : null);
      }} />
      {on && children}
    </>
  );
}
