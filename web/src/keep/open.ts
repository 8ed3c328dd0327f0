// Which job is open, and that it is kept at every edit. Two tabs may have the same one open: each follows the other, and
// where both changed it at once both are kept.

import { effect, signal } from "@preact/signals";
import { readJob } from "../job/read";
import type { Job } from "../job/types";
import { allToKeep, giveBack, job, notice, present, recall, takeToKeep, tell } from "../state";
import { words } from "words:page";
import * as store from "./store";

const w = words.jobs;
const lastOpen = "open";
/** What this tab had open, over a reload. */
const tabSlot = "faultpath.open";

/** The job that is open; null where it has not been changed yet and so is not kept. */
export const openId = signal<string | null>(null);
/** Counts whatever changed in the list of jobs, here or in another tab. */
export const listed = signal(0);
/** Two tabs changed one job at once: this one went on with a copy, `other` is the job itself. */
export const parted = signal<{ other: string } | null>(null);

const channel = typeof BroadcastChannel === "undefined" ? null : new BroadcastChannel("faultpath");
let seen = 0;
let saved: Job | null = job.peek();
let busy: Promise<void> | null = null;
/** Milliseconds after which it is said that the browser's database does not answer. */
const patience = 4000;
/** Counts the jobs shown. */
let turn = 0;
let begin: () => void = () => undefined;
const keeping = new Promise<void>((done) => (begin = done));

type Message = { id: string | null; revision: number };

function announce(id: string | null, revision: number): void {
  listed.value += 1;
  channel?.postMessage({ id, revision } satisfies Message);
}

/** Whether this tab has something that is not kept. */
function unkept(): boolean {
  return busy !== null || job.peek() !== saved;
}

/** From here on this one is open. A job without an id is kept as a new one. */
function become(id: string | null, revision: number, next: Job, position: number): void {
  openId.value = id;
  seen = revision;
  saved = id === null ? null : next;
  parted.value = null;
  present(next, position);
  turn += 1;
  if (id === null) return;
  remember(id);
  void recallLater(id, position, turn).catch((reason: unknown) => console.warn(reason));
}

/** What can be taken back is much more than the job: it comes when that is on the page, and once it is settled. */
async function recallLater(id: string, position: number, at: number): Promise<void> {
  await keeping;
  await new Promise((done) => setTimeout(done, 150));
  const steps = at === turn ? await store.stepsOf(id) : [];
  if (at !== turn) return;
  recall(position, steps.flatMap(([one, data]) => {
    const { job: step } = readJob(data);
    return step ? [[one, step] as const] : [];
  }));
}

function remember(id: string): void {
  try {
    sessionStorage.setItem(tabSlot, id);
  } catch {
    // It then holds until the page is left.
  }
  store.note(lastOpen, id).catch((reason: unknown) => console.warn(reason));
}

/** Some browsers' databases neither answer nor refuse: then `late` is done, and that is said for as long as it lasts. */
function watched<T>(what: Promise<T>, text: string, late: () => void = () => undefined): Promise<T> {
  const told = { text, undo: null };
  const watch = setTimeout(() => {
    notice.value = told;
    late();
  }, patience);
  return what.finally(() => {
    clearTimeout(watch);
    if (notice.peek() === told) notice.value = null;
  });
}

/** The job open last time here or, in a new tab, anywhere; done without it where it does not come. */
export function openLast(): Promise<void> {
  return new Promise((done) => void watched(showLast(), w.noStorage, done).then(done));
}

/** One that can't be read stays in the list as it is. */
async function showLast(): Promise<void> {
  try {
    await takeOver();
    const id = sessionStorage.getItem(tabSlot) ?? (await store.noted(lastOpen));
    if (id !== undefined) await show(id);
  } catch (reason) {
    console.warn(reason);
    notice.value = { text: w.noStorage, undo: null };
  }
}

/** Shows a job of the list, and says why where it can't. */
async function show(id: string): Promise<boolean> {
  const entry = await store.read(id);
  if (unkept()) return false;
  if (entry?.head.removed !== null) {
    notice.value = { text: w.gone, undo: null };
    return false;
  }
  const { head } = entry;
  const reading = readJob(entry.body);
  if (!reading.job) {
    notice.value = { text: reading.problems[0]?.kind === "newer" ? w.newer(head.name) : w.unreadable(head.name), undo: null };
    return false;
  }
  become(id, head.revision, reading.job, head.position);
  return true;
}

/** Opens a job of the list in place of this one, once this one is kept. */
export async function openJob(id: string): Promise<boolean> {
  if (id === openId.peek()) return true;
  return (await settled()) && show(id);
}

/** A new job in place of this one, once this one is kept. */
export async function startJob(next: Job): Promise<boolean> {
  if (!(await settled())) return false;
  become(null, 0, next, 0);
  await save();
  return true;
}

async function settled(): Promise<boolean> {
  await save();
  if (unkept()) notice.value = { text: w.keepFirst, undo: null };
  return !unkept();
}

/** Takes jobs into the list. What is open stays open. */
export async function addJobs(jobs: readonly Job[]): Promise<void> {
  for (const one of jobs) {
    const id = store.newId();
    announce(id, (await store.write({ id, seen: 0, job: one, position: 0, left: new Map(), last: 0 })).revision);
  }
}

/** Archives, deletes and brings back. A job that is open stays on the page; its next edit brings it back. */
export async function markJob(id: string, marks: Parameters<typeof store.mark>[1]): Promise<void> {
  await store.mark(id, marks);
  announce(null, 0);
}

/** Deletes for good what is deleted. */
export async function dropJob(id: string): Promise<void> {
  await store.clear(id);
  announce(null, 0);
}

/** After two tabs changed one job: away with this tab's copy, on with the other's. */
export async function takeOther(): Promise<void> {
  const at = parted.peek();
  const copy = openId.peek();
  if (at === null || copy === null || !(await openJob(at.other))) return;
  await markJob(copy, { removed: Date.now() });
  tell(words.jobs.removed(words.jobs.copyHere), () => void markJob(copy, { removed: null }));
}

/** What earlier versions of the page kept: one job, elsewhere. */
async function takeOver(): Promise<void> {
  const slots = ["faultpath.job", "faultpath.job.unread"] as const;
  for (const slot of slots) {
    const text = localStorage.getItem(slot);
    if (text === null) continue;
    let data: unknown = text;
    try {
      data = JSON.parse(text);
    } catch {
      // Kept as the text it is.
    }
    const { job: old } = readJob(data);
    const id = store.newId();
    if (old) await store.write({ id, seen: 0, job: old, position: 0, left: new Map(), last: 0 });
    else await store.writeUnread(id, w.unreadName, data);
    if (slot === slots[0]) {
      if (old) await store.note(lastOpen, id);
      else notice.value = { text: words.file.keptUnreadable, undo: null };
    }
    localStorage.removeItem(slot);
  }
}

/** From now on, keeps each new job after it has been drawn. */
export function keep(): void {
  begin();
  let pending = false;
  const soon = () => {
    pending = false;
    void save();
  };
  effect(() => {
    if (job.value === saved || pending) return;
    // A hidden page gets no frames.
    if (document.visibilityState === "hidden") void save();
    else {
      pending = true;
      requestAnimationFrame(() => setTimeout(soon));
    }
  });
  addEventListener("pagehide", soon);
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "hidden") soon();
    else void follow();
  });
  addEventListener("pageshow", ({ persisted }) => persisted && void follow());
  channel?.addEventListener("message", ({ data }: MessageEvent<Message>) => {
    listed.value += 1;
    // One that nobody sees follows when it is looked at again.
    if (data.id === openId.peek() && data.revision > seen && document.visibilityState === "visible") void follow();
  });
  // Installed, nobody is interrupted by being asked.
  if (matchMedia("(display-mode: standalone)").matches) void (navigator as { storage?: StorageManager }).storage?.persist();
  void store.clear().catch((reason: unknown) => console.warn(reason));
}

/** Another tab changed the job: with nothing of its own to keep, this one shows it too. */
async function follow(): Promise<void> {
  const id = openId.peek();
  if (id === null || unkept()) return;
  const revision = await store.revisionOf(id).catch(() => 0);
  if (revision > seen && id === openId.peek()) await show(id);
}

/** Keeps the job now; done when it is kept, or can't be. */
export function save(): Promise<void> {
  busy ??= saving().finally(() => (busy = null));
  return busy;
}

async function saving(): Promise<void> {
  while (job.peek() !== saved) {
    const { left, ...now } = takeToKeep();
    const id = openId.peek() ?? store.newId();
    try {
      seen = await watched(written({ ...now, id, seen, left }), words.file.notKept);
      saved = now.job;
      if (openId.peek() === null) {
        openId.value = id;
        remember(id);
      }
      announce(id, seen);
    } catch (reason) {
      giveBack(left);
      if (reason instanceof store.Stale) {
        part(id);
        continue;
      }
      console.warn(reason);
      notice.value = { text: words.file.notKept, undo: null };
      // The next edit tries again.
      return;
    }
  }
}

/** Where there is no room for the steps as well, the job alone. */
async function written(what: store.Writing): Promise<number> {
  try {
    return (await store.write(what)).revision;
  } catch (reason) {
    if (what.left.size === 0 || reason instanceof store.Stale) throw reason;
    return (await store.write({ ...what, left: new Map() })).revision;
  }
}

/** Somebody else wrote it since this tab last saw it: neither writes over the other, this tab goes on with a copy. */
function part(other: string): void {
  openId.value = null;
  seen = 0;
  allToKeep();
  job.value = { ...job.peek(), name: w.copyName(job.peek().name) };
  parted.value = { other };
}
