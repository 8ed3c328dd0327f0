// Reading values so that a part of the page is drawn anew only when what it shows has changed.

import { useComputed, useSignal, useSignalEffect, type ReadonlySignal } from "@preact/signals";
import { useRef } from "preact/hooks";
import { getAt, pathText, type Path } from "../job/path";
import { readingErrors } from "../answers";
import { same } from "../same";
import { site } from "../site";
import { errorsByPath, job } from "../state";

/** Readings are asked for only where one of their entries is shown. */
function isReading(key: string): boolean {
  return key.startsWith("testing") || /^(supply|boards\[\d+\]|circuits\[\d+\])\.tests/.test(key);
}

/** A reading that keeps its identity while it holds the same. What `read` closes over must not change: use a key. */
export function useReading<T>(read: () => T): ReadonlySignal<T> {
  const last = useRef<{ value: T } | null>(null);
  return useComputed(() => {
    const value = read();
    if (last.current && same(last.current.value, value)) return last.current.value;
    last.current = { value };
    return value;
  });
}

/** The value of one field of the job. */
export function useValue(path: Path): unknown {
  return useComputed(() => getAt(job.value, path)).value;
}

/** What was said about one field, or null. */
export function useError(path: Path): string | null {
  const key = pathText(path);
  return useComputed(() => (isReading(key) ? readingErrors : errorsByPath).value.get(key) ?? null).value;
}

/** How many entries inside these paths were refused. */
export function useErrorCount(paths: readonly Path[]): number {
  const keys = paths.map(pathText);
  return useComputed(() => {
    let count = 0;
    const errors = keys.some(isReading) ? readingErrors : errorsByPath;
    for (const at of errors.value.keys()) {
      if (keys.some((key) => at === key || at.startsWith(`${key}.`) || at.startsWith(`${key}[`))) count += 1;
    }
    return count;
  }).value;
}

/**
 * Something that takes longer than a frame allows: made after the page has been drawn, and anew after each edit and
 * when what it is `by` changes.
 * Meanwhile what was made before stands; `undefined` until the first is there, null where it could not be made. The
 * core's second file makes it.
 */
export function useLater<T>(make: () => T, by: readonly unknown[] = []): T | null | undefined {
  const made = useSignal<T | null | undefined>(undefined);
  const latest = useRef(make);
  latest.current = make;
  const asked = useSignal(by);
  if (!same(asked.peek(), by)) asked.value = by;
  useSignalEffect(() => {
    const of = job.value;
    const about = asked.value;
    if (site.value === false) return undefined;
    let timer = 0;
    const frame = requestAnimationFrame(() => {
      timer = window.setTimeout(() => {
        if (of !== job.peek() || about !== asked.peek()) return;
        try {
          const next = latest.current();
          if (!same(next, made.peek())) made.value = next;
        } catch (reason) {
          console.error(reason);
          made.value = null;
        }
      });
    });
    return () => {
      cancelAnimationFrame(frame);
      clearTimeout(timer);
    };
  });
  return made.value;
}
