// What is said of a place in a word.

import type { Outcome, PlaceAnswer } from "./job/types";

/** `none`: nothing is checked there, or of nothing; neither is a pass. */
export type Verdict = Outcome | "none";

/** Of a board that feeds nothing only the demand is checked, and that is nought. */
export function isEmpty({ place, facts }: PlaceAnswer): boolean {
  return place.kind === "board" && facts.some(({ fact, value }) => fact === "demand" && value === 0);
}

/** A place that is not in the answer can't be judged. */
export function verdictOf(found: PlaceAnswer | undefined): Verdict {
  if (!found) return "cannot-say";
  return found.outcome === "pass" && (found.findings.length === 0 || isEmpty(found)) ? "none" : found.outcome;
}
