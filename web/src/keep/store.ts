// Jobs on this device, in the browser's own database. Each is a head, which is what a list shows, its body, which is
// the job, and the steps that can be taken back. Nothing here knows the page.

import { openDB, type DBSchema, type IDBPDatabase } from "idb";
import type { Job } from "../job/types";

export type Head = {
  id: string;
  /** Counts every writing, so that nobody writes over what they have not seen. */
  revision: number;
  name: string;
  /** What is searched, in small letters. */
  text: string;
  circuits: number;
  changed: number;
  archived: boolean;
  /** When it was deleted: it goes for good some weeks later. */
  removed: number | null;
  /** Where it stands among its steps. */
  position: number;
};

/** What is kept of a job: as it was written, whether or not it can still be read. */
export type Entry = { head: Head; body: unknown };

export type Writing = {
  id: string;
  /** The revision this is a change of; 0 where there is none yet. */
  seen: number;
  job: Job;
  position: number;
  left: ReadonlyMap<number, unknown>;
  /** The last of its steps: what was kept beyond is gone. */
  last: number;
};

/** Somebody else has written it since. */
export class Stale extends Error {}

interface Tables extends DBSchema {
  heads: { key: string; value: Head };
  bodies: { key: string; value: unknown };
  steps: { key: [string, number]; value: unknown };
  notes: { key: string; value: string };
}

/** How long a deleted job can be brought back. */
export const daysToBringBack = 30;
const toBringBack = daysToBringBack * 24 * 60 * 60 * 1000;
const mostSteps = 50;

let opening: Promise<IDBPDatabase<Tables>> | null = null;

function database(): Promise<IDBPDatabase<Tables>> {
  opening ??= openDB<Tables>("faultpath", 1, {
    upgrade(db) {
      db.createObjectStore("heads", { keyPath: "id" });
      db.createObjectStore("bodies");
      db.createObjectStore("steps");
      db.createObjectStore("notes");
    },
    // A newer version of the page wants to change it: this one lets go.
    blocking: (_now, _next, event) => {
      (event.target as IDBDatabase).close();
      opening = null;
    },
    terminated: () => (opening = null),
  }).catch((reason: unknown) => {
    opening = null;
    throw reason;
  });
  return opening;
}

export const newId = (): string => Array.from(crypto.getRandomValues(new Uint8Array(12)), (byte) => byte.toString(36).padStart(2, "0")).join("");

export async function heads(): Promise<Head[]> {
  const db = await database();
  const all = await db.getAll("heads");
  return all.map(readHead).sort((a, b) => b.changed - a.changed);
}

/** A head that was damaged still stands in the list. */
function readHead(at: Partial<Record<keyof Head, unknown>>): Head {
  const number = (value: unknown) => (typeof value === "number" && Number.isFinite(value) ? value : 0);
  const text = (value: unknown) => (typeof value === "string" ? value : "");
  return {
    id: text(at.id), revision: number(at.revision), name: text(at.name), text: text(at.text), circuits: number(at.circuits), changed: number(at.changed),
    archived: at.archived === true, removed: typeof at.removed === "number" ? at.removed : null, position: number(at.position),
  };
}

export async function read(id: string): Promise<Entry | null> {
  const tx = (await database()).transaction(["heads", "bodies"]);
  const [head, body] = await Promise.all([tx.objectStore("heads").get(id), tx.objectStore("bodies").get(id)]);
  return head ? { head: readHead(head), body } : null;
}

/** Its steps with their positions, in their order. */
export async function stepsOf(id: string): Promise<[number, unknown][]> {
  const { store } = (await database()).transaction("steps");
  const [keys, values] = await Promise.all([store.getAllKeys(within(id)), store.getAll(within(id))]);
  return keys.map(([, at], index) => [at, values[index]]);
}

export async function revisionOf(id: string): Promise<number> {
  return (await (await database()).get("heads", id))?.revision ?? 0;
}

function within(id: string, from = Number.NEGATIVE_INFINITY, before = Number.POSITIVE_INFINITY): IDBKeyRange {
  return IDBKeyRange.bound([id, from], [id, before], false, true);
}

function headOf({ id, seen, job, position }: Writing, before: Head | undefined): Head {
  const texts = [job.name, job.notes, job.record?.site, job.record?.client, ...job.boards.map(({ name }) => name)];
  return {
    id, revision: seen + 1, name: job.name, text: texts.filter(Boolean).join("\n").toLowerCase(), circuits: job.circuits.length,
    changed: Date.now(), archived: before?.archived ?? false, removed: null, position,
  };
}

/** Writes a job with its new steps, whole or not at all. */
export async function write(what: Writing): Promise<Head> {
  const { id, seen, job, position, left, last } = what;
  const db = await database();
  const tx = db.transaction(["heads", "bodies", "steps"], "readwrite");
  const before = await tx.objectStore("heads").get(id);
  if ((before?.revision ?? 0) !== seen) {
    tx.abort();
    await tx.done.catch(() => undefined);
    throw new Stale();
  }
  const head = headOf(what, before);
  const steps = tx.objectStore("steps");
  const asked: Promise<unknown>[] = [tx.objectStore("heads").put(head), tx.objectStore("bodies").put(job, id)];
  for (const [at, step] of left) asked.push(steps.put(step, [id, at]));
  asked.push(steps.delete(within(id, last + 1)), steps.delete(within(id, Number.NEGATIVE_INFINITY, position - mostSteps)));
  // Without waiting: a page that goes now has still handed it over.
  tx.commit();
  await settled(tx.done, asked);
  return head;
}

/** Something that could not be read as a job, kept for whoever can. */
export async function writeUnread(id: string, name: string, body: unknown): Promise<void> {
  const db = await database();
  const tx = db.transaction(["heads", "bodies"], "readwrite");
  const head: Head = { id, revision: 1, name, text: name.toLowerCase(), circuits: 0, changed: Date.now(), archived: false, removed: null, position: 0 };
  await settled(tx.done, [tx.objectStore("heads").put(head), tx.objectStore("bodies").put(body, id)]);
}

/** Waits for the end of the transaction and for nothing else: where a device has no room, some requests of it never hear of that. */
async function settled(done: Promise<void>, asked: readonly Promise<unknown>[]): Promise<void> {
  // Why they fail the transaction says.
  for (const one of asked) one.catch(() => undefined);
  await done;
}

/** Puts away, takes back, deletes: what says nothing of the job itself. */
export async function mark(id: string, marks: Partial<Pick<Head, "archived" | "removed">>): Promise<void> {
  const db = await database();
  const tx = db.transaction("heads", "readwrite");
  const head = await tx.store.get(id);
  await settled(tx.done, head ? [tx.store.put({ ...head, ...marks })] : []);
}

/** Deleted jobs go for good: those whose time is over, or the one that is named. */
export async function clear(only?: string): Promise<void> {
  const db = await database();
  const tx = db.transaction(["heads", "bodies", "steps"], "readwrite");
  const asked: Promise<unknown>[] = [];
  for (const { id, removed } of await tx.objectStore("heads").getAll()) {
    if (typeof removed !== "number" || (only === undefined ? Date.now() - removed < toBringBack : id !== only)) continue;
    asked.push(tx.objectStore("heads").delete(id), tx.objectStore("bodies").delete(id), tx.objectStore("steps").delete(within(id)));
  }
  await settled(tx.done, asked);
}

// Small things beside the jobs: which one was open, parts of a job on their way.

export async function noted(key: string): Promise<string | undefined> {
  return (await database()).get("notes", key);
}

export async function note(key: string, text: string): Promise<void> {
  await (await database()).put("notes", text, key);
}

export async function notesUnder(start: string): Promise<[string, string][]> {
  const db = await database();
  const range = IDBKeyRange.bound(start, `${start}\uffff`);
  const tx = db.transaction("notes");
  const [keys, values] = await Promise.all([tx.store.getAllKeys(range), tx.store.getAll(range)]);
  return keys.map((key, at) => [key, values[at] ?? ""]);
}

export async function forgetUnder(start: string): Promise<void> {
  await (await database()).delete("notes", IDBKeyRange.bound(start, `${start}\uffff`));
}
