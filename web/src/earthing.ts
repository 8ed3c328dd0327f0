// The ways of earthing a board, as the core compares them: codes and figures with their words put beside them.

import * as wasm from "./pkg-site/faultpath_wasm.js";
import { catalogue, filled, formula, measure, said, saidOf } from "./catalogue";
import { findingOf, type FindingCodes } from "./core";
import { shortest } from "./job/number";
import { parsePath } from "./job/path";
import type { Finding, Job, Outcome, Rcd, Standing } from "./job/types";

// As it comes over.
type FigureCodes = { value: number; unit: number; shown: string };
type LineCodes = { formula: number; operands: (string | null)[]; value: number; unit: number; shown: string };
type MissingCodes = { lacking: number; paths: (string | null)[] };
type EditCodes = Edit;
type NeedCodes = {
  need: Need["need"]; rcd?: Rcd; selective?: number; outcome?: Outcome; check?: string | null; missing?: MissingCodes;
};
type LostCodes = {
  lost: Lost["lost"]; low?: FigureCodes; high?: FigureCodes; electrode?: FigureCodes | null; current?: FigureCodes | null;
  sought?: "impossible" | "none" | "at-most"; sought_ra?: FigureCodes | null; missing?: MissingCodes;
};
type SideCodes = {
  scheme: number; outcome: Outcome; check: string | null; feed: Outcome;
  disconnection: FindingCodes | null; at_board: FindingCodes | null; touch: FindingCodes | null; bonding: FindingCodes | null; feed_bonding: FindingCodes | null;
  earthing_conductor: FindingCodes | null; bonding_needed: FigureCodes | MissingCodes; rcd: NeedCodes;
  electrode_sought: { rcd: Rcd; ra: FigureCodes } | null; stable: boolean | null;
  armour: { armour: Side["armour"]; apart_at_origin: Outcome | null }; lost: LostCodes; through_electrode: FigureCodes | null;
  grave: number; cautions: number; working: LineCodes[]; edits: EditCodes[];
};
type EarthingCodes = {
  error: string | null; electrode: FigureCodes | null; electrode_from: Ways["electrodeFrom"]; limit: FigureCodes; least: FigureCodes;
  target: FigureCodes | null; target_from: Ways["targetFrom"];
  judgements: { earthing: Earthing; sides: SideCodes[] }[];
  situations: { situation: number; stance: number; by_job: boolean }[];
};
type ReverseCodes = {
  target: FigureCodes; rod_length: FigureCodes | { reason: string } | null; meets: boolean | null;
  rods: { count: number; layout: "line" | "square"; length: FigureCodes; spacing: FigureCodes; resistance: FigureCodes; edits: EditCodes[] } | { reason: string } | null;
};
type ElectrodeCodes = {
  error: string | null; open: string[]; resistance: FigureCodes | null; today: FigureCodes | null; approximate: FigureCodes | null;
  stable: boolean | null; soil: [number, number] | null; soil_low: FigureCodes | null; soil_high: FigureCodes | null; seasons: [number, number];
  working: LineCodes[]; reverse: ReverseCodes | null;
};

// As the page sees it.
export type Earthing = "tn-s" | "tn-c-s" | "tt";
export type Edit = { path: string; value: unknown };
export type Missing = { text: string; path: string | null };
/** A line of working. */
export type Line = {
  symbol: string; name: string; formula: string; filled: string; shown: string; source: string; standing: Standing;
};
export type Need = {
  need: "none" | "this" | "none-serves" | "not-known"; rcd: Rcd | null; selective: string; outcome: Outcome | null; check: string;
  missing: Missing[];
};
export type Lost = {
  lost: "not-joined" | "apart" | "not-known" | "rises"; low: string; high: string; electrode: string; current: string;
  sought: "impossible" | "none" | "at-most" | null; soughtRa: string; missing: Missing[];
};
export type Scheme = "extend-supply" | "own-electrode" | "extend-with-electrode";
export type Side = {
  scheme: Scheme; name: string; outcome: Outcome; check: string; feed: Outcome;
  disconnection: Finding | null; atBoard: Finding | null; touch: Finding | null; bonding: Finding | null; feedBonding: Finding | null;
  earthingConductor: Finding | null; bondingNeeded: string; bondingMissing: Missing[]; rcd: Need;
  sought: { rcd: Rcd; ra: string } | null; stable: boolean | null; armour: "none" | "through" | "apart"; apartAtOrigin: Outcome | null;
  lost: Lost; through: string;
  /** To be read with the verdict, and what else is to be thought of. */
  grave: string[]; cautions: string[]; working: Line[]; edits: Edit[];
};
export type Stance = "ask" | "doubtful" | "not-allowed";
export type SituationSaid = {
  name: string; why: string; source: string; standing: Standing; stance: Stance; stanceText: string; byJob: boolean;
};
export type Ways = {
  error: string | null; electrode: string; electrodeFrom: "entered" | "planned" | null; limit: string; least: string;
  target: number | null; targetShown: string; targetFrom: "entered" | "sought" | "stable";
  judgements: { earthing: Earthing; sides: Side[] }[]; situations: SituationSaid[];
};
export type Reverse = {
  target: string; length: string; lengthReason: string | null; meets: boolean | null;
  rods: { count: number; layout: "line" | "square"; length: string; spacing: string; resistance: string; edits: Edit[] } | null; rodsReason: string | null;
};
export type ElectrodeSaid = {
  error: string | null; open: string[]; resistance: string; today: string; approximate: string; stable: boolean | null;
  soil: [number, number] | null; soilLow: string; soilHigh: string; seasons: [number, number]; working: Line[]; reverse: Reverse | null;
};

const schemes = ["extend-supply", "own-electrode", "extend-with-electrode"] as const;
const stances = ["ask", "doubtful", "not-allowed"] as const;

function shown(figure: FigureCodes | null | undefined): string {
  return figure ? measure(figure.shown, said(catalogue.units, figure.unit)) : "";
}

function missing(of: MissingCodes | undefined): Missing[] {
  return of ? saidOf(catalogue.lacking, of.lacking).map((text, at) => ({ text, path: of.paths[at] ?? null })) : [];
}

function lineOf({ formula: code, operands, unit, shown: value }: LineCodes): Line {
  const rule = said(catalogue.earthing.formulas, code);
  return {
    symbol: rule.symbol,
    name: rule.name,
    formula: formula(rule),
    filled: filled(rule, operands),
    shown: measure(value, said(catalogue.units, unit)),
    source: rule.source,
    standing: rule.standing,
  };
}

/** The sizes of RCDs are decimals; f32 is the nearest to them. */
function rcdOf(rcd: Rcd): Rcd {
  return { ...rcd, sensitivity: rcd.sensitivity === null ? null : shortest(rcd.sensitivity) };
}

function editOf({ path, value }: EditCodes): Edit {
  if (typeof value === "number") return { path, value: shortest(value) };
  return { path, value: typeof value === "object" && value !== null ? rcdOf(value as Rcd) : value };
}

function needOf({ need, rcd, selective, outcome, check, missing: lacking }: NeedCodes): Need {
  return {
    need,
    rcd: rcd ? rcdOf(rcd) : null,
    selective: selective === undefined ? "" : said(catalogue.earthing.selective, selective),
    outcome: outcome ?? null,
    check: check ? said(catalogue.checks, check).name : "",
    missing: missing(lacking),
  };
}

function lostOf(of: LostCodes): Lost {
  return {
    lost: of.lost,
    low: shown(of.low),
    high: shown(of.high),
    electrode: shown(of.electrode),
    current: shown(of.current),
    sought: of.sought ?? null,
    soughtRa: shown(of.sought_ra),
    missing: missing(of.missing),
  };
}

function sideOf(side: SideCodes): Side {
  const found = (codes: FindingCodes | null) => (codes ? findingOf(codes) : null);
  const needed = side.bonding_needed;
  return {
    scheme: said([...schemes], side.scheme),
    name: said(catalogue.earthing.schemes, side.scheme),
    outcome: side.outcome,
    check: side.check === null ? "" : said(catalogue.checks, side.check).name,
    feed: side.feed,
    disconnection: found(side.disconnection),
    atBoard: found(side.at_board),
    touch: found(side.touch),
    bonding: found(side.bonding),
    feedBonding: found(side.feed_bonding),
    earthingConductor: found(side.earthing_conductor),
    bondingNeeded: "shown" in needed ? shown(needed) : "",
    bondingMissing: "lacking" in needed ? missing(needed) : [],
    rcd: needOf(side.rcd),
    sought: side.electrode_sought && { rcd: rcdOf(side.electrode_sought.rcd), ra: shown(side.electrode_sought.ra) },
    stable: side.stable,
    armour: side.armour.armour,
    apartAtOrigin: side.armour.apart_at_origin,
    lost: lostOf(side.lost),
    through: shown(side.through_electrode),
    grave: saidOf(catalogue.earthing.cautions, side.grave),
    cautions: saidOf(catalogue.earthing.cautions, side.cautions),
    working: side.working.map(lineOf),
    edits: side.edits.map(editOf),
  };
}

/** The ways of earthing a board, side by side, for each earthing the supply is judged as. */
export function waysOf(job: Job, board: string): Ways {
  const found = wasm.earthing(job, board) as EarthingCodes;
  if (found.error !== null) {
    return {
      error: found.error, electrode: "", electrodeFrom: null, limit: "", least: "", target: null, targetShown: "", targetFrom: "stable",
      judgements: [], situations: [],
    };
  }
  return {
    error: null,
    electrode: shown(found.electrode),
    electrodeFrom: found.electrode_from,
    limit: shown(found.limit),
    least: shown(found.least),
    target: found.target?.value ?? null,
    targetShown: shown(found.target),
    targetFrom: found.target_from,
    judgements: found.judgements.map(({ earthing, sides }) => ({ earthing, sides: sides.map(sideOf) })),
    situations: found.situations.map(({ situation, stance, by_job: byJob }) => ({
      ...said(catalogue.earthing.situations, situation),
      stance: said([...stances], stance),
      stanceText: said(catalogue.earthing.stances, stance),
      byJob,
    })),
  };
}

/** What the planned electrode will be, and what a resistance that is looked for takes. */
export function electrodeOf(job: Job, board: string, target: number | null): ElectrodeSaid {
  const found = wasm.electrode(job, board, target ?? undefined) as ElectrodeCodes;
  if (found.error !== null) {
    return {
      error: found.error, open: [], resistance: "", today: "", approximate: "", stable: null, soil: null, soilLow: "", soilHigh: "",
      seasons: [1, 1], working: [], reverse: null,
    };
  }
  const { reverse } = found;
  return {
    error: null,
    open: found.open,
    resistance: shown(found.resistance),
    today: shown(found.today),
    approximate: shown(found.approximate),
    stable: found.stable,
    soil: found.soil,
    soilLow: shown(found.soil_low),
    soilHigh: shown(found.soil_high),
    seasons: found.seasons.map((factor) => shortest(factor)) as [number, number],
    working: found.working.map(lineOf),
    reverse: reverse && {
      target: shown(reverse.target),
      length: reverse.rod_length && "shown" in reverse.rod_length ? shown(reverse.rod_length) : "",
      lengthReason: reverse.rod_length && "reason" in reverse.rod_length ? reverse.rod_length.reason : null,
      meets: reverse.meets,
      rods: reverse.rods && "count" in reverse.rods ? {
        count: reverse.rods.count,
        layout: reverse.rods.layout,
        length: shown(reverse.rods.length),
        spacing: shown(reverse.rods.spacing),
        resistance: shown(reverse.rods.resistance),
        edits: reverse.rods.edits.map(editOf),
      } : null,
      rodsReason: reverse.rods && "reason" in reverse.rods ? reverse.rods.reason : null,
    },
  };
}

/** What comes out once all is there that the way needs. */
export function outcomeOf(side: Side): Outcome {
  return side.rcd.outcome ?? side.outcome;
}

/** The check that decides it. */
export function checkOf(side: Side): string {
  return side.rcd.need === "this" ? side.rcd.check : side.check;
}

/** Whether the job is made so. */
export function isTaken(of: Job, side: Side): boolean {
  const flat = (value: unknown) => JSON.stringify(value ?? null);
  return side.edits.every(({ path, value }) => {
    let at: unknown = of;
    for (const key of parsePath(path)) at = typeof at === "object" && at !== null ? (at as Record<string | number, unknown>)[key] : undefined;
    const absent = at === undefined && value === false;
    return absent || flat(order(at)) === flat(order(value));
  });
}

function order(value: unknown): unknown {
  if (typeof value !== "object" || value === null) return value;
  return Object.fromEntries(Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1)));
}
