"""The schema and the Rust reader must accept and refuse the same jobs.

Every example job, and the page's own, is valid against web/job.schema.json and read without an
error. Then each is changed in one place: a key taken away, a stranger added, a type, a word or a
number changed.

* What the schema refuses, the reader must refuse.
* What the schema accepts, the reader must not refuse for its shape. It may refuse it for its value
  (a negative length, a size not made, a board that isn't there), which no schema tells.
* Where the schema refuses, one of the reader's errors must name the place that was changed.
"""

import copy
import json
import random
import sys
from pathlib import Path

from jsonschema import Draft202012Validator

import ask

ROOT = Path(__file__).resolve().parents[2]
SEED = 20261125
# These are changed in every kind of place there is, the others in some.
WHOLE = {"example-job.json", "orchard-pump-house.json", "ring-with-spurs.json"}
SAMPLE = 40


def schema():
    s = json.loads((ROOT / "web" / "job.schema.json").read_text())
    Draft202012Validator.check_schema(s)
    return Draft202012Validator(s)


def jobs():
    """{name: job} of the examples and the page's."""
    paths = sorted((ROOT / "vectors" / "examples").glob("*.json")) + [ROOT / "web" / "src" / "example-job.json"]
    return {p.name: json.loads(p.read_text()) for p in paths}


def places(value, path=()):
    """Every place in the tree."""
    yield path
    if isinstance(value, dict):
        for k, v in value.items():
            yield from places(v, path + (k,))
    elif isinstance(value, list):
        for n, v in enumerate(value):
            yield from places(v, path + (n,))


def at(job, path):
    for step in path:
        job = job[step]
    return job


def show(path):
    text = ""
    for step in path:
        text += f"[{step}]" if isinstance(step, int) else (f".{step}" if text else step)
    return text


def general(path):
    """The path without list positions: each kind of place is tried once a job."""
    return tuple("[]" if isinstance(s, int) else s for s in path)


# Reasons of the reader that are of the shape, which the schema is about.
SHAPE = {"wrong-kind", "no-such-choice", "unknown-field", "newer-version"}
OTHERS = [None, True, 7, -3.5, "stranger", "", [], {}, [1], {"stranger": 1}]


def mutants(job, rng):
    """(what was done, the place blamed, the changed job)."""
    seen = {}
    for path in places(job):
        seen.setdefault(general(path), []).append(path)
    for paths in seen.values():
        path = rng.choice(paths)
        value = at(job, path)
        if path:
            for other in OTHERS:
                if type(other) is type(value) and other == value:
                    continue
                changed = copy.deepcopy(job)
                at(changed, path[:-1])[path[-1]] = copy.deepcopy(other)
                yield f"{show(path)} := {json.dumps(other)}", path, changed
        if path and isinstance(path[-1], str):
            changed = copy.deepcopy(job)
            del at(changed, path[:-1])[path[-1]]
            # A reading is shown or above: where there is neither either may be asked for.
            blamed = path[:-1] if path[-1] in ("shown", "above") else path
            yield f"{show(path)} taken away", blamed, changed
        if isinstance(value, dict):
            changed = copy.deepcopy(job)
            at(changed, path)["stranger"] = 1
            yield f"stranger added to {show(path) or 'the job'}", path + ("stranger",), changed


def run():
    """Number passed, number failed."""
    passed = failed = 0
    validator = schema()
    rng = random.Random(SEED)
    tried = []
    for name, job in jobs().items():
        errors = list(validator.iter_errors(job))
        if errors:
            failed += 1
            print(f"  {name} is not valid: {errors[0].json_path} {errors[0].message[:200]}")
        else:
            passed += 1
        tried.append((name, "unchanged", None, job, not errors))
        changes = list(mutants(job, rng))
        if name not in WHOLE:
            changes = rng.sample(changes, min(SAMPLE, len(changes)))
        for what, path, changed in changes:
            tried.append((name, what, path, changed, validator.is_valid(changed)))
    answers = ask.ask_many([{"ask": "read", "inputs": {"job": t[3]}} for t in tried])
    accepted = refused = by_value = shown = 0
    for (name, what, path, _, valid), answer in zip(tried, answers):
        errors = answer["errors"]
        reasons = {e["reason"] for e in errors}
        why = None
        if not valid and not errors:
            why = "schema refuses, reader accepts"
        elif valid and (reasons & SHAPE or (errors and path is None)):
            why = f"schema accepts, reader says {json.dumps(errors)[:160]}"
        elif not valid and path and not any(
                e["path"] and (show(path).startswith(e["path"]) or e["path"].startswith(show(path))) for e in errors):
            why = f"no error names the place: {json.dumps(errors)[:160]}"
        if why:
            failed += 1
            shown += 1
            if shown <= 20:
                print(f"  DISAGREES {name}, {what}: {why}")
        else:
            passed += 1
            accepted += valid and not errors
            by_value += valid and bool(errors)
            refused += not valid
    print(f"  jobs as they are and changed in one place: {len(tried)}; both accept {accepted}, both refuse {refused}, "
          f"reader refuses the value alone {by_value}, of two minds {shown}")
    if not accepted or not refused:
        failed += 1
    return passed, failed


if __name__ == "__main__":
    ok, bad = run()
    print(f"{ok} passed, {bad} failed")
    sys.exit(1 if bad or not ok else 0)
