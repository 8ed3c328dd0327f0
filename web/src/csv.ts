// Tables for other programs: commas, a decimal point whatever the language, and nothing that a spreadsheet would run.

export type Cell = string | number | null;

const number = /^-?\d+(\.\d+)?$/;
/** A cell that begins like this is taken for a formula, spaces and wide forms of the signs included. */
const formula = /^[\s\u00a0\u200b\ufeff]*[=+\-@\t\r\n\uff1d\uff0b\uff0d\uff20\u2212|%]/;

export function cell(value: Cell): string {
  if (value === null) return "";
  if (typeof value === "number") return Number.isFinite(value) ? plain(value) : "";
  const safe = !number.test(value) && formula.test(value) ? `'${value}` : value;
  return /[",;\r\n\t']/.test(safe) || safe !== safe.trim() ? `"${safe.replace(/"/g, '""')}"` : safe;
}

/** Without an exponent, which not every program reads. */
function plain(value: number): string {
  const text = String(value);
  return text.includes("e") ? value.toFixed(20).replace(/\.?0+$/, "") : text;
}

export function csv(head: readonly string[], rows: readonly (readonly Cell[])[]): string {
  return [head, ...rows].map((row) => row.map(cell).join(",")).join("\r\n") + "\r\n";
}
