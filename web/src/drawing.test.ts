import { describe, expect, it } from "vitest";
import { broken, mark, needed, plan, sheets, size, type Measure, type Plan } from "./drawing";
import exampleData from "./example-job.json";
import { addBoard, addLine } from "./job/edit";
import { readJob } from "./job/read";
import { placeKey, walk } from "./job/tree";
import type { Job } from "./job/types";

const measure: Measure = (text, size) => text.length * size * 0.55;
const { job: example } = readJob(exampleData);
if (!example) throw new Error("example");
const drawn = (job: Job, width: number): Plan =>
  plan(job, width, measure, (place) => ({ name: placeKey(place), what: "what protects it", verdicts: [{ outcome: "pass", word: "Pass" }], facts: [] }));
const at = (of: Plan, key: string) => {
  const spot = of.spots.find(({ place }) => placeKey(place) === key);
  if (!spot) throw new Error(key);
  return spot;
};

describe("the one-line diagram", () => {
  for (const width of [180, 330, 1200]) {
    it(`has every place once, none over another, within ${width}`, () => {
      const of = drawn(example, width);
      expect(of.spots.map(({ place }) => placeKey(place)).sort()).toEqual(walk(example).map(({ place }) => placeKey(place)).sort());
      let bottom = 0;
      for (const { top, height, textX } of of.spots) {
        expect(top).toBe(bottom);
        expect(height).toBeGreaterThanOrEqual(44);
        expect(textX).toBeLessThan(width);
        bottom = top + height;
      }
      expect(of.height).toBe(bottom);
    });
  }

  it("leads a line from each place to what it feeds", () => {
    const of = drawn(example, 330);
    const reached = (x: number, y: number) => of.uprights.some((line) => line.x === x && line.from <= y && line.to >= y);
    for (const circuit of example.circuits) {
      const spot = at(of, `circuit:${circuit.id}`);
      expect(reached(at(of, `board:${circuit.board}`).x, spot.y)).toBe(true);
    }
    const hill = at(of, "circuit:hill");
    expect(hill.elbow).toBe(at(of, "board:dome").x);
    expect(reached(at(of, "board:dome").x, at(of, "board:dome").y)).toBe(true);
    expect(hill.gear).toBe("fuse");
    expect(at(of, "circuit:motor")).toMatchObject({ gear: "breaker", rcd: true, end: "motor", three: false });
  });

  it("is as wide as its verdicts and longest words, and then nothing is beyond it", () => {
    const tell = () => ({ name: "Outbuildings", what: "", verdicts: [{ outcome: "cannot-say" as const, word: "TN-C-S: Nothing checked" }], facts: [] });
    const tight = plan(example, 180, measure, tell);
    const room = needed(tight, measure);
    expect(room).toBeGreaterThan(180);
    const of = plan(example, room, measure, tell);
    expect(needed(of, measure)).toBe(room);
    for (const { textX } of of.spots) expect(textX + mark + measure("TN-C-S: Nothing checked", size.verdict, true)).toBeLessThan(room);
    expect(needed(drawn(example, 1200), measure)).toBe(1200);
  });

  it("draws two boards on one line beside it, each with its stub", () => {
    const first = addLine(example, "dome", "line", "first");
    const { job } = addBoard(first.job, first.line, "second");
    const of = drawn(job, 330);
    const line = at(of, `circuit:${first.line}`);
    expect(of.stubs.filter(({ from }) => from === line.elbow)).toHaveLength(2);
  });

  it("marks what hangs on nothing", () => {
    const job = { ...example, boards: example.boards.map((board) => (board.id === "dome" ? { ...board, fed_by: "nowhere" } : board)) };
    expect(at(drawn(job, 330), "board:dome").loose).toBe(true);
  });

  it("is cut for paper between two places, all of it on some sheet", () => {
    const long = { ...example, circuits: [...example.circuits, ...Array.from({ length: 60 }, (_, at) => ({ ...(example.circuits[0] ?? expect.fail()), id: `more${at}` }))] };
    for (const job of [example, long]) {
      const of = drawn(job, 640);
      const cut = sheets(of, 720);
      expect(cut[0]?.from).toBe(0);
      expect(cut.at(-1)?.to).toBe(of.height);
      for (const [at, { from, to }] of cut.entries()) {
        expect(to - from).toBeLessThanOrEqual(720);
        expect(from).toBe(at === 0 ? 0 : cut[at - 1]?.to);
        expect(of.spots.some(({ top }) => top === from)).toBe(true);
      }
      expect(cut.length).toBeGreaterThanOrEqual(of.height / 720);
    }
    // One that has no room on any sheet has one of its own.
    expect(sheets({ height: 2000, spots: [{ top: 0, height: 900 }, { top: 900, height: 1100 }] }, 720)).toEqual([{ from: 0, to: 900 }, { from: 900, to: 2000 }]);
  });

  it("breaks between words", () => {
    expect(broken("one two three", 8, (text) => text.length)).toEqual(["one two", "three"]);
    expect(broken("overlong", 3, (text) => text.length)).toEqual(["overlong"]);
  });
});
