"""Writes vectors/examples/*.json (whole jobs) and vectors/examples.json (rows to check them by).

The expected values of our own examples come from model.py alone. The published ones carry the
printed figure, and the model must reach it too, or nothing is written.
(`run.py examples` says whether what is on disk is what this would write.)
"""

import json
import sys
from pathlib import Path

import jobs as j
import model as m

HERE = Path(__file__).resolve().parent
VECTORS = HERE.parents[1] / "vectors"

F32 = {"rel": 1e-5, "why": "f32 arithmetic against 30 digits"}
UNITS = {"ib": "A", "in": "A", "iz": "A", "zs": "Ω", "r1r2": "Ω", "ief-min": "A", "ipf-max": "A",
         "drop": "V", "drop-share": "share", "demand": "A"}
FINDING_UNITS = {"design-current": "A", "capacity": "A", "overload": "A", "volt-drop": "share",
                 "disconnection": "Ω", "electrode": "V", "breaking": "A", "demand": "A",
                 "bonding": "mm²", "earthing-conductor": "mm²", "protective-thermal": "mm²",
                 "line-thermal": "mm²", "feed-bonding": "Ω/km", "rcd": "A"}

# What the file says of all its rows: units of inputs, and the documents its sources name.
HEAD = ('{"topic":"examples",\n"units":{"judgement":"number"},\n"documents":{"The Electrician\'s Guide":"5th edition",'
        '"Electrical installation guide (IEC)":"2008 where a row says so, else not noted",'
        '"Basic Electrical Installation Work":"edition not noted"},\n"rows":[\n')

EXAMPLES = []


def example(function):
    EXAMPLES.append(function)
    return function


class Own:
    """An example of ours: the job and the rows wanted of it, values by the model.

    A want is (place, what[, tolerance[, judgement]]).
    """

    def __init__(self, job, *wants):
        self.job, self.wants = job, wants


class Printed:
    """A published example: (place, want, printed value, unit, tolerance) rows."""

    def __init__(self, job, source, rows, note):
        self.job, self.source, self.rows, self.note = job, source, rows, note


OWN = m.profile(
    "Hill", cmin=0.95, cmax=1.1,
    lighting=dict(first_amps=0, first=1, rest=0.66, add=0, largest=1, second=1, others=1),
    heating=dict(first_amps=10, first=1, rest=0.5, add=0, largest=1, second=1, others=1),
    cooker=dict(first_amps=10, first=1, rest=0.3, add=5, largest=1, second=1, others=1),
    motor=dict(first_amps=0, first=1, rest=1, add=0, largest=1, second=0.8, others=0.6),
    sockets=dict(first_amps=0, first=1, rest=1, add=0, largest=1, second=0.4, others=0.4),
    water_instant=dict(first_amps=0, first=1, rest=1, add=0, largest=1, second=1, others=0.25))

B, C, D = "breaker-b", "breaker-c", "breaker-d"
SUPPLY = ("supply",)


def at(id):
    return ("circuit", id)


def on(id):
    return ("board", id)


CIRCUIT = ["fact:ib", "fact:iz", "fact:r1r2", "fact:zs", "fact:ief-min", "fact:ipf-max", "fact:drop",
           "fact:drop-share", "outcome:design-current", "outcome:capacity", "outcome:volt-drop",
           "outcome:disconnection", "outcome:breaking"]
FAULT = ["outcome:board-fault", "finding:board-fault:value", "finding:board-fault:limit"]
LOOP = ["fact:ib", "fact:r1r2", "fact:zs", "fact:ief-min", "fact:ipf-max", "fact:drop"]
FEED = [w for w in CIRCUIT if w not in ("outcome:volt-drop", "outcome:disconnection")]
BOARD = ["fact:demand", "fact:zs", "fact:ipf-max", "fact:drop"]


def every(places, wants):
    return [(p, w) for p in places for w in wants]


# ---------------------------------------------------------------- published

@example
def drop_two_core():
    job = j.job(
        "Printed: drop of a two-core cable", m.profile(cmin=1, cmax=1.0, drop_other=0.04),
        j.supply(u0=240), [j.board("main")],
        [j.circuit("heater", "main", j.device(B, 32), j.load(power=6000), [
            j.section(16, 4, j.core(4), cores=2)])])
    two = {"rel": 0.045, "why": "the source's 11 mV/A/m is rounded to a whole number: half of one in eleven"}
    return Printed(job, "The Electrician's Guide, 5th ed., 4.3.11", [
        (at("heater"), "fact:ib", 25, "A", {"abs": 0.5, "why": "printed to the ampere"}),
        (at("heater"), "finding:volt-drop:value", 0.0183, "share", two)],
        "the core's resistance is that of IEC 60228 at 70 °C, not the rounded table")


@example
def drop_from_origin():
    job = j.job(
        "Printed: drop from the origin", m.profile(cmin=1, cmax=1.0), j.supply(earthing="tn-s", phases=3),
        [j.board("main"), j.board("shop", "feed")],
        [j.feeder("feed", "main", j.device("bs88-2", 160, 80000), [
            j.section(50, 70, j.core(35), cores=5, neutral_csa=70)], phase="three",
            load_=j.load(current=150)),
         j.circuit("final", "shop", j.device(B, 20), j.load(current=20), [j.section(20, 2.5, j.core(2.5))])])
    # printed 0.55 and 18 V/A/km stand for anything that prints so
    two = {"rel": 0.02, "why": "the source works with 0.55 and 18 V/A/km, two figures each"}
    return Printed(job, "Electrical installation guide (IEC) 2008, ch. G, Example 2, G23", [
        (at("final"), "fact:drop", 9.6, "V", two),
        (at("final"), "finding:volt-drop:value", 0.042, "share", two),
        (at("feed"), "fact:drop", 2.38, "V",
         {"rel": 0.0185, "why": "0.55 V/A/km stands for anything below 0.56, as print truncates"})],
        "reactance is taken by the core above 16 mm² and has no part in it at a power factor of 1")


@example
def design_current_of_6kw():
    job = j.job("Printed: design current of 6 kW", m.profile(cmin=1, cmax=1.0), j.supply(),
                [j.board("main")],
                [j.circuit("shower", "main", j.device(B, 32), j.load(power=6000), [j.twin(15, 6, 2.5)])])
    return Printed(job, "Basic Electrical Installation Work, ch. 14, pp. 301-302", [
        (at("shower"), "fact:ib", 26.09, "A", {"abs": 0.005, "why": "printed to two places"})],
        "6 kW is inferred from the sum, not printed")


@example
def cooker_diversity():
    job = j.job("Printed: diversity of a cooker",
                m.profile(cmin=1, cmax=1.0, cooker=dict(first_amps=10, first=1, rest=0.3, add=5,
                                                      largest=1, second=1, others=1)),
                j.supply(), [j.board("main")],
                [j.circuit("cooker", "main", j.device(B, 32), j.load(power=12000, kind="cooker"),
                           [j.twin(12, 6, 2.5)])])
    places = {"abs": 0.005, "why": "printed to two places"}
    return Printed(job, "Basic Electrical Installation Work, ch. 14, p. 298", [
        (at("cooker"), "fact:ib", 52.17, "A", places),
        (on("main"), "fact:demand", 27.65, "A", places)],
        "12 kW is inferred from the sum, not printed; the 5 A is for the socket on the cooker unit")


@example
def apartments():
    job = j.job("Printed: 25 apartments",
                m.profile(cmin=1, cmax=1.0, other=dict(first_amps=0, first=1, rest=1, add=0,
                                                     largest=0.46, second=0.46, others=0.46)),
                j.supply(device=j.device("gg", 315, 80000), tails_csa=120, neutral_csa=120),
                [j.board("main")],
                [j.circuit(f"home-{n}", "main", j.device("bs88-2", 32, 80000), j.load(power=6000),
                           [j.section(20, 10, j.core(10))]) for n in range(1, 26)])
    return Printed(job, "Electrical installation guide (IEC), ch. A", [
        (on("main"), "fact:demand", 300, "A",
         {"rel": 0.0073, "why": "69 kVA printed to the kVA, at 230 V; 0.46 of 25 times 6 kVA"})],
        "69 kVA is 300 A at 230 V; single phase, so that the sum stands alone")


# ---------------------------------------------------------------- our own

@example
def observatory():
    """Observatory on the hill, fed from the warden's house; TN-C-S."""
    dome = [
        j.circuit("dome-motor", "dome", j.device(C, 16), j.load(power=1500, power_factor=0.8, kind="motor"),
                  [j.section(14, 2.5, j.core(2.5), method="conduit")]),
        j.circuit("dew-heaters", "dome", j.device(B, 10), j.load(power=900, kind="heating"),
                  [j.section(18, 1.5, j.core(1.5), method="conduit")], rcd=j.rcd()),
        j.circuit("red-lights", "dome", j.device(B, 6), j.load(power=180, power_factor=0.9, kind="lighting", points=6),
                  [j.section(22, 1, j.core(1), ambient=35)], use="lighting"),
        j.circuit("instruments", "dome", j.device("rcbo-b", 16), j.load(current=9, kind="sockets", points=4),
                  [j.section(12, 2.5, j.core(2.5), method="conduit", grouped=3)], use="sockets", rcd=j.rcd()),
    ]
    job = j.job("Observatory, known supply", OWN, j.supply(),
                [j.board("house"), j.board("dome", "hill")],
                [j.feeder("hill", "house", j.device("bs88-2", 40, 80000), [
                    j.swa(8, 16, cores=3, method="clipped", protective=j.armour_and_core(None)),
                    j.swa(70, 16, cores=3, protective=j.armour_and_core(None))])] + dome)
    return Own(job, *every([at(c["id"]) for c in dome], CIRCUIT), *every([at("hill")], FEED),
               *every([on("house"), on("dome")], BOARD))


@example
def observatory_not_known():
    """The same hill with an unlabelled supply: TN-C-S and TT at once."""
    job = observatory().job
    job["name"] = "Observatory, supply not known"
    job["supply"].update(earthing="not-known", ra=90)
    for c in job["circuits"]:
        c["rcd"] = j.rcd(0.1, delay="selective") if c["use"] == "distribution" else j.rcd()
    job["boards"][0]["enclosure"] = "insulated"
    places = [at(c["id"]) for c in job["circuits"]]
    return Own(job, *every(places, ["fact:zs", "fact:ief-min"]), (on("house"), "outcome:board-fault", None, 1),
               *[(p, w, None, 1) for p in places for w in ("outcome:electrode", "finding:electrode:value")])


@example
def stable_tt():
    """A stable on its own supply and rod."""
    job = j.job("Stable", OWN, j.supply("tt", ze=None, ra=70, fault_level=2500, bonding=j.copper(10)),
                [j.board("stable", rcd=j.rcd(0.1, delay="selective"), enclosure="insulated")],
                [j.circuit("boxes", "stable", j.device("rcbo-b", 6), j.load(power=320, power_factor=0.9, kind="lighting", points=8),
                           [j.section(34, 1.5, j.core(1.5), method="conduit")], use="lighting", rcd=j.rcd()),
                 j.circuit("clippers", "stable", j.device("rcbo-b", 16), j.load(current=11, kind="sockets"),
                           [j.section(26, 2.5, j.core(2.5), method="conduit")], use="sockets", rcd=j.rcd()),
                 j.circuit("trough-heater", "stable", j.device("rcbo-b", 6), j.load(power=300, kind="heating"),
                           [j.section(41, 1.5, j.core(1.5))], outdoors=True, rcd=j.rcd())])
    return Own(job, *every([at(c["id"]) for c in job["circuits"]], CIRCUIT + ["finding:electrode:value", "outcome:electrode"]),
               *every([on("stable")], ["fact:demand", "fact:zs", *FAULT]))


@example
def orchard_pump_house():
    """TN-S farm; the pump house beyond the orchard has its own electrode."""
    job = j.job("Orchard pump house", OWN, j.supply("tn-s", ze=0.62, fault_level=4200),
                [j.board("farm"),
                 j.board("pump-house", "orchard", earthing="own-electrode", ra=45, rcd=j.rcd(0.1, delay="selective"),
                         enclosure="insulated", extraneous=False, earthing_conductor=j.earthing_conductor(16, buried=True, corrosion=True))],
                [j.feeder("orchard", "farm", j.device("bs88-2", 32, 80000), [
                    j.swa(160, 10, cores=2, protective=j.armour())]),
                 j.circuit("pump", "pump-house", j.device("rcbo-c", 16), j.load(power=1800, power_factor=0.82, kind="motor"),
                           [j.section(9, 2.5, j.core(2.5))], rcd=j.rcd()),
                 j.circuit("frost-lamp", "pump-house", j.device("rcbo-b", 6), j.load(power=120, kind="lighting"),
                           [j.section(11, 1.5, j.core(1.5))], use="lighting", rcd=j.rcd())])
    return Own(job, *every([at("orchard"), at("pump"), at("frost-lamp")], LOOP + ["fact:drop-share"]),
               *every([at("pump"), at("frost-lamp")], ["outcome:volt-drop"]),
               (at("pump"), "finding:electrode:value"), (at("pump"), "outcome:electrode"),
               *every([on("pump-house")], BOARD + FAULT))


@example
def workshop_three_phase():
    """Three-phase workshop, mixed loads over the phases, singles in steel conduit."""
    pipe = j.enclosure(1.9)
    singles = dict(construction="single-cores", method="conduit")
    job = j.job("Joinery workshop", OWN,
                j.supply("tn-s", ze=0.28, phases=3, fault_level=9000, device=j.device("bs88-2", 100, 80000)),
                [j.board("shop")],
                [j.circuit("saw", "shop", j.device(C, 20, 10000), j.load(power=7500, power_factor=0.86, kind="motor"),
                           [j.section(18, 4, pipe, cores=3, **singles)], phase="three"),
                 j.circuit("planer", "shop", j.device(D, 16, 10000), j.load(power=5500, power_factor=0.84, kind="motor"),
                           [j.section(24, 2.5, pipe, cores=3, **singles)], phase="three"),
                 j.circuit("extract", "shop", j.device(D, 10, 10000), j.load(power=2200, power_factor=0.8, kind="motor"),
                           [j.section(30, 1.5, pipe, cores=3, **singles)], phase="three"),
                 j.circuit("bench", "shop", j.device("rcbo-b", 20, 10000), j.load(current=14, kind="sockets", points=5),
                           [j.section(28, 4, j.separate(4), cores=2, **singles)], use="sockets", phase="l1", rcd=j.rcd()),
                 j.circuit("lamps", "shop", j.device(B, 10, 10000), j.load(power=900, power_factor=0.95, kind="lighting", points=15),
                           [j.section(42, 1.5, j.separate(1.5), cores=2, **singles)], use="lighting", phase="l2"),
                 j.circuit("glue-heater", "shop", j.device(B, 16, 10000), j.load(power=2800, kind="heating"),
                           [j.section(16, 2.5, j.separate(2.5), cores=2, **singles)], phase="l3")])
    return Own(job, *every([at(c["id"]) for c in job["circuits"]], CIRCUIT), *every([on("shop")], BOARD))


@example
def ring_with_spurs():
    """Cottage ring: one spur with a fuse, one without."""
    job = j.job("Cottage ring", OWN, j.supply(), [j.board("hall")],
                [j.circuit("ring", "hall", j.device("rcbo-b", 32), j.load(current=24, kind="sockets"), [
                    j.twin(58, 2.5, 1.5),
                    j.twin(6, 2.5, 1.5, part="spur"),
                    j.twin(9, 1.5, 1, part="spur", spur_fuse=j.device("bs1362", 13, 6000))],
                    use="sockets", shape="ring", rcd=j.rcd())])
    return Own(job, *every([at("ring")], LOOP + ["fact:drop-share", "outcome:volt-drop", "outcome:disconnection"]))


@example
def ring_spread():
    """A ring with its load over twelve points."""
    job = j.job("Library ring", OWN, j.supply("tn-s", ze=0.5), [j.board("hall")],
                [j.circuit("ring", "hall", j.device("rcbo-b", 32), j.load(current=26, kind="sockets", points=12), [
                    j.twin(76, 2.5, 1.5)], use="sockets", shape="ring", rcd=j.rcd())])
    return Own(job, *every([at("ring")], LOOP + ["fact:drop-share", "outcome:volt-drop", "outcome:disconnection"]))


@example
def ring_of_two_cables():
    """A ring of two cables: part flat twin, part singles in conduit."""
    job = j.job("Rectory ring", OWN, j.supply("tn-s", ze=0.41), [j.board("hall")],
                [j.circuit("ring", "hall", j.device("rcbo-b", 32), j.load(current=22, kind="sockets", points=4), [
                    j.twin(31, 2.5, 1.5),
                    j.section(22, 4, j.separate(2.5), construction="single-cores", method="conduit", cores=2),
                    j.twin(12, 2.5, 1.5)], use="sockets", shape="ring", rcd=j.rcd())])
    return Own(job, *every([at("ring")], LOOP + ["outcome:volt-drop", "outcome:disconnection"]))


@example
def armour_as_cpc():
    """Greenhouse on two-core armoured cable, the armour as protective conductor."""
    sizes = [4, 6, 10, 16, 25, 35]
    job = j.job("Greenhouses", OWN, j.supply("tn-s", ze=0.3, fault_level=6000), [j.board("yard")],
                [j.circuit(f"house-{n}", "yard", j.device(B, r), j.load(current=r * 0.75),
                           [j.swa(20 + 6 * n, s, cores=2 + n % 3, method="clipped" if n % 2 else "ground")])
                 for n, (s, r) in enumerate(zip(sizes, [16, 20, 32, 40, 50, 63]))])
    return Own(job, *every([at(c["id"]) for c in job["circuits"]], CIRCUIT))


@example
def armour_and_core_cpc():
    """Forge: armour and a core in parallel, thermosetting held to 70 °C and not."""
    job = j.job("Forge", OWN, j.supply("tn-c-s", ze=0.2, fault_level=12000, phases=3, device=j.device("bs88-2", 160, 80000),
                                       neutral_csa=70, tails_csa=70, bonding=j.copper(25), earthing_conductor=j.earthing_conductor(35)),
                [j.board("yard"), j.board("forge", "track")],
                [j.feeder("track", "yard", j.device("bs88-2", 100, 80000), [
                    j.swa(65, 35, cores=4, protective=j.armour_and_core(None), neutral_csa=35)], phase="three",
                    load_=j.load(current=62, power_factor=0.9)),
                 j.circuit("hammer", "forge", j.device(D, 32, 10000), j.load(power=11000, power_factor=0.85, kind="motor"),
                           [j.swa(15, 6, cores=4, method="clipped", operating_limit=70, protective=j.armour_and_core(None))], phase="three"),
                 j.circuit("blower", "forge", j.device(C, 16, 10000), j.load(power=1100, power_factor=0.8, kind="motor"),
                           [j.swa(12, 2.5, cores=3, method="clipped", operating_limit=70, protective=j.armour_and_core(None))], phase="l2")])
    return Own(job, *every([at(c["id"]) for c in job["circuits"]], LOOP + ["fact:drop-share"]),
               *every([at(c["id"]) for c in job["circuits"] if c["use"] != "distribution"], ["outcome:volt-drop"]),
               *every([on("forge")], BOARD))


@example
def aluminium_feed():
    """Sawmill on an aluminium feed; its reactance counts."""
    job = j.job("Sawmill", OWN, j.supply("tn-s", ze=0.12, fault_level=15000, phases=3, x_over_r=0.6,
                                         device=j.device("bs88-2", 200, 80000), tails_csa=95, neutral_csa=95,
                                         bonding=j.copper(25), earthing_conductor=j.earthing_conductor(50)),
                [j.board("yard"), j.board("mill", "feed")],
                [j.feeder("feed", "yard", j.device("bs88-2", 160, 80000), [
                    j.section(120, 95, j.core(50, "aluminium"), material="aluminium", cores=5, insulation="thermosetting-90",
                              method="air")],
                    phase="three", load_=j.load(current=118, power_factor=0.88)),
                 j.circuit("bandsaw", "mill", j.device(D, 40, 10000), j.load(power=18500, power_factor=0.86, kind="motor"),
                           [j.section(22, 10, j.core(10), cores=4)], phase="three"),
                 j.circuit("office", "mill", j.device(B, 16, 10000), j.load(current=9.5),
                           [j.section(35, 2.5, j.core(2.5))], phase="l3")])
    return Own(job, *every([at(c["id"]) for c in job["circuits"]], LOOP + ["fact:drop-share"]),
               *every([at(c["id"]) for c in job["circuits"] if c["use"] != "distribution"], ["outcome:volt-drop"]),
               *every([on("mill")], BOARD))


@example
def conduit_grouped_hot():
    """Boiler house: singles in conduit, grouped, at 40 °C and more."""
    rows = [(2.5, 2, 40, "thermoplastic-70"), (4, 3, 45, "thermoplastic-70"), (6, 6, 40, "thermosetting-90"),
            (10, 9, 55, "thermosetting-90"), (1.5, 12, 35, "thermosetting-90")]
    job = j.job("Boiler house", OWN, j.supply("tn-s", ze=0.25), [j.board("plant")],
                [j.circuit(f"duty-{n}", "plant", j.device(B, 10 if s < 4 else 16), j.load(current=8 if s < 4 else 13),
                           [j.section(18 + n, s, j.separate(s), construction="single-cores", method="conduit", cores=2,
                                      grouped=g, ambient=t, insulation=i)])
                 for n, (s, g, t, i) in enumerate(rows)])
    return Own(job, *every([at(c["id"]) for c in job["circuits"]], CIRCUIT))


@example
def in_insulation():
    """Loft: flat twin in each place insulation can have it."""
    methods = ["ceiling-thin", "ceiling-thick", "stud-touching", "stud-apart", "insulated-wall", "surrounded"]
    job = j.job("Loft", OWN, j.supply(), [j.board("hall")],
                [j.circuit(m_, "hall", j.device(B, 6), j.load(current=5), [j.twin(16, 2.5, 1.5, method=m_)])
                 for m_ in methods] +
                [j.circuit(f"run-{int(1000 * r)}", "hall", j.device(B, 16), j.load(current=12),
                           [j.twin(8, 4, 1.5), j.twin(4, 4, 1.5, insulation_run=r)]) for r in (0.05, 0.1, 0.2, 0.4, 0.5)])
    return Own(job, *every([at(c["id"]) for c in job["circuits"]], ["fact:iz", "outcome:capacity", "fact:zs", "fact:drop"]))


@example
def ground_and_duct():
    """Field cables: in duct and direct, dry soil and wet, alone and in company."""
    rows = [("duct", 25, 2.5, 1, "touching"), ("duct", 20, 1.5, 2, "touching"), ("ground", 15, 1, 3, 0.25),
            ("ground", 20, 2.5, 2, "gap-diameter"), ("duct", 10, 3, 4, 0.5), ("ground", 30, 2, 6, 0.125)]
    job = j.job("Field cables", OWN, j.supply("tn-s", ze=0.33), [j.board("barn")],
                [j.circuit(f"field-{n}", "barn", j.device(B, 20), j.load(current=15),
                           [j.section(30 + 5 * n, 6, j.core(6), method=mt, ambient=t, soil=soil, grouped=g, arrangement=a,
                                      insulation="thermosetting-90" if n % 2 else "thermoplastic-70")])
                 for n, (mt, t, soil, g, a) in enumerate(rows)] +
                [j.circuit(f"armoured-{n}", "barn", j.device(B, 25), j.load(current=20),
                           [j.swa(25 + n, 6, cores=2, method=mt, ambient=t, soil=soil)])
                 for n, (mt, t, soil) in enumerate([("duct", 20, 2.5), ("ground", 20, 2.5)])])
    return Own(job, *every([at(c["id"]) for c in job["circuits"]], CIRCUIT))


@example
def trays_and_walls():
    """Cables side by side on walls, trays and ladders."""
    rows = [("clipped", "single-layer-wall", 2), ("clipped", "single-layer-wall", 5), ("air", "single-layer-tray", 3),
            ("air", "single-layer-tray", 9), ("air", "ladder", 4), ("air", "ladder", 20), ("clipped", "bunched", 7)]
    job = j.job("Dairy", OWN, j.supply("tn-s", ze=0.22, phases=3), [j.board("plant")],
                [j.circuit(f"line-{n}", "plant", j.device(C, 16, 10000), j.load(power=6900, power_factor=0.9),
                           [j.section(25 + n, 6, j.core(6), cores=4, method=mt, arrangement=a, grouped=g,
                                      insulation="thermosetting-90")], phase="three")
                 for n, (mt, a, g) in enumerate(rows)])
    return Own(job, *every([at(c["id"]) for c in job["circuits"]], CIRCUIT))


@example
def semi_enclosed():
    """Old chapel with semi-enclosed fuses: the factor on the cable's capacity."""
    job = j.job("Chapel", OWN, j.supply("tn-s", ze=0.4, fault_level=900), [j.board("vestry")],
                [j.circuit("heaters", "vestry", j.device("bs3036", 15, 1000), j.load(power=2800, kind="heating"),
                           [j.section(16, 4, j.core(4))]),
                 j.circuit("lamps", "vestry", j.device("bs3036", 5, 1000), j.load(power=600, kind="lighting", points=10),
                           [j.section(31, 1.5, j.core(1.5))], use="lighting")])
    return Own(job, *every([at(c["id"]) for c in job["circuits"]], ["fact:ib", "fact:iz", "fact:zs", "fact:drop"]))


@example
def every_fuse():
    """Mill store: each fuse family on a feed or a final circuit."""
    rows = [("bs88-2", 20, 80000), ("bs88-3", 32, 31500), ("bs1361", 30, 16500), ("bs1362", 13, 6000), ("gg", 25, 80000),
            ("bs3036", 20, 4000)]
    job = j.job("Mill store", OWN, j.supply("tn-s", ze=0.35, fault_level=2400), [j.board("store")],
                [j.circuit(f"fuse-{f}", "store", j.device(f, r, b), j.load(current=r * 0.6), [j.section(15 + n, 6, j.core(6))])
                 for n, (f, r, b) in enumerate(rows)])
    return Own(job, *every([at(c["id"]) for c in job["circuits"]], LOOP + ["outcome:design-current", "outcome:breaking"]),
               (at("fuse-bs88-2"), "finding:disconnection:limit", {
                   "rel": 0.006, "why": "the limit rests on a printed 1.77 ohm, three figures, times cmin; and the core reads its curve between points"}))


@example
def every_breaker():
    """Creamery: breakers and RCBOs of types B, C and D."""
    families = ["breaker-b", "breaker-c", "breaker-d", "rcbo-b", "rcbo-c", "rcbo-d"]
    job = j.job("Creamery", OWN, j.supply("tn-s", ze=0.18, fault_level=3000), [j.board("dairy")],
                [j.circuit(f"way-{f}", "dairy", j.device(f, r), j.load(current=r * 0.7), [j.section(14 + n, 4, j.core(4))],
                           rcd=j.rcd() if f.startswith("rcbo") else None)
                 for n, (f, r) in enumerate(zip(families, [16, 16, 10, 20, 10, 6]))])
    rows = every([at(c["id"]) for c in job["circuits"]], LOOP + ["outcome:disconnection"])
    rows += every([at(f"way-breaker-{t}") for t in "bcd"], ["finding:disconnection:limit", "finding:disconnection:value"])
    return Own(job, *rows)


def one(name, notes, circuit_, supply_=None, boards=None, more=(), profile_=None):
    return j.job(name, profile_ or OWN, supply_ or j.supply(), boards or [j.board("main")], [circuit_, *more], notes)


@example
def fails_design_current():
    job = one("Kiln on too small a breaker", None, j.circuit("kiln", "main", j.device(B, 16), j.load(power=4600), [j.section(10, 6, j.core(6))]))
    return Own(job, *every([at("kiln")], ["fact:ib", "outcome:design-current", "finding:design-current:value", "finding:design-current:limit",
                                          "outcome:capacity", "outcome:volt-drop"]))


@example
def fails_capacity():
    job = one("Sauna cable too thin", None, j.circuit("sauna", "main", j.device(B, 32), j.load(power=6500), [
        j.twin(9, 4, 1.5), j.twin(3, 4, 1.5, method="ceiling-thick")]))
    return Own(job, *every([at("sauna")], ["fact:iz", "outcome:capacity", "finding:capacity:value", "finding:capacity:limit", "outcome:design-current"]))


@example
def fails_overload():
    """A rewirable fuse within the cable's capacity, but not by 1.45 Iz."""
    job = one("Fuse that lets the cable warm", None, j.circuit("mill", "main", j.device("bs3036", 15, 2000), j.load(current=12), [
        j.section(10, 2.5, j.core(2.5), method="insulated-wall")]), j.supply("tn-s", ze=0.4, fault_level=1500))
    return Own(job, *every([at("mill")], ["fact:iz", "outcome:design-current", "outcome:capacity", "outcome:overload",
                                          "finding:overload:value", "finding:overload:limit"]))


@example
def fails_volt_drop():
    job = one("Footpath lamps too far", None, j.circuit("lamps", "main", j.device(B, 6), j.load(power=900, kind="lighting"), [
        j.section(120, 1.5, j.core(1.5))], use="lighting", outdoors=False))
    return Own(job, *every([at("lamps")], ["fact:drop", "fact:drop-share", "outcome:volt-drop", "finding:volt-drop:value", "finding:volt-drop:limit", "outcome:capacity"]))


@example
def fails_disconnection():
    job = one("Type D far away", None, j.circuit("winch", "main", j.device(D, 20), j.load(current=12, power_factor=0.8, kind="motor"), [
        j.section(46, 4, j.core(1.5))]), j.supply("tn-s", ze=0.75))
    return Own(job, *every([at("winch")], ["fact:zs", "fact:ief-min", "outcome:disconnection", "finding:disconnection:value", "finding:disconnection:limit"]))


@example
def fails_electrode():
    job = one("Rod in dry gravel", None, j.circuit("hut", "main", j.device(B, 10), j.load(current=6), [j.section(12, 1.5, j.core(1.5))],
                                                  rcd=j.rcd(0.3)),
              j.supply("tt", ze=None, ra=260, fault_level=2000))
    return Own(job, *every([at("hut")], ["fact:zs", "outcome:electrode", "finding:electrode:value", "finding:electrode:limit"]))


def sheds(name, boards, source_electrode=20):
    """A farm on TN-S; each shed has a rod of its own and one lamp behind 30 mA: what the shed's board has is
    (RCD of its feed, its own, what it is made of, RA), and the rating of its feed."""
    out, circuits = [j.board("farm")], []
    for key, (feed_rcd, own_rcd, made, ra, rating) in boards.items():
        id = key.replace("_", "-")
        circuits += [j.feeder(f"to-{id}", "farm", j.device(B, rating), [j.section(20, 10, j.core(10))], rcd=feed_rcd),
                     j.circuit(f"lamp-{id}", id, j.device("rcbo-b", 6), j.load(power=60, kind="lighting"),
                               [j.section(6, 1.5, j.core(1.5))], use="lighting", rcd=j.rcd())]
        out.append(j.board(id, f"to-{id}", earthing="own-electrode", ra=ra, rcd=own_rcd, enclosure=made,
                           earthing_conductor=j.earthing_conductor(16, buried=True)))
    return j.job(name, {**OWN, "source_electrode": source_electrode}, j.supply("tn-s", ze=0.4, fault_level=4000), out, circuits)


@example
def board_behind_a_front_rcd():
    """Metal boards on rods, 300 mA at the start of the feed: 50 V by RA just met and just not; the time just
    met and just not, with a poor electrode at the source; 30 mA."""
    front = j.rcd(0.3, delay="selective")
    job = sheds("Two looms", dict(loom=(front, None, "metal", 166.6, 16), loom_out=(front, None, "metal", 166.7, 16),
                                  wheel=(j.rcd(), None, "metal", 1666, 16), wheel_out=(j.rcd(), None, "metal", 1667, 16)))
    return Own(job, *every([on("loom"), on("loom-out"), on("wheel"), on("wheel-out")], FAULT))


@example
def board_and_a_poor_source():
    """The same with an electrode at the source so poor that the current decides: 0.3 A just met and just not."""
    front = j.rcd(0.3, delay="selective")
    job = sheds("Loom by the old mill", dict(near=(front, None, None, 166.2, 16), far=(front, None, "metal", 166.4, 16)), 562)
    return Own(job, *every([on("near"), on("far")], FAULT))


@example
def board_with_rcds_behind_only():
    """A board on a rod, RCDs only behind: metal, not said, insulated; and with one of its own, which is in the
    metal and not in front of it."""
    own = j.rcd(0.1, delay="selective")
    job = sheds("Four hives", dict(metal=(None, None, "metal", 60, 16), unsaid=(None, None, None, 60, 16), insulated=(None, None, "insulated", 60, 16),
                                   metal_own=(None, own, "metal", 60, 16), insulated_own=(None, own, "insulated", 499, 16),
                                   insulated_out=(None, own, "insulated", 501, 16)))
    return Own(job, *every([on("metal"), on("unsaid"), on("metal-own"), on("insulated-own"), on("insulated-out")], FAULT),
               (on("insulated"), "outcome:board-fault"),
               *every([at("lamp-metal"), at("lamp-unsaid")], ["outcome:disconnection", "outcome:electrode"]))


@example
def board_behind_a_breaker_alone():
    """Rods so good that the feed's breaker disconnects alone: 30 A just reached and just not."""
    job = sheds("Foundry yard", dict(near=(None, None, "metal", 6.2, 6), far=(None, None, "metal", 6.25, 6)), 1)
    return Own(job, *every([on("near"), on("far")], FAULT))


def first_board(name, made, ra, own, device=None):
    return j.job(name, OWN, j.supply("tt", ze=None, ra=ra, fault_level=2000, device=device or j.device(C, 63, 10000)),
                 [j.board("main", rcd=own, enclosure=made)],
                 [j.circuit("lamps", "main", j.device("rcbo-b", 6), j.load(power=300, kind="lighting"), [j.section(12, 1.5, j.core(1.5))],
                            use="lighting", rcd=j.rcd())])


@example
def first_board_metal():
    """TT, the first board of metal: its own RCD is in it, and only the incoming breaker in front."""
    return Own(first_board("Ferry house, metal", "metal", 80, j.rcd(0.1, delay="selective")),
               *every([on("main")], FAULT), *every([at("lamps")], ["outcome:disconnection", "outcome:electrode"]))


@example
def first_board_insulated():
    """TT, class II up to its own RCD of 300 mA: 50 V just met."""
    return Own(first_board("Ferry house, insulated", "insulated", 166.6, j.rcd(0.3, delay="selective")), *every([on("main")], FAULT))


@example
def first_board_insulated_out():
    """The same, 50 V just not met."""
    return Own(first_board("Ferry house, poor rod", "insulated", 166.7, j.rcd(0.3, delay="selective")), *every([on("main")], FAULT))


@example
def first_board_not_known():
    """Supply not known, nothing said of the board: as TN-C-S no question, as TT it can't be said."""
    job = first_board("Ferry house, not said", None, 80, j.rcd(0.1, delay="selective"))
    job["supply"].update(earthing="not-known", ze=0.35)
    return Own(job, *[(on("main"), w, None, 1) for w in FAULT])


@example
def fails_breaking():
    job = one("Beside the transformer", None, j.circuit("hoist", "main", j.device(C, 20, 6000), j.load(current=11), [j.section(12, 4, j.core(4))]),
              j.supply("tn-s", ze=0.05, fault_level=14000, device=j.device("bs1361", 100, 33000)))
    return Own(job, *every([at("hoist")], ["fact:ipf-max", "outcome:breaking", "finding:breaking:value", "finding:breaking:limit"]))


@example
def fails_protective_thermal():
    """A protective conductor two sizes too thin behind a type D breaker; the maker's let-through is known."""
    job = one("Crane with a thin protective conductor", None,
              j.circuit("crane", "main", j.device(D, 40, 10000), j.load(current=31, power_factor=0.85, kind="motor"),
                        [j.section(18, 10, j.core(1), cores=3)]),
              j.supply("tn-s", ze=0.06, fault_level=7000))
    return Own(job, *every([at("crane")], ["fact:ief-min", "outcome:protective-thermal", "finding:protective-thermal:value",
                                           "finding:protective-thermal:limit", "outcome:disconnection"]))


@example
def fails_line_thermal():
    """More device than the cable carries, so that it is not protected against overload either."""
    job = one("Pump on too large a breaker", None,
              j.circuit("pump", "main", j.device(D, 63, 10000), j.load(current=20, power_factor=0.85, kind="motor"),
                        [j.section(12, 4, j.core(4))]),
              j.supply("tn-s", ze=0.08, fault_level=6000))
    return Own(job, *every([at("pump")], ["fact:iz", "outcome:capacity", "outcome:line-thermal", "finding:line-thermal:value",
                                          "finding:line-thermal:limit"]))


@example
def let_through_known():
    """Beside a large supply: class 3 breakers, a maker's figure, and an assembly with a conditional rating."""
    job = j.job("Bakery", OWN, j.supply("tn-c-s", ze=0.06, fault_level=9200),
                [j.board("ovens", conditional=10000)],
                [j.circuit("proofer", "ovens", j.device(B, 16, 10000, energy_class=3), j.load(current=12), [j.twin(9, 2.5, 1.5)]),
                 j.circuit("mixer", "ovens", j.device(C, 20, 10000, energy_class=3), j.load(current=14, power_factor=0.8, kind="motor"),
                           [j.twin(12, 4, 1.5)]),
                 j.circuit("oven", "ovens", j.device(C, 40, 10000, let_through=52000), j.load(power=8000, kind="cooker"),
                           [j.twin(14, 10, 4)]),
                 j.circuit("lamps", "ovens", j.device(B, 6, 6000), j.load(current=3, kind="lighting"), [j.twin(16, 1.5, 1)],
                           use="lighting")])
    return Own(job, *every([at(c["id"]) for c in job["circuits"]],
                           ["fact:ipf-max", "outcome:breaking", "finding:breaking:limit", "outcome:line-thermal", "outcome:protective-thermal"]),
               *every([at("proofer"), at("mixer"), at("oven")], ["finding:protective-thermal:value"]))


@example
def fails_rcd():
    """Sockets with no RCD, a bathroom on one with a delay, and one that has what it needs."""
    def way(id, **more):
        return j.circuit(id, "main", j.device(B, 16), j.load(current=10), [j.twin(11, 2.5, 1.5)], **more)
    job = j.job("Bunk house", OWN, j.supply(), [j.board("main")],
                [way("bunks", use="sockets"), way("bath-heater", bath=True, rcd=j.rcd(0.1, delay="selective")),
                 way("hidden", concealed=True, rcd=j.rcd()), way("yard", outdoors=True, rcd=j.rcd(0.1)), way("attic"),
                 way("reading-lamps", use="lighting", dwelling=True)])
    return Own(job, *every([at(i) for i in ("bunks", "bath-heater", "hidden", "yard", "reading-lamps")], ["outcome:rcd", "finding:rcd:limit"]),
               (at("hidden"), "finding:rcd:value"), (at("yard"), "finding:rcd:value"))


@example
def feed_as_bonding():
    """TN-C-S at two outbuildings with metal services: the armour of one feed conducts too little, the other's core is enough."""
    job = j.job("Two outbuildings", OWN, j.supply("tn-c-s", ze=0.3, neutral_csa=35),
                [j.board("house"), j.board("byre", "byre-feed", extraneous=True, bonding=j.copper(10)),
                 j.board("dairy", "dairy-feed", extraneous=True, bonding=j.copper(6))],
                [j.feeder("byre-feed", "house", j.device(C, 40), [j.swa(32, 10, cores=2)]),
                 j.feeder("dairy-feed", "house", j.device(C, 32), [j.swa(28, 10, cores=3, protective=j.armour_and_core(None))]),
                 j.circuit("hoist", "byre", j.device(C, 16), j.load(current=9, power_factor=0.8, kind="motor"), [j.section(6, 2.5, j.core(2.5))]),
                 j.circuit("cooler", "dairy", j.device(C, 16), j.load(current=8, power_factor=0.85, kind="motor"), [j.section(7, 2.5, j.core(2.5))])])
    return Own(job, *every([on("byre"), on("dairy")], ["outcome:feed-bonding", "finding:feed-bonding:value", "finding:feed-bonding:limit",
                                                       "outcome:bonding", "finding:bonding:value", "finding:bonding:limit"]))


@example
def unbalanced_rows():
    """A three-phase feed whose lines carry very different loads of different power factors: the neutral's drop counts."""
    job = j.job("Market hall", OWN, j.supply("tn-s", ze=0.18, phases=3, fault_level=7500, device=j.device("bs88-2", 100, 80000)),
                [j.board("intake"), j.board("hall", "feed")],
                [j.feeder("feed", "intake", j.device("bs88-2", 63, 80000), [j.section(48, 25, j.core(16), cores=5, method="air")], phase="three"),
                 j.circuit("fridges", "hall", j.device(C, 32, 10000), j.load(current=24, power_factor=0.75, kind="motor"), [j.section(14, 6, j.core(6))], phase="l1"),
                 j.circuit("urns", "hall", j.device(B, 16, 10000), j.load(power=3000, kind="heating"), [j.section(21, 2.5, j.core(2.5))], phase="l2"),
                 j.circuit("stall-lights", "hall", j.device(B, 6, 10000), j.load(power=700, power_factor=0.95, kind="lighting", points=9),
                           [j.section(46, 1.5, j.core(1.5))], phase="l3", use="lighting"),
                 j.circuit("lift", "hall", j.device(D, 16, 10000), j.load(power=4000, power_factor=0.8, kind="motor"), [j.section(19, 4, j.core(4), cores=4)],
                           phase="three")])
    return Own(job, *every([at(c["id"]) for c in job["circuits"]], LOOP + ["fact:drop-share"]), *every([on("hall")], BOARD))


@example
def mixed_rows():
    """A load on three lines that comes first of its class on two and behind a larger one on the third."""
    job = j.job("Boat shed", OWN, j.supply("tn-s", ze=0.2, phases=3, fault_level=6000, device=j.device("bs88-2", 100, 80000)),
                [j.board("intake"), j.board("shed", "feed"), j.board("loft", "riser")],
                [j.feeder("feed", "intake", j.device("bs88-2", 63, 80000), [j.section(41, 16, j.core(16), cores=5, method="air")], phase="three"),
                 j.feeder("riser", "shed", j.device(C, 32, 10000), [j.section(12, 6, j.core(6))], phase="l3"),
                 j.circuit("bench", "shed", j.device("rcbo-b", 32), j.load(current=25, kind="sockets", points=5), [j.section(22, 6, j.core(6))],
                           phase="l1", use="sockets", rcd=j.rcd()),
                 j.circuit("saw", "shed", j.device("rcbo-c", 16), j.load(current=13, power_factor=0.8, kind="sockets"), [j.section(18, 2.5, j.core(2.5), cores=5)],
                           phase="three", use="sockets", rcd=j.rcd()),
                 j.circuit("heater", "shed", j.device(B, 16, 10000), j.load(power=2500, kind="heating"), [j.section(16, 2.5, j.core(2.5))], phase="l2"),
                 j.circuit("loft-sockets", "loft", j.device("rcbo-b", 20), j.load(current=11, kind="sockets", points=3), [j.section(14, 2.5, j.core(2.5))],
                           phase="l3", use="sockets", rcd=j.rcd())])
    return Own(job, *every([at(c["id"]) for c in job["circuits"]], LOOP + ["fact:drop-share"]), *every([on("shed"), on("loft")], BOARD))


@example
def demand_stated():
    """A pavilion whose demand was measured and is stated in place of the sum."""
    job = j.job("Pavilion", OWN, j.supply("tn-s", ze=0.45, fault_level=3000),
                [j.board("ground"), j.board("pavilion", "lane", demand=22)],
                [j.feeder("lane", "ground", j.device("bs88-2", 32, 80000), [j.swa(55, 10, cores=3, protective=j.armour_and_core(None))],
                          load_=j.load(power_factor=0.9)),
                 j.circuit("kettles", "pavilion", j.device("rcbo-b", 32), j.load(current=26, kind="sockets", points=6), [j.section(15, 6, j.core(6))],
                           use="sockets", rcd=j.rcd()),
                 j.circuit("showers", "pavilion", j.device(B, 32), j.load(power=7200, kind="water-instant"), [j.section(12, 6, j.core(6))])])
    return Own(job, *every([at(c["id"]) for c in job["circuits"]], LOOP + ["fact:drop-share"]), *every([on("pavilion"), on("ground")], BOARD),
               (on("pavilion"), "outcome:demand"))


@example
def pipe_as_cpc():
    """Steel trunking as protective conductor with its area given, singles of larger sizes inside."""
    duct = dict(kind="enclosure", material="steel", csa=180, resistance=1.1)
    job = j.job("Engine shed", OWN, j.supply("tn-s", ze=0.15, phases=3, fault_level=8000, device=j.device("bs88-2", 160, 80000), tails_csa=50,
                                             neutral_csa=50, bonding=j.copper(16), earthing_conductor=j.earthing_conductor(25)),
                [j.board("shed")],
                [j.circuit("lathe", "shed", j.device(C, 63, 10000), j.load(power=24000, power_factor=0.86, kind="motor"),
                           [j.section(34, 25, duct, construction="single-cores", cores=3, method="conduit", grouped=2)], phase="three"),
                 j.circuit("press", "shed", j.device(D, 50, 10000), j.load(power=19000, power_factor=0.84, kind="motor"),
                           [j.section(26, 25, duct, construction="single-cores", cores=3, method="conduit", insulation="thermosetting-90",
                                      operating_limit=70)], phase="three")])
    return Own(job, *every([at(c["id"]) for c in job["circuits"]], CIRCUIT + ["finding:protective-thermal:value", "outcome:protective-thermal"]))


@example
def fails_demand():
    cs = [j.circuit(f"heat-{n}", "sub", j.device(B, 32), j.load(power=6000, kind="heating"), [j.section(10, 6, j.core(6))]) for n in range(3)]
    job = j.job("Tea room on a small feed", OWN, j.supply(), [j.board("main"), j.board("sub", "feed")],
                [j.feeder("feed", "main", j.device("bs88-2", 40, 80000), [j.section(18, 16, j.core(16))])] + cs)
    return Own(job, *every([on("sub")], ["fact:demand", "outcome:demand", "finding:demand:value", "finding:demand:limit"]),
               (at("feed"), "fact:ib"))


@example
def fails_bonding():
    job = one("Bonding too thin for the neutral", None, j.circuit("hut", "main", j.device(B, 10), j.load(current=6), [j.section(12, 1.5, j.core(1.5))]),
              j.supply("tn-c-s", neutral_csa=70, tails_csa=25, bonding=j.copper(16)))
    return Own(job, *every([SUPPLY], ["outcome:bonding", "finding:bonding:value", "finding:bonding:limit"]))


@example
def fails_earthing_conductor():
    job = one("Earthing conductor in wet clay", None, j.circuit("hut", "main", j.device(B, 10), j.load(current=6), [j.section(12, 1.5, j.core(1.5))],
                                                                rcd=j.rcd()),
              j.supply("tt", ze=None, ra=40, fault_level=2000, earthing_conductor=j.earthing_conductor(16, buried=True, corrosion=False, mechanical=True)))
    return Own(job, *every([SUPPLY], ["outcome:earthing-conductor", "finding:earthing-conductor:value", "finding:earthing-conductor:limit"]))


@example
def ze_missing():
    """Nothing measured at the origin: cannot say, never a default."""
    job = one("Nothing measured", None, j.circuit("hut", "main", j.device(B, 10), j.load(current=6), [j.section(12, 1.5, j.core(1.5))]),
              j.supply("tn-s", ze=None, fault_level=None))
    return Own(job, *every([at("hut")], ["fact:ib", "fact:iz", "fact:drop", "outcome:disconnection", "outcome:breaking"]))


@example
def spread_lights():
    """Colonnade: lights spread over one long run and over two sizes."""
    def lamps(id, sections, points):
        return j.circuit(id, "main", j.device(B, 10), j.load(power=1150, power_factor=0.95, kind="lighting", points=points), sections, use="lighting")
    job = j.job("Colonnade", OWN, j.supply(), [j.board("main")],
                [lamps("far", [j.section(60, 2.5, j.core(2.5))], 1), lamps("two", [j.section(60, 2.5, j.core(2.5))], 2),
                 lamps("twenty", [j.section(60, 2.5, j.core(2.5))], 20),
                 lamps("two-sizes", [j.section(20, 1.5, j.core(1.5)), j.section(40, 4, j.core(4))], 10)])
    return Own(job, *every([at(c["id"]) for c in job["circuits"]], ["fact:drop", "fact:drop-share", "fact:zs", "outcome:volt-drop"]))


@example
def drop_at_load():
    """The same drop judged at the temperature of the load."""
    profile = m.profile("At load", drop_basis="load", cmax=1.1)
    job = j.job("Long lane", profile, j.supply(), [j.board("main"), j.board("gate", "lane")],
                [j.feeder("lane", "main", j.device(C, 32), [j.section(80, 16, j.core(16), method="clipped")]),
                 j.circuit("motor", "gate", j.device(C, 10), j.load(power=1000, power_factor=0.8, kind="motor"), [j.section(30, 2.5, j.core(2.5))]),
                 j.circuit("charger", "gate", j.device(C, 20), j.load(current=16), [j.section(6, 6, j.core(6), ambient=20)]),
                 j.circuit("ring", "main", j.device("rcbo-b", 32), j.load(current=20, kind="sockets"), [j.twin(50, 2.5, 1.5)],
                           shape="ring", use="sockets", rcd=j.rcd())])
    return Own(job, *every([at(c["id"]) for c in job["circuits"]], ["fact:drop", "fact:drop-share"]),
               *every([at(i) for i in ("motor", "charger", "ring")], ["finding:volt-drop:value", "outcome:volt-drop"]))


@example
def four_boards_deep():
    """Quarry: four boards one after the other, three phase then single."""
    job = j.job("Quarry", OWN, j.supply("tn-s", ze=0.1, phases=3, fault_level=18000, x_over_r=0.9, device=j.device("bs88-2", 200, 80000),
                                        tails_csa=95, neutral_csa=95, bonding=j.copper(25), earthing_conductor=j.earthing_conductor(50)),
                [j.board("intake"), j.board("yard", "a"), j.board("crusher", "b"), j.board("cabin", "c")],
                [j.feeder("a", "intake", j.device("bs88-2", 125, 80000), [j.section(60, 70, j.core(35), cores=5)], phase="three"),
                 j.feeder("b", "yard", j.device("bs88-2", 80, 80000), [j.section(45, 25, j.core(16), cores=5)], phase="three"),
                 j.feeder("c", "crusher", j.device(C, 40, 10000), [j.section(30, 16, j.core(16))], phase="l2"),
                 j.circuit("jaw", "crusher", j.device(D, 40, 10000), j.load(power=15000, power_factor=1), [j.section(20, 10, j.core(10), cores=4)], phase="three"),
                 j.circuit("pump", "yard", j.device(D, 25, 10000), j.load(power=7500, power_factor=1), [j.section(35, 6, j.core(6), cores=4)], phase="three"),
                 j.circuit("lights", "cabin", j.device(B, 6, 10000), j.load(power=400, kind="lighting"), [j.section(18, 1.5, j.core(1.5))], phase="l2", use="lighting"),
                 j.circuit("heater", "cabin", j.device(B, 16, 10000), j.load(power=3000, kind="heating"), [j.section(12, 2.5, j.core(2.5))], phase="l2")])
    return Own(job, *every([at(c["id"]) for c in job["circuits"]], LOOP + ["fact:drop-share"]),
               *every([at(c["id"]) for c in job["circuits"] if c["use"] != "distribution"], ["outcome:volt-drop"]),
               *every([on("intake"), on("yard"), on("crusher"), on("cabin")], BOARD))


@example
def sixty_circuits():
    """Holiday camp: sixty circuits on six boards."""
    boards = [j.board("camp")] + [j.board(f"row-{r}", f"feed-{r}") for r in range(5)]
    circuits = [j.feeder(f"feed-{r}", "camp", j.device("bs88-2", 63, 80000), [j.swa(30 + 12 * r, 16, cores=3, protective=j.armour_and_core(None))],
                         phase=f"l{1 + r % 3}") for r in range(5)]
    kinds = [("lighting", "lighting", 1.5, B, 6, 2), ("sockets", "sockets", 2.5, "rcbo-b", 16, 8), ("fixed", "water-storage", 2.5, B, 16, 12),
             ("fixed", "heating", 2.5, C, 10, 6)]
    for n in range(55):
        use, kind, csa, family, rating, amps = kinds[n % 4]
        row = n % 5
        circuits.append(j.circuit(f"c{n}", f"row-{row}", j.device(family, rating), j.load(current=round(amps * (0.5 + 0.01 * n) / 2, 2), kind=kind),
                                  [j.twin(8 + n % 17, csa, 1 if csa == 1.5 else 1.5)], use=use, phase=f"l{1 + row % 3}",
                                  rcd=j.rcd() if use == "sockets" else None))
    job = j.job("Holiday camp", OWN, j.supply("tn-c-s", ze=0.15, phases=3, fault_level=8000, device=j.device("bs88-2", 160, 80000), tails_csa=70,
                                              neutral_csa=70, bonding=j.copper(25), earthing_conductor=j.earthing_conductor(35)), boards, circuits)
    return Own(job, *every([at(f"feed-{r}") for r in range(5)], LOOP), *every([on(f"row-{r}") for r in range(5)], BOARD),
               *every([at(f"c{n}") for n in range(0, 55, 7)], LOOP + ["outcome:volt-drop", "outcome:disconnection"]))


# ---------------------------------------------------------------- writing

def answer(judgement, place, want):
    """The model's answer to a want; None: it has none."""
    parts = want.split(":")
    if parts[0] == "fact":
        return judgement.facts[place].get(parts[1])
    finding = judgement.findings[place].get(parts[1])
    if finding is None:
        return None
    value, limit = finding[:2]
    if parts[0] == "outcome":
        return m.outcome(finding)
    return {"value": value, "limit": limit}[parts[2]]


def place_json(place):
    return {"kind": place[0]} if len(place) == 1 else {"kind": place[0], "id": place[1]}


def unit_of(want, judgement, place):
    parts = want.split(":")
    if parts[0] == "outcome":
        return "outcome"
    if parts[1] == "board-fault":  # RA·IΔn where that decides, else Zs
        return "V" if judgement.findings[place]["board-fault"][1] == 50 else "Ω"
    return UNITS[parts[1]] if parts[0] == "fact" else FINDING_UNITS[parts[1]]


def rows_of(name, ex, missing):
    built = m.Model(ex.job)
    rows = []

    def row(judgement, place, want, expect, unit, tolerance, source, standing, support):
        inputs = {"job": f"examples/{name}.json", "place": place_json(place), "want": want}
        if len(built.judgements) > 1:
            inputs["judgement"] = judgement
        rows.append({"ask": "job", "inputs": inputs, "expect": expect, "unit": unit, "tolerance": tolerance,
                     "source": source, "standing": standing, "support": support})

    if isinstance(ex, Printed):
        for place, want, printed, unit, tolerance in ex.rows:
            value = answer(built.judgements[0], place, want)
            off = abs(float(value) - printed)
            allowed = tolerance["abs"] if "abs" in tolerance else tolerance["rel"] * printed
            assert off <= allowed, (name, place, want, float(value), printed)
            side = "as printed" if "abs" in tolerance or off <= 1e-4 * printed else (
                f"{100 * off / printed:.2g} % {'above' if value > printed else 'below (the optimistic side)'}")
            row(0, place, want, printed, unit, tolerance, ex.source, "published",
                f"print read at second hand; second computation in tests/oracle/model.py gives {float(value):.6g}, {side}; {ex.note}")
        return rows
    for want_ in ex.wants:
        place, want, own_tolerance, only = (*want_, None, None)[:4]
        for n, judgement in enumerate(built.judgements):
            if only not in (None, n):
                continue
            value = answer(judgement, place, want)
            if value is None:
                missing.append((name, judgement.earthing, place, want))
                continue
            exact = want.startswith("outcome:")
            tolerance = own_tolerance or ({"abs": 0, "why": "a word"} if exact else F32)
            row(n, place, want, value if exact else float(f"{float(value):.9g}"), unit_of(want, judgement, place), tolerance,
                "our own example", "own", "second computation in tests/oracle/model.py")
    return rows


def everything():
    """({file name: job}, rows, wants the model has no answer to)."""
    files, rows, missing = {}, [], []
    for function in EXAMPLES:
        ex = function()
        name = function.__name__.replace("_", "-")
        if ex.job["notes"] is None and function.__doc__:
            ex.job["notes"] = function.__doc__
        files[name] = ex.job
        rows += rows_of(name, ex, missing)
    return files, rows, missing


def text(value):
    return json.dumps(value, ensure_ascii=False, indent=1) + "\n"


def wanted_files():
    """({path: text}, rows, wants the model has no answer to)."""
    files, rows, missing = everything()
    wanted = {VECTORS / "examples" / f"{name}.json": text(job) for name, job in files.items()}
    wanted[VECTORS / "examples.json"] = (HEAD + ",\n".join(
        json.dumps(r, ensure_ascii=False, separators=(",", ":")) for r in rows) + "\n]}\n")
    return wanted, rows, missing


def main():
    wanted, rows, missing = wanted_files()
    if missing:
        for name, earthing, place, want in missing:
            print(f"  no answer by the model: {name} {earthing} {'/'.join(place)} {want}")
        return 1
    for old in (VECTORS / "examples").glob("*.json"):
        if old not in wanted:
            old.unlink()
    (VECTORS / "examples").mkdir(exist_ok=True)
    for p, t in wanted.items():
        p.write_text(t)
    print(f"{len(wanted) - 1} jobs, {len(rows)} rows, {sum(r['standing'] == 'published' for r in rows)} published")
    return 0


if __name__ == "__main__":
    sys.exit(main())
