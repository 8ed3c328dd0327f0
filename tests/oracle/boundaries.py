"""Writes vectors/boundaries.json: for each limit a row just inside and one just outside.

Where a limit lies is found on the bits of f32, by the second computation alone (model.py at 30 digits, or the
formula beside it here): the last f32 that is good and the first that is not. The row outside is that first one, so
that a rounding to the unsafe side fails it. The row inside is the last good one where the core compares what was
entered, and a share of `INSIDE` away where it holds a worked-out figure a hair off (`check::HAIR`, readings likewise).

    python tests/oracle/boundaries.py     writes;  run.py boundaries     says whether what is on disk is that
"""

import copy
import json
import struct
from pathlib import Path

from mpmath import mpf, sqrt

import jobs as j
import make_examples as me
import model as m

PATH = Path(__file__).resolve().parents[2] / "vectors" / "boundaries.json"
INSIDE = mpf("5e-6")
B, C, D = me.B, me.C, me.D


def bits(v):
    return struct.unpack("<I", struct.pack("<f", v))[0]


def of(b):
    """An f32 by its bits, as the shortest decimal that is read as it: what a person would have entered."""
    v = struct.unpack("<f", struct.pack("<I", b))[0]
    return next(float(t) for t in (f"{v:.{n}g}" for n in range(6, 10)) if f32(float(t)) == v)


def after(v, way=1):
    """The next f32 in the direction of `way`; both of one sign, or from zero up."""
    return of(bits(v) + (way if v >= 0 else -way))


def f32(v):
    return struct.unpack("<f", struct.pack("<f", v))[0]


def flip(good, inside, outside):
    """The last good f32 and the first that is not, between two of which that is known."""
    a, b = bits(inside), bits(outside)
    assert good(of(a)) and not good(of(b)), (inside, good(of(a)), outside, good(of(b)))
    while abs(a - b) > 1:
        c = (a + b) // 2
        if good(of(c)):
            a = c
        else:
            b = c
    return of(a), of(b)


UNITS = {"a": "Ω", "b": "Ω", "c": "Ω", "above": "of the reading", "ambient": "°C", "arrangement": "m", "breaking": "A", "circuits": "", "cmax": "",
         "cmin": "", "csa": "mm²", "current": "A", "depth": "m", "digits": "", "final": "°C", "grouped": "", "i2t": "A²s",
         "initial": "°C", "k_line": "", "k_protective": "", "length": "m", "line": "mm²", "line_earth": "A", "line_neutral": "A",
         "loaded": "", "multiple": "", "neutral": "mm²", "ra": "Ω", "rating": "A", "resolution": "of the reading", "run": "m",
         "sensitivity": "A", "share": "", "shown": "of the reading", "soil": "K·m/W", "temperature": "°C", "test_voltage": "V",
         "time": "s", "touch": "V", "u0": "V", "voltage": "V"}
NOTED = "edition not noted"
DOCUMENTS = {d: NOTED for d in ("BS 7671", "BS EN 61439-3", "IEC 60228", "IEC 60364-4-41", "IEC 60364-5-54", "IEC 60898-1", "IEC 61008-1")}

ROWS = []
EXACT = "the last f32 within the limit and the first beyond, by the second computation at 30 digits"
WORKED = ("the first f32 beyond the limit, by the second computation at 30 digits, and one five millionths within: "
          "a worked-out figure is held a hair off its limit")


def row(ask, inputs, expect, unit, source, support):
    word = isinstance(expect, str)
    ROWS.append({"ask": ask, "inputs": inputs, "expect": expect, "unit": unit,
                 "tolerance": {"abs": 0, "why": "a word"} if word else {"rel": 3e-7, "why": "f32 beside a step, no step lies within"},
                 "source": source, "standing": "own", "support": support})


def put(inputs, path, value):
    inputs = copy.deepcopy(inputs)
    at, parts = inputs, path.split("/")
    for p in parts[:-1]:
        at = at[p]
    at[parts[-1]] = value
    return inputs


def pair(ask, inputs, path, inside, outside, good, source, unit="", expect=("pass", "fail"), worked=None):
    """`good(value)`, or with `worked` `good(value, share)`: still good with the figure that share worse."""
    if worked is None:
        last, first = flip(good, inside, outside)
        support = EXACT
    else:
        _, first = flip(lambda v: good(v, 0), inside, outside)
        last, _ = flip(lambda v: good(v, INSIDE), inside, outside)
        support = WORKED
    if callable(expect[1]):
        expect = (expect[0], expect[1](first))
    row(ask, put(inputs, path, last), expect[0], unit, source, support)
    row(ask, put(inputs, path, first), expect[1], unit, source, support)


# ---------------------------------------------------------------- checks, by whole jobs

def circuit(current=20, dev=None, sections=None, **more):
    load = more.pop("load", None) or j.load(current=current, kind=more.pop("kind", "other"))
    return j.circuit("c", "main", dev or j.device(B, 32), load, sections or [j.twin(12, 6, 2.5)], **more)


def tn(**more):
    return j.supply("tn-s", **{"ze": 0.35, "fault_level": 5000, "device": j.device("bs88-3", 100, 31500), **more})


def tt(**more):
    return j.supply("tt", **{"ze": None, "ra": 70, "fault_level": 2500, **more})


HOME = ("circuit", "c")
BOARD = ("board", "main")


def at_job(check, circuit_, supply_, path, inside, outside, source, place=HOME, worked=True, boards=None, more=(),
           profile_=None):
    """A figure of a job is moved until a check of it no longer passes."""
    job = me.one("Boundary", None, circuit_, supply_, boards, more, profile_)
    keys = path.split(".")

    def altered(value):
        at = new = copy.deepcopy(job)
        for k in keys[:-1]:
            at = at[int(k)] if k.isdigit() else at[k]
        at[int(keys[-1]) if keys[-1].isdigit() else keys[-1]] = value
        return new

    def found(value):
        return m.Model(altered(value)).judgements[0].findings[place][check]

    def good(value, share=mpf(0)):
        finding = found(value)
        value, limit, sense = finding[:3]
        if m.outcome(finding) != "pass":
            return False
        if share == 0 or value is None:
            return True
        return value * (1 + share) <= limit if sense == "at-most" else value * (1 - share) >= limit

    name = f"boundaries/{len(JOBS) + 1:02}.json"
    same = next((n for n, other in JOBS.items() if other == job), None)
    JOBS[same or name] = job
    inputs = {"job": same or name, "with": {path: None}, "place": me.place_json(place), "want": "outcome:" + check}
    pair("job", inputs, "with/" + path, inside, outside, good, source, "outcome", ("pass", lambda v: m.outcome(found(v))), worked or None)


JOBS = {}


def checks():
    def load_path(name):
        return "circuits.0.load." + name
    length, ambient = "circuits.0.sections.0.length", "circuits.0.sections.0.ambient"

    source = "BS 7671 433.1.1 (i) and our own figures"
    at_job("design-current", circuit(), tn(), load_path("current"), 20, 50, source, worked=False)
    at_job("design-current", circuit(load=j.load(power=2000)), tn(), load_path("power"), 2000, 9000, source, worked=False)
    at_job("design-current", circuit(load=j.load(power=2000, power_factor=0.8)), tn(), load_path("power"), 2000, 9000, source,
           worked=False)
    source = "BS 7671 433.1.1 (ii) and our own figures"
    at_job("capacity", circuit(), tn(), ambient, 31, 59, source)
    at_job("capacity", circuit(dev=j.device(B, 40)), tn(), "circuits.0.sections.0.insulation_run", 0.03, 0.09, source, worked=False)
    at_job("capacity", circuit(dev=j.device("rcbo-b", 32), sections=[j.twin(40, 2.5, 1.5)], use="sockets", shape="ring",
                               rcd=j.rcd()), tn(), ambient, 31, 59, "BS 7671 433.1.204 and our own figures")
    at_job("capacity", circuit(dev=j.device("rcbo-b", 32), sections=[
        j.twin(40, 4, 1.5), j.twin(5, 2.5, 1.5, part="spur")], use="sockets", shape="ring", rcd=j.rcd()), tn(),
        "circuits.0.sections.1.ambient", 31, 59, "BS 7671 433.1.204 (unfused spur) and our own figures")
    source = "BS 7671 433.1.1 (iii) and our own figures"
    at_job("overload", circuit(dev=j.device("bs3036", 30, 2000)), tn(fault_level=1500), ambient, 31, 59, source)
    at_job("overload", circuit(dev=j.device("gg", 32, 80000)), tn(), ambient, 31, 59, source)

    source = "BS 7671 Appendix 4, 6.4 and our own figures"
    for light in (False, True):
        more = dict(use="lighting") if light else {}
        at_job("volt-drop", circuit(**more), tn(), length, 12, 300, source)
        at_job("volt-drop", circuit(sections=[j.twin(30, 6, 2.5)], **more), tn(), load_path("current"), 5, 300, source)
    at_job("volt-drop", circuit(sections=[j.section(60, 25, j.core(16), cores=3)], dev=j.device(B, 63),
                                load=j.load(current=60, power_factor=0.8)), tn(), length, 12, 900, source)
    at_job("volt-drop", circuit(sections=[j.twin(40, 2.5, 1.5)], dev=j.device("rcbo-b", 32), use="sockets", shape="ring",
                                rcd=j.rcd()), tn(), length, 12, 900, source)

    source = "BS 7671 411.4.4 and our own figures"
    for supply_ in (tn(), tn(x_over_r=0.7)):
        at_job("disconnection", circuit(), supply_, "supply.ze", 0.3, 5, source)
    at_job("disconnection", circuit(), tn(), length, 12, 500, source)
    at_job("disconnection", circuit(dev=j.device(C, 40)), tn(), length, 5, 500, "BS 7671 411.3.2.3 (5 s) and our own figures")
    at_job("disconnection", circuit(dev=j.device("rcbo-b", 32), rcd=j.rcd(0.3)), tn(), "supply.ze", 0.3, 5000,
           "BS 7671 411.4.5 with an RCD and our own figures")
    for s in (0.03, 0.1, 0.3, 0.5):
        one = circuit(rcd=j.rcd(s))
        at_job("electrode", one, tt(), "supply.ra", 10, 9000, "BS 7671 411.5.3 and our own figures")
        at_job("disconnection", one, tt(), "supply.ra", 10, 9000, "BS 7671 411.5.3 (time) and our own figures")
    at_job("electrode", circuit(rcd=j.rcd(0.1)), tt(ra=200), length, 10, 900000, "BS 7671 411.5.3 and our own figures")

    source = "BS 7671 411.5.3 at a board and our own figures"
    for s, rating, delay in ((0.1, 63, "selective"), (0.3, 63, "selective")):
        shed = [j.board("farm"), j.board("main", "to", earthing="own-electrode", ra=10, enclosure="metal",
                                         earthing_conductor=j.earthing_conductor(16))]
        feed = j.feeder("to", "farm", j.device(B, 16), [j.section(20, 10, j.core(10))], rcd=j.rcd(s, delay=delay))
        at_job("board-fault", circuit(dev=j.device("rcbo-b", 6), current=3, rcd=j.rcd()), tn(), "boards.1.ra", 10, 9000, source,
               place=BOARD, boards=shed, more=[feed])
    at_job("board-fault", circuit(dev=j.device("rcbo-b", 6), current=3, rcd=j.rcd()), tn(), "boards.1.ra", 0.1, 900,
           "BS 7671 411.5.4 at a board and our own figures", place=BOARD, profile_={**me.OWN, "source_electrode": 0.01},
           boards=[j.board("farm"), j.board("main", "to", earthing="own-electrode", ra=10, enclosure="metal",
                                            earthing_conductor=j.earthing_conductor(16))],
           more=[j.feeder("to", "farm", j.device(B, 6), [j.section(20, 10, j.core(10))])])

    source = "BS 7671 434.5.1 and our own figures"
    at_job("breaking", circuit(), tn(), "supply.fault_level", 5000, 9000, source, worked=False)
    at_job("breaking", circuit(), tn(fault_level=6500), "circuits.0.device.breaking", 20000, 5000, source, worked=False)
    at_job("breaking", circuit(), tn(fault_level=6500), "boards.0.conditional", 20000, 5000,
           "BS EN 61439-3 (conditional rating) and our own figures", worked=False,
           boards=[j.board("main", conditional=10000)])
    at_job("breaking", circuit(dev=j.device(B, 16)), tn(), "supply.fault_level", 5000, 90000, source, boards=[
        j.board("house"), j.board("main", "to")], more=[j.feeder("to", "house", j.device("bs88-2", 63, 80000), [
            j.section(5, 16, j.core(16))])])

    source = "BS 7671 543.1.3 and our own figures"
    at_job("protective-thermal", circuit(dev=j.device(B, 32, 10000, let_through=20000), sections=[j.twin(12, 6, 1.5)]), tn(),
           "circuits.0.device.let_through", 10000, 100000, source)
    pipe = dict(kind="enclosure", material="steel", csa=180, resistance=1.1)
    at_job("protective-thermal", circuit(sections=[j.section(12, 4, pipe, construction="single-cores", cores=2,
                                                             method="conduit")]), tn(),
           "circuits.0.sections.0.protective.csa", 180, 1, "BS 7671 Table 54.7 and our own figures")
    source = "BS 7671 434.5.2 and our own figures"
    at_job("line-thermal", circuit(dev=j.device(D, 32, 10000, let_through=20000), sections=[j.twin(12, 2.5, 1.5)]), tn(ze=0.05),
           "circuits.0.device.let_through", 10000, 300000, source)

    source = "BS 7671 Table 54.7 and our own figures"
    at_job("earthing-conductor", circuit(), tn(tails_csa=25), "supply.earthing_conductor.csa", 50, 1, source, place=("supply",),
           worked=False)
    at_job("earthing-conductor", circuit(), tn(tails_csa=70), "supply.earthing_conductor.csa", 50, 1, source, place=("supply",),
           worked=False)
    for buried, mechanical, corrosion in ((True, True, False), (True, False, True), (False, False, True)):
        way = j.earthing_conductor(16, buried=buried, mechanical=mechanical, corrosion=corrosion)
        at_job("earthing-conductor", circuit(), tn(tails_csa=4 if buried else 2.5, extraneous=False, earthing_conductor=way),
               "supply.earthing_conductor.csa", 50, 1, "BS 7671 Table 54.1 and our own figures", place=("supply",), worked=False)
    source = "BS 7671 Table 54.8 and our own figures"
    at_job("bonding", circuit(), j.supply(), "supply.bonding.csa", 50, 1, source, place=("supply",), worked=False)
    for neutral, given in ((35, 10), (50, 16), (95, 25), (150, 35)):
        at_job("bonding", circuit(), j.supply(bonding=j.copper(given)), "supply.neutral_csa", neutral - 1, neutral + 1, source,
               place=("supply",), worked=False)
    at_job("bonding", circuit(), tn(tails_csa=25), "supply.bonding.csa", 50, 1, "BS 7671 544.1.1 (half) and our own figures",
           place=("supply",), worked=False)
    at_job("bonding", circuit(), tn(tails_csa=4), "supply.bonding.csa", 50, 1, "BS 7671 544.1.1 (6 mm² at least) and our own figures",
           place=("supply",), worked=False)
    at_job("bonding", circuit(), tn(tails_csa=120), "supply.bonding.csa", 50, 1, "BS 7671 544.1.1 (25 mm² at most) and our own figures",
           place=("supply",), worked=False)
    source = "BS 7671 544.1.1 at a further board and our own figures"
    at_job("feed-bonding", circuit(dev=j.device(B, 16), current=9), j.supply(), "circuits.1.sections.0.protective.resistance", 1, 9,
           source, place=BOARD, boards=[j.board("house"), j.board("main", "to", extraneous=True, bonding=j.copper(10))],
           more=[j.feeder("to", "house", j.device("bs88-2", 40, 80000), [
               j.section(30, 10, j.enclosure(1.1), construction="single-cores", cores=2, method="conduit")])])

    source = "BS 7671 311.1 (demand) and our own figures"
    at_job("demand", circuit(), tn(), load_path("current"), 25, 450, source, place=("supply",), worked=False)
    at_job("demand", circuit(dev=j.device(B, 16), current=9), tn(), "boards.1.demand", 10, 90, source, place=BOARD, worked=False,
           boards=[j.board("house"), j.board("main", "to", demand=20)],
           more=[j.feeder("to", "house", j.device("bs88-2", 40, 80000), [j.section(30, 16, j.core(16))])])


# ---------------------------------------------------------------- readings

NO_BAND = dict(share=0, digits=0, resolution=0.001)


def shown(ask, inputs, low, high, limit, source, at_least=False, share="0", digits="0", step="0.001", out=None, count_from=0):
    """A display is moved to where an end of its guard band meets the limit: first the whole band inside, then not,
    then the whole band beyond."""
    share, digits, step, limit = mpf(share), mpf(digits), mpf(step), mpf(limit)
    inputs = {**inputs, "share": float(share), "digits": float(digits), "resolution": float(step)}
    way = -1 if at_least else 1

    def end(v, side):
        v = m.num(float(v)) + side * step / 2
        return v + side * (share * max(abs(v), mpf(count_from)) + digits * step)

    def inside(v, hair):
        e = end(v, way)
        return e * (1 - hair) >= limit if at_least else e * (1 + hair) <= limit

    def beyond(v, hair):
        e = end(v, -way)
        return e * (1 + hair) < limit if at_least else e * (1 - hair) > limit

    good, bad = (high, low) if at_least else (low, high)
    _, first = flip(lambda v: inside(v, 0), good, bad)
    last, _ = flip(lambda v: inside(v, INSIDE), good, bad)
    _, sure = flip(lambda v: not beyond(v, INSIDE), good, bad)
    for value, expect in ((last, "pass"), (first, "doubtful"), (sure, out or "fail")):
        row(ask, {**inputs, "shown": value}, expect, "", source, WORKED)


def readings():
    source = "BS 7671 Table 64 and our own figures"
    base = dict(voltage=230, test_voltage=500, circuits=1)
    shown("insulation", base, 0.5, 3, 1, source, at_least=True)
    shown("insulation", base, 0.5, 3, 1, source, at_least=True, share="0.05", digits="2", step="0.01")
    shown("insulation", dict(voltage=690, test_voltage=1000, circuits=1), 0.5, 3, 1, source, at_least=True)
    shown("insulation", dict(extra_low=True, test_voltage=250, circuits=1), 0.2, 3, "0.5", source, at_least=True)
    one = dict(base, shown=10, **NO_BAND)
    # The test voltage itself, and the nominal voltage at which the next one is asked for.
    pair("insulation", dict(one, test_voltage=None), "test_voltage", 500, 400, lambda v: v >= 500, source, expect=("pass", "cannot-say"))
    pair("insulation", dict(one, fixed_gear=True), "test_voltage", 250, 200, lambda v: v >= 250, source, expect=("pass", "cannot-say"))
    pair("insulation", one, "voltage", 400, 600, lambda v: v <= 500, source, expect=("pass", "cannot-say"))
    pair("insulation", dict(one, want="quick", shown=None), "shown", 3, 1, lambda v: v >= 2, "common practice: 2 MΩ", expect=("pass", "fail"))

    source = "BS 7671 Table 54.8, continuity by length, and our own figures"
    r = m.resistance_20("copper", mpf(10)) * 20 / 1000 + mpf("0.05")
    base = dict(material="copper", csa=10, length=20, temperature=20)
    shown("bonding", base, 0.05, 1, r, source, step="0.001")
    shown("bonding", base, 0.05, 1, r, source, share="0.02", digits="2", step="0.001")
    pair("bonding", dict(base, want="quick", shown=None, **NO_BAND), "shown", 0.01, 0.09, lambda v: m.num(v) <= mpf("0.05"),
         "common practice: 0.05 Ω", expect=("pass", "fail"))
    shown("supplementary-bonding", dict(touch=50, current=160), 0.1, 1, mpf(50) / 160, "BS 7671 415.2.2 and our own figures",
          share="0.02", digits="2", step="0.001")
    source = "BS 7671 411.5.3 and our own figures"
    for s in ("0.03", "0.1", "0.3"):
        shown("electrode-by-loop", dict(sensitivity=float(s), touch=50), 10, 9000, 50 / mpf(s), source, share="0.02", digits="3",
              step="0.1")
    pair("electrode-by-loop", dict(sensitivity=0.03, touch=50, want="quick", shown=None, **NO_BAND), "shown", 100, 300,
         lambda v: v <= 200, "common practice: 200 Ω", expect=("pass", "fail"))

    source = "IEC 61008-1 and our own figures"
    general = dict(sensitivity=0.03, kind="a", delay="none", wave="sine")
    selective = dict(sensitivity=0.1, kind="a", delay="selective", wave="sine")
    for multiple, latest in ((1, "0.3"), (2, "0.15"), (5, "0.04")):
        shown("rcd-time", dict(general, multiple=multiple), 0.001, 0.9, latest, source, share="0.02", digits="2", step="0.001",
              count_from=latest)
    for multiple, latest, least in ((1, "0.5", "0.13"), (2, "0.2", "0.06"), (5, "0.15", "0.05")):
        shown("rcd-time", dict(selective, multiple=multiple), float(latest) * 0.6, 2, latest, source, share="0.02", digits="1",
              step="0.001", count_from=latest)
        shown("rcd-time", dict(selective, multiple=multiple), 0.01, float(latest) * 0.6, least, source, at_least=True,
              share="0.02", digits="1", step="0.001", count_from=least)
    shown("rcd-ramp", general, 0.02, 0.09, "0.03", source, step="0.0001", share="0.05", count_from="0.03")
    shown("rcd-ramp", general, 0.001, 0.02, "0.015", source, at_least=True, step="0.0001", share="0.05", count_from="0.03")
    pair("rcd-time", dict(general, multiple=0.5, above=None, **NO_BAND), "above", 0.5, 0.1, lambda v: v >= 0.2,
         source, expect=("pass", "cannot-say"))

    def agree(a, hair=mpf(0)):
        a = m.num(a)
        mean = (a + 55 + 59) / 3
        worst = max(abs(v - mean) for v in (a, mpf(55), mpf(59))) / mean
        return mpf("1.2") * worst * (1 + hair) < mpf("0.05")
    pair("fall-of-potential-valid", dict(a=None, b=55, c=59), "a", 57, 70, agree, "a maker's guide to earth testing, p. 33, moved",
         expect=("yes", "no"), worked=True)

    # A current: the share is that of the impedance behind it.
    cmax, share, step = mpf("1.1"), mpf("0.05"), mpf(10)
    limit = 6000 / cmax
    base = dict(breaking=6000, cmax=1.1, line_earth=1000, share=0.05, digits=0, resolution=10)
    high = lambda v: (m.num(v) + step / 2) / (1 - share)
    low = lambda v: (m.num(v) - step / 2) / (1 + share)
    _, first = flip(lambda v: high(v) <= limit, 1000, 9000)
    last, _ = flip(lambda v: high(v) * (1 + INSIDE) <= limit, 1000, 9000)
    _, sure = flip(lambda v: low(v) * (1 - INSIDE) <= limit, 1000, 9000)
    for value, expect in ((last, "pass"), (first, "doubtful"), (sure, "fail")):
        row("fault-current", dict(base, line_neutral=value), expect, "", "BS 7671 434.5.1 and our own figures", WORKED)

    # Zs of a circuit, R1 + R2 of one: the limits of its design at 20 °C.
    data = me.one("Boundary", None, circuit(sections=[j.twin(75, 6, 2.5)]), tn())
    job = f"boundaries/{len(JOBS) + 1:02}.json"
    JOBS[job] = data
    model = m.Model(data)
    c = data["circuits"][0]
    limit = m.max_zs(c["device"], m.disconnection_time(c, data["supply"]["earthing"], model.u0), model.u0, model.cmin)
    s = c["sections"][0]
    ze, hot = m.num(data["supply"]["ze"]), (mpf("234.5") + 70) / (mpf("234.5") + 20)
    both = sum(m.resistance_20("copper", mpf(a)) for a in (6, 2.5)) * m.num(s["length"]) / 1000
    r2_most = (limit - ze) / hot - m.resistance_20("copper", mpf(6)) * m.num(s["length"]) / 1000
    for test, most in (("r2", r2_most), ("zs", min((limit + (hot - 1) * ze) / hot, limit - (hot - 1) * both)), ("r1r2", (limit - ze) / hot)):
        shown("reading", dict(job=job, circuit=c["id"], ambient=20, test=test), 0.4, 50, most, "BS 7671 411.4.4 at 20 °C and our own figures",
              step="0.001")


# ---------------------------------------------------------------- tables, ranges, steps

def steps():
    """A step of a table: its value at the last f32 before it, and at the next."""
    def step(ask, inputs, path, at, here, there, source, unit="", way=1, on=True):
        """`here` up to and with `at` (`on`), `there` beyond it; `way` is where beyond is."""
        first, second = (f32(at), after(f32(at), way)) if on else (after(f32(at), -way), f32(at))
        for value, expect in ((first, here), (second, there)):
            row(ask, put(inputs, path, value), expect, unit, source, EXACT)

    source = "IEC 60364-4-41 Table 41.1"
    for earthing, times in (("tn-s", ("out-of-table", 0.8, 0.4, 0.2, 0.1)), ("tt", ("out-of-table", 0.3, 0.2, 0.07, 0.04))):
        for u0, here, there in zip((50, 120, 230, 400), times, times[1:]):
            step("short-time", dict(earthing=earthing), "u0", u0, here, there, source, "s")

    source = "BS 7671 Table 54.7"
    line = dict(k_line=115, k_protective=115)
    row("tabulated-minimum", dict(line, line=16), 16, "mm²", source, EXACT)
    row("tabulated-minimum", dict(line, line=after(16.0)), 16, "mm²", source, EXACT)
    step("tabulated-minimum", line, "line", 35, 16, 17.5, source, "mm²")
    source = "BS 7671 Table 54.8"
    for neutral, here, there in ((35, 10, 16), (50, 16, 25), (95, 25, 35), (150, 35, 50)):
        step("bonding-by-neutral", {}, "neutral", neutral, here, there, source, "mm²")

    source = "BS 7671 Table 4B1, 4B2"
    for insulation, ground, ends in (("thermoplastic-70", False, (10, 1.03, 60, 0.5)), ("thermosetting-90", False, (10, 1.02, 80, 0.41)),
                                     ("thermoplastic-70", True, (10, 1.1, 60, 0.45)), ("thermosetting-90", True, (10, 1.07, 80, 0.38))):
        base = dict(insulation=insulation, ground=ground)
        low, first, high, last = ends
        step("ambient-factor", base, "temperature", low, first, "out-of-table", source, way=-1)
        step("ambient-factor", base, "temperature", high, last, "out-of-table", source)
    source = "BS 7671 Table 52.2"
    lengths = [(0.05, 0.88), (0.1, 0.78), (0.2, 0.63), (0.4, 0.51), (0.5, 0.5)]
    for (run, here), (_, there) in zip(lengths, lengths[1:]):
        step("insulation-factor", {}, "run", run, here, there, source)
    source = "BS 7671 Table 4B3"
    soils = [(0.5, 1.28, 1.88), (0.7, 1.2, 1.62), (1, 1.18, 1.5), (1.5, 1.1, 1.28), (2, 1.05, 1.12), (2.5, 1, 1), (3, 0.96, 0.9)]
    for n, method in ((1, "duct"), (2, "ground")):
        for here, there in zip(soils, soils[1:] + [(None, "out-of-table", "out-of-table")]):
            step("soil-factor", dict(method=method), "soil", here[0], here[n], there[n], source)
    source = "BS 7671 Table 4B4"
    depths = [(0.7, 1), (1, 0.97), (1.25, 0.95), (1.5, 0.94), (None, "out-of-table")]
    for (depth, here), (_, there) in zip(depths, depths[1:]):
        step("depth-factor", dict(method="ground"), "depth", depth, here, there, source)
    # A gap counts as the next narrower one.
    gaps = {"ground": ("BS 7671 Table 4C2", [(0.5, 0.9), (0.25, 0.9), (0.125, 0.85), (None, 0.75)]),
            "duct": ("BS 7671 Table 4C3", [(1, 0.95), (0.5, 0.95), (0.25, 0.9), (None, 0.85)])}
    three = {"ground": [0.85, 0.8, 0.75, 0.65], "duct": [0.95, 0.9, 0.85, 0.75]}
    for method, (source, rows) in gaps.items():
        for n, (gap, _) in enumerate(rows[:-1]):
            step("grouping-factor", dict(method=method, grouped=3), "arrangement", gap, three[method][n], three[method][n + 1],
                 source, way=-1)
    source = "BS 7671 Table 4C1"
    for grouped, here in ((20, 0.38), (21, "out-of-table"), (0, "zero"), (1, 1)):
        row("grouping-factor", dict(method="clipped", arrangement="bunched", grouped=grouped), here, "", source, EXACT)
    for grouped, here in ((6, 0.5), (7, "out-of-table")):
        row("grouping-factor", dict(method="ground", arrangement="touching", grouped=grouped), here, "", "BS 7671 Table 4C2", EXACT)

    # Only sizes that are made have a resistance or a capacity.
    source = "IEC 60228"
    for size, ohms in ((1.0, 18.1), (16.0, 1.15), (300.0, 0.0601)):
        for csa, here in ((after(size, -1), "not-made"), (size, ohms), (after(size), "not-made")):
            row("resistance-20", dict(material="copper", csa=csa), here, "Ω/km", source, EXACT)
    row("resistance-20", dict(material="aluminium", csa=10), 3.08, "Ω/km", source, EXACT)
    row("resistance-20", dict(material="aluminium", csa=6), "not-made", "Ω/km", source, EXACT)
    flat = dict(material="copper", insulation="thermoplastic-70", construction="flat-twin", method="clipped", loaded=2)
    step("tabulated-capacity", flat, "csa", 16, 85, "out-of-table", "BS 7671 Table 4D5", "A")

    # Devices: the current from which it is quick, the time for which there is a point.
    source = "IEC 60898-1"
    for family, multiple in ((B, 5), (C, 10), (D, 20)):
        base = dict(family=family, rating=32)
        step("device-time-latest", base, "current", 32 * multiple, 0.1, 60, source, "s", way=-1)
        step("disconnecting-current", base, "time", 0.1, 32 * multiple, "not-known", source, "A", way=-1)
        step("max-zs", dict(base, u0=230, cmin=0.95), "time", 0.1, float(mpf("218.5") / (32 * multiple)), "not-known", source, "Ω", way=-1)
    base = dict(family=B, rating=32, breaking=6000)
    step("device-time-latest", base, "current", 6000, 0.1, "not-known", source, "s")
    step("device-time-latest", base, "current", f32(32 * 1.45), 3600, "not-known", source, "s", way=-1)
    step("device-time-latest", base, "current", f32(32 * 2.55), 60, 3600, source, "s", way=-1)
    step("device-let-through", base, "current", 6000, 3.6e6, "not-known", source, "A²s")
    for rating in (32, 40):
        row("disconnecting-current", dict(family=B, rating=rating, time=60), rating * 2.55 if rating == 32 else rating * 5, "A", source, EXACT)
    for rating in (63, 80):
        row("disconnecting-current", dict(family=B, rating=rating, time=3600), float(mpf(rating) * mpf("1.45")) if rating == 63 else rating * 2.55,
            "A", source, EXACT)
    for way in (-1, 1):
        row("disconnecting-current", dict(family=B, rating=after(32.0, way), time=0.4), "not-made", "A", source, EXACT)
    source = "IEC 61008-1"
    for s, delay, times in (("0.03", "none", (0.3, 0.15, 0.04)), ("0.1", "selective", (0.5, 0.2, 0.15))):
        base = dict(sensitivity=float(s), kind="a", delay=delay)
        for multiple, here, below in zip((1, 2, 5), times, ("not-known",) + times):
            step("rcd-latest", base, "current", float(mpf(s) * multiple), here, below, source, "s", way=-1)
    for way in (-1, 1):
        row("rcd-latest", dict(sensitivity=after(f32(0.03), way), kind="a", delay="none", current=1), "not-made", "s", source, EXACT)
    row("rcd-latest", dict(sensitivity=0.03, kind="a", delay="selective", current=1), "contradiction", "s", source, EXACT)
    row("rcd-latest", dict(sensitivity=0.1, kind="a", delay="selective", current=1), 0.15, "s", source, EXACT)

    # k: from the initial to the final temperature, or none.
    base = dict(material="copper", final=160)
    row("k", dict(base, initial=160), "contradiction", "", "IEC 60364-5-54 Annex A", EXACT)
    row("adiabatic", dict(material="copper", i2t=22500, initial=160, final=160), "contradiction", "mm²", "IEC 60364-5-54 Annex A", EXACT)

    # What is taken at all.
    source = "our own bounds of what is calculated with"
    for ask, inputs, key, low, high in (
            ("max-zs", dict(family=B, rating=32, time=0.4, cmin=0.95), "u0", 1e-3, 1e5),
            ("adiabatic", dict(material="copper", initial=70, final=160), "i2t", 1e-2, 1e12),
            ("bonding-by-neutral", {}, "neutral", 1e-2, 1e5),
            ("touch-voltage", dict(sensitivity=0.03), "ra", 1e-5, 1e6),
            ("rcd-latest", dict(sensitivity=0.03, kind="a", delay="none"), "current", 1e-4, 1e6)):
        low, high = f32(low), f32(high)
        row(ask, {**inputs, key: after(low, -1)}, "too-small", "", source, EXACT)
        row(ask, {**inputs, key: after(high)}, "too-large", "", source, EXACT)
        row(ask, {**inputs, key: 0}, "zero", "", source, EXACT)
        row(ask, {**inputs, key: -high}, "negative", "", source, EXACT)
    for key, low, high in (("temperature", -60, 1000),):
        base = dict(material="copper")
        row("exact-temperature-factor", {**base, key: after(float(low), -1) if low >= 0 else -after(float(-low))}, "too-small", "", source, EXACT)
        row("exact-temperature-factor", {**base, key: after(float(high))}, "too-large", "", source, EXACT)
        row("exact-temperature-factor", {**base, key: low}, float((mpf("234.5") + low) / mpf("254.5")), "", source, EXACT)
        row("exact-temperature-factor", {**base, key: high}, float((mpf("234.5") + high) / mpf("254.5")), "", source, EXACT)


def everything():
    """(rows, {name: job})."""
    ROWS.clear()
    JOBS.clear()
    checks()
    readings()
    steps()
    return ROWS, JOBS


def wanted():
    """{path: text} of the rows and of the jobs."""
    rows, jobs = everything()
    out = {PATH.parent / name: json.dumps(job, ensure_ascii=False, separators=(",", ":")) + "\n" for name, job in jobs.items()}
    # The unit of each input that is a figure, and what the sources name: those that rows have.
    figures = {k for r in rows for k, v in r["inputs"].items() if isinstance(v, (int, float)) and not isinstance(v, bool)}
    units = {k: UNITS[k] for k in sorted(figures)}
    documents = {d: e for d, e in DOCUMENTS.items() if any(d in r["source"] for r in rows)}
    head = {"topic": "boundaries", "units": units, "documents": documents}
    out[PATH] = (json.dumps(head, ensure_ascii=False, separators=(",", ":"))[:-1] + ',"rows":[\n' + ",\n".join(
        json.dumps(r, ensure_ascii=False, separators=(",", ":")) for r in rows) + "\n]}\n")
    return out


def run():
    """Whether what is on disk is what this would write."""
    on_disk = {p: p.read_text() for p in [PATH, *sorted((PATH.parent / "boundaries").glob("*.json"))]}
    want = wanted()
    off = [p.name for p in on_disk.keys() | want.keys() if on_disk.get(p) != want.get(p)]
    for name in off:
        print(f"  {name} is not what the second computation writes")
    return len(want) - len(off), len(off)


if __name__ == "__main__":
    (PATH.parent / "boundaries").mkdir(exist_ok=True)
    for old in (PATH.parent / "boundaries").glob("*.json"):
        old.unlink()
    for path, text in wanted().items():
        path.write_text(text)
    print(f"{len(ROWS)} rows, {len(JOBS)} jobs")
