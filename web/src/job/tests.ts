// The test readings of a place as they stand in the job. They are made when the first one is entered.

import { fresh } from "./fresh";
import { getAt, setAt, type Path } from "./path";
import type { BoardTests, CircuitTests, FaultReadings, Job, Place, ReadingTest, Ring, SupplyTests, TestStep } from "./types";

/** Where the readings of a place are kept; null where there is no such place. */
export function testsPath(job: Job, place: Place): Path | null {
  if (place.kind === "supply") return ["supply", "tests"];
  const list = place.kind === "board" ? job.boards : job.circuits;
  const index = list.findIndex(({ id }) => id === place.id);
  return index < 0 ? null : [place.kind === "board" ? "boards" : "circuits", index, "tests"];
}

function empty(place: Place): unknown {
  if (place.kind === "supply") return fresh.supplyTests();
  return place.kind === "board" ? fresh.boardTests() : fresh.circuitTests();
}

/** Readings that are made together, while none of them is there. */
const groups: Record<string, () => unknown> = {
  fault: (): FaultReadings => ({ line_neutral: null, line_earth: null, three_phase: null }),
  ring: (): Ring => ({ r1: null, rn: null, r2: null, sockets: [] }),
};

/** The same job with one entry of a place's readings changed; `keys` lead from the readings of the place. */
export function putTest(job: Job, place: Place, keys: Path, value: unknown): Job {
  const at = testsPath(job, place);
  if (at === null) return job;
  const held = getAt(job, at) ?? empty(place);
  const [first] = keys;
  const start = keys.length > 1 && first !== undefined && getAt(held, [first]) === null ? groups[first]?.() : undefined;
  const ready = first === undefined || start === undefined ? held : setAt(held, [first], start);
  return setAt(job, at, setAt(ready, keys, value));
}

export function testsOf(job: Job, place: Place): SupplyTests | BoardTests | CircuitTests | null {
  if (place.kind === "supply") return job.supply.tests;
  return (place.kind === "board" ? job.boards : job.circuits).find(({ id }) => id === place.id)?.tests ?? null;
}

/** The step of the sequence a reading belongs to. */
export const stepOf: Record<ReadingTest, TestStep> = {
  r1r2: "protective", r2: "protective", armour: "armour", bonding: "bonding", ring: "ring", insulation: "insulation", polarity: "polarity", ze: "ze", zs: "zs",
  "fault-current": "fault-current", "rcd-time": "rcd", "rcd-ramp": "rcd", electrode: "electrode", "phase-sequence": "phase-sequence", "volt-drop": "volt-drop",
};

/** The place a path of the job leads to. */
export function placeOfPath(job: Job, path: Path): Place | null {
  const [top, index] = path;
  if (top === "supply") return { kind: "supply" };
  if (typeof index !== "number") return null;
  const id = top === "boards" ? job.boards[index]?.id : top === "circuits" ? job.circuits[index]?.id : undefined;
  return id === undefined ? null : { kind: top === "boards" ? "board" : "circuit", id };
}
