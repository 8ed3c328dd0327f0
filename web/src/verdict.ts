// What is said of a place in a word.

import type { Outcome, PlaceAnswer } from "./job/types";

/** `none`: nothing is checked there, which is no pass. */
export type Verdict = Outcome | "none";

/** A place that is not in the answer can't be judged. */
export function verdictOf(found: PlaceAnswer | undefined): Verdict {
  if (!found) return "cannot-say";
  return found.outcome === "pass" && found.findings.length === 0 ? "none" : found.outcome;
}
