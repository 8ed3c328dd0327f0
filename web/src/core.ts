// The one door to the core: everything that is calculated or decided comes through here.

import init, * as wasm from "./pkg/faultpath_wasm.js";
import type { Answer, Choices, Job, Place, Solutions, Step } from "./job/types";

export async function openCore(): Promise<void> {
  await init();
}

export function judge(job: Job): Answer {
  return wasm.judge(job) as Answer;
}

/** The steps behind one check at one place. */
export function working(job: Job, judgement: number, place: Place, check: string): Step[] {
  return wasm.working(job, judgement, place, check) as Step[];
}

/** How far a circuit can be taken, and the single changes that would make it pass. */
export function solve(job: Job, judgement: number, circuit: string): Solutions {
  return tidy(wasm.solve(job, judgement, circuit)) as Solutions;
}

export function choices(): Choices {
  return tidy(wasm.choices()) as Choices;
}

/** The core counts in f32; what goes into a job is the shortest decimal that means the same there: 0.03, not 0.0299999993. */
export function shortest(value: number): number {
  for (let digits = 1; digits < 10; digits += 1) {
    const short = Number(value.toPrecision(digits));
    if (Math.fround(short) === Math.fround(value)) return short;
  }
  return value;
}

function tidy(value: unknown): unknown {
  if (typeof value === "number") return Number.isFinite(value) ? shortest(value) : value;
  if (Array.isArray(value)) return value.map(tidy);
  if (typeof value !== "object" || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, tidy(inner)]));
}
