// Reads a saved job: checks its shape against `job.schema.json`, fills in the keys that may be missing.
// Only the shape is looked at here; whether a value makes sense is for the core to say.

import schema from "../../job.schema.json";
import type { Path } from "./path";
import type { Job } from "./types";

export type Problem = { path: string; kind: "unknown" | "missing" | "wrong" | "newer"; wanted: string };
export type Reading = { job: Job; problems: [] } | { job: null; problems: Problem[] };

type Schema = {
  $ref?: string;
  const?: unknown;
  enum?: readonly unknown[];
  type?: string | readonly string[];
  anyOf?: readonly Schema[];
  required?: readonly string[];
  properties?: Readonly<Record<string, Schema>>;
  items?: Schema;
  minLength?: number;
};

const root = schema as unknown as Schema & { $defs: Record<string, Schema> };

/** The words a field may hold, in the order of the schema. */
export function valuesAt(path: Path): string[] {
  let at: Schema = root;
  for (const key of path) {
    const here = inner(at);
    const next = typeof key === "number" ? here.items : here.properties?.[key];
    if (next === undefined) return [];
    at = next;
  }
  const found = resolve(at);
  const list = found.enum ?? found.anyOf?.map(resolve).find((option) => option.enum)?.enum ?? [];
  return list.filter((value) => typeof value === "string");
}

/** Past an optional object, to what it holds. */
function inner(node: Schema): Schema {
  const at = resolve(node);
  return at.anyOf?.map(resolve).find((option) => option.properties !== undefined) ?? at;
}

function resolve(node: Schema): Schema {
  let at = node;
  while (at.$ref !== undefined) {
    const name = at.$ref.slice("#/$defs/".length);
    const next = root.$defs[name];
    if (next === undefined) throw new Error(`schema has no ${name}`);
    at = next;
  }
  return at;
}

/** A job from unknown data. Nothing of it is kept when its shape is wrong. */
export function readJob(data: unknown): Reading {
  if (isRecord(data) && data.format === "faultpath-job" && typeof data.version === "number" && data.version > 1) {
    return { job: null, problems: [{ path: "version", kind: "newer", wanted: "1" }] };
  }
  const problems: Problem[] = [];
  const value = take(root, data, "", problems);
  return problems.length === 0 ? { job: value as Job, problems: [] } : { job: null, problems };
}

function take(node: Schema, value: unknown, path: string, problems: Problem[]): unknown {
  const at = resolve(node);
  if (at.anyOf) return takeAny(at.anyOf, value, path, problems);
  if ("const" in at) return value === at.const ? value : wrong(path, JSON.stringify(at.const), problems);
  if (at.enum) return at.enum.includes(value) ? value : wrong(path, at.enum.map(String).join(", "), problems);

  // That a number is whole and within bounds is a matter of its value: the core says so at the field.
  const types = (typeof at.type === "string" ? [at.type] : (at.type ?? [])).map((type) => (type === "integer" ? "number" : type));
  if (value === null || value === undefined) {
    if (types.includes("null")) return nothing(types);
    // A number that was not entered yet is saved as null. It is not zero: the core asks for it.
    if (types.includes("number")) return null;
    return wrong(path, types.join(", "), problems);
  }
  if (types.includes("object") && isRecord(value)) return takeObject(at, value, path, problems);
  if (types.includes("array") && Array.isArray(value) && at.items) {
    const items = at.items;
    return value.map((item, index) => take(items, item, `${path}[${index}]`, problems));
  }
  if (typeof value !== "object" && types.includes(typeof value)) {
    if (typeof value === "string" && value.length < (at.minLength ?? 0)) return wrong(path, "text", problems);
    return value;
  }
  return wrong(path, types.join(", "), problems);
}

function takeAny(options: readonly Schema[], value: unknown, path: string, problems: Problem[]): unknown {
  let nearest: Problem[] = [];
  for (const option of options) {
    const found: Problem[] = [];
    const taken = take(option, value, path, found);
    if (found.length === 0) return taken;
    const isObject = resolve(option).type === "object";
    if (nearest.length === 0 || (isObject && isRecord(value))) nearest = found;
  }
  problems.push(...nearest);
  return null;
}

function takeObject(at: Schema, value: Record<string, unknown>, path: string, problems: Problem[]): unknown {
  const properties = at.properties ?? {};
  const dot = path === "" ? "" : `${path}.`;
  for (const key of Object.keys(value)) {
    if (!Object.hasOwn(properties, key)) problems.push({ path: dot + key, kind: "unknown", wanted: "" });
  }
  const out: Record<string, unknown> = {};
  for (const [key, node] of Object.entries(properties)) {
    if (Object.hasOwn(value, key)) out[key] = take(node, value[key], dot + key, problems);
    else if (at.required?.includes(key)) problems.push({ path: dot + key, kind: "missing", wanted: "" });
    else out[key] = nothing(resolve(node).type ?? []);
  }
  return out;
}

/** A job without the keys that may be missing and hold what they stand for: `readJob` makes the same of it. */
export function lean(of: Job): unknown {
  return leanIn(root, of);
}

function leanIn(node: Schema, value: unknown): unknown {
  const at = resolve(node);
  if (at.anyOf) {
    const fits = at.anyOf.find((option) => {
      const problems: Problem[] = [];
      take(option, value, "", problems);
      return problems.length === 0;
    });
    return fits ? leanIn(fits, value) : value;
  }
  if (Array.isArray(value)) return at.items ? value.map((item) => leanIn(at.items ?? {}, item)) : value;
  if (!isRecord(value)) return value;
  return Object.fromEntries(Object.entries(value).flatMap(([key, held]) => {
    const kept = at.properties?.[key];
    if (kept === undefined) return [[key, held]];
    const empty = nothing(resolve(kept).type ?? []);
    const same = held === empty || (Array.isArray(held) && Array.isArray(empty) && held.length === 0);
    return same && !at.required?.includes(key) ? [] : [[key, leanIn(kept, held)]];
  }));
}

/** What a key that may be missing stands for. */
function nothing(types: string | readonly string[]): null | [] | false {
  if (types.includes("array")) return [];
  return types.includes("boolean") ? false : null;
}

function wrong(path: string, wanted: string, problems: Problem[]): null {
  problems.push({ path, kind: "wrong", wanted });
  return null;
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
