import { describe, expect, it } from "vitest";
import { verdictOf } from "./verdict";
import type { Finding, Outcome, PlaceAnswer } from "./job/types";

const finding = (outcome: Outcome): Finding => ({
  check: "capacity", name: "", outcome, value: null, limit: null, unit: "", sense: "at-most", margin: null, section: null, shown_value: "", shown_limit: "",
  basis: "", source: "", standing: "own", text: "", lacking: [], assumed: [],
});
const place = (outcome: Outcome, ...findings: Outcome[]): PlaceAnswer => ({ place: { kind: "board", id: "b" }, outcome, facts: [], findings: findings.map(finding) });

describe("the verdict of a place", () => {
  it("is a pass only where something was checked", () => {
    expect(verdictOf(place("pass", "pass"))).toBe("pass");
    expect(verdictOf(place("pass"))).toBe("none");
  });
  it("is no pass of a board that feeds nothing", () => {
    const demand = (value: number | null) => ({ fact: "demand", symbol: "I", name: "", value, unit: "A", shown: "" });
    expect(verdictOf({ ...place("pass", "pass"), facts: [demand(0)] })).toBe("none");
    expect(verdictOf({ ...place("fail", "fail"), facts: [demand(0)] })).toBe("fail");
    expect(verdictOf({ ...place("pass", "pass"), facts: [demand(4)] })).toBe("pass");
  });
  it("is what the core says where it is no pass, and cannot say where there is none", () => {
    for (const outcome of ["fail", "doubtful", "cannot-say"] as const) {
      expect(verdictOf(place(outcome))).toBe(outcome);
      expect(verdictOf(place(outcome, "pass"))).toBe(outcome);
    }
    expect(verdictOf(undefined)).toBe("cannot-say");
  });
});
