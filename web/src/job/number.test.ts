import { describe, expect, it } from "vitest";
import { readNumber, showNumber } from "./number";

describe("numbers as people type them", () => {
  it("takes a decimal comma or point", () => {
    expect(readNumber("1,5")).toBe(1.5);
    expect(readNumber("1.5")).toBe(1.5);
    expect(readNumber(" 12 ")).toBe(12);
    expect(readNumber(",5")).toBe(0.5);
    expect(readNumber("5.")).toBe(5);
    expect(readNumber("1 000")).toBe(1000);
    expect(readNumber("−3")).toBe(-3);
    expect(readNumber("1e3")).toBe(1000);
  });

  it("tells empty from wrong, and never reads wrong as zero", () => {
    expect(readNumber("")).toBeNull();
    expect(readNumber("   ")).toBeNull();
    for (const text of ["x", "1,2,3", "1.2.3", "1,234.5", "-", ".", ",", "12m", "0x10", "Infinity", "NaN", "--1", "1e9999"]) {
      expect(readNumber(text), text).toBeNaN();
    }
  });

  it("moves the decimal point without touching the digits", () => {
    expect(readNumber("6", 3)).toBe(6000);
    expect(readNumber("16,5", 3)).toBe(16500);
    expect(readNumber("30", -3)).toBe(0.03);
    expect(readNumber("3", -2)).toBe(0.03);
    expect(readNumber("0.1", 3)).toBe(100);
    expect(readNumber("4.1", -2)).toBe(0.041);
    expect(showNumber(6000, 3)).toBe("6");
    expect(showNumber(0.03, -3)).toBe("30");
    expect(showNumber(0.03, -2)).toBe("3");
    expect(showNumber(0.041, -2)).toBe("4.1");
    expect(showNumber(16500, 3)).toBe("16.5");
    expect(showNumber(50, 3)).toBe("0.05");
    expect(showNumber(0)).toBe("0");
    expect(showNumber(0, 3)).toBe("0");
    expect(showNumber(-2.5)).toBe("-2.5");
    expect(showNumber(1e-7)).toBe("0.0000001");
    expect(showNumber(1e21)).toBe("1000000000000000000000");
  });

  it("shows what has not been entered as empty", () => {
    expect(showNumber(null)).toBe("");
    expect(showNumber(Number.NaN)).toBe("");
  });

  it("gives back what it shows, for every prefix", () => {
    let seed = 1;
    const next = () => (seed = (seed * 48271) % 2147483647) / 2147483647;
    for (let i = 0; i < 3000; i += 1) {
      const value = Math.round(next() * 1e6) / 10 ** Math.floor(next() * 7);
      for (const shift of [-3, -2, 0, 3]) expect(readNumber(showNumber(value, shift), shift), `${value} ${shift}`).toBe(value);
    }
  });
});
