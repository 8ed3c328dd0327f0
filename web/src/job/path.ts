// A path names one field of a job, as the core writes it: "circuits[2].sections[0].length".

export type Path = readonly (string | number)[];

export function pathText(path: Path): string {
  let text = "";
  for (const key of path) text += typeof key === "number" ? `[${key}]` : text === "" ? key : `.${key}`;
  return text;
}

export function parsePath(text: string): Path {
  const keys: (string | number)[] = [];
  for (const part of text.split(".")) {
    const name = /^[^[\]]*/.exec(part)?.[0] ?? "";
    if (name !== "") keys.push(name);
    for (const index of part.matchAll(/\[(\d+)\]/g)) keys.push(Number(index[1]));
  }
  return keys;
}

export function getAt(root: unknown, path: Path): unknown {
  let at: unknown = root;
  for (const key of path) {
    if (typeof at !== "object" || at === null) return undefined;
    at = (at as Record<string | number, unknown>)[key];
  }
  return at;
}

/** A copy of `root` with the value at `path` replaced; everything beside the path is shared with the old one. */
export function setAt<T>(root: T, path: Path, value: unknown): T {
  const [key, ...rest] = path;
  if (key === undefined) return value as T;
  if (typeof root !== "object" || root === null) return root;
  const copy = (Array.isArray(root) ? root.slice() : { ...root }) as Record<string | number, unknown>;
  copy[key] = setAt(copy[key], rest, value);
  return copy as T;
}
