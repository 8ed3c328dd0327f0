// The judged readings as they come over, in codes and figures, and their words put beside them.

import { catalogue, formula, measure, said, saidOf, type Rule } from "./catalogue";
import { shortest, showNumber } from "./job/number";
import type {
  Fact, Judgement, JudgedReading, NextTest, Outcome, Place, PlaceTests, Reading, ReadingTest, RingFound, StopReason, TestNote,
  TestsAnswer, TestStation, TestStep, When,
} from "./job/types";

type RingCodes = {
  patterns: number; conductors: number; socket: number | null; raised: number; shown_raise: string | null;
  shown_expected: string | null; shown_band: string | null;
};
type ReadingCodes = {
  test: number; path: string; taken: number; outcome: Outcome; shown: Reading | null; value: number | null; low: number | null;
  high: number | null; limit: number | null; shown_value: string | null; shown_low: string | null; shown_high: string | null;
  shown_limit: string | null; unit: number; sense: JudgedReading["sense"]; expected: number | null; band_low: number | null;
  band_high: number | null; shown_expected: string | null; shown_band_low: string | null; shown_band_high: string | null;
  side: JudgedReading["side"]; quick: { quick: number; shown_limit: string | null; outcome: Outcome } | null; meaning: number;
  suspects: number; lacking: number; entry: string | null; rule: number; ring: RingCodes | null;
};
type PlaceCodes = {
  place: Place; outcome: Outcome; expected: { figure: number; value: number; unit: number; shown: string }[];
  steps: { step: number; when: When; before: number; needed: number; outcome: Outcome | null }[];
  tests: ReadingCodes[];
  next: { kind: "test"; step: number; before: number; again: Outcome | null } | { kind: "energise" } | { kind: "complete" };
  may: number; stops: { place: Place; stop: string; step: number | null; outcome: Outcome | null }[];
  notes: { note: string; section: number | null; conductors: number; circuit: string | null }[];
};
export type TestsCodes = {
  outcome: Outcome; judgements: { earthing: Judgement["earthing"]; outcome: Outcome; places: PlaceCodes[] }[];
};

const words = catalogue.reading;

// The names of the page for the numbers of the core.
const tests: readonly ReadingTest[] = [
  "r1r2", "r2", "armour", "bonding", "ring", "insulation", "polarity", "ze", "zs", "fault-current", "rcd-time", "rcd-ramp",
  "electrode", "phase-sequence", "volt-drop",
];
const steps: readonly TestStep[] = [
  "bonding", "protective", "armour", "ring", "insulation", "polarity", "electrode", "ze", "fault-current", "zs", "rcd",
  "phase-sequence", "volt-drop",
];

/** The prefix of the unit on the display of an instrument: it moves the decimal point and changes no figure. */
const prefixes: Partial<Record<ReadingTest, [unit: string, shift: number]>> = {
  "rcd-time": ["ms", -3], "rcd-ramp": ["mA", -3], "fault-current": ["kA", 3],
};

function named<T>(names: readonly T[], code: number): T {
  const found = names[code];
  if (found === undefined) throw new Error(`no name for ${code}`);
  return found;
}

/** An answer with its words; its errors are worded as all are. */
export function told({ outcome, judgements }: TestsCodes): Omit<TestsAnswer, "errors"> {
  return { outcome, judgements: judgements.map((one) => ({ ...one, places: one.places.map(placeOf) })) };
}

function placeOf(p: PlaceCodes): PlaceTests {
  return {
    place: p.place,
    outcome: p.outcome,
    expected: p.expected.map(expectedOf),
    steps: p.steps.map(stationOf),
    tests: p.tests.map(readingOf),
    next: nextOf(p.next),
    energise: { may: p.may === 1, stops: p.stops.map(stopOf) },
    notes: p.notes.map(noteOf),
  };
}

function expectedOf({ figure, value, unit: code, shown }: PlaceCodes["expected"][number]): Fact {
  const { symbol, name } = said(words.expected, figure);
  const unit = said(catalogue.units, code);
  return { fact: `expected-${figure}`, symbol, name, value, unit, shown: measure(shown, unit) };
}

function stationOf({ step, when, before, needed, outcome }: PlaceCodes["steps"][number]): TestStation {
  return { step: named(steps, step), name: said(words.steps, step), when, before: saidOf(words.befores, before), needed: needed === 1, outcome };
}

/** A figure with its unit; nothing where there is none. */
function given(shown: string | null, unit: string): string {
  return shown === null ? "" : measure(shown, unit);
}

function readingOf(r: ReadingCodes): JudgedReading {
  const test = named(tests, r.test);
  const [unit, shift] = prefixes[test] ?? [said(catalogue.units, r.unit), 0];
  const rule = said(words.rules, r.rule);
  const figure = (shown: string | null) => (shown === null || shift === 0 ? shown : showNumber(Number(shown), shift));
  const show = (shown: string | null) => given(figure(shown), unit);
  return {
    test,
    name: said(words.tests, r.test),
    path: r.path,
    taken: r.taken === 1,
    outcome: r.outcome,
    shown: displayOf(r.shown),
    value: r.value,
    low: r.low,
    high: r.high,
    limit: r.limit,
    shown_value: show(r.shown_value),
    shown_low: show(r.shown_low),
    shown_high: show(r.shown_high),
    shown_limit: show(r.shown_limit),
    unit,
    sense: r.sense,
    expected: r.expected,
    band_low: r.band_low,
    band_high: r.band_high,
    shown_expected: show(r.shown_expected),
    shown_band: r.shown_band_low === null ? "" : `${figure(r.shown_band_low) ?? ""}–${show(r.shown_band_high)}`,
    side: r.side,
    quick: r.quick && quickOf({ ...r.quick, shown_limit: figure(r.quick.shown_limit) }, unit),
    meaning: said(words.meanings, r.meaning),
    suspects: saidOf(words.suspects, r.suspects),
    lacking: saidOf(words.lacking, r.lacking),
    entry: r.entry,
    rule: ruled(rule),
    source: rule.source,
    standing: rule.standing,
    ring: r.ring && ringOf(r.ring),
  };
}

function ruled(rule: Rule): string {
  return `${rule.name}: ${formula(rule)}`;
}

/** The figure of the display itself, and not its nearest f32. */
function displayOf(shown: Reading | null): Reading | null {
  const figure = (v: number | null) => (v === null ? null : shortest(v));
  if (shown === null) return null;
  return "above" in shown ? { above: figure(shown.above) } : { shown: figure(shown.shown) };
}

function quickOf({ quick, shown_limit, outcome }: NonNullable<ReadingCodes["quick"]>, unit: string): JudgedReading["quick"] {
  const rule = said(words.quick, quick);
  return { name: rule.name, shown_limit: given(shown_limit, unit), outcome, standing: rule.standing };
}

function ringOf(r: RingCodes): RingFound {
  const ohm = (shown: string | null) => given(shown, "Ω");
  return {
    patterns: saidOf(words.patterns, r.patterns),
    conductors: saidOf(words.conductors, r.conductors),
    socket: r.socket,
    raised: r.raised,
    shown_raise: ohm(r.shown_raise),
    shown_expected: ohm(r.shown_expected),
    shown_band: ohm(r.shown_band),
  };
}

function nextOf(next: PlaceCodes["next"]): NextTest {
  if (next.kind !== "test") return next;
  const { step, before, again } = next;
  return { kind: "test", step: named(steps, step), name: said(words.steps, step), before: saidOf(words.befores, before), again };
}

function stopOf({ place, stop, step, outcome }: PlaceCodes["stops"][number]): StopReason {
  return {
    place,
    text: said(words.stops, stop),
    step: step === null ? null : named(steps, step),
    name: step === null ? null : said(words.steps, step),
    outcome,
  };
}

function noteOf({ note, section, conductors, circuit }: PlaceCodes["notes"][number]): TestNote {
  return { text: said(words.notes, note), section, circuit, conductors: saidOf(words.conductors, conductors) };
}
