// The one door to the core: everything that is calculated or decided comes through here. It answers in codes and
// figures; what they say is in the catalogue, and is put beside them here.

import init, * as first from "./pkg/faultpath_wasm.js";
import * as whole from "./pkg-site/faultpath_wasm.js";
import { told, type TestsCodes } from "./readings";
import type { Held, Row } from "./evidence";
import { catalogue, filled, formula, measure, said, saidOf, sentence } from "./catalogue";
import { shortest } from "./job/number";
import { asker } from "./asker";
import { same } from "./same";
import { site } from "./site";
import type {
  Answer, Change, Choices, Fact, FieldError, Finding, Job, Judgement, Outcome, Place, PlaceAnswer, Sol, Solutions, Step, TestsAnswer,
} from "./job/types";

export async function openCore(): Promise<void> {
  await init();
}

// As it comes over.
export type FindingCodes = {
  check: string; outcome: Outcome; value: number | null; limit: number | null; unit: number; sense: Finding["sense"];
  margin: number | null; section: number | null; shown_value: string | null; shown_limit: string | null; rule: number;
  lacking: number; paths: (string | null)[]; assumed: number;
};
type FactCodes = { fact: string; value: number | null; shown: string | null };
type ErrorCodes = { path: string; field: string | number; reason: string; wrong: number | null; names: string[] | null; deep: 1 | null };
type PlaceCodes = { place: Place; outcome: Outcome; facts: FactCodes[]; findings: FindingCodes[] };
type AnswerCodes = {
  outcome: Outcome; errors: ErrorCodes[];
  judgements: { earthing: Judgement["earthing"]; outcome: Outcome; places: PlaceCodes[] }[];
};
type StepCodes = {
  place: Place; section: number | null; rule: number; operands: (string | null)[]; value: number; unit: number; shown: string | null;
};
type SolCodes = {
  value: number | null; unit: number; shown: string | null; section: number | null; check: string | null; outcome: Outcome | null;
};
type ChangeCodes = {
  change: string; shown: string | null; unit: number; section: number | null; family: string | null; delay: string | null;
  edits: Change["edits"];
};
type SolutionsCodes = Record<"smallest_csa" | "greatest_length" | "largest_rating", SolCodes> & { changes: ChangeCodes[] };

const atFirst = asker();
const ofWhole = asker();

/** By the first file until the whole is there. That one looks at what stands about the places, too. */
export function judge(job: Job): Answer {
  return worded((site.value ? ofWhole(whole.judge, job) : atFirst(first.judge, job)) as AnswerCodes);
}

/** The test readings of a job, judged against its design. */
export function readings(job: Job): TestsAnswer {
  const { errors, ...rest } = ofWhole(whole.readings, job) as TestsCodes & { errors: ErrorCodes[] };
  return { ...told(rest), errors: errors.map(errorOf) };
}

/** Rows of the evidence, all of one job or of none, held against what comes here. */
export function held(rows: readonly Row[], of: Job | null): Held[] {
  return whole.held(rows, of) as Held[];
}

/** Whether both files judge a job alike, to the last bit. */
export function alike(of: Job): boolean {
  return same(first.judge(of, 0), whole.judge(of, 0));
}

/** The steps behind one check or number at one place; what a board has by its feed begins there. */
export function working(job: Job, judgement: number, place: Place, of: string): Step[] {
  return (whole.working(job, judgement, place, of) as StepCodes[]).map(stepOf);
}

/** How far a circuit can be taken, and the single changes that would make it pass. */
export function solve(job: Job, judgement: number, circuit: string): Solutions {
  const found = whole.solve(job, judgement, circuit) as SolutionsCodes;
  return {
    smallest_csa: solOf(found.smallest_csa),
    greatest_length: solOf(found.greatest_length),
    largest_rating: solOf(found.largest_rating),
    changes: found.changes.map(changeOf),
  };
}

/** What there is to choose from. It hangs on no job, so it is in the catalogue. */
export function choices(): Choices {
  return catalogue.choices;
}

/** An answer with its words. */
export function worded({ outcome, errors, judgements }: AnswerCodes): Answer {
  return {
    outcome,
    errors: errors.map(errorOf),
    judgements: judgements.map((one) => ({ ...one, places: one.places.map(placeOf) })),
  };
}

/** Words are put beside it once: what is as it was comes as the same object. */
function once<From extends object, To>(put: (from: From) => To): (from: From) => To {
  const all = new WeakMap<From, { to: To }>();
  return (from) => {
    const found = all.get(from) ?? { to: put(from) };
    all.set(from, found);
    return found.to;
  };
}

const placeOf = once(({ place, outcome, facts, findings }: PlaceCodes): PlaceAnswer => {
  const kind = place.kind === "circuit" ? "circuit" : "board";
  return { place, outcome, facts: facts.map((fact) => factOf(fact, kind)), findings: findings.map(findingOf) };
});

function factOf({ fact, value, shown }: FactCodes, kind: "circuit" | "board"): Fact {
  const { symbol, unit, [kind]: name } = said(catalogue.figures, fact);
  return { fact, symbol, name, value, unit, shown: measure(shown, unit) };
}

export const findingOf = once((f: FindingCodes): Finding => {
  const rule = said(catalogue.rules, f.rule);
  const words = said(catalogue.checks, f.check);
  const unit = said(catalogue.units, f.unit);
  return {
    check: f.check,
    name: words.name,
    outcome: f.outcome,
    value: f.value,
    limit: f.limit,
    unit,
    sense: f.sense,
    margin: f.margin,
    section: f.section,
    // Nothing is said of a figure that is not known.
    shown_value: f.shown_value === null ? "" : measure(f.shown_value, unit),
    shown_limit: f.shown_limit === null ? "" : measure(f.shown_limit, unit),
    basis: `${rule.name}: ${formula(rule)}`,
    source: rule.source,
    standing: rule.standing,
    text: words[f.outcome],
    lacking: saidOf(catalogue.lacking, f.lacking).map((text, at) => ({ text, path: f.paths[at] ?? null })),
    assumed: saidOf(catalogue.assumed, f.assumed),
  };
});

function errorOf({ path, field, reason, wrong, names, deep }: ErrorCodes): FieldError {
  const own = catalogue.errors.find((one) => one.field === field && one.reason === reason)?.text;
  const what = wrong === null ? own ?? said(catalogue.reasons, reason)
    : sentence(said(catalogue.wrong, wrong), { names: names?.join(", ") ?? "" });
  return {
    path,
    field: typeof field === "number" ? said(catalogue.fields, field) : null,
    reason,
    text: deep === null ? what : `${what} ${catalogue.deep}`,
  };
}

function stepOf(step: StepCodes): Step {
  const rule = said(catalogue.rules, step.rule);
  const unit = said(catalogue.units, step.unit);
  return {
    place: step.place,
    section: step.section,
    symbol: rule.symbol,
    name: rule.name,
    formula: formula(rule),
    filled: filled(rule, step.operands),
    value: step.value,
    unit,
    shown: measure(step.shown, unit),
    source: rule.source,
    standing: rule.standing,
  };
}

function solOf({ value, unit: code, shown, section, check, outcome }: SolCodes): Sol {
  const unit = said(catalogue.units, code);
  const kind = value !== null ? (section === null ? "found" : "found-section")
    : check === null ? "unread" : outcome === "fail" ? "blocked-fail" : "blocked";
  const text = sentence(catalogue.solutions[kind], {
    0: measure(shown, unit),
    section: numbered(section),
    check: check === null ? "" : said(catalogue.checks, check).name,
  });
  return { value: short(value) as number | null, unit, text };
}

function changeOf({ change, shown, unit, section, family, delay, edits }: ChangeCodes): Change {
  const text = sentence(said(catalogue.changes, change), {
    0: measure(shown, said(catalogue.units, unit)),
    section: numbered(section),
    family: catalogue.choices.names.family?.[family ?? ""] ?? "",
    delay: catalogue.choices.names.delay?.[delay ?? ""] ?? "",
  });
  return { text, edits: short(edits) as Change["edits"] };
}

/** The number a person gives a section. */
function numbered(section: number | null): string {
  return section === null ? "" : `${section + 1}`;
}

function short(value: unknown): unknown {
  if (typeof value === "number") return Number.isFinite(value) ? shortest(value) : value;
  if (Array.isArray(value)) return value.map(short);
  if (typeof value !== "object" || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, short(inner)]));
}
