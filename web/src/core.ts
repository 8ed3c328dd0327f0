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
  return wasm.solve(job, judgement, circuit) as Solutions;
}

export function choices(): Choices {
  return wasm.choices() as Choices;
}
