import { describe, expect, it } from "vitest";
import example from "../example-job.json";
import { copyBoard, copyCircuit } from "./edit";
import { fresh } from "./fresh";
import { readJob } from "./read";
import { placeOfPath, putTest, testsOf, testsPath } from "./tests";
import type { CircuitTests, Job, Place, SupplyTests } from "./types";

const job = (): Job => {
  const { job: read } = readJob(example);
  if (!read) throw new Error("example");
  return read;
};
const circuit: Place = { kind: "circuit", id: "warm" };

describe("readings in a job", () => {
  it("are made when the first is entered, and nothing else changes", () => {
    const from = { ...job(), circuits: job().circuits.map((one) => ({ ...one, tests: null })) };
    const after = putTest(from, circuit, ["r1r2"], { shown: 0.31 });
    expect((testsOf(after, circuit) as CircuitTests | null)).toEqual({ ...fresh.circuitTests(), r1r2: { shown: 0.31 } });
    expect(testsOf(after, { kind: "circuit", id: "lawn" })).toBeNull();
    expect(testsOf(from, circuit)).toBeNull();
    expect(readJob(JSON.parse(JSON.stringify(after))).job).toEqual(after);
  });

  it("that are made together are made with the first of them", () => {
    const ring = putTest({ ...job(), circuits: job().circuits.map((one) => ({ ...one, tests: null })) }, circuit, ["ring", "rn"], { above: 20 });
    expect((testsOf(ring, circuit) as CircuitTests | null)?.ring).toEqual({ r1: null, rn: { above: 20 }, r2: null, sockets: [] });
    const fault = putTest({ ...job(), supply: { ...job().supply, tests: null } }, { kind: "supply" }, ["fault", "line_earth"], { shown: 900 });
    expect((testsOf(fault, { kind: "supply" }) as SupplyTests | null)?.fault).toEqual({ line_neutral: null, line_earth: { shown: 900 }, three_phase: null });
    expect(readJob(JSON.parse(JSON.stringify(fault))).problems).toEqual([]);
  });

  it("stay with the place they were read at", () => {
    const tested = putTest(job(), circuit, ["r2"], { shown: 0.2 });
    const copied = copyCircuit(tested, "warm", (name) => name);
    expect(copied?.job.circuits.find(({ id }) => id === copied.id)?.tests).toBeNull();
    const board = copyBoard(tested, "dome", (name) => name);
    expect(board?.job.circuits.filter((one) => one.board === board.id).every(({ tests }) => tests === null)).toBe(true);
    expect((testsOf(copied?.job ?? tested, circuit) as CircuitTests | null)?.r2).toEqual({ shown: 0.2 });
  });

  it("have a path that leads back to the place", () => {
    for (const place of [{ kind: "supply" }, { kind: "board", id: "dome" }, circuit] as Place[]) expect(placeOfPath(job(), testsPath(job(), place) ?? [])).toEqual(place);
    expect(testsPath(job(), { kind: "circuit", id: "none" })).toBeNull();
    expect(putTest(job(), { kind: "circuit", id: "none" }, ["r2"], null)).toEqual(job());
  });
});
