import { readFileSync, readdirSync } from "node:fs";
import { beforeAll, describe, expect, it, vi } from "vitest";
import { initSync } from "./pkg/faultpath_wasm.js";
import * as site from "./pkg-site/faultpath_wasm.js";
import { check, count, deviation, figure, inputs, selfCheck, slices, sound, unpack, unsupported } from "./evidence";
import { pack } from "../tools/rows";
import packed from "virtual:rows";

const folder = new URL("../../vectors/", import.meta.url);
type Plain = { ask: string; inputs: Record<string, unknown>; expect: number | string; unit: string; tolerance: object; source: string; standing: string; support: string };
const files = readdirSync(folder).filter((name) => name.endsWith(".json"))
  .map((name) => JSON.parse(readFileSync(new URL(name, folder), "utf8")) as { topic: string; rows: Plain[] });

beforeAll(() => {
  initSync({ module: readFileSync(new URL("./pkg/faultpath_wasm_bg.wasm", import.meta.url)) });
  site.initSync({ module: readFileSync(new URL("./pkg-site/faultpath_wasm_bg.wasm", import.meta.url)) });
});

describe("the rows that are shipped", () => {
  it("are those of vectors/, every one and whole", () => {
    const { rows, jobs } = unpack(packed);
    const plain = files.flatMap(({ topic, rows: of }) => of.map((row) => ({ topic, row })));
    expect(rows.length).toBe(plain.length);
    for (const [at, { topic, row: { tolerance, ...row } }] of plain.entries()) {
      const { abs, rel, why, ...rest } = rows[at] ?? expect.fail();
      expect(rest).toEqual({ topic, ...row });
      expect({ ...(abs === null ? {} : { abs }), ...(rel === null ? {} : { rel }), why }).toEqual(tolerance);
    }
    for (const [name, job] of Object.entries(jobs)) expect(job).toEqual(JSON.parse(readFileSync(new URL(name, folder), "utf8")));
    expect(Object.keys(jobs).length).toBeGreaterThan(40);
  });
  it("are asked each once, those of one job together", () => {
    const { rows } = unpack(packed);
    const cut = slices(rows);
    expect(cut.flat()).toEqual(rows);
    for (const slice of cut) expect(new Set(slice.map((row) => row.inputs.job)).size).toBe(1);
    expect(Math.max(...cut.map((slice) => slice.length))).toBeLessThan(100);
  });
});

describe("the self-check", () => {
  it("finds that every row agrees, and the files judge alike", async () => {
    await check();
    const state = selfCheck.value;
    expect(state.at).toBe("done");
    expect(state.checked.filter(({ held }) => !held.agrees)).toEqual([]);
    expect(state.alike).toBe(state.judged);
    expect(sound(state)).toBe(true);
    const { rows, agree, worst, memory, unsupported: none } = count(state.checked);
    expect(agree).toBe(rows);
    expect(worst?.held.share).toBeGreaterThan(0.9);
    expect(worst?.held.share).toBeLessThanOrEqual(1);
    expect(memory).toBeGreaterThan(none);
  });
  it("finds a row that does not agree, one that lacks its answer, and a job judged otherwise", async () => {
    const real = site.held;
    const spy = vi.spyOn(site, "held");
    spy.mockImplementation((rows: unknown, job: unknown) => real((rows as { abs: number | null; expect: unknown }[]).map((row) => (typeof row.expect === "number" && row.abs !== null ? { ...row, expect: row.expect + 3 * row.abs + 1 } : row)), job) as unknown);
    await check().finally(() => spy.mockRestore());
    const off = selfCheck.value.checked.filter(({ held }) => !held.agrees).length;
    expect(off).toBeGreaterThan(1000);
    expect(sound(selfCheck.value)).toBe(false);
    const none = vi.spyOn(site, "held").mockImplementation(() => []);
    await check().finally(() => none.mockRestore());
    expect(count(selfCheck.value.checked).agree).toBe(0);
    const other = vi.spyOn(site, "judge").mockImplementation(() => ({}));
    await check().finally(() => other.mockRestore());
    expect(selfCheck.value.alike).toBe(0);
    expect(sound(selfCheck.value)).toBe(false);
    expect(count(selfCheck.value.checked).agree).toBe(selfCheck.value.checked.length);
  });
  it("says nothing where it could not be run", async () => {
    const broken = vi.spyOn(site, "held").mockImplementation(() => { throw new Error("gone"); });
    const quiet = vi.spyOn(console, "error").mockImplementation(() => undefined);
    await check().finally(() => { broken.mockRestore(); quiet.mockRestore(); });
    expect(selfCheck.value.at).toBe("broken");
    expect(sound(selfCheck.value)).toBe(false);
  });
});

describe("a row in words", () => {
  const small = pack([{
    topic: "t", units: { line: "Ω", "fault-current.line": "A", shown: "of the reading" }, documents: {},
    rows: [{
      ask: "fault-current", inputs: { line: 1200, list: [1, 2], on: true, shown: 0.3, with_gap: null, place: { kind: "circuit", id: "lawn" }, with: { "supply.ze": 0.4 } },
      expect: 909, unit: "A", tolerance: { abs: 0.5, why: "why" }, source: "BS 7671", standing: "from memory", support: "none but a second memory",
    }],
  }], () => ({}));
  it("has its units, its own before that of the file", () => {
    const { rows: [row], topics } = unpack(small);
    if (!row) throw new Error("no row");
    expect(inputs(row, topics.t?.units ?? {})).toBe("line 1200\u00a0A, list 1 / 2, on yes, shown 0.3, place circuit lawn, with supply.ze 0.4");
    expect(unsupported(row)).toBe(true);
  });
  it("has figures as they are read", () => {
    expect(figure(Math.fround(0.1), "Ω")).toBe("0.1\u00a0Ω");
    expect(figure(-2, "V")).toBe("\u22122\u00a0V");
    expect(figure("pass", "outcome")).toBe("pass");
    expect(deviation(-0.00434, "Ω")).toBe("\u22120.0043\u00a0Ω");
    expect(deviation(0.5, "")).toBe("+0.5");
    expect(figure(0.000001, "Ω/km")).toBe("1e\u22126\u00a0Ω/km");
    expect(deviation(0, "A")).toBe("0\u00a0A");
  });
});
