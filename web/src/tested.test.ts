import { describe, expect, it } from "vitest";
import { isHere, isThrough, mayEnergise, nextOf, reasons, stations, toldAt, worst, type Way } from "./tested";
import type { JudgedReading, Outcome, PlaceTests, ReadingTest, TestStation, TestStep } from "./job/types";

// A small answer made by hand.

function judged(test: ReadingTest, path: string, outcome: Outcome): JudgedReading {
  return {
    test, path, outcome, taken: true, name: test, shown: outcome === "cannot-say" ? null : { shown: 0.4 }, value: 0.4, low: 0.3, high: 0.5, limit: 1, shown_value: "0.4", shown_low: "0.3", shown_high: "0.5",
    shown_limit: "1", unit: "Ω", sense: "at-most", expected: null, band_low: null, band_high: null, shown_expected: "", shown_band: "", side: null, quick: null, meaning: "", suspects: [], lacking: [], entry: null,
    rule: "", source: "", standing: "own", ring: null,
  };
}

const step = (of: TestStep, outcome: Outcome | null, when: TestStation["when"] = "dead"): TestStation => ({ step: of, name: of, when, before: [], needed: true, outcome });

function place(over: Partial<PlaceTests>): PlaceTests {
  return { place: { kind: "circuit", id: "c" }, outcome: "cannot-say", expected: [], steps: [], tests: [], next: { kind: "complete" }, energise: { may: true, stops: [] }, notes: [], ...over };
}

const ways = (...all: (PlaceTests | undefined)[]): Way[] => all.map((one, at) => ({ earthing: ["TN-S", "TT"][at] ?? "", place: one }));
const missing = (of: TestStep) => ({ place: { kind: "circuit" as const, id: "c" }, text: "not made", step: of, name: of, outcome: null });

describe("the sequence of a place", () => {
  it("keeps the order of the core and puts readings to their step", () => {
    const list = stations(ways(place({
      steps: [step("protective", "pass"), step("insulation", null), step("zs", null, "live")],
      tests: [judged("r2", "circuits[0].tests.r2", "pass"), judged("r1r2", "circuits[0].tests.r1r2", "pass")],
    })));
    expect(list.map((one) => one.step)).toEqual(["protective", "insulation", "zs"]);
    expect(list[0]?.readings.map(({ path }) => path)).toEqual(["circuits[0].tests.r2", "circuits[0].tests.r1r2"]);
    expect(list.map(({ outcome }) => outcome)).toEqual(["pass", null, null]);
  });

  it("has the steps of both ways of judging, each once, and the worse outcome", () => {
    const list = stations(ways(
      place({ steps: [step("protective", "pass"), step("ze", "pass"), step("zs", "pass")], tests: [judged("zs", "z", "pass")] }),
      place({ steps: [step("protective", "fail"), step("electrode", "pass"), step("zs", null)], tests: [judged("zs", "z", "fail")] }),
    ));
    expect(list.map((one) => one.step)).toEqual(["protective", "electrode", "ze", "zs"]);
    expect(list.map(({ outcome }) => outcome)).toEqual(["fail", "pass", "pass", null]);
    expect(list[3]?.readings[0]?.each.map(({ earthing, judged: one }) => [earthing, one.outcome])).toEqual([["TN-S", "pass"], ["TT", "fail"]]);
  });

  it("finds what was judged of an entry and what lies in it, and no other", () => {
    const all = ["a.rcd[1]", "a.rcd[11]", "a.rcd[1].reading", "a.r2", "a.r"].map((path) => ({ path, each: [] }));
    expect(toldAt(all, "a.rcd[1]").map(({ path }) => path)).toEqual(["a.rcd[1]", "a.rcd[1].reading"]);
    expect(toldAt(all, "a.r").map(({ path }) => path)).toEqual(["a.r"]);
    expect(isHere("circuits[1].tests.zs", "circuits[1].tests")).toBe(true);
    expect(isHere("circuits[11].tests.zs", "circuits[1].tests")).toBe(false);
    expect(isHere("supply.tests.ze", "circuits[1].tests")).toBe(false);
  });
});

describe("may it be energised", () => {
  const no = place({ energise: { may: false, stops: [missing("insulation")] } });
  it("only where every way of judging says so, and there is one", () => {
    expect(mayEnergise([])).toBe(false);
    expect(mayEnergise(ways(undefined))).toBe(false);
    expect(mayEnergise(ways(place({}), undefined))).toBe(false);
    expect(mayEnergise(ways(place({}), no))).toBe(false);
    expect(mayEnergise(ways(place({}), place({})))).toBe(true);
  });

  it("names every reason once, and whose it is where not all see it", () => {
    const both = place({ energise: { may: false, stops: [missing("insulation"), missing("electrode")] } });
    expect(reasons(ways(no, both)).map(({ stop, when }) => [stop.step, when])).toEqual([["insulation", []], ["electrode", ["TT"]]]);
  });

  it("is tested through only where every way is complete and nothing stops it", () => {
    expect(isThrough([])).toBe(false);
    expect(isThrough(ways(place({}), place({ next: { kind: "energise" } })))).toBe(false);
    expect(isThrough(ways(place({ energise: { may: false, stops: [] } })))).toBe(false);
    expect(isThrough(ways(place({})))).toBe(true);
  });
});

describe("what comes next", () => {
  const test = (of: TestStep) => ({ kind: "test" as const, step: of, name: of, before: [], again: null });
  it("is the earliest that any way asks for", () => {
    const steps = [step("protective", null), step("insulation", null)];
    expect(nextOf(ways(place({ steps, next: test("insulation") }), place({ steps, next: test("protective") })))).toEqual(test("protective"));
    expect(nextOf(ways(place({ steps }), place({ steps, next: test("insulation") })))).toEqual(test("insulation"));
    expect(nextOf(ways(place({ steps }), place({ steps, next: { kind: "energise" } })))).toEqual({ kind: "energise" });
    expect(nextOf([])).toBeNull();
  });

  it("counts what can't be said as worse than doubt, and failing as worst", () => {
    expect(worst([])).toBe("pass");
    expect(worst(["pass", "doubtful"])).toBe("doubtful");
    expect(worst(["doubtful", "cannot-say", "pass"])).toBe("cannot-say");
    expect(worst(["fail", "cannot-say"])).toBe("fail");
  });
});
