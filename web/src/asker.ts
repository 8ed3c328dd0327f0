// Asking a file of the core about a job again and again, as it is edited: a circuit that it has read already is named
// by its place in the job before. So nothing in a circuit may ever change: what is handed over is frozen.

import type { Job } from "./job/types";

function freeze(value: unknown): void {
  if (typeof value !== "object" || value === null || Object.isFrozen(value)) return;
  Object.values(value).forEach(freeze);
  Object.freeze(value);
}

type Ask = (job: unknown, turn: number) => unknown;

/** For one file of the core: knows what that holds. */
export function asker(): (ask: Ask, of: Job) => unknown {
  let turn = 0;
  let held = new Map<object, number>();
  return (ask, of) => {
    const next = turn + 1;
    const before = held;
    // Until it has answered nothing is sure.
    turn = 0;
    held = new Map();
    const circuits = of.circuits.map((circuit) => {
      const at = before.get(circuit);
      before.delete(circuit);
      if (at === undefined) freeze(circuit);
      return at ?? circuit;
    });
    try {
      const answer = ask({ ...of, circuits }, next);
      turn = next;
      held = new Map(of.circuits.map((circuit, at) => [circuit, at]));
      return answer;
    } catch (reason) {
      console.error(reason);
      return ask(of, 0);
    }
  };
}
