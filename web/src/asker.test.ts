import { describe, expect, it, vi } from "vitest";
import { asker } from "./asker";
import type { Job } from "./job/types";
import { exampleJob } from "./state";

type Come = { turn: number; circuits: unknown[] };

/** What an asker hands over, one after another. */
function handed(all: Job[], refused: number[] = []): Come[] {
  const come: Come[] = [];
  const ask = asker();
  for (const job of all) {
    ask((of, turn) => {
      come.push({ turn, circuits: (of as Job).circuits });
      if (refused.includes(come.length - 1)) throw new Error("refused");
    }, job);
  }
  return come;
}

describe("an asker", () => {
  const job = exampleJob();
  const [a, b, ...rest] = job.circuits;
  if (!a || !b) throw new Error("two circuits at least");
  const of = (circuits: Job["circuits"]): Job => ({ ...job, circuits });

  it("hands over each circuit once, and then its place", () => {
    const changed = { ...b, name: "Other" };
    const come = handed([of([a, b]), of([a, changed]), of([changed, a]), of([a, ...rest])]);
    expect(come).toEqual([
      { turn: 1, circuits: [a, b] },
      { turn: 2, circuits: [0, changed] },
      { turn: 3, circuits: [1, 0] },
      { turn: 4, circuits: [1, ...rest] },
    ]);
  });

  it("hands over a circuit that is there twice for each", () => {
    expect(handed([of([a]), of([a, a])])[1]?.circuits).toEqual([0, a]);
  });

  it("lets nobody change what was handed over", () => {
    const mine = exampleJob();
    handed([mine]);
    const section = mine.circuits[0]?.sections[0];
    expect(section && Object.isFrozen(section)).toBe(true);
  });

  it("hands over the whole where it was refused, and begins anew", () => {
    const told = vi.spyOn(console, "error").mockReturnValue(undefined);
    expect(handed([of([a]), of([a]), of([a])], [1])).toEqual([
      { turn: 1, circuits: [a] },
      { turn: 2, circuits: [0] },
      { turn: 0, circuits: [a] },
      { turn: 1, circuits: [a] },
    ]);
    told.mockRestore();
  });

  it("makes an answer whole by the last one to the same question, since the first turn", () => {
    const told = vi.spyOn(console, "error").mockReturnValue(undefined);
    const ask = asker();
    const answers: unknown[] = [];
    const asking = (came: unknown[]) => () => {
      const next = came.shift();
      if (next instanceof Error) throw next;
      return next;
    };
    const one = asking([{ all: [{ a: 1 }, { b: [2] }], n: 1 }, { all: [true, { b: true }, { c: 3 }], n: 2 }, true, new Error("refused"), { all: [], n: 3 }, { all: true, n: true }]);
    const other = asking([{ all: [{ a: 5 }] }, true]);
    for (const question of [one, one, other, one, other, one, one]) answers.push(ask(question, of([a])));
    expect(answers).toEqual([
      { all: [{ a: 1 }, { b: [2] }], n: 1 },
      { all: [{ a: 1 }, { b: [2] }, { c: 3 }], n: 2 },
      { all: [{ a: 5 }] },
      { all: [{ a: 1 }, { b: [2] }, { c: 3 }], n: 2 },
      { all: [{ a: 5 }] },
      { all: [], n: 3 },
      // Nothing was there before: then `true` is no more than that.
      { all: true, n: true },
    ]);
    expect((answers[1] as { all: unknown[] }).all[0]).toBe((answers[0] as { all: unknown[] }).all[0]);
    expect(answers[3]).toBe(answers[1]);
    told.mockRestore();
  });
});
