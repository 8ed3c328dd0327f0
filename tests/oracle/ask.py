"""Speaks to the native build: one JSON line per question, one per answer."""

import json
import os
import subprocess
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
_program = None


def program():
    """The built `ask`; FAULTPATH_ASK names another."""
    global _program
    if _program is None:
        _program = os.environ.get("FAULTPATH_ASK")
    if _program is None:
        built = subprocess.run(
            ["cargo", "build", "--release", "--quiet", "-p", "faultpath-tests", "--bin", "ask",
             "--message-format=json-render-diagnostics"],
            cwd=ROOT, check=True, stdout=subprocess.PIPE, text=True)
        for line in built.stdout.splitlines():
            message = json.loads(line)
            if message.get("executable") and message["target"]["name"] == "ask":
                _program = message["executable"]
    if _program is None:
        raise RuntimeError("cargo built no ask")
    return _program


def ask_many(questions):
    """Answers in the order of the questions, each a dict."""
    text = "".join(json.dumps(q, separators=(",", ":")) + "\n" for q in questions)
    done = subprocess.run([program()], input=text, stdout=subprocess.PIPE, text=True, check=True)
    answers = [json.loads(line) for line in done.stdout.splitlines()]
    if len(answers) != len(questions):
        raise RuntimeError(f"{len(questions)} questions, {len(answers)} answers")
    return answers


def values(name, inputs):
    """The value of each of many inputs to one ask; "not-known" or an error text where there is none."""
    return [a.get("value", a.get("error")) for a in ask_many([{"ask": name, "inputs": i} for i in inputs])]


def judge_many(jobs):
    """The whole answer to each job."""
    return [a["value"] for a in ask_many([{"ask": "judge", "inputs": {"job": job}} for job in jobs])]


def facts(judgement):
    """{place: {fact: value}}."""
    out = {}
    for p in judgement["places"]:
        place = p["place"]
        key = (place["kind"],) if place["kind"] == "supply" else (place["kind"], place["id"])
        out[key] = {f["fact"]: f["value"] for f in p["facts"]}
    return out
