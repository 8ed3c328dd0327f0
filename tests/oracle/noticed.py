"""Which changes of core does the second computation notice? Asked by tests/mutants, of what other tests missed.

    FAULTPATH_ASK=... python tests/oracle/noticed.py < numbers

The program named has every change in it, each behind a switch (MUTANT). A line a number: the part that notices, or
`missed`. A part's questions are put to the changed program; only where an answer is another one is the part run.
"""

import contextlib
import io
import json
import os
import subprocess
import sys

import ask
import model
import run

# Those whose questions rest on no answer; networks in pandapower take too long for each change.
PARTS = ["whole", "random-jobs", "closed-forms", "readings"]
SECONDS = 120


def put(text, number=None):
    """What the program prints, or None where it breaks or takes for ever."""
    env = dict(os.environ) if number is None else dict(os.environ, MUTANT=number)
    try:
        done = subprocess.run([ask.program()], input=text, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL,
                              text=True, timeout=SECONDS, env=env)
    except subprocess.TimeoutExpired:
        return None
    return done.stdout if done.returncode == 0 else None


class Part:
    """A part with its questions and the unchanged answers."""

    def __init__(self, name):
        self.name, self.batches = name, []

        def answer(questions):
            text = "".join(json.dumps(q, separators=(",", ":")) + "\n" for q in questions)
            self.batches.append((text, put(text)))
            return [json.loads(line) for line in self.batches[-1][1].splitlines()]

        if self.fails(answer):
            raise RuntimeError(f"{name} fails without any change")

    def fails(self, answer):
        """Whether the part fails with these answers."""
        before, ask.ask_many = ask.ask_many, answer
        try:
            with contextlib.redirect_stdout(io.StringIO()):
                return run.PARTS[self.name][1]()[1] > 0
        except Exception:  # a part that breaks has not passed
            return True
        finally:
            ask.ask_many = before

    def notices(self, number):
        changed = []
        for text, usual in self.batches:
            got = put(text, number)
            if got is None:
                return True
            changed.append(got)
        if all(got == usual for got, (_, usual) in zip(changed, self.batches)):
            return False
        left = iter(changed)
        return self.fails(lambda _: [json.loads(line) for line in next(left).splitlines()])


class Remembered(model.Model):
    """The second computation of a job, done once."""

    known = {}

    def __new__(cls, job):
        key = json.dumps(job, sort_keys=True)
        if key not in cls.known:
            cls.known[key] = USUAL(job)
        return cls.known[key]


USUAL = model.Model


def main():
    model.Model = Remembered
    parts = [Part(name) for name in PARTS]
    for number in sys.stdin.read().split():
        by = next((p.name for p in parts if p.notices(number)), "missed")
        print(number, by, flush=True)


if __name__ == "__main__":
    main()
