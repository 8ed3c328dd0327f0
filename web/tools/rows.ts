// The rows of vectors/ as one module, `virtual:rows`: loaded only where somebody asks for it, kept for offline use like
// every other part of the page. What recurs is written once, or the file would be three times as large.

import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import type { Plugin } from "vite";
import type { Column, Packed } from "../src/evidence";

const folder = fileURLToPath(new URL("../../vectors/", import.meta.url));
const name = "virtual:rows";

type Row = {
  ask: string; inputs: Record<string, unknown>; expect: number | string; unit: string; tolerance: { abs?: number; rel?: number; why: string };
  source: string; standing: string; support: string;
};
export type Topic = { topic: string; units: Record<string, string>; documents: Record<string, string>; rows: Row[] };

const read = (file: string): unknown => JSON.parse(readFileSync(folder + file, "utf8"));

export function packed(): Packed {
  return pack(readdirSync(folder).filter((file) => file.endsWith(".json")).sort().map((file) => read(file) as Topic), read);
}

/** Rows that ask the same lie together, one list for each of their fields: like beside like is what compresses. */
export function pack(topics: readonly Topic[], jobOf: (name: string) => unknown): Packed {
  const texts = new Map<string, number>();
  const text = (of: string): number => {
    if (!texts.has(of)) texts.set(of, texts.size);
    return texts.get(of) ?? 0;
  };
  const column = (all: unknown[]): Column => {
    const each = new Set(all.map((one) => JSON.stringify(one))).size === 1 ? all.slice(0, 1) : all;
    return each.every((one) => typeof one === "string") ? { texts: each.map(text) } : each;
  };
  const shapes = new Map<string, number>();
  const dense = (of: unknown): unknown => {
    if (typeof of !== "object" || of === null) return of;
    if (Array.isArray(of)) return [-1, ...of.map(dense)];
    const names = JSON.stringify(Object.keys(of));
    if (!shapes.has(names)) shapes.set(names, shapes.size);
    return [shapes.get(names), ...Object.values(of).map(dense)];
  };
  const jobs: Packed["jobs"] = {};
  return {
    topics: topics.map(({ topic, units, documents, rows }) => {
      const groups = new Map<string, Row[]>();
      const runs: [group: string, count: number][] = [];
      for (const row of rows) {
        if (typeof row.inputs.job === "string") jobs[row.inputs.job] ??= dense(jobOf(row.inputs.job));
        const key = JSON.stringify([row.ask, ...Object.keys(row.inputs)]);
        groups.set(key, [...(groups.get(key) ?? []), row]);
        const last = runs.at(-1);
        if (last?.[0] === key) last[1] += 1;
        else runs.push([key, 1]);
      }
      const order = [...groups.keys()];
      return {
        topic, units, documents,
        groups: [...groups.values()].map((all) => {
          const of = (pick: (row: Row) => unknown) => column(all.map(pick));
          const names = Object.keys(all[0]?.inputs ?? {});
          return {
            ask: all[0]?.ask ?? "", inputs: Object.fromEntries(names.map((one) => [one, of((row) => row.inputs[one])])),
            rest: [
              of((row) => row.expect), of((row) => row.unit), of((row) => row.tolerance.abs ?? null), of((row) => row.tolerance.rel ?? null),
              of((row) => row.tolerance.why), of((row) => row.source), of((row) => row.standing), of((row) => row.support),
            ],
          };
        }),
        runs: runs.map(([key, count]) => [order.indexOf(key), count]),
      };
    }),
    jobs,
    shapes: [...shapes.keys()].map((names) => JSON.parse(names) as string[]),
    texts: [...texts.keys()],
  };
}

export function rows(): Plugin {
  return {
    name: "rows",
    resolveId: (id) => (id === name ? `\0${name}` : null),
    load(id) {
      if (id !== `\0${name}`) return null;
      for (const file of readdirSync(folder, { recursive: true, encoding: "utf8" })) this.addWatchFile(folder + file);
      // A literal: in a text for JSON.parse each quotation mark would be two signs.
      return `export default ${JSON.stringify(packed())}`;
    },
  };
}
