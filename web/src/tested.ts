// What the core said of the readings, put together for the page: the sequence of a place as stations on its lead,
// and both ways of judging as one where the earthing is not known. Nothing is judged here; the worse counts.

import { stepOf } from "./job/tests";
import { parsePath } from "./job/path";
import type { JudgedReading, NextTest, Outcome, PlaceTests, StopReason, TestNote, TestStep, When } from "./job/types";

const order: readonly Outcome[] = ["pass", "doubtful", "cannot-say", "fail"];

export function worst(outcomes: readonly Outcome[]): Outcome {
  let at = 0;
  for (const one of outcomes) at = Math.max(at, order.indexOf(one));
  return order[at] ?? "cannot-say";
}

/** One reading, as each way of judging sees it. */
export type Told = { path: string; each: { earthing: string; judged: JudgedReading }[] };
export type Station = {
  step: TestStep;
  name: string;
  when: When;
  before: string[];
  readings: Told[];
  /** Null: nothing was read. */
  outcome: Outcome | null;
};
/** One way of judging, with the name of its earthing. */
export type Way = { earthing: string; place: PlaceTests | undefined };

export function known(ways: readonly Way[]): { earthing: string; place: PlaceTests }[] {
  return ways.flatMap(({ earthing, place }) => (place ? [{ earthing, place }] : []));
}

/** The tests of a place in the order of the core; with two ways, those of either. */
export function stations(ways: readonly Way[]): Station[] {
  const found: Station[] = [];
  for (const { earthing, place } of known(ways)) {
    let at = 0;
    for (const { step, name, when, before, outcome } of place.steps) {
      let index = found.findIndex((one) => one.step === step);
      if (index < 0) {
        index = at;
        found.splice(index, 0, { step, name, when, before, readings: [], outcome });
      } else {
        const held = found[index];
        // One way of judging lacks it: it is missing.
        if (held) held.outcome = held.outcome === null || outcome === null ? null : worst([held.outcome, outcome]);
      }
      at = index + 1;
      const station = found[index];
      if (!station) continue;
      for (const judged of place.tests) {
        if (stepOf[judged.test] !== step) continue;
        const told = station.readings.find(({ path }) => path === judged.path);
        if (told) told.each.push({ earthing, judged });
        else station.readings.push({ path: judged.path, each: [{ earthing, judged }] });
      }
    }
  }
  return found;
}

/** What was judged of the entry at this path of the job, and of those within it. */
export function toldAt(all: readonly Told[], path: string): Told[] {
  return all.filter((one) => one.path === path || one.path.startsWith(`${path}.`) || one.path.startsWith(`${path}[`));
}

/** It may be energised only if every way of judging says so, and there is one. */
export function mayEnergise(ways: readonly Way[]): boolean {
  return ways.length > 0 && ways.every(({ place }) => place?.energise.may === true);
}

export type Reason = { stop: StopReason; when: string[] };

/** Everything that stops it, each once, with the ways of judging that say so where not all do. */
export function reasons(ways: readonly Way[]): Reason[] {
  const all = known(ways);
  const found = new Map<string, Reason>();
  for (const { earthing, place } of all) {
    for (const stop of place.energise.stops) {
      const key = JSON.stringify([stop.place, stop.step, stop.text, stop.outcome]);
      const held = found.get(key);
      if (held) held.when.push(earthing);
      else found.set(key, { stop, when: [earthing] });
    }
  }
  return [...found.values()].map(({ stop, when }) => ({ stop, when: when.length === all.length ? [] : when }));
}

/** The next thing to do: the earliest that any way of judging asks for. */
export function nextOf(ways: readonly Way[]): NextTest | null {
  const steps = stations(ways).map(({ step }) => step);
  let best: NextTest | null = null;
  let place = Number.POSITIVE_INFINITY;
  for (const { place: { next } } of known(ways)) {
    const at = next.kind === "test" ? Math.max(0, steps.indexOf(next.step)) : next.kind === "energise" ? steps.length : steps.length + 1;
    if (at < place) [best, place] = [next, at];
  }
  return best;
}

export function notesOf(ways: readonly Way[]): TestNote[] {
  const found = new Map<string, TestNote>();
  for (const { place } of known(ways)) for (const note of place.notes) found.set(JSON.stringify(note), note);
  return [...found.values()];
}

/** Only a place whose every test has passed, in every way of judging, is tested through. */
export function isThrough(ways: readonly Way[]): boolean {
  return ways.length > 0 && ways.every(({ place }) => place?.next.kind === "complete" && place.energise.may);
}

/** Whether a reading is entered at this place, or at one nearer the supply. */
export function isHere(told: string, here: string): boolean {
  const [a, b] = [parsePath(told), parsePath(here)];
  return b.every((key, index) => a[index] === key);
}
