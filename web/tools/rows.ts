// The rows of vectors/ as one module, `virtual:rows`: loaded only where somebody asks for it, kept for offline use like
// every other part of the page. What recurs is written once, or the file would be three times as large.

import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import type { Plugin } from "vite";
import type { Packed, PackedRow } from "../src/evidence";

const folder = fileURLToPath(new URL("../../vectors/", import.meta.url));
const name = "virtual:rows";

type Row = {
  ask: string; inputs: Record<string, unknown>; expect: number | string; unit: string; tolerance: { abs?: number; rel?: number; why: string };
  source: string; standing: string; support: string;
};
type Topic = { topic: string; units: Record<string, string>; documents: Record<string, string>; rows: Row[] };

const read = (file: string): unknown => JSON.parse(readFileSync(folder + file, "utf8"));

export function packed(): Packed {
  const texts = new Map<string, number>();
  const text = (of: string): number => {
    if (!texts.has(of)) texts.set(of, texts.size);
    return texts.get(of) ?? 0;
  };
  const jobs: Packed["jobs"] = {};
  const pack = ({ ask, inputs, expect, unit, tolerance, source, standing, support }: Row): PackedRow => {
    if (typeof inputs.job === "string") jobs[inputs.job] ??= read(inputs.job) as object;
    const { abs, rel, why } = tolerance;
    return [
      text(ask), inputs, expect, text(unit), abs ?? null, rel ?? null, text(why), text(source), text(standing), text(support),
    ];
  };
  const topics = readdirSync(folder).filter((file) => file.endsWith(".json")).sort().map((file) => {
    const { topic, units, documents, rows } = read(file) as Topic;
    return { topic, units, documents, rows: rows.map(pack) };
  });
  return { texts: [...texts.keys()], jobs, topics };
}

export function rows(): Plugin {
  return {
    name: "rows",
    resolveId: (id) => (id === name ? `\0${name}` : null),
    load(id) {
      if (id !== `\0${name}`) return null;
      for (const file of readdirSync(folder, { recursive: true, encoding: "utf8" })) this.addWatchFile(folder + file);
      return `export default JSON.parse(${JSON.stringify(JSON.stringify(packed()))})`;
    },
  };
}
