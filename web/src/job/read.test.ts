import { Ajv2020 } from "ajv/dist/2020.js";
import { describe, expect, it } from "vitest";
import schema from "../../job.schema.json";
import example from "../example-job.json";
import { fresh } from "./fresh";
import { addCircuit, addLine } from "./edit";
import { parsePath, setAt, type Path } from "./path";
import { readJob } from "./read";

const conforms = new Ajv2020({ strict: true, allowUnionTypes: true }).compile(schema);
const whole = () => structuredClone(example) as unknown;

function without(path: string): unknown {
  const keys = parsePath(path);
  const copy = whole();
  let at = copy as Record<string | number, unknown>;
  for (const key of keys.slice(0, -1)) at = at[key] as Record<string | number, unknown>;
  Reflect.deleteProperty(at, keys.at(-1) ?? "");
  return copy;
}

describe("reading a job", () => {
  it("takes the example, which conforms to the schema", () => {
    expect(conforms(example), JSON.stringify(conforms.errors)).toBe(true);
    const { job, problems } = readJob(example);
    expect(problems).toEqual([]);
    expect(job).toEqual(example);
  });

  it("comes back the same from a file", () => {
    const { job } = readJob(example);
    expect(readJob(JSON.parse(JSON.stringify(job))).job).toEqual(job);
  });

  it("reads a nullable entry that is missing as null", () => {
    for (const path of ["notes", "supply.ze", "boards[0].rcd", "circuits[0].sections[0].soil", "circuits[0].device.let_through"]) {
      expect(conforms(without(path)), path).toBe(true);
      expect(readJob(without(path)).job, path).toEqual(setAt(example as unknown, parsePath(path), null));
    }
  });

  const wrong: [string, unknown, "unknown" | "wrong"][] = [
    ["format", "another", "wrong"],
    ["version", 0, "wrong"],
    ["name", 7, "wrong"],
    ["supply", null, "wrong"],
    ["supply.volts", 230, "unknown"],
    ["supply.earthing", "it", "wrong"],
    ["supply.phases", 2, "wrong"],
    ["supply.device", [], "wrong"],
    ["supply.device.family", "nh00", "wrong"],
    ["supply.device.maker", "x", "unknown"],
    ["boards", {}, "wrong"],
    ["boards[0].id", "", "wrong"],
    ["boards[1].fed_by", 3, "wrong"],
    ["boards[1].bonding.csa", "10", "wrong"],
    ["circuits[2].sections[0].length", "8", "wrong"],
    ["circuits[2].sections[0].colour", "grey", "unknown"],
    ["circuits[2].sections[0].arrangement", "heap", "wrong"],
    ["circuits[2].sections[0].arrangement", true, "wrong"],
    ["circuits[2].sections", "none", "wrong"],
    ["circuits[0].outdoors", "yes", "wrong"],
    ["circuits[0].load.class", "spa", "wrong"],
    ["profile", "fr", "wrong"],
    ["profile", 3, "wrong"],
  ];
  it.each(wrong)("refuses %s = %j and says where", (path, value, kind) => {
    const bad = setAt(whole(), parsePath(path), value);
    expect(conforms(bad)).toBe(false);
    const { job, problems } = readJob(bad);
    expect(job).toBeNull();
    expect(problems.map((one) => [one.path, one.kind])).toContainEqual([path, kind]);
  });

  it("refuses a required entry that is missing", () => {
    for (const path of ["name", "supply.u0", "boards[0].id", "circuits[3].device", "circuits[3].sections[0].protective.kind"]) {
      const { job, problems } = readJob(without(path));
      expect(job, path).toBeNull();
      expect(problems.map((one) => [one.path, one.kind])).toContainEqual([path, "missing"]);
    }
  });

  it("says when a job comes from a newer version", () => {
    expect(readJob(setAt(whole(), ["version"], 2)).problems).toEqual([{ path: "version", kind: "newer", wanted: "1" }]);
  });

  it("keeps a length that was not entered as not entered", () => {
    const path: Path = ["circuits", 0, "sections", 0, "length"];
    const unfinished = setAt(whole(), path, null);
    expect(readJob(unfinished).job?.circuits[0]?.sections[0]?.length).toBeNull();
  });

  it("leaves it to the core to say that a count is not whole", () => {
    const path: Path = ["circuits", 0, "sections", 0, "cores"];
    const odd = setAt(whole(), path, 2.5);
    expect(conforms(odd)).toBe(false);
    expect(readJob(odd).job?.circuits[0]?.sections[0]?.cores).toBe(2.5);
  });

  it("falls over nothing", () => {
    const hostile = JSON.parse('{"__proto__": {"x": 1}, "format": "faultpath-job", "version": 1, "constructor": {}}') as unknown;
    for (const value of [undefined, null, true, 3, "job", [], {}, [example], hostile, { ...(example as object), boards: [null] }]) {
      expect(readJob(value).job).toBeNull();
    }
    expect(({} as Record<string, unknown>).x).toBeUndefined();
  });

  it("takes what the page itself makes", () => {
    let job = fresh.job("New", "Board");
    job = addCircuit(job, "b1", "One").job;
    job = addLine(job, "b1", "Line", "Next").job;
    expect(readJob(JSON.parse(JSON.stringify(job))).problems).toEqual([]);
  });
});
