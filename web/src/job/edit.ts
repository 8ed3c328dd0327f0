// Edits that change what there is: add, copy, remove. Each gives a new job and leaves the old one as it was.

import { fresh } from "./fresh";
import { boardById, circuitById, downstream, placeKey } from "./tree";
import type { Board, Circuit, Job, Place, Section } from "./types";

function newId(job: Job, letter: string): string {
  const taken = new Set([...job.boards, ...job.circuits].map(({ id }) => id));
  let n = 1;
  while (taken.has(`${letter}${n}`)) n += 1;
  return `${letter}${n}`;
}

/** The name, numbered where another has it: two that are alike can't be told apart in a list. */
function free(all: readonly { name: string }[], name: string): string {
  const taken = new Set(all.map((one) => one.name));
  let n = 1;
  const numbered = () => (n === 1 ? name : `${name} ${n}`);
  while (taken.has(numbered())) n += 1;
  return numbered();
}

/** Made as the last one on its board, or the last one anywhere, so that only what differs has to be entered. */
function likeLast(job: Job, board: string): ReturnType<typeof fresh.circuit> {
  const start = fresh.circuit(job);
  const finals = job.circuits.filter(({ use }) => use !== "distribution");
  const last = finals.findLast((one) => one.board === board) ?? finals.at(-1);
  const run = last?.sections.find(({ part }) => part === "run");
  if (!last || !run) return start;
  const { phase, shape, rcd, use, outdoors, bath, concealed, dwelling } = last;
  return {
    ...start, phase, shape, rcd, use, outdoors, bath, concealed, dwelling,
    // Let-through energy is a maker's figure of one device, lengths and loads are of one circuit.
    device: { ...last.device, let_through: null },
    load: { ...start.load, power_factor: last.load.power_factor, class: last.load.class },
    sections: [{ ...run, length: null, insulation_run: null, spur_fuse: null }],
  };
}

export function addCircuit(job: Job, board: string, name: string): { job: Job; id: string } {
  const id = newId(job, "c");
  const circuit: Circuit = { ...likeLast(job, board), id, name: free(job.circuits, name), board };
  return { job: { ...job, circuits: [...job.circuits, circuit] }, id };
}

/** A line from one board to a new one, and that board. */
export function addLine(job: Job, board: string, lineName: string, boardName: string): { job: Job; line: string; board: string } {
  const line = newId(job, "c");
  const id = newId(job, "b");
  const circuit: Circuit = { ...fresh.line(job), id: line, name: free(job.circuits, lineName), board };
  const next: Board = { ...fresh.board(), id, name: free(job.boards, boardName), fed_by: line };
  return { job: { ...job, circuits: [...job.circuits, circuit], boards: [...job.boards, next] }, line, board: id };
}

export function addBoard(job: Job, fedBy: string | null, name: string): { job: Job; id: string } {
  const id = newId(job, "b");
  return { job: { ...job, boards: [...job.boards, { ...fresh.board(), id, name: free(job.boards, name), fed_by: fedBy }] }, id };
}

/** What was read at one is not true of its copy. */
function untested<T extends Board | Circuit>(of: T): T {
  return { ...of, tests: null };
}

/** A copy beside the original. What hangs on a line is not copied with it. */
export function copyCircuit(job: Job, id: string, name: (old: string) => string): { job: Job; id: string } | null {
  const index = job.circuits.findIndex((circuit) => circuit.id === id);
  const original = job.circuits[index];
  if (!original) return null;
  const copy = { ...untested(original), id: newId(job, "c"), name: free(job.circuits, name(original.name)) };
  return { job: { ...job, circuits: job.circuits.toSpliced(index + 1, 0, copy) }, id: copy.id };
}

/** A copy of a board with its own circuits, fed from the same place. */
export function copyBoard(job: Job, id: string, name: (old: string) => string): { job: Job; id: string } | null {
  const index = job.boards.findIndex((board) => board.id === id);
  const original = job.boards[index];
  if (!original) return null;
  const copy = { ...untested(original), id: newId(job, "b"), name: free(job.boards, name(original.name)) };
  let next: Job = { ...job, boards: job.boards.toSpliced(index + 1, 0, copy) };
  for (const circuit of job.circuits.filter(({ board }) => board === id)) {
    next = { ...next, circuits: [...next.circuits, { ...untested(circuit), id: newId(next, "c"), board: copy.id }] };
  }
  return { job: next, id: copy.id };
}

/** Without a place and all that hangs on it. */
export function remove(job: Job, place: Place): Job {
  if (place.kind === "supply") return job;
  const gone = new Set(downstream(job, place).map(placeKey));
  return {
    ...job,
    boards: job.boards.filter(({ id }) => !gone.has(`board:${id}`)),
    circuits: job.circuits.filter(({ id }) => !gone.has(`circuit:${id}`)),
  };
}

export function changeSections(job: Job, circuit: string, change: (sections: Section[]) => Section[]): Job {
  return {
    ...job,
    circuits: job.circuits.map((at) => (at.id === circuit ? { ...at, sections: change(at.sections) } : at)),
  };
}

/** A new section like the last one of its kind, so that only what differs has to be entered. */
export function addSection(job: Job, circuit: string, part: Section["part"]): Job {
  return changeSections(job, circuit, (sections) => {
    const like = sections.findLast((section) => section.part === part) ?? sections.at(-1) ?? fresh.section();
    return [...sections, { ...like, part, length: null, insulation_run: null, spur_fuse: null }];
  });
}

export function nameOf(job: Job, place: Place): string {
  if (place.kind === "supply") return "";
  return (place.kind === "board" ? boardById(job, place.id) : circuitById(job, place.id))?.name ?? place.id;
}
