import { describe, expect, it } from "vitest";
import example from "./example-job.json";
import { readJob } from "./job/read";
import { putTest } from "./job/tests";
import { words as heads } from "words:table";
import { bare, figure, places, stopsOf, table, type Names } from "./record";
import type { Answer, Job, JudgedReading, PlaceTests, TestsAnswer } from "./job/types";

const names: Names = { group: (_, value) => value, outcome: (of) => of.toUpperCase(), place: (place) => (place.kind === "supply" ? "supply" : place.id), yes: "yes", no: "no" };
const read = readJob(example).job;
const job: Job = (() => {
  if (!read) throw new Error("example");
  const warm = { kind: "circuit" as const, id: "warm" };
  const named: Job = { ...read, circuits: read.circuits.map((one) => (one.id === "warm" ? { ...one, name: '=HYPERLINK("x")', tests: null } : { ...one, tests: null })) };
  const entered: [string[], unknown][] = [
    [["r1r2"], { shown: 0.31 }], [["zs"], { above: 20 }],
    [["rcd"], [{ multiple: 1, wave: "sine", reading: { shown: 0.0215 } }, { multiple: 5, wave: "sine", reading: { above: 0.3 } }]],
    [["insulation"], [{ test_voltage: 500, gear: false, fixed_gear: false, circuits: 1, reading: { above: 299 } }]],
  ];
  return entered.reduce((at, [keys, value]) => putTest(at, warm, keys, value), named);
})();
const index = job.circuits.findIndex(({ id }) => id === "warm");

// An answer made by hand, for two ways of judging.
function judged(test: JudgedReading["test"], key: string, outcome: JudgedReading["outcome"], limit: string, path = `circuits[${index}].tests.${key}`): JudgedReading {
  return {
    test, path, outcome, taken: true, name: test, shown: { shown: 1 }, value: 1, low: 1, high: 1, limit: 1, shown_value: "1", shown_low: "1", shown_high: "1", shown_limit: limit, unit: "Ω", sense: "at-most",
    expected: null, band_low: null, band_high: null, shown_expected: "", shown_band: "", side: null, quick: null, meaning: "", suspects: [], lacking: [], entry: null, rule: "rule", source: "source", standing: "own", ring: null,
  };
}
const warm = (zs: JudgedReading["outcome"]): PlaceTests => ({
  place: { kind: "circuit", id: "warm" }, outcome: zs, expected: [], notes: [], next: { kind: "energise" },
  steps: [
    { step: "protective", name: "protective", when: "dead", before: [], needed: true, outcome: "pass" }, { step: "polarity", name: "Polarity", when: "dead", before: [], needed: true, outcome: null },
    { step: "ze", name: "Ze", when: "supply-only", before: [], needed: true, outcome: "pass" }, { step: "zs", name: "Zs", when: "live", before: [], needed: true, outcome: zs }, { step: "rcd", name: "RCDs", when: "live", before: [], needed: true, outcome: "fail" },
  ],
  tests: [
    judged("r1r2", "r1r2", "pass", "0.9 Ω"), judged("ze", "", "pass", "0.5", "supply.tests.ze"), judged("zs", "zs", zs, "1.37"), judged("rcd-time", "rcd[0]", "pass", "300 ms"), judged("rcd-time", "rcd[1]", "fail", "40 ms"),
  ],
  energise: { may: false, stops: [{ place: { kind: "circuit", id: "warm" }, text: "Not made.", step: "polarity", name: "Polarity", outcome: null }] },
});
const tested: TestsAnswer = { outcome: "fail", errors: [], judgements: [{ earthing: "tn-s", outcome: "fail", places: [warm("pass")] }, { earthing: "tt", outcome: "fail", places: [warm("fail")] }] };
const answer: Answer = { outcome: "pass", errors: [], judgements: [] };
const known = { job, answer, tested, earthing: (name: string) => name };

/** Cells of a table, read as another program would. */
function cells(text: string): string[][] {
  const rows: string[][] = [[""]];
  let quoted = false;
  for (let at = 0; at < text.length; at += 1) {
    const one = text[at] ?? "";
    const row = rows.at(-1) ?? [];
    const add = (more: string) => (row[row.length - 1] = `${row.at(-1) ?? ""}${more}`);
    if (quoted && one === '"' && text[at + 1] === '"') {
      add('"');
      at += 1;
    } else if (one === '"') quoted = !quoted;
    else if (quoted || !",\r\n".includes(one)) add(one);
    else if (one === ",") row.push("");
    else if (one === "\n") rows.push([""]);
  }
  return rows.slice(0, -1);
}

describe("the record", () => {
  it("has one row a circuit, as wide as its heading, in walking order", () => {
    const [head, ...rows] = cells(table(known, names));
    expect(head).toEqual(heads);
    expect(new Set(heads).size).toBe(heads.length);
    expect(rows.map((row) => row.length)).toEqual(job.circuits.map(() => heads.length));
    expect(rows.map((row) => row[1])).toEqual(["A1", "A2", "A3", "B1", "B2", "B3", "B4", "B5", "B6"]);
  });

  it("has what was entered, in the unit of the heading, and the worse outcome", () => {
    const rows = cells(table(known, names));
    const row = rows.find((one) => one[2]?.includes("HYPERLINK")) ?? [];
    const at = (name: string) => row[heads.indexOf(name)];
    expect(row[2]).toBe('\'=HYPERLINK("x")');
    expect(at("R1+R2 (ohm)")).toBe("0.31");
    expect(at("R1+R2 at most (ohm)")).toBe("0.9");
    expect(at("Zs (ohm)")).toBe(">20");
    expect(at("Zs outcome")).toBe("FAIL");
    expect(at("RCD time at 1 IDn (ms)")).toBe("21.5");
    expect(at("RCD time at 1 IDn outcome")).toBe("PASS");
    expect(at("RCD time at 5 IDn (ms)")).toBe(">300");
    expect(at("RCD time at 5 IDn at most (ms)")).toBe("40");
    expect(at("RCD time at 5 IDn outcome")).toBe("FAIL");
    expect(at("insulation (Mohm)")).toBe(">299");
    expect(at("RCD rated residual current (mA)")).toBe("30");
    expect(at("length (m)")).toBe("14");
    expect(at("tests not made")).toBe("Polarity");
    expect(at("may be energised")).toBe("no");
    expect(at("what stops it")).toBe("warm: Polarity: Not made.");
    const untested = rows.find((one) => one[2] === "House lights") ?? [];
    expect(untested[heads.indexOf("may be energised")]).toBe("no");
    expect(untested[heads.indexOf("Zs (ohm)")]).toBe("");
  });

  it("tells what was judged two ways twice, and what is read at the supply there only", () => {
    const at = places(known).find(({ place }) => place.kind === "circuit" && place.id === "warm");
    expect(at?.lines.map(({ judged: { path }, when }) => [path.replace(/.*tests\./, ""), when])).toEqual([["r1r2", null], ["zs", "tn-s"], ["zs", "tt"], ["rcd[0]", null], ["rcd[1]", null]]);
    expect(at?.missing).toEqual(["Polarity"]);
    expect(stopsOf(places(known)).map(({ name, places: held }) => [name, held.length])).toEqual([["Polarity", 1]]);
  });

  it("leaves the unit to the heading", () => {
    expect(["0.9 Ω", "0.9\u00a0Ω", "> 299 MΩ", "1.745 %", "-", ""].map(bare)).toEqual(["0.9", "0.9", ">299", "1.745", "-", ""]);
    expect([figure(null), figure({ shown: null }), figure({ shown: 0 }), figure({ above: 0.3 }, -3)]).toEqual([null, null, "0", ">300"]);
  });
});
