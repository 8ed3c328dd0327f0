"""The worked examples against the core: row by row, and every figure both sides have."""

import json
from pathlib import Path

import ask
import make_examples
import model

VECTORS = Path(__file__).resolve().parents[2] / "vectors"
F32 = 1e-5
# The model's name of a fact, where it has one that the core shows.
FACTS = ("ib", "in", "iz", "r1r2", "zs", "ief-min", "ipf-max", "drop", "drop-share", "demand")


def on_disk():
    """Are the committed jobs and rows those of make_examples?"""
    wanted = make_examples.wanted_files()[0]
    present = set((VECTORS / "examples").glob("*.json")) | {VECTORS / "examples.json"}
    bad = 0
    for path in sorted(present | set(wanted)):
        if not path.exists() or path.read_text() != wanted.get(path):
            bad += 1
            print(f"  not as the model has it: {path.relative_to(VECTORS)}")
    return len(present | set(wanted)) - bad, bad


def rows():
    """Each row of examples.json asked of the core."""
    listed = json.loads((VECTORS / "examples.json").read_text())["rows"]
    answers = _judged(sorted({r["inputs"]["job"] for r in listed}))
    bad, counts = 0, {}
    for r in listed:
        got = _pick(answers[r["inputs"]["job"]], r["inputs"])
        expect, tolerance = r["expect"], r["tolerance"]
        if isinstance(expect, str) or expect is None:
            good = got == expect
        else:
            allowed = tolerance["abs"] if "abs" in tolerance else tolerance["rel"] * abs(expect)
            good = isinstance(got, (int, float)) and abs(got - expect) <= allowed
        counts[r["standing"]] = counts.get(r["standing"], 0) + 1
        if not good:
            bad += 1
            if bad <= 15:
                i = r["inputs"]
                print(f"  DISAGREES {i['job']} {i['place'].get('id', 'supply')} {i['want']}: core {got}, expected {expect} ({r['standing']})")
    print("  rows by standing: " + ", ".join(f"{k} {v}" for k, v in sorted(counts.items())))
    return len(listed) - bad, bad


def _judged(paths):
    """{path: answer} of the jobs at these paths under vectors/."""
    jobs = [json.loads((VECTORS / p).read_text()) for p in paths]
    return dict(zip(paths, ask.judge_many(jobs)))


def _pick(answer, inputs):
    parts = inputs["want"].split(":")
    judgement = answer["judgements"][inputs.get("judgement", 0)]
    place = next((p for p in judgement["places"] if p["place"] == inputs["place"]), None)
    if place is None:
        return "no such place"
    if parts[0] == "fact":
        return next((f["value"] for f in place["facts"] if f["fact"] == parts[1]), "no such fact")
    finding = next((f for f in place["findings"] if f["check"] == parts[1]), None)
    if finding is None:
        return "no such finding"
    return finding["outcome"] if parts[0] == "outcome" else finding[parts[2]]


def whole():
    """Every job: facts, findings' values, limits and outcomes, wherever the model has them."""
    paths = sorted(f"examples/{p.name}" for p in (VECTORS / "examples").glob("*.json"))
    answers = _judged(paths)
    good = bad = 0
    silent = {}
    worst = (0, "")
    for path in paths:
        built = model.Model(json.loads((VECTORS / path).read_text()))
        for mine, theirs in zip(built.judgements, answers[path]["judgements"], strict=True):
            for p in theirs["places"]:
                kind = p["place"]["kind"]
                key = (kind,) if kind == "supply" else (kind, p["place"]["id"])
                pairs = [(f["fact"], f["value"], mine.facts[key][f["fact"]]) for f in p["facts"]
                         if f["fact"] in FACTS and f["fact"] in mine.facts[key]]
                for f in p["findings"]:
                    if f["check"] not in mine.findings[key]:
                        silent[f["check"]] = silent.get(f["check"], 0) + 1
                        continue
                    finding = mine.findings[key][f["check"]]
                    value, limit = finding[:2]
                    pairs.append((f["check"] + " value", f["value"], value))
                    pairs.append((f["check"] + " limit", f["limit"], limit))
                    if f["check"] == "disconnection" and _is_fuse(built, key):
                        # the model has the printed impedance, three figures, the core a current that gives it
                        rounded = 0.005 * float(built.cmin)
                        pairs[-1] = (pairs[-1][0], f["limit"], f["limit"] if abs(f["limit"] - limit) <= rounded else limit)
                    pairs.append((f["check"] + " outcome", f["outcome"], make_examples.outcome(finding)))
                for name, got, expect in pairs:
                    if isinstance(expect, str) or expect is None or got is None:
                        same = got == expect
                    else:
                        off = abs(got - float(expect)) / max(abs(float(expect)), 1e-9)
                        same = off <= F32
                        if same and off > worst[0]:
                            worst = (off, f"{path} {'/'.join(key)} {name}")
                    if same:
                        good += 1
                    else:
                        bad += 1
                        if bad <= 25:
                            shown = expect if isinstance(expect, str) or expect is None else float(expect)
                            print(f"  DISAGREES {path} {mine.earthing} {'/'.join(key)} {name}: core {got}, model {shown}")
    print(f"  {good + bad} figures, worst agreement {worst[0]:.2g} relative ({worst[1]}); "
          f""
          "findings the model leaves alone: " + (", ".join(f"{k} {v}" for k, v in sorted(silent.items())) or "none"))
    return good, bad


def _is_fuse(built, place):
    return model.breaker_multiple(built.circuits[place[1]]["device"]) is None
