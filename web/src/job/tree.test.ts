import { describe, expect, it } from "vitest";
import { addBoard, addCircuit, addLine, addSection, copyBoard, copyCircuit, remove } from "./edit";
import { fresh } from "./fresh";
import { readJob } from "./read";
import { after, before, downstream, exists, placeKey, trail, walk } from "./tree";
import type { Job, Place } from "./types";
import example from "../example-job.json";

const given = readJob(example).job;
if (!given) throw new Error("example");
const job: Job = given;
const keys = (places: Place[]) => places.map(placeKey);

describe("the path", () => {
  it("leads from the supply to a circuit", () => {
    expect(keys(trail(job, { kind: "circuit", id: "lawn" }))).toEqual(["supply", "board:house", "circuit:hill", "board:dome"]);
    expect(trail(job, { kind: "supply" })).toEqual([]);
  });

  it("is walked with what ends at a board before what leads on", () => {
    const stops = walk(job);
    expect(keys(stops.map(({ place }) => place)).slice(0, 6)).toEqual(["supply", "board:house", "circuit:kitchen", "circuit:hall", "circuit:hill", "board:dome"]);
    expect(stops).toHaveLength(1 + job.boards.length + job.circuits.length);
    expect(stops.find(({ place }) => placeKey(place) === "circuit:lawn")?.depth).toBe(1);
  });

  it("ends in a circle, and lists what cannot be reached", () => {
    const circle: Job = { ...job, boards: job.boards.map((board) => (board.id === "house" ? { ...board, fed_by: "lawn" } : board)) };
    expect(trail(circle, { kind: "circuit", id: "lawn" }).length).toBeLessThan(6);
    const stops = walk(circle);
    expect(new Set(keys(stops.map(({ place }) => place))).size).toBe(stops.length);
    expect(stops).toHaveLength(1 + job.boards.length + job.circuits.length);
    const lost: Job = { ...job, boards: job.boards.map((board) => ({ ...board, fed_by: "nothing" })) };
    expect(before(lost, { kind: "board", id: "house" })).toBeNull();
    expect(walk(lost)).toHaveLength(1 + job.boards.length + job.circuits.length);
    expect(after(lost, { kind: "supply" })).toEqual([]);
  });

  it("knows what hangs on a place", () => {
    expect(downstream(job, { kind: "circuit", id: "hill" })).toHaveLength(8);
    expect(downstream(job, { kind: "circuit", id: "lawn" })).toHaveLength(1);
  });
});

describe("edits", () => {
  it("remove a line with all that it feeds, and nothing else", () => {
    const less = remove(job, { kind: "circuit", id: "hill" });
    expect(less.circuits.map(({ id }) => id)).toEqual(["kitchen", "hall"]);
    expect(less.boards.map(({ id }) => id)).toEqual(["house"]);
    expect(job.circuits).toHaveLength(9);
    expect(remove(job, { kind: "supply" })).toBe(job);
  });

  it("give every new place a name of its own in the file", () => {
    let grown = fresh.job("x", "y");
    grown = addCircuit(grown, "b1", "One").job;
    grown = addCircuit(grown, "b1", "Two").job;
    const { job: more, line, board } = addLine(grown, "b1", "Line", "Next");
    const copied = copyBoard(more, "b1", (name) => `${name} again`);
    const all = copied?.job ?? more;
    const ids = [...all.boards, ...all.circuits].map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
    expect(all.boards.find(({ id }) => id === board)?.fed_by).toBe(line);
    expect(all.circuits.filter((circuit) => circuit.board === copied?.id)).toHaveLength(3);
    expect(exists(all, { kind: "board", id: copied?.id ?? "" })).toBe(true);
  });

  it("copy a circuit beside itself", () => {
    const made = copyCircuit(job, "kitchen", (name) => `${name}, copy`);
    expect(made?.job.circuits[1]?.name).toBe("Kitchen and hall sockets, copy");
    expect(made?.job.circuits[1]?.sections).toEqual(job.circuits[0]?.sections);
    expect(copyCircuit(job, "nothing", (name) => name)).toBeNull();
  });

  it("start a section like the one before, with its length to be entered", () => {
    const longer = addSection(job, "hill", "run");
    const sections = longer.circuits.find(({ id }) => id === "hill")?.sections ?? [];
    expect(sections).toHaveLength(4);
    expect(sections[3]).toMatchObject({ csa: 25, construction: "armoured", length: null, part: "run" });
  });

  it("put a board under a line", () => {
    const { job: grown, id } = addBoard(job, "lawn", "Shed");
    expect(keys(trail(grown, { kind: "board", id })).at(-1)).toBe("circuit:lawn");
  });
});
