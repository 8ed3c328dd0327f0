import { describe, expect, it } from "vitest";
import { getAt, parsePath, pathText, setAt } from "./path";

describe("paths", () => {
  const text = "circuits[2].sections[0].protective.csa";
  it("are written and read alike", () => {
    expect(parsePath(text)).toEqual(["circuits", 2, "sections", 0, "protective", "csa"]);
    expect(pathText(parsePath(text))).toBe(text);
    expect(pathText(parsePath("supply.ze"))).toBe("supply.ze");
    expect(parsePath("")).toEqual([]);
  });

  it("change one field and share the rest", () => {
    const before = { a: [{ b: 1 }, { b: 2 }], c: { d: 3 } };
    const after = setAt(before, ["a", 1, "b"], 5);
    expect(after).toEqual({ a: [{ b: 1 }, { b: 5 }], c: { d: 3 } });
    expect(before.a[1]?.b).toBe(2);
    expect(after.a[0]).toBe(before.a[0]);
    expect(after.c).toBe(before.c);
    expect(Array.isArray(after.a)).toBe(true);
  });

  it("lead nowhere without falling", () => {
    expect(getAt({ a: null }, ["a", "b", 3])).toBeUndefined();
    expect(setAt({ a: null }, ["a", "b"], 1)).toEqual({ a: null });
  });
});
