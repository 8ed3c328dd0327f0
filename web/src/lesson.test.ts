import { readFileSync } from "node:fs";
import { beforeAll, describe, expect, it } from "vitest";
import { answersOf, asFile, fromFile, hrefOf, questionsOf, readAsked, textOf, toldOf, type Lesson } from "./lesson";
import { initSync } from "./pkg-site/faultpath_wasm.js";
import { words } from "words:lesson";

const kinds = Object.keys(words.kinds);
const lesson: Lesson = { seed: 4711, kinds, count: 26, each: false };

beforeAll(() => {
  initSync({ module: readFileSync(new URL("./pkg-site/faultpath_wasm_bg.wasm", import.meta.url)) });
});

describe("a set of exercises", () => {
  it("comes back from its address and its file", () => {
    expect(readAsked(textOf(lesson))).toEqual({ lesson, learner: null, sheet: false });
    expect(readAsked(hrefOf({ ...lesson, each: true }, "7").slice("#/lesson/".length))).toEqual({ lesson: { ...lesson, each: true }, learner: 7, sheet: false });
    expect(readAsked(`${textOf(lesson)}/sheet`)?.sheet).toBe(true);
    expect(fromFile(asFile(lesson))).toEqual(lesson);
  });

  it("is refused where it is not whole", () => {
    for (const bad of ["1", "x/zs/3/same", "1/zs/0/same", "1/zs/61/same", "1/zs.no/3/same", "1/toString/3/same", "1/zs/3/all", "1/zs/3/each/0", "99999999999/zs/3/same", "-1/zs/3/same"]) {
      expect(readAsked(bad), bad).toBeNull();
    }
    for (const bad of ["", "[]", "null", "{}", '{"format":"faultpath-lesson","version":2,"seed":1,"kinds":["zs"],"count":1,"numbers":"same"}', '{"format":"faultpath-lesson","version":1,"seed":1,"kinds":"zs","count":1,"numbers":"same"}']) {
      expect(fromFile(bad), bad).toBeNull();
    }
  });

  it("has words for everything, and hides the answers", () => {
    const questions = questionsOf(lesson, 0);
    expect(questions).toHaveLength(26);
    expect(new Set(questions.map(({ kind }) => kind))).toEqual(new Set(kinds));
    expect(JSON.stringify(questions)).not.toContain("answer");
    let slips = new Set<string>();
    for (let learner = 0; learner < 12; learner += 1) {
      answersOf(lesson, learner).forEach((answer, number) => {
        expect(answer.working.length).toBeGreaterThan(0);
        expect(answer.working.at(-1)?.shown).toBe(answer.shown);
        for (const { filled } of answer.working) expect(filled).not.toMatch(/undefined|\{/);
        expect(toldOf(lesson, learner, number, Number.parseFloat(answer.shown)).told).toBe("right");
        slips = new Set([...slips, ...answer.slips.map(({ text }) => text)]);
      });
    }
    expect([...slips].sort()).toEqual(Object.values(words.slips).sort());
  });

  it("is another for each learner", () => {
    expect(questionsOf(lesson, 1)).not.toEqual(questionsOf(lesson, 2));
    expect(questionsOf(lesson, 1)).toEqual(questionsOf(lesson, 1));
  });
});
