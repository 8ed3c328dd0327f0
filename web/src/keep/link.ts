// A job in an address: compressed, and in the part of it that no server is ever sent. Where one code for a camera would
// be too fine to read, the address is spread over several.

import { lean } from "../job/read";
import type { Job } from "../job/types";
import { largestJob } from "./file";

/** How much a code may hold so that a phone reads it from another phone. */
const perCode = 1250;
export const mostCodes = 12;

function through(bytes: Uint8Array<ArrayBuffer>, by: CompressionStream | DecompressionStream): ReadableStream<Uint8Array> {
  return new Blob([bytes]).stream().pipeThrough(by);
}

/** All of a stream, unless it is more than `most`. */
async function whole(stream: ReadableStream<Uint8Array>, most: number): Promise<Uint8Array<ArrayBuffer>> {
  const parts: Uint8Array<ArrayBuffer>[] = [];
  let size = 0;
  const reader = stream.getReader();
  for (;;) {
    const { value, done } = await reader.read();
    if (done) return new Uint8Array(await new Blob(parts).arrayBuffer());
    size += value.length;
    if (size > most) {
      await reader.cancel();
      throw new RangeError("too much");
    }
    parts.push(value as Uint8Array<ArrayBuffer>);
  }
}

/** In letters that an address takes as they are. */
function letters(bytes: Uint8Array): string {
  let text = "";
  for (const byte of bytes) text += String.fromCharCode(byte);
  return btoa(text).replaceAll("+", "-").replaceAll("/", "_").replace(/=+$/, "");
}

function bytesOf(text: string): Uint8Array<ArrayBuffer> {
  return Uint8Array.from(atob(text.replaceAll("-", "+").replaceAll("_", "/")), (one) => one.charCodeAt(0));
}

export async function pack(job: Job): Promise<string> {
  const bytes = new TextEncoder().encode(JSON.stringify(lean(job)));
  return letters(await whole(through(bytes, new CompressionStream("deflate-raw")), Number.POSITIVE_INFINITY));
}

/** What was packed, as data: it still has to be read. Null where it is damaged, cut off or far too large. */
export async function unpack(text: string): Promise<unknown> {
  try {
    const bytes = await whole(through(bytesOf(text), new DecompressionStream("deflate-raw")), largestJob);
    return JSON.parse(new TextDecoder("utf-8", { fatal: true }).decode(bytes)) as unknown;
  } catch {
    return null;
  }
}

/** Without what was read and who was there: the design alone. */
export function designOf(job: Job): Job {
  const untested = <T extends { tests: unknown }>(one: T) => ({ ...one, tests: null });
  return { ...job, testing: null, record: null, supply: untested(job.supply), boards: job.boards.map(untested), circuits: job.circuits.map(untested) };
}

/** Where the page is, without where one stands on it. */
export function base(): string {
  return location.href.replace(/#.*$/s, "");
}

export function linkOf(packed: string): string {
  return `${base()}#/take/${packed}`;
}

/** One address a code; none where it would be too many. */
export function codesOf(packed: string): string[] {
  const count = Math.ceil(packed.length / perCode);
  if (count === 1) return [linkOf(packed)];
  if (count > mostCodes) return [];
  const each = Math.ceil(packed.length / count);
  const sum = sumOf(packed);
  return Array.from({ length: count }, (_, at) => `${base()}#/part/${sum}/${at + 1}/${count}/${packed.slice(at * each, (at + 1) * each)}`);
}

/** Tells parts of one job from those of another, and whether all of it came. FNV-1a. */
export function sumOf(text: string): string {
  let sum = 0x811c9dc5;
  for (let at = 0; at < text.length; at += 1) sum = Math.imul(sum ^ text.charCodeAt(at), 0x01000193) >>> 0;
  return sum.toString(36);
}

export type Part = { sum: string; number: number; of: number; text: string };

export function readPart(words: readonly string[]): Part | null {
  const [sum = "", number, of, text = ""] = words;
  const part = { sum, number: Number(number), of: Number(of), text };
  const whole = Number.isInteger(part.number) && Number.isInteger(part.of) && part.number >= 1 && part.number <= part.of && part.of <= mostCodes;
  return whole && /^[0-9a-z]{1,7}$/.test(sum) && /^[\w-]+$/.test(text) ? part : null;
}

/** What the parts that came make together; null until all did. */
export function joined(of: number, sum: string, parts: ReadonlyMap<number, string>): string | null {
  const text = Array.from({ length: of }, (_, at) => parts.get(at + 1) ?? "").join("");
  return parts.size >= of && sumOf(text) === sum ? text : null;
}

