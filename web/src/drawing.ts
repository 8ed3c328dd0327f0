// Where everything of the one-line diagram stands: busbars upright, a branch to the right for each circuit, so that it
// is no wider than a phone. Only coordinates; a unit is a sixteenth of the size of text.

import { before, placeKey, walk } from "./job/tree";
import type { Circuit, Device, Job, Place } from "./job/types";
import type { Verdict } from "./verdict";

/** What is written at a place. */
export type Label = { name: string; what: string; verdicts: { outcome: Verdict; word: string }[]; facts: string[] };
export type Measure = (text: string, size: number, bold: boolean) => number;

export type Gear = "fuse" | "breaker";
export type End = "sockets" | "lamp" | "motor" | "heater" | "load";
/** One place: its line of text, and what is drawn of it. */
export type Spot = {
  place: Place; label: Label;
  /** The busbar or trunk it stands at; where its text starts; its band from `top` on. */
  x: number; y: number; textX: number; top: number; height: number;
  name: string[]; what: string[];
  gear: Gear | null; rcd: boolean; three: boolean; end: End | null; earth: boolean; loose: boolean;
  /** Where its line turns down to the board it feeds. */
  elbow: number | null;
};
/** An upright: a busbar, or the line to the boards that hang on it. */
export type Upright = { x: number; from: number; to: number; bus: boolean };
/** From a line to one of several boards on it. */
export type Stub = { y: number; from: number; to: number };
export type Plan = { width: number; height: number; wide: boolean; spots: Spot[]; uprights: Upright[]; stubs: Stub[] };

const margin = 16;
const step = 26;
const beside = 18;
/** A circuit's symbols, from its busbar on. */
const symbols = 84;
export const size = { name: 16, what: 13.5, verdict: 14.5 };
export const leading = { name: 19, what: 17, verdict: 20 };
/** From a verdict's mark to its word. */
export const mark = 24;
const least = 52;
/** Verdict and figures to the right of the name rather than below it, from this width on. */
const wideFrom = 640;
export const column = 250;
/** And no further from the names than this. */
export const farthest = 460;

export function gearOf(device: Device | null): Gear | null {
  if (device === null) return null;
  return /^(breaker|rcbo)-/.test(device.family) ? "breaker" : "fuse";
}

function endOf({ use, load }: Circuit): End {
  if (use === "sockets") return "sockets";
  if (use === "lighting") return "lamp";
  if (load.class === "motor") return "motor";
  return ["heating", "cooker", "water-instant", "water-storage", "floor-warming"].includes(load.class) ? "heater" : "load";
}

/** Broken into lines of at most this width; a word that is wider stands alone. */
export function broken(text: string, width: number, measure: (text: string) => number): string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(" ")) {
    const next = line === "" ? word : `${line} ${word}`;
    if (line !== "" && measure(next) > width) {
      lines.push(line);
      line = word;
    } else line = next;
  }
  return line === "" ? lines : [...lines, line];
}

/** Where a drawing is cut, between two places, so that each part is at most so high. */
export function sheets({ spots, height }: Pick<Plan, "height"> & { spots: readonly Pick<Spot, "top" | "height">[] }, most: number): { from: number; to: number }[] {
  const cut: { from: number; to: number }[] = [];
  let from = 0;
  let to = 0;
  for (const { top, height: high } of spots) {
    if (to > from && top + high - from > most) {
      cut.push({ from, to });
      from = to;
    }
    to = top + high;
  }
  return [...cut, { from, to: height }];
}

/** How wide a plan has to be for its verdicts and its longest words. */
export function needed({ spots, wide, width }: Plan, measure: Measure): number {
  const of = ({ textX, name, what, label }: Spot): number[] => [
    ...name.map((text) => textX + measure(text, size.name, true)),
    ...what.map((text) => textX + measure(text, size.what, false)),
    ...(wide ? [] : label.verdicts.map(({ word }) => textX + mark + measure(word, size.verdict, true))),
  ];
  return Math.ceil(Math.max(width, ...spots.flatMap((spot) => of(spot).map((end) => end + 4))));
}

export function plan(job: Job, width: number, measure: Measure, tell: (place: Place) => Label): Plan {
  const wide = width >= wideFrom;
  const boards = new Map(job.boards.map((one) => [one.id, one]));
  const circuits = new Map(job.circuits.map((one) => [one.id, one]));
  const fed = (feeder: string | null) => job.boards.filter(({ fed_by: by }) => by === feeder).length;
  const spots: Spot[] = [];
  const at = new Map<string, Spot>();
  const uprights = new Map<string, Upright>();
  const stubs: Stub[] = [];
  let y = 0;
  for (const { place } of walk(job)) {
    const up = before(job, place);
    const from = up && at.get(placeKey(up));
    const circuit = place.kind === "circuit" ? circuits.get(place.id) : undefined;
    const board = place.kind === "board" ? boards.get(place.id) : undefined;
    let x = margin;
    if (circuit && from) x = from.x;
    if (board && from) {
      const line = from.elbow ?? from.x;
      x = fed(board.fed_by) > 1 ? line + beside : line;
    }
    const feeds = circuit !== undefined && fed(circuit.id) > 0;
    const elbow = feeds ? x + step : null;
    const earth = place.kind === "supply" ? job.supply.earthing === "tt" : board?.earthing === "own-electrode";
    const textX = elbow === null ? x + (circuit ? symbols : 24 + (earth ? 30 : 0)) : elbow + 28;
    const label = tell(place);
    const room = Math.max(60, (wide ? Math.min(width - column, farthest) : width) - textX - 4);
    const name = broken(label.name, room, (text) => measure(text, size.name, true));
    const what = label.what === "" ? [] : broken(label.what, room, (text) => measure(text, size.what, false));
    const said = label.verdicts.length * leading.verdict + (wide ? label.facts.length * leading.what : 0);
    const left = name.length * leading.name + what.length * leading.what;
    const height = Math.max(least, 14 + (wide ? Math.max(left, said) : left + said));
    const spot: Spot = {
      place, label, x, y: y + 24, textX, top: y, height, name, what, elbow, earth,
      gear: gearOf(place.kind === "supply" ? job.supply.device : circuit ? circuit.device : null),
      rcd: (circuit?.rcd ?? board?.rcd ?? null) !== null,
      three: place.kind === "supply" ? job.supply.phases === 3 : circuit?.phase === "three",
      end: circuit && !feeds ? endOf(circuit) : null,
      loose: place.kind !== "supply" && !from,
    };
    spots.push(spot);
    at.set(placeKey(place), spot);
    const key = up && placeKey(up);
    const line = key === null ? undefined : uprights.get(key);
    if (line) line.to = spot.y;
    if (board && from && x !== (from.elbow ?? from.x)) stubs.push({ y: spot.y, from: from.elbow ?? from.x, to: x });
    if (place.kind !== "circuit" || elbow !== null) {
      uprights.set(placeKey(place), { x: elbow ?? x, from: spot.y, to: spot.y + (board ? 14 : 0), bus: board !== undefined });
    }
    y += height;
  }
  return { width, height: y, wide, spots, uprights: [...uprights.values()], stubs };
}
