import { readFileSync, readdirSync } from "node:fs";
import { beforeAll, describe, expect, it } from "vitest";
import { initSync } from "./pkg/faultpath_wasm.js";
import { initSync as initSite } from "./pkg-site/faultpath_wasm.js";
import { catalogue, filled, formula, measure, said, saidOf, sentence } from "./catalogue";
import { judge, readings, solve, working } from "./core";
import type { Job } from "./job/types";

const examples = new URL("../../vectors/examples/", import.meta.url);
const read = (name: string) => JSON.parse(readFileSync(new URL(name, examples), "utf8")) as Job;

beforeAll(() => {
  initSync({ module: readFileSync(new URL("./pkg/faultpath_wasm_bg.wasm", import.meta.url)) });
  initSite({ module: readFileSync(new URL("./pkg-site/faultpath_wasm_bg.wasm", import.meta.url)) });
});

/** Counts the texts in an answer: words, and nothing left open. */
function texts(value: unknown, path = ""): number {
  if (typeof value === "string") {
    if (/[{}]|\b(undefined|null|NaN)\b/.test(value)) throw new Error(`${path}: ${value}`);
    return 1;
  }
  if (value === undefined) throw new Error(`${path} has nothing`);
  if (typeof value !== "object" || value === null) return 0;
  return Object.entries(value).reduce((sum, [key, inner]) => sum + texts(inner, `${path}.${key}`), 0);
}

describe("the words of an answer", () => {
  it("are whole, for every code of every example", () => {
    let count = 0;
    for (const name of readdirSync(examples).filter((one) => one.endsWith(".json") && !one.startsWith("sixty"))) {
      const job = read(name);
      const answer = judge(job);
      count += texts(answer, name);
      answer.judgements.forEach(({ places }, which) => {
        for (const { place, facts, findings } of places) {
          for (const f of findings) {
            expect([f.name, f.text, f.basis, f.source, f.standing], f.check).not.toContain("");
            // A figure that is not known is not shown, not even as a dash with a unit.
            expect([f.shown_value === "", f.shown_limit === ""], f.check).toEqual([f.value === null, f.limit === null]);
            expect(f.outcome === "cannot-say" && f.lacking.length === 0, f.check).toBe(false);
            count += texts(working(job, which, place, f.check), `${name} ${f.check}`);
          }
          for (const f of facts) expect([f.name, f.symbol, f.unit], f.fact).not.toContain("");
        }
      });
      for (const { id } of job.circuits) count += texts(solve(job, 0, id), `${name} ${id}`);
    }
    expect(count).toBeGreaterThan(10_000);
  }, 30_000);

  it("are whole for the readings too", () => {
    const house = JSON.parse(readFileSync(new URL("./example-job.json", import.meta.url), "utf8")) as Job;
    const all = [house, ...["stable-tt.json", "workshop-three-phase.json", "ring-with-spurs.json", "armour-as-cpc.json"].map(read)];
    let taken = 0;
    for (const job of all) {
      const answer = readings(job);
      texts(answer, job.name);
      for (const { tests, steps, energise, expected } of answer.judgements.flatMap(({ places }) => places)) {
        for (const t of tests) {
          expect([t.name, t.meaning, t.rule, t.source, t.standing], t.path).not.toContain("");
          expect(t.outcome === "cannot-say" && t.lacking.length === 0 && t.taken && t.meaning === "", t.path).toBe(false);
          if (!t.taken) expect(t.lacking.length, t.path).toBeGreaterThan(0);
          taken += t.taken ? 1 : 0;
        }
        for (const { name, before } of steps) expect([name, ...before]).not.toContain("");
        for (const { text } of energise.stops) expect(text).not.toBe("");
        for (const { symbol, name } of expected) expect([symbol, name]).not.toContain("");
      }
    }
    expect(taken).toBeGreaterThan(25);
    const zs = readings(house).judgements[0]?.places.flatMap(({ tests }) => tests).find(({ path }) => path === "circuits[2].tests.zs");
    expect(zs).toMatchObject({ test: "zs", taken: true, outcome: "pass", shown: { shown: 0.41 }, unit: "Ω", side: "within" });
    expect(zs?.shown_limit).toMatch(/Ω$/);
  });

  it("say what is wrong with an entry", () => {
    const job = read("observatory.json");
    job.supply.ze = -1;
    const [error] = judge(job).errors;
    expect(error).toEqual({ path: "supply.ze", field: "Ze", reason: "negative", text: catalogue.reasons.negative });
    expect(error?.text).toMatch(/below zero/);
  });
});

describe("the catalogue", () => {
  it("has no code without words", () => {
    for (const rule of [...catalogue.rules, ...catalogue.reading.rules, ...catalogue.reading.quick, ...catalogue.earthing.formulas]) {
      for (const text of Object.values(rule)) expect(text, rule.name).not.toBe("");
    }
    expect(() => said(catalogue.rules, 9999)).toThrow();
    expect(() => said(catalogue.checks, "no such check")).toThrow();
  });

  it("fills a formula with symbols, and with values where there are any", () => {
    const rule = { symbol: "Zs max", name: "", template: "{0:cmin} · {1:U0} / {2:Ia}", source: "", standing: "own" } as const;
    expect(formula(rule)).toBe("cmin · U0 / Ia");
    expect(filled(rule, ["0.95", "230", null, null, null, null])).toBe("0.95 · 230 / Ia");
  });

  it("puts texts together", () => {
    expect(saidOf(["a", "b", "c"], 0b101)).toEqual(["a", "c"]);
    expect(measure("1.37", "Ω")).toBe("1.37\u00a0Ω");
    expect(measure("0.8", "")).toBe("0.8");
    expect(measure(null, "Ω")).toBe("–");
    expect(sentence("{0} (section {section})", { 0: "12 m", section: "2" })).toBe("12 m (section 2)");
  });
});
