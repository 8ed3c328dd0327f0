// The record of an installation as data: what is printed and what goes into the table. Every figure is the core's, or
// as it was entered.

import { csv, type Cell } from "./csv";
import { showNumber } from "./job/number";
import { pathText } from "./job/path";
import { testsPath } from "./job/tests";
import { placeKey, walk } from "./job/tree";
import type { Answer, Circuit, Device, Job, JudgedReading, Outcome, Place, PlaceAnswer, Rcd, Reading, Standing, TestsAnswer } from "./job/types";
import { words as columns } from "words:table";
import { isHere, isThrough, mayEnergise, reasons, stations, worst, type Way } from "./tested";
import { verdictOf } from "./verdict";

/** One line of the results: a reading, or one that is still to be made. */
export type Line = { step: string; judged: JudgedReading; when: string | null; read: boolean };
export type PlaceRecord = {
  place: Place;
  number: string;
  design: { when: string | null; answer: PlaceAnswer }[];
  lines: Line[];
  missing: string[];
  may: boolean;
  through: boolean;
  ways: Way[];
};

type Known = { job: Job; answer: Answer; tested: TestsAnswer; earthing: (name: Answer["judgements"][number]["earthing"]) => string };

/** Every place in walking order, circuits numbered on their board. */
export function places({ job, answer, tested, earthing }: Known): PlaceRecord[] {
  const many = tested.judgements.length > 1;
  const designs = answer.judgements.map((one) => ({ when: answer.judgements.length > 1 ? earthing(one.earthing) : null, by: new Map(one.places.map((at) => [placeKey(at.place), at])) }));
  const tests = tested.judgements.map((one) => ({ earthing: earthing(one.earthing), by: new Map(one.places.map((at) => [placeKey(at.place), at])) }));
  const boards = job.boards.map(({ id }) => id);
  return walk(job).map(({ place }) => {
    const key = placeKey(place);
    const own = pathText(testsPath(job, place) ?? []);
    const ways: Way[] = tests.map(({ earthing: name, by }) => ({ earthing: name, place: by.get(key) }));
    const lines: Line[] = [];
    const missing: string[] = [];
    for (const station of stations(ways)) {
      // What is read nearer the supply stands there.
      const here = station.readings.filter(({ path }) => isHere(path, own));
      if (here.length === 0 && station.readings.length > 0) continue;
      if (station.outcome === null) missing.push(station.name);
      for (const { each } of here) {
        const [first] = each;
        if (!first) continue;
        const alike = each.every(({ judged }) => JSON.stringify(judged) === JSON.stringify(first.judged));
        for (const { judged, earthing: name } of alike ? [first] : each) lines.push({ step: station.step, judged, when: many && !alike ? name : null, read: judged.taken });
      }
    }
    return {
      place, number: numberOf(job, place, boards), lines, missing, ways, may: mayEnergise(ways), through: isThrough(ways),
      design: designs.flatMap(({ when, by }) => {
        const at = by.get(key);
        return at ? [{ when, answer: at }] : [];
      }),
    };
  });
}

function numberOf(job: Job, place: Place, boards: readonly string[]): string {
  if (place.kind === "supply") return "";
  if (place.kind === "board") return letter(boards.indexOf(place.id));
  const circuit = job.circuits.find(({ id }) => id === place.id);
  const beside = job.circuits.filter(({ board }) => board === circuit?.board);
  return `${letter(boards.indexOf(circuit?.board ?? ""))}${beside.findIndex(({ id }) => id === place.id) + 1}`;
}

function letter(index: number): string {
  return index < 0 ? "?" : index < 26 ? String.fromCharCode(65 + index) : `${letter(Math.floor(index / 26) - 1)}${letter(index % 26)}`;
}

/** Every source a result rests on, once. */
export function sources(all: readonly PlaceRecord[]): { rule: string; source: string; standing: Standing }[] {
  const found = new Map<string, { rule: string; source: string; standing: Standing }>();
  for (const { judged: { rule, source, standing } } of all.flatMap(({ lines }) => lines)) found.set(`${rule} ${source}`, { rule, source, standing });
  return [...found.values()];
}

/** Why places must stay off: each reason once, with the places it holds back. */
export function stopsOf(all: readonly PlaceRecord[]): { text: string; name: string | null; places: PlaceRecord[] }[] {
  const found = new Map<string, { text: string; name: string | null; places: PlaceRecord[] }>();
  for (const at of all) {
    for (const { stop: { text, name } } of reasons(at.ways)) {
      const key = `${name ?? ""} ${text}`;
      const held = found.get(key);
      if (!held) found.set(key, { text, name, places: [at] });
      else if (!held.places.includes(at)) held.places.push(at);
    }
  }
  return [...found.values()];
}

export function assumptions(all: readonly PlaceRecord[]): string[] {
  return [...new Set(all.flatMap(({ design }) => design.flatMap(({ answer }) => answer.findings.flatMap(({ assumed }) => assumed))))];
}

// The table: one row a circuit.

export function figure(reading: Reading | null | undefined, shift = 0): Cell {
  if (!reading) return null;
  const value = "above" in reading ? reading.above : reading.shown;
  if (value === null || Number.isNaN(value)) return null;
  return "above" in reading ? `>${showNumber(value, shift)}` : showNumber(value, shift);
}

export type Names = { group: (group: string, value: string) => string; outcome: (of: Outcome) => string; place: (place: Place) => string; yes: string; no: string };
const several = (all: readonly Cell[]) => all.map((one) => (one === null ? "" : String(one))).join("; ");
const one = (all: readonly Cell[]): Cell => (all.length === 1 ? (all[0] ?? null) : all.length === 0 ? null : several(all));

const multiples = [0.5, 1, 2, 5] as const;

export function table(known: Known, names: Names): string {
  const all = places(known);
  const rows = all.flatMap((at) => {
    const circuit = at.place.kind === "circuit" ? known.job.circuits[known.job.circuits.findIndex(({ id }) => at.place.kind === "circuit" && id === at.place.id)] : undefined;
    return circuit ? [row(circuit, at, names, known.job)] : [];
  });
  return csv(columns, rows);
}

function row(circuit: Circuit, at: PlaceRecord, names: Names, job: Job): Cell[] {
  const index = job.circuits.indexOf(circuit);
  const { tests } = circuit;
  const design = at.design.map(({ answer }) => answer);
  const fact = (name: string): Cell => one([...new Set(design.map(({ facts }) => facts.find((found) => found.fact === name)?.shown ?? ""))].filter((text) => text !== "").map(bare));
  const limit = one([...new Set(design.map(({ findings }) => findings.find(({ check }) => check === "disconnection")?.shown_limit ?? ""))].filter((text) => text !== "").map(bare));
  const under = (key: string) => at.lines.filter(({ judged }) => judged.path === `circuits[${index}].tests.${key}` || judged.path.startsWith(`circuits[${index}].tests.${key}.`) || judged.path.startsWith(`circuits[${index}].tests.${key}[`)).map(({ judged }) => judged);
  const outcome = (key: string, only: (judged: JudgedReading) => boolean = () => true): Cell => {
    const found = under(key).filter((judged) => judged.taken && only(judged));
    return found.length === 0 ? null : names.outcome(worst(found.map((judged) => judged.outcome)));
  };
  const most = (key: string, only: (judged: JudgedReading) => boolean = () => true): Cell => one([...new Set(under(key).filter(only).map(({ shown_limit: text }) => text))].filter((text) => text !== "").map(bare));
  const sections = circuit.sections;
  const of = (pick: (section: Circuit["sections"][number]) => Cell): Cell => {
    const each = sections.map(pick);
    return new Set(each).size === 1 ? (each[0] ?? null) : one(each);
  };
  const ring = tests?.ring ?? null;
  const found = under("ring").flatMap((judged) => judged.ring?.patterns ?? []);
  const times = multiples.flatMap((times) => {
    const each = (tests?.rcd ?? []).map((test, nth) => ({ test, nth })).filter(({ test }) => test.multiple === times);
    const mine = (judged: JudgedReading) => each.some(({ nth }) => judged.path.startsWith(`circuits[${index}].tests.rcd[${nth}]`));
    return [one(each.map(({ test }) => figure(test.reading, -3))), most("rcd", mine), outcome("rcd", mine)];
  });
  const drop = under("volt_drop").map(({ shown_value: text }) => bare(text)).filter((text) => text !== "");
  return [
    names.place({ kind: "board", id: circuit.board }), at.number, circuit.name, names.group("use", circuit.use), names.group("phase", circuit.phase), names.group("shape", circuit.shape),
    ...device(circuit.device, names), ...rcd(circuit.rcd, names),
    of(({ csa }) => csa), of(({ neutral_csa: own, csa }) => own ?? csa), of(({ protective }) => protective.csa), of(({ protective }) => names.group("protective", protective.kind)),
    of(({ material }) => names.group("material", material)), of(({ insulation }) => names.group("insulation", insulation)), of(({ construction }) => names.group("construction", construction)),
    one(sections.map(({ length }) => length)), of(({ method }) => names.group("method", method)),
    fact("ib"), fact("iz"), fact("zs"), limit, fact("ipf-max"), fact("drop-share"), designed(design, names),
    figure(tests?.r1r2), most("r1r2"), outcome("r1r2"), figure(tests?.r2), most("r2"), outcome("r2"), figure(tests?.armour), outcome("armour"),
    figure(ring?.r1), figure(ring?.rn), figure(ring?.r2), one((ring?.sockets ?? []).map(({ line_neutral: reading }) => figure(reading))),
    one((ring?.sockets ?? []).map(({ line_protective: reading }) => figure(reading))), [...new Set(found)].join(" ") || null, outcome("ring"),
    one((tests?.insulation ?? []).map(({ reading }) => figure(reading))), one((tests?.insulation ?? []).map(({ test_voltage: volts }) => volts)), most("insulation"), outcome("insulation"),
    tests?.polarity ? names.group("polarity", tests.polarity) : null, outcome("polarity"), figure(tests?.zs), most("zs"), outcome("zs"),
    ...times,
    figure(tests?.ramp?.reading, -3), outcome("ramp"), tests?.phase_sequence ? names.group("rotation", tests.phase_sequence) : null, outcome("phase_sequence"), one([...new Set(drop)]), outcome("volt_drop"),
    at.missing.join("; ") || null, at.may ? names.yes : names.no,
    reasons(at.ways).map(({ stop, when }) => `${when.length > 0 ? `${when.join(", ")}: ` : ""}${names.place(stop.place)}: ${stop.name === null ? "" : `${stop.name}: `}${stop.text}`).join(" ") || null,
    tests?.energised === true ? names.yes : names.no,
  ];
}

/** Of what nothing was checked of, nothing is said. */
function designed(design: readonly PlaceAnswer[], names: Names): Cell {
  const said = design.map(verdictOf).filter((one) => one !== "none");
  return said.length === 0 || said.length < design.length ? null : names.outcome(worst(said));
}

/** The figure without its unit: that is in the heading. */
export function bare(shown: string): string {
  return /^([<>\u2264\u2265]?\s?-?\d+(?:[.,]\d+)?)/.exec(shown)?.[1]?.replace(/\s/g, "").replace(",", ".") ?? shown;
}

function device(of: Device, names: Names): Cell[] {
  return [names.group("family", of.family), of.rating, of.breaking];
}

function rcd(of: Rcd | null, names: Names): Cell[] {
  return of ? [of.sensitivity === null ? null : showNumber(of.sensitivity, -3), names.group("rcd", of.kind), names.group("delay", of.delay)] : [null, null, null];
}

