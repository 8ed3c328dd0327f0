/** The same by what it holds: plain data of any depth. */
export function same(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (typeof a !== "object" || typeof b !== "object" || a === null || b === null) return false;
  if (Array.isArray(a) !== Array.isArray(b)) return false;
  const left = Object.entries(a);
  const right = b as Record<string, unknown>;
  if (left.length !== Object.keys(b).length) return false;
  return left.every(([key, value]) => Object.hasOwn(right, key) && same(value, right[key]));
}
