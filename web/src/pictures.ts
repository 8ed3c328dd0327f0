// What the pictures of one circuit are drawn from, as the core gives it: codes and figures with their words put beside
// them. Only places on the paper are worked out on the page.

import * as wasm from "./pkg-site/faultpath_wasm.js";
import { catalogue, measure, said } from "./catalogue";
import type { Job, Outcome, Place } from "./job/types";

// As it comes over.
type FigureCodes = { value: number; unit: number; shown: string };
type DeviceCodes = {
  place: Place; family: string | null; rating: FigureCodes | null; breaking: number | null;
  late: Point[]; early: Point[]; low: FigureCodes | null; high: FigureCodes | null;
};
type CurvesCodes = {
  devices: DeviceCodes[];
  pairs: {
    supply_side: number; load_side: number; stretches: { order: Order; from: FigureCodes; to: FigureCodes }[];
    to_known: boolean; selective: boolean; selective_to: FigureCodes | null; at_low: Order | null; at_high: Order | null;
  }[];
  rcds: { place: Place; sensitivity: number; delay: string; waits: boolean | null }[];
};
type ProfileCodes = {
  u0: number; limit: FigureCodes | null; outcome: Outcome | null; limit_volts: FigureCodes | null; drop: FigureCodes | null; share: FigureCodes | null;
  full: FigureCodes | null; as_drawn: boolean;
  runs: {
    place: Place; length: FigureCodes; begin: FigureCodes; end: FigureCodes | null;
    points: { section: number; spur: boolean; length: number; volts: number }[];
  }[];
};
type MapCodes = {
  section: number; csa: FigureCodes; length: FigureCodes; step: number; lengths: number[];
  rows: { csa: FigureCodes; cells: ({ outcome: Outcome; check: string; place: Place | null } | null)[] }[];
};

// As the page sees it.
export type Point = [current: number, time: number];
export type Order = "load-side-first" | "either" | "supply-side-first" | "too-quick" | "no-lower-edge" | "not-certain";
export type Figure = { value: number; shown: string };
export type InSeries = {
  place: Place; device: string; rating: Figure; breaking: number | null; late: Point[]; early: Point[]; low: Figure | null; high: Figure | null;
};
export type Stretch = { order: Order; from: Figure; to: Figure };
export type Pair = { above: InSeries; below: InSeries; stretches: Stretch[]; known: boolean; selective: boolean; selectiveTo: Figure | null; atLow: Order | null; atHigh: Order | null };
export type Curves = { devices: InSeries[]; pairs: Pair[]; rcds: CurvesCodes["rcds"] };
export type Run = {
  place: Place; length: Figure; begin: Figure; end: Figure | null; points: { section: number; spur: boolean; length: number; volts: number }[];
};
export type Profile = {
  limit: string | null; outcome: Outcome | null; limitVolts: Figure | null; drop: Figure | null; share: string; full: Figure | null; asDrawn: boolean; runs: Run[];
};
export type Cell = { outcome: Outcome; check: string; name: string; place: Place | null } | null;
export type AreaMap = { section: number; csa: Figure; length: Figure; step: number; lengths: number[]; rows: { csa: Figure; cells: Cell[] }[] };

function figure<F extends FigureCodes | null>(of: F): F extends null ? null : Figure {
  return (of && { value: of.value, shown: measure(of.shown, said(catalogue.units, of.unit)) }) as F extends null ? null : Figure;
}

function deviceOf({ place, family, rating, breaking, late, early, low, high }: DeviceCodes): InSeries | null {
  if (family === null || rating === null) return null;
  const name = (catalogue.choices.names.family?.[family] ?? "").replace(/ \([^)]*\)$/, "");
  return { place, device: name, rating: figure(rating), breaking, late, early, low: figure(low), high: figure(high) };
}

export function curvesOf(job: Job, judgement: number, circuit: string): Curves | null {
  const found = wasm.curves(job, judgement, circuit) as CurvesCodes | null;
  if (!found) return null;
  const devices = found.devices.map(deviceOf);
  const pairs = found.pairs.flatMap(({ supply_side: up, load_side: down, stretches, to_known: known, selective, selective_to: to, at_low: atLow, at_high: atHigh }) => {
    const [above, below] = [devices[up], devices[down]];
    if (!above || !below) return [];
    return [{
      above, below, known, selective, selectiveTo: figure(to), atLow, atHigh,
      stretches: stretches.map(({ order, from, to: end }) => ({ order, from: figure(from), to: figure(end) })),
    }];
  });
  return { devices: devices.filter((one) => one !== null), pairs, rcds: found.rcds };
}

export function profileOf(job: Job, judgement: number, circuit: string): Profile | null {
  const found = wasm.drop_profile(job, judgement, circuit) as ProfileCodes | null;
  if (!found) return null;
  const { limit, limit_volts: limitVolts, outcome, drop, share, full, as_drawn: asDrawn, runs } = found;
  return {
    limit: figure(limit)?.shown ?? null, outcome, limitVolts: figure(limitVolts), drop: figure(drop), share: figure(share)?.shown ?? "", full: figure(full), asDrawn,
    runs: runs.map(({ length, begin, end, ...rest }) => ({ ...rest, length: figure(length), begin: figure(begin), end: figure(end) })),
  };
}

export function areaMapOf(job: Job, judgement: number, circuit: string): AreaMap | null {
  const found = wasm.area_map(job, judgement, circuit) as MapCodes | null;
  if (!found) return null;
  const { csa, length, rows, ...rest } = found;
  return {
    ...rest, csa: figure(csa), length: figure(length),
    rows: rows.map(({ csa: size, cells }) => ({ csa: figure(size), cells: cells.map((cell) => cell && { ...cell, name: said(catalogue.checks, cell.check).name }) })),
  };
}
