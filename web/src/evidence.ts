// The self-check: every row of the evidence asked here, of the file that gives the verdicts. Whether a row agrees is
// said by the core; here the rows are handed over in slices that leave the page alive, and counted.

import { signal } from "@preact/signals";
import { alike, held } from "./core";
import { shortest } from "./job/number";
import type { Job, Standing } from "./job/types";
import { words } from "words:page";

/** What each row of a group has, or all of them; texts by their numbers in `texts`. */
export type Column = unknown[] | { texts: number[] };
/** By topic, the rows that ask the same in one group; `runs` has the order they came in, as group and count. */
export type Packed = {
  topics: {
    topic: string; units: Record<string, string>; documents: Record<string, string>; runs: [group: number, count: number][];
    groups: {
      ask: string; inputs: Record<string, Column>;
      rest: [expect: Column, unit: Column, abs: Column, rel: Column, why: Column, source: Column, standing: Column, support: Column];
    }[];
  }[];
  /** Objects as the number of their names in `shapes`, then their values; lists as -1, then their items. */
  jobs: Record<string, unknown>;
  shapes: string[][];
  texts: string[];
};

export type Row = {
  topic: string; ask: string; inputs: Record<string, unknown>; expect: number | string; unit: string; abs: number | null; rel: number | null;
  why: string; source: string; standing: Standing; support: string;
};
/** As the core has it: whether it agrees, what came, how far off, and that in units of the tolerance. */
export type Held = { agrees: boolean; got: number | string | null; off: number | null; share: number | null };
export type Checked = { row: Row; held: Held };

export type Evidence = {
  rows: Row[];
  jobs: Record<string, Job>;
  topics: Record<string, { units: Record<string, string>; documents: Record<string, string> }>;
};

export function unpack({ texts, jobs, shapes, topics }: Packed): Evidence {
  const text = (at: number): string => {
    const found = texts[at];
    if (found === undefined) throw new Error(`no text ${at}`);
    return found;
  };
  const opened = (of: unknown): unknown => {
    if (!Array.isArray(of)) return of;
    const values = of.slice(1).map(opened);
    return of[0] === -1 ? values : Object.fromEntries(shapes[Number(of[0])]?.map((name, at) => [name, values[at]]) ?? []);
  };
  const list = (of: Column) => {
    const all: unknown[] = Array.isArray(of) ? of : of.texts.map(text);
    return (at: number) => all[all.length === 1 ? 0 : at];
  };
  return {
    rows: topics.flatMap(({ topic, groups, runs }) => {
      const next = groups.map(({ ask, inputs: columns, rest }) => {
        const names = Object.entries(columns).map(([name, of]) => [name, list(of)] as const);
        const [expect, unit, abs, rel, why, source, standing, support] = rest.map(list);
        let at = -1;
        return () => {
          at += 1;
          return {
            topic, ask, inputs: Object.fromEntries(names.map(([name, of]) => [name, of(at)])), expect: expect?.(at), unit: unit?.(at), abs: abs?.(at), rel: rel?.(at),
            why: why?.(at), source: source?.(at), standing: standing?.(at), support: support?.(at),
          } as Row;
        };
      });
      return runs.flatMap(([group, count]) => Array.from({ length: count }, () => next[group]?.() ?? missing(topic)));
    }),
    jobs: Object.fromEntries(Object.entries(jobs).map(([name, of]) => [name, opened(of) as Job])),
    topics: Object.fromEntries(topics.map(({ topic, units, documents }) => [topic, { units, documents }])),
  };
}

function missing(topic: string): never {
  throw new Error(`a row of ${topic} is missing`);
}

/** Nothing but memory is behind it. */
export function unsupported({ standing, support }: Row): boolean {
  return standing === "from memory" && support.startsWith("none");
}

export type State = {
  at: "idle" | "running" | "done" | "broken";
  evidence: Evidence | null;
  checked: Checked[];
  /** Worked examples that both files judge alike, of those held so far. */
  alike: number;
  judged: number;
  /** Milliseconds from the first row to the last. */
  took: number;
};
const idle: State = { at: "idle", evidence: null, checked: [], alike: 0, judged: 0, took: 0 };
export const selfCheck = signal<State>(idle);

/** Every row agreed, and every worked example is judged alike. */
export function sound({ at, evidence, checked, alike: same, judged }: State): boolean {
  return at === "done" && evidence !== null && checked.length === evidence.rows.length && checked.every(({ held: { agrees } }) => agrees) && same === judged;
}

/** Rows that are handed over together: of one job, or of none, and not so many that a frame is missed for long. */
const together = 30;
export function slices(rows: readonly Row[]): Row[][] {
  const out: Row[][] = [];
  for (const row of rows) {
    const last = out.at(-1);
    if (last && last.length < together && last[0]?.inputs.job === row.inputs.job) last.push(row);
    else out.push([row]);
  }
  return out;
}

const breath = () => new Promise<void>((go) => setTimeout(go));
/** Milliseconds between two breaths. */
const patience = 12;

let run = 0;

/** Runs all of it anew; a run that was begun before is given up. */
export async function check(): Promise<void> {
  const mine = (run += 1);
  selfCheck.value = { ...idle, at: "running" };
  try {
    const evidence = unpack((await import("virtual:rows")).default);
    const checked: Checked[] = [];
    const counts = { alike: 0, judged: 0 };
    const began = performance.now();
    let last = began;
    const pause = async () => {
      if (performance.now() - last < patience) return mine === run;
      selfCheck.value = { ...selfCheck.value, at: "running", evidence, checked: [...checked], ...counts };
      await breath();
      last = performance.now();
      return mine === run;
    };
    for (const rows of slices(evidence.rows)) {
      const name = rows[0]?.inputs.job;
      const answers = held(rows, typeof name === "string" ? evidence.jobs[name] ?? null : null);
      for (const [at, row] of rows.entries()) checked.push({ row, held: answers[at] ?? { agrees: false, got: null, off: null, share: null } });
      if (!(await pause())) return;
    }
    for (const job of Object.values(evidence.jobs)) {
      counts.judged += 1;
      if (alike(job)) counts.alike += 1;
      if (!(await pause())) return;
    }
    selfCheck.value = { at: "done", evidence, checked, ...counts, took: performance.now() - began };
  } catch (reason) {
    console.error(reason);
    if (mine === run) selfCheck.value = { ...selfCheck.value, at: "broken" };
  }
}

export type Count = { rows: number; agree: number; memory: number; unsupported: number; worst: Checked | null };

/** What agrees; those that don't come first, then those furthest off. */
export function count(checked: readonly Checked[]): Count {
  const worst = checked.reduce<Checked | null>((most, one) => ((one.held.share ?? 0) > (most?.held.share ?? 0) ? one : most), null);
  return {
    rows: checked.length,
    agree: checked.filter(({ held: { agrees } }) => agrees).length,
    memory: checked.filter(({ row }) => row.standing === "from memory").length,
    unsupported: checked.filter(({ row }) => unsupported(row)).length,
    worst,
  };
}

/** A figure as it is read: what came is an f32, shown by the shortest decimal that means the same. */
export function figure(of: number | string | null, unit: string): string {
  if (of === null) return "–";
  if (typeof of === "string") return of;
  const short = shortest(of);
  const text = (Math.abs(short) < 1e-3 && short !== 0 ? short.toExponential() : `${short}`).replaceAll("-", "\u2212");
  return unit === "" || unit === "outcome" || unit === "share" ? text : `${text}\u00a0${unit}`;
}

/** How far off, to two figures and with its sign. */
export function deviation(off: number, unit: string): string {
  if (off === 0) return figure(0, unit);
  const text = figure(Number(off.toPrecision(2)), unit);
  return off > 0 ? `+${text}` : text;
}

/** The inputs in a line, each figure with its unit. */
export function inputs({ ask, inputs: all }: Row, units: Record<string, string>): string {
  return Object.entries(all).filter(([, value]) => value !== null).map(([name, value]) => `${name.replace(/[_-]/g, " ")} ${input(value, units[`${ask}.${name}`] ?? units[name] ?? "")}`).join(", ");
}

function input(value: unknown, unit: string): string {
  if (typeof value === "number") return unit === "of the reading" ? figure(value, "") : figure(value, unit);
  if (typeof value === "string") return value.replace(/^(?:examples|(boundaries\/))\/?(.*)\.json$/, "$1$2");
  if (typeof value === "boolean") return value ? words.form.yes : words.form.no;
  if (Array.isArray(value)) return value.map((one) => input(one, unit)).join(" / ");
  if (typeof value === "object" && value !== null) return Object.entries(value).map(([key, one]) => (key.includes(".") ? `${key} ${String(one)}` : input(one, unit))).join(" ");
  return "";
}
