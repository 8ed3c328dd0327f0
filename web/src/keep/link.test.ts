import { describe, expect, it } from "vitest";
import exampleData from "../example-job.json";
import { readJob } from "../job/read";
import type { Job } from "../job/types";
import { designOf, joined, pack, readPart, unpack, sumOf } from "./link";

const { job: example } = readJob(exampleData);
if (!example) throw new Error("the example can't be read");

describe("a job in an address", () => {
  it("is the same when it comes out again", async () => {
    const packed = await pack(example);
    expect(packed).toMatch(/^[\w-]+$/);
    expect(packed.length).toBeLessThan(JSON.stringify(example).length / 4);
    expect(readJob(await unpack(packed)).job).toEqual(example);
    const odd: Job = { ...example, name: "Größe \u2126 ☂", notes: "", circuits: [] };
    expect(readJob(await unpack(await pack(odd))).job).toEqual(odd);
  });

  it("keeps what has not been entered apart from zero", async () => {
    const open: Job = { ...example, supply: { ...example.supply, u0: Number.NaN, ze: 0 } };
    const { job } = readJob(await unpack(await pack(open)));
    expect(job?.supply.u0).toBeNull();
    expect(job?.supply.ze).toBe(0);
  });

  it("is nothing when it is damaged, cut off or swells beyond all measure", async () => {
    const packed = await pack(example);
    expect(await unpack(packed.slice(0, -20))).toBeNull();
    expect(await unpack("%%%")).toBeNull();
    expect(await unpack("")).toBeNull();
    const swollen = await new Response(new Blob([new Uint8Array(30_000_000)]).stream().pipeThrough(new CompressionStream("deflate-raw"))).arrayBuffer();
    expect(await unpack(Buffer.from(swollen).toString("base64url"))).toBeNull();
  });

  it("can leave the readings out", () => {
    const design = designOf(example);
    expect(design.circuits.every(({ tests }) => tests === null)).toBe(true);
    expect(design.circuits.map(({ sections }) => sections)).toEqual(example.circuits.map(({ sections }) => sections));
  });

  it("is put together from its parts in any order, and only when all came", () => {
    const parts = new Map([[2, "b"], [1, "a"]]);
    expect(joined(3, sumOf("abc"), parts)).toBeNull();
    parts.set(3, "c");
    expect(joined(3, sumOf("abc"), parts)).toBe("abc");
    expect(joined(3, sumOf("abd"), parts)).toBeNull();
    expect(readPart(["x1", "2", "3", "abc"])).toEqual({ sum: "x1", number: 2, of: 3, text: "abc" });
    for (const bad of [[], ["x1", "0", "3", "a"], ["x1", "4", "3", "a"], ["x1", "1", "99", "a"], ["x1", "1.5", "3", "a"], ["x1", "1", "3", ""], ["<b>", "1", "3", "a"]]) {
      expect(readPart(bad)).toBeNull();
    }
  });
});
