// The state of the page: the job, the answer to it, what can be taken back. One direction: an edit makes a
// new job, the core answers it, whatever on the page shows a changed value is drawn anew.

import { batch, computed, signal } from "@preact/signals";
import * as core from "./core";
import exampleData from "./example-job.json";
import { fresh } from "./job/fresh";
import { pathText, setAt, type Path } from "./job/path";
import { readJob } from "./job/read";
import { placeKey } from "./job/tree";
import type { Answer, Choices, Job, PlaceAnswer } from "./job/types";
import { words } from "words:page";

export function exampleJob(): Job {
  const reading = readJob(exampleData);
  if (!reading.job) throw new Error(`example: ${reading.problems.map(({ path }) => path).join(", ")}`);
  return reading.job;
}

export const job = signal<Job>(exampleJob());
export const offered = signal<Choices>({
  csa: { copper: [], aluminium: [] },
  ratings: {},
  sensitivities: [],
  names: {},
  instruments: {},
  profiles: {} as Choices["profiles"],
});

function ask(of: Job): Answer {
  try {
    return core.judge(of);
  } catch (reason) {
    console.error(reason);
    return {
      outcome: "cannot-say",
      errors: [{ path: "", field: null, reason: "core", text: words.error.core }],
      judgements: [],
    };
  }
}

export const answer = computed<Answer>(() => {
  performance.mark("judge-start");
  const result = ask(job.value);
  performance.mark("judge-end");
  return result;
});

/** What was said about each field, by its path. */
export const errorsByPath = computed(() => {
  const map = new Map<string, string>();
  for (const { path, text } of answer.value.errors) {
    const before = map.get(path);
    map.set(path, before === undefined ? text : `${before} ${text}`);
  }
  return map;
});

/** For each judgement, what was said about each place. */
export const places = computed<Map<string, PlaceAnswer>[]>(() =>
  answer.value.judgements.map(({ places: all }) => new Map(all.map((one) => [placeKey(one.place), one]))),
);

// Taking back.

type Past = { job: Job; field: string; at: number };
const past: Past[] = [];
const future: Job[] = [];
const longest = 200;
const together = 2000;

/** Where the job stands among its steps: each edit leads to the next one. */
let position = 0;
/** What was left behind since it was last kept. */
let left = new Map<number, Job>();

export const canUndo = signal(false);
export const canRedo = signal(false);
export const said = signal("");
/** A short message with a way back, after something was removed or replaced. */
export const notice = signal<Notice | null>(null);
export type Notice = { text: string; undo: (() => void) | null };

/** A job with the steps that are not kept yet, and the last one that can be done again. */
export type Unkept = { job: Job; position: number; left: ReadonlyMap<number, Job>; last: number };

/** The job as it is to be kept now. Who could not keep it gives the steps back. */
export function takeToKeep(): Unkept {
  const taken = { job: job.peek(), position, left, last: position + future.length };
  left = new Map();
  return taken;
}

export function giveBack(steps: ReadonlyMap<number, Job>): void {
  left = new Map([...steps, ...left]);
}

/** Every step is to be kept once more: the job goes where none of them is yet. */
export function allToKeep(): void {
  left = new Map([...past.map((one, at) => [position - past.length + at, one.job] as const), ...future.map((one, at) => [position + future.length - at, one] as const)]);
}

/** Shows another job. */
export function present(next: Job, at: number): void {
  batch(() => {
    past.length = 0;
    future.length = 0;
    position = at;
    left = new Map();
    notice.value = null;
    job.value = next;
    note();
  });
}

/** The steps of the job that `present` showed at this position, once they are there. */
export function recall(at: number, steps: readonly (readonly [number, Job])[]): void {
  const untouched = past.length === 0 && future.length === 0;
  past.unshift(...steps.filter(([one]) => one < at).map(([, of]) => ({ job: of, field: "", at: 0 })));
  if (untouched) future.push(...steps.filter(([one]) => one > at).map(([, of]) => of).reverse());
  note();
}

function note(): void {
  canUndo.value = past.length > 0;
  canRedo.value = future.length > 0;
}

function step(by: 1 | -1): void {
  left.set(position, job.value);
  position += by;
}

/** Makes `next` the job. Edits of one field in quick succession are taken back together. */
export function change(next: Job, field = ""): void {
  if (next === job.value) return;
  const last = past.at(-1);
  const now = performance.now();
  batch(() => {
    if (field !== "" && last?.field === field && now - last.at < together) last.at = now;
    else {
      past.push({ job: job.value, field, at: now });
      step(1);
    }
    if (past.length > longest) past.shift();
    future.length = 0;
    job.value = next;
    if (notice.value?.undo) notice.value = null;
    note();
  });
}

export function edit(path: Path, value: unknown): void {
  change(setAt(withParts(job.value, path), path, value), pathText(path));
}

/** Parts of a job that are made when the first entry in them is. */
function withParts(of: Job, [part]: Path): Job {
  if (part === "testing" && of.testing === null) return { ...of, testing: fresh.testing() };
  if (part === "record" && of.record === null) return { ...of, record: fresh.record() };
  return of;
}

export function undo(): void {
  const last = past.pop();
  if (!last) return;
  batch(() => {
    future.push(job.value);
    step(-1);
    job.value = last.job;
    notice.value = null;
    said.value = words.act.undone;
    note();
  });
}

export function redo(): void {
  const next = future.pop();
  if (!next) return;
  batch(() => {
    past.push({ job: job.value, field: "", at: 0 });
    step(1);
    job.value = next;
    notice.value = null;
    said.value = words.act.redone;
    note();
  });
}

/** Tells what was done, and that it can be taken back. */
export function tell(text: string, canTakeBack: boolean | (() => void)): void {
  notice.value = { text, undo: canTakeBack === true ? undo : canTakeBack === false ? null : canTakeBack };
  said.value = text;
}
