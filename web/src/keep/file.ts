// Jobs as files: one as it is, many in one, and what is taken in again.

import { readJob, type Problem } from "../job/read";
import type { Job } from "../job/types";
import { words } from "words:page";

/** Larger than a file of this program can sensibly be, and than one job can. */
export const largestFile = 20_000_000;
export const largestJob = 2_000_000;
const mostSaid = 8;

export type Taken = { jobs: Job[]; refused: string[] };

/** A name for a file of this job. */
export function fileName(name: string, ending: string): string {
  const plain = name.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-+|-+$/g, "").slice(0, 60);
  return `${plain === "" ? "job" : plain}.faultpath.${ending}`;
}

export const textOf = (data: unknown): string => `${JSON.stringify(data, null, 2)}\n`;

/** Many jobs in one file. One that can't be read goes along as it is. */
export const together = (jobs: readonly unknown[]) => ({ format: "faultpath-jobs", version: 1, jobs });

/** Hands a file to the browser to keep. */
export function hand(name: string, type: string, text: string): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([text], { type }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}

function say(problem: Problem): string {
  if (problem.kind === "newer") return words.file.newer;
  return problem.kind === "wrong" ? words.file.wrong(problem.path, problem.wanted) : words.file[problem.kind](problem.path);
}

/** A job from unknown data, or why it is none. */
export function takeJob(data: unknown, name: string): Taken {
  const reading = readJob(data);
  if (reading.job) {
    if (JSON.stringify(reading.job).length > largestJob) return { jobs: [], refused: [words.file.at(name, words.file.tooLarge)] };
    return { jobs: [reading.job], refused: [] };
  }
  const [first] = reading.problems;
  if (first?.kind === "newer") return { jobs: [], refused: [words.file.at(name, words.file.newer)] };
  const shown = reading.problems.slice(0, mostSaid).map(say);
  const more = reading.problems.length - shown.length;
  return { jobs: [], refused: [words.file.at(name, words.file.refused), ...shown, ...(more > 0 ? [words.file.more(more)] : [])] };
}

function isRecord(data: unknown): data is Record<string, unknown> {
  return typeof data === "object" && data !== null && !Array.isArray(data);
}

/** All jobs of one file. What is wrong with one takes nothing from the others. */
export async function takeFile(file: File): Promise<Taken> {
  if (file.size > largestFile) return { jobs: [], refused: [words.file.at(file.name, words.file.tooLarge)] };
  let data: unknown;
  try {
    data = JSON.parse(await file.text());
  } catch {
    return { jobs: [], refused: [words.file.at(file.name, words.file.notJson)] };
  }
  // A record holds the job it was made of.
  if (isRecord(data) && data.format === "faultpath-record") data = data.job;
  if (!isRecord(data) || data.format !== "faultpath-jobs") return takeJob(data, file.name);
  if (data.version !== 1) return { jobs: [], refused: [words.file.at(file.name, words.file.newer)] };
  if (!Array.isArray(data.jobs)) return { jobs: [], refused: [words.file.at(file.name, words.file.missing("jobs"))] };
  return all(data.jobs.map((one: unknown, at) => takeJob(one, `${file.name}, ${isRecord(one) && typeof one.name === "string" && one.name !== "" ? one.name : at + 1}`)));
}

export function all(each: readonly Taken[]): Taken {
  return { jobs: each.flatMap(({ jobs }) => jobs), refused: each.flatMap(({ refused }) => refused) };
}
