// Keeps the current job on the device at every edit, so that a closed page loses nothing.

import { effect } from "@preact/signals";
import { readJob } from "./job/read";
import type { Job } from "./job/types";
import { job, notice } from "./state";
import { words } from "./words";

const slot = "faultpath.job";
const aside = "faultpath.job.unread";

/** The job kept last time. One that can't be read is put aside, not thrown away. */
export function kept(): Job | null {
  let text: string | null = null;
  try {
    text = localStorage.getItem(slot);
    if (text === null) return null;
    const reading = readJob(JSON.parse(text));
    if (reading.job) return reading.job;
  } catch {
    // Not JSON, or no storage here: as below.
  }
  try {
    if (text !== null) localStorage.setItem(aside, text);
  } catch {
    // No room for a second copy: the first stays until the next edit.
  }
  if (text !== null) notice.value = { text: words.file.keptUnreadable, undo: false };
  return null;
}

/** From now on, keeps each new job after it has been drawn. */
export function keep(): void {
  let pending = false;
  let saved = job.peek();
  const save = () => {
    pending = false;
    if (job.peek() === saved) return;
    saved = job.peek();
    try {
      localStorage.setItem(slot, JSON.stringify(saved));
    } catch {
      notice.value = { text: words.file.notKept, undo: false };
    }
  };
  effect(() => {
    if (job.value === saved || pending) return;
    pending = true;
    requestAnimationFrame(() => setTimeout(save));
    // A hidden page gets no frames.
    if (document.visibilityState === "hidden") save();
  });
  addEventListener("pagehide", save);
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "hidden") save();
  });
}

/** A name for a file of this job. */
export function fileName(of: Job, ending: string): string {
  const plain = of.name.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-+|-+$/g, "");
  return `${plain === "" ? "job" : plain}.faultpath.${ending}`;
}

export function asFile(of: Job): { name: string; blob: Blob } {
  return { name: fileName(of, "json"), blob: new Blob([JSON.stringify(of, null, 2), "\n"], { type: "application/json" }) };
}

/** Hands a file to the browser to keep. */
export function hand(name: string, type: string, text: string): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([text], { type }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}
