// What the codes of the core say. The catalogue is made from the core's own words when its library is built, and those
// of another language stand in its file; nothing is worded or calculated here, only put together.

import { words } from "words:core";
import type { Choices, Outcome, Standing } from "./job/types";

export type Rule = { symbol: string; name: string; template: string; source: string; standing: Standing };
type Check = { name: string } & Record<Outcome, string>;
type Figure = { symbol: string; unit: string; circuit: string; board: string };
type Situation = { name: string; why: string; source: string; standing: Standing };

/** Lists by number, sets by bit, the rest by word. */
export type Catalogue = {
  language: string;
  units: string[];
  checks: Record<string, Check>;
  rules: Rule[];
  figures: Record<string, Figure>;
  lacking: string[];
  assumed: string[];
  fields: string[];
  reasons: Record<string, string>;
  /** Where a reason has words of its own at a field. */
  errors: { field: number; reason: string; text: string }[];
  /** What is wrong by the format alone; `{names}` are the choices. */
  wrong: string[];
  /** Added where nothing can be judged with an error. */
  deep: string;
  solutions: Record<"found" | "found-section" | "blocked-fail" | "blocked" | "unread", string>;
  changes: Record<string, string>;
  choices: Choices;
  reading: {
    tests: string[]; rules: Rule[]; quick: Rule[]; uncertainties: Rule[]; meanings: string[]; expected: { symbol: string; name: string }[]; suspects: string[];
    lacking: string[]; sides: string[]; patterns: string[]; conductors: string[]; steps: string[]; whens: string[];
    befores: string[]; stops: Record<string, string>; notes: Record<string, string>;
  };
  earthing: {
    formulas: Rule[]; schemes: string[]; selective: string[]; cautions: string[]; soils: string[]; stances: string[];
    situations: Situation[];
  };
};

export const catalogue = words;

/** What a code says. One that has no words is a library and a catalogue that do not belong together. */
export function said<T>(words: Record<string, T> | T[], code: string | number): T {
  const found = (words as Record<string, T>)[code];
  if (found === undefined) throw new Error(`no words for ${code}`);
  return found;
}

/** The texts of the bits that are set. */
export function saidOf(words: string[], bits: number): string[] {
  return words.filter((_, bit) => (bits >>> bit) & 1);
}

/** A figure, rounded by the core, with its unit after a gap that does not break; a dash where there is none. */
export function measure(shown: string | null, unit: string): string {
  if (shown === null) return "–";
  return unit === "" ? shown : `${shown}\u00a0${unit}`;
}

/** A rule's right-hand side in symbols: `{0:Ze}` is operand 0, written Ze. */
export function formula({ template }: Rule): string {
  return template.replace(/\{\d:([^}]*)\}/g, "$1");
}

/** The same with the values of a step, as the core has rounded them; one without a value keeps its symbol. */
export function filled({ template }: Rule, operands: (string | null)[]): string {
  return template.replace(/\{(\d):([^}]*)\}/g, (_, at: string, symbol: string) => operands[Number(at)] ?? symbol);
}

/** A sentence with its parts put in: `{section}` is the part of that name. */
export function sentence(template: string, parts: Record<string, string>): string {
  return template.replace(/\{(\w+)\}/g, (whole, name: string) => parts[name] ?? whole);
}
