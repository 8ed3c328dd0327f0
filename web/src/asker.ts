// Asking a file of the core about a job again and again, as it is edited: a circuit that it has read already is named
// by its place in the job before, and of an answer comes what is not as it was. So nothing in a circuit may ever
// change, and it is frozen; nor in an answer.

import type { Job } from "./job/types";

function freeze(value: unknown): void {
  if (typeof value !== "object" || value === null || Object.isFrozen(value)) return;
  Object.values(value).forEach(freeze);
  Object.freeze(value);
}

type Ask = (job: unknown, turn: number) => unknown;

/** An answer made whole: `true` where it is as before, in a list or named values. */
function whole(came: unknown, before: unknown): unknown {
  const was = typeof before === "object" && before !== null ? (before as Record<string, unknown>) : null;
  if (came === true && was) return was;
  if (typeof came !== "object" || came === null) return came;
  const is = came as Record<string, unknown>;
  for (const key of Object.keys(is)) is[key] = whole(is[key], was?.[key]);
  return is;
}

/** For one file of the core: knows what that holds. */
export function asker(): (ask: Ask, of: Job) => unknown {
  let turn = 0;
  let held = new Map<object, number>();
  // Of each kind, since the first turn.
  let answers = new Map<Ask, unknown>();
  return (ask, of) => {
    const next = turn + 1;
    const before = held;
    const last = turn === 0 ? new Map<Ask, unknown>() : answers;
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
      const answer = whole(ask({ ...of, circuits }, next), last.get(ask));
      answers = last.set(ask, answer);
      turn = next;
      held = new Map(of.circuits.map((circuit, at) => [circuit, at]));
      return answer;
    } catch (reason) {
      console.error(reason);
      return ask(of, 0);
    }
  };
}
