import { describe, expect, it } from "vitest";
import { cell, csv } from "./csv";

describe("a table for other programs", () => {
  it("keeps numbers as numbers, with a point", () => {
    expect([0.35, -2, 1e-7, 12_500, Number.NaN, null, "0.35", "-2"].map(cell)).toEqual(["0.35", "-2", "0.0000001", "12500", "", "", "0.35", "-2"]);
  });

  it("lets no text begin like a formula", () => {
    for (const bad of ["=1+1", "+1+1", "-1+1", "@SUM(A1)", "\t=1", "\r=1", "\n=1", " =1", "\u00a0=1", "\uff1d1", "\u22121+1", "-cmd|' /C calc'!A0", "|x", "%0A"]) {
      expect(cell(bad).replace(/^"/, ""), JSON.stringify(bad)).toMatch(/^'/);
    }
    expect(cell("Sockets")).toBe("Sockets");
  });

  it("quotes what would end a cell", () => {
    expect(cell('Say "on", then go')).toBe('"Say ""on"", then go"');
    expect(csv(["a (ohm)", "b"], [[0.5, "x\ny"], [null, ">200"]])).toBe('a (ohm),b\r\n0.5,"x\ny"\r\n,>200\r\n');
  });
});
