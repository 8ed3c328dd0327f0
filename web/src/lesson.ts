// A set of exercises, as the core makes it from its seed: codes with their words put beside them. Whether an entry is
// right, and which slip it is, the core says.

import * as wasm from "./pkg-site/faultpath_wasm.js";
import { catalogue, filled, formula, measure, said, type Rule } from "./catalogue";
import { words } from "words:lesson";

export type Lesson = { seed: number; kinds: string[]; count: number; each: boolean };
/** What an address of the lesson asks for. */
export type Asked = { lesson: Lesson | null; learner: number | null; sheet: boolean };
export type Told = { told: "right" | "rounded" | "slip" | "wrong"; slips: string[] };
export type Question = { kind: string; name: string; ask: string; unit: string; device: string; given: { name: string; shown: string }[] };
export type Step = { symbol: string; name: string; formula: string; filled: string; shown: string; source: string; standing: Rule["standing"] };
export type Answer = Question & { shown: string; slips: { text: string; shown: string }[]; working: Step[] };

type QuestionCodes = { kind: string; family: string | null; unit: number; given: { given: string; unit: number; shown: string }[] };
type AnswerCodes = QuestionCodes & {
  shown: string; slips: { slip: string; shown: string }[];
  working: { rule: number | null; formula: string | null; operands: string[]; unit: number; shown: string }[];
};

export const most = 60;
const largest = 0xffff_ffff;

function whole(text: string | undefined, from: number, to: number): number | null {
  if (text === undefined || !/^\d{1,10}$/.test(text)) return null;
  const value = Number(text);
  return value >= from && value <= to ? value : null;
}

/** `seed/kinds/count/same`, with a learner or the sheet behind it. */
export function readAsked(text: string): Asked | null {
  if (text === "") return { lesson: null, learner: null, sheet: false };
  const [seedText, kindsText = "", countText, numbers, last] = text.split("/");
  const seed = whole(seedText, 0, largest);
  const count = whole(countText, 1, most);
  const kinds = kindsText.split(".");
  if (seed === null || count === null || !kinds.every((kind) => Object.hasOwn(words.kinds, kind)) || (numbers !== "same" && numbers !== "each")) return null;
  const learner = last === undefined || last === "sheet" ? null : whole(last, 1, 999);
  if (last !== undefined && last !== "sheet" && learner === null) return null;
  return { lesson: { seed, kinds, count, each: numbers === "each" }, learner, sheet: last === "sheet" };
}

export function textOf({ seed, kinds, count, each }: Lesson): string {
  return `${seed}/${kinds.join(".")}/${count}/${each ? "each" : "same"}`;
}

export function hrefOf(lesson: Lesson, more = ""): string {
  return `#/lesson/${textOf(lesson)}${more === "" ? "" : `/${more}`}`;
}

/** A set as a file, and back; null where it is none. */
export function asFile({ seed, kinds, count, each }: Lesson): string {
  return `${JSON.stringify({ format: "faultpath-lesson", version: 1, seed, kinds, count, numbers: each ? "each" : "same" }, null, 2)}\n`;
}

export function fromFile(text: string): Lesson | null {
  try {
    const { format, version, seed, kinds, count, numbers } = JSON.parse(text) as Record<string, unknown>;
    if (format !== "faultpath-lesson" || version !== 1 || !Array.isArray(kinds)) return null;
    return readAsked(`${String(seed)}/${kinds.join(".")}/${String(count)}/${String(numbers)}`)?.lesson ?? null;
  } catch {
    return null;
  }
}

function questionOf({ kind, family, unit, given }: QuestionCodes): Question {
  const { name, ask } = said(words.kinds, kind);
  return {
    kind, name, ask, unit: said(catalogue.units, unit),
    device: family === null ? "" : catalogue.choices.names.family?.[family] ?? "",
    given: given.map(({ given: what, unit: of, shown }) => ({ name: said(words.given, what), shown: measure(shown, said(catalogue.units, of)) })),
  };
}

const args = ({ seed, kinds }: Lesson, learner: number): [number, number, string] => [seed, learner, kinds.join(".")];

export function questionsOf(lesson: Lesson, learner: number): Question[] {
  return (wasm.lesson_questions(...args(lesson, learner), lesson.count) as QuestionCodes[]).map(questionOf);
}

export function toldOf(lesson: Lesson, learner: number, number: number, entered: number): Told {
  return wasm.lesson_told(...args(lesson, learner), number, entered) as Told;
}

export function answersOf(lesson: Lesson, learner: number): Answer[] {
  return (wasm.lesson_answers(...args(lesson, learner), lesson.count) as AnswerCodes[]).map(({ shown, slips, working, ...asked }) => {
    const unit = said(catalogue.units, asked.unit);
    return {
      ...questionOf(asked),
      shown: measure(shown, unit),
      slips: slips.map(({ slip, shown: wrong }) => ({ text: said(words.slips, slip), shown: measure(wrong, unit) })),
      working: working.map(({ rule, formula: own, operands, unit: of, shown: value }) => {
        const by: Rule = own === null ? said(catalogue.rules, rule ?? -1) : said(words.formulas, own);
        const { symbol, name, source, standing } = by;
        return { symbol, name, formula: formula(by), filled: filled(by, operands), shown: measure(value, said(catalogue.units, of)), source, standing };
      }),
    };
  });
}
