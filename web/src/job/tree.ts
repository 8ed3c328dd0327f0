// How the places of a job hang together. A job being edited may hold dangling or circular references:
// every walk here ends, and a place that can't be reached from the supply is still listed.

import type { Board, Circuit, Job, Place } from "./types";

export function placeKey(place: Place): string {
  return place.kind === "supply" ? "supply" : `${place.kind}:${place.id}`;
}

export function boardById(job: Job, id: string): Board | undefined {
  return job.boards.find((board) => board.id === id);
}

export function circuitById(job: Job, id: string): Circuit | undefined {
  return job.circuits.find((circuit) => circuit.id === id);
}

export function exists(job: Job, place: Place): boolean {
  if (place.kind === "supply") return true;
  return (place.kind === "board" ? boardById(job, place.id) : circuitById(job, place.id)) !== undefined;
}

/** What a place is fed from. */
export function before(job: Job, place: Place): Place | null {
  if (place.kind === "supply") return null;
  if (place.kind === "circuit") {
    const board = circuitById(job, place.id)?.board;
    return board !== undefined && boardById(job, board) ? { kind: "board", id: board } : null;
  }
  const feeder = boardById(job, place.id)?.fed_by;
  if (feeder === undefined) return null;
  if (feeder === null) return { kind: "supply" };
  return circuitById(job, feeder) ? { kind: "circuit", id: feeder } : null;
}

/** What hangs directly on a place. */
export function after(job: Job, place: Place): Place[] {
  if (place.kind === "board") {
    return job.circuits.filter((circuit) => circuit.board === place.id).map(({ id }) => ({ kind: "circuit", id }));
  }
  const feeder = place.kind === "supply" ? null : place.id;
  return job.boards.filter((board) => board.fed_by === feeder).map(({ id }) => ({ kind: "board", id }));
}

/** The way from the supply to a place, the place itself left out. */
export function trail(job: Job, place: Place): Place[] {
  const way: Place[] = [];
  const seen = new Set([placeKey(place)]);
  let at = before(job, place);
  while (at && !seen.has(placeKey(at))) {
    way.unshift(at);
    seen.add(placeKey(at));
    at = before(job, at);
  }
  return way;
}

export type Stop = { place: Place; depth: number };

/** Every place in walking order: a board, its final circuits, then each line that leads on. */
export function walk(job: Job): Stop[] {
  const stops: Stop[] = [];
  const seen = new Set<string>();
  const feeds = new Set(job.boards.map((board) => board.fed_by));
  const pending: Stop[] = [{ place: { kind: "supply" }, depth: 0 }];
  const drain = () => {
    for (let stop = pending.pop(); stop; stop = pending.pop()) {
      const key = placeKey(stop.place);
      if (seen.has(key)) continue;
      seen.add(key);
      stops.push(stop);
      const next = after(job, stop.place);
      const onward = next.filter((place) => place.kind === "circuit" && feeds.has(place.id));
      const ends = next.filter((place) => !onward.includes(place));
      const deeper = stop.place.kind === "circuit" ? stop.depth + 1 : stop.depth;
      // A stack: what is to come first goes in last.
      for (const place of [...ends, ...onward].reverse()) pending.push({ place, depth: deeper });
    }
  };
  drain();
  for (const board of job.boards) {
    pending.push({ place: { kind: "board", id: board.id }, depth: 0 });
    drain();
  }
  for (const circuit of job.circuits) {
    pending.push({ place: { kind: "circuit", id: circuit.id }, depth: 0 });
    drain();
  }
  return stops;
}

/** A place and everything that hangs on it. */
export function downstream(job: Job, place: Place): Place[] {
  const found: Place[] = [place];
  const seen = new Set([placeKey(place)]);
  // It grows while it is walked.
  for (const at of found) {
    for (const next of after(job, at)) {
      if (seen.has(placeKey(next))) continue;
      seen.add(placeKey(next));
      found.push(next);
    }
  }
  return found;
}
