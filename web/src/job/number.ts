// Numbers as people type them: decimal comma or point, and the prefix of the unit beside the field (kA, mA, %).
// A prefix only moves the decimal point of what was typed; no value is calculated here.

const plain = /^([+-]?)(\d*)(?:[.,](\d*))?(?:[eE]([+-]?\d{1,3}))?$/;

/** What was typed, with its decimal point moved `shift` places to the right. Empty: null. Not a number: NaN. */
export function readNumber(text: string, shift = 0): number | null {
  const typed = text.replace(/[\s\u00a0\u202f]/g, "").replace(/^\u2212/, "-");
  if (typed === "") return null;
  const match = plain.exec(typed);
  if (!match || (match[2] === "" && (match[3] ?? "") === "")) return Number.NaN;
  const [, sign = "", whole = "", part = "", power = "0"] = match;
  return Number(`${sign}${whole === "" ? "0" : whole}.${part === "" ? "0" : part}e${Number(power) + shift}`);
}

/** A number as it stands in a field, with its decimal point moved `shift` places to the left. */
export function showNumber(value: number | null, shift = 0): string {
  if (value === null || Number.isNaN(value)) return "";
  const text = String(value);
  const match = plain.exec(text);
  if (!match || !Number.isFinite(value)) return text;
  const [, sign = "", whole = "", part = "", power = "0"] = match;
  const move = Number(power) - shift;
  const digits = whole + part;
  const point = whole.length + move;
  if (Math.abs(move) > 25) return text;
  const padded = point <= 0 ? "0".repeat(1 - point) + digits : digits.padEnd(point, "0");
  const at = Math.max(point, 1);
  const left = padded.slice(0, at).replace(/^0+(?=\d)/, "");
  const right = padded.slice(at).replace(/0+$/, "");
  return sign + left + (right === "" ? "" : `.${right}`);
}

/** The core counts in f32; what goes into a job is the shortest decimal that means the same there: 0.03, not 0.0299999993. */
export function shortest(value: number): number {
  for (let digits = 1; digits < 10; digits += 1) {
    const short = Number(value.toPrecision(digits));
    if (Math.fround(short) === Math.fround(value)) return short;
  }
  return value;
}
