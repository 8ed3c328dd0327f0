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


class Tally:
    """Holds two answers to the same jobs against each other, figure by figure."""

    def __init__(self, show=25):
        self.good = self.bad = self.verdicts = 0
        self.worst = (0, "")
        self.alone = {}
        self.show = show

    def job(self, name, built, answer):
        for mine, theirs in zip(built.judgements, answer["judgements"], strict=True):
            alone, outcomes = 0, []
            for p in theirs["places"]:
                kind = p["place"]["kind"]
                key = (kind,) if kind == "supply" else (kind, p["place"]["id"])
                where = f"{name} {mine.earthing} {'/'.join(key)}"
                facts, findings = mine.facts[key], mine.findings[key]
                for f in p["facts"]:
                    if f["fact"] in FACTS and f["fact"] in facts:
                        self.number(where, f["fact"], f["value"], facts[f["fact"]])
                for f in p["findings"]:
                    check = f["check"]
                    if check not in findings:
                        self.alone[check] = self.alone.get(check, 0) + 1
                        alone += 1
                        continue
                    value, limit = findings[check][:2]
                    self.number(where, check + " value", f["value"], value)
                    if check == "disconnection" and model.breaker_multiple(built.circuits[key[1]]["device"]) is None:
                        # the model has the printed impedance, three figures, the core a current that gives it
                        if None not in (limit, f["limit"]) and abs(f["limit"] - limit) <= 0.005 * built.cmin:
                            limit = f["limit"]
                    if limit == model.UNREAD:
                        limit = f["limit"]
                    self.number(where, check + " limit", f["limit"], limit)
                    self.word(where, check + " outcome", f["outcome"], model.outcome(findings[check]))
                for check in set(findings) - {f["check"] for f in p["findings"]}:
                    self.word(where, check, "no such finding", "a finding")
                outcomes += [model.outcome(f) for f in findings.values()]
            if not alone:  # every finding has its counterpart, so has the verdict
                self.verdicts += 1
                self.word(name, "whole verdict", theirs["outcome"], max(outcomes, key=["pass", "cannot-say", "fail"].index))

    def word(self, where, name, got, expect):
        self._note(got == expect, where, name, got, expect)

    def number(self, where, name, got, expect):
        if got is None or expect is None:
            self._note(got is expect, where, name, got, expect)
            return
        off = abs(got - float(expect)) / max(abs(float(expect)), 1e-9)
        if off <= F32 and off > self.worst[0]:
            self.worst = (off, f"{where} {name}")
        self._note(off <= F32, where, name, got, float(expect))

    def _note(self, good, where, name, got, expect):
        if good:
            self.good += 1
            return
        self.bad += 1
        if self.bad <= self.show:
            print(f"  DISAGREES {where} {name}: core {got}, model {expect}")

    def done(self):
        print(f"  {self.good + self.bad} figures and words, of them {self.verdicts} whole verdicts; worst agreement "
              f"{self.worst[0]:.2g} relative ({self.worst[1]})")
        print("  findings the model leaves alone: " + (", ".join(f"{k} {v}" for k, v in sorted(self.alone.items())) or "none"))
        return self.good, self.bad


def whole():
    """Every example: facts, findings' values, limits and outcomes, wherever the model has them."""
    paths = sorted(f"examples/{p.name}" for p in (VECTORS / "examples").glob("*.json"))
    answers, tally = _judged(paths), Tally()
    for path in paths:
        tally.job(path, model.Model(json.loads((VECTORS / path).read_text())), answers[path])
    return tally.done()
