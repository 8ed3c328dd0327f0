"""Random jobs with everything in them, the core's answers against the second computation.

Supplies of every kind, boards up to four deep, own electrodes, rings, spurs, spread loads, every way
of protective conductor, breakers mostly (their curve is a formula), RCDs, diversity.
"""

import random

import ask
import examples
import jobs as j
import model

SEED = 20261125
JOBS = 400


def maybe(rng, chance, value):
    return value if rng.random() < chance else None


def random_rcd(rng):
    sensitivity = rng.choice([0.01, 0.03, 0.03, 0.1, 0.3])
    return j.rcd(sensitivity, rng.choice(["ac", "a"]), rng.choice(["none", "selective"]) if sensitivity >= 0.1 else "none")


def random_device(rng, least=6):
    family = rng.choice(["breaker-b", "breaker-c", "breaker-d", "rcbo-b", "rcbo-c"] * 3 + ["bs88-2"])
    rating = rng.choice([r for r in (6, 10, 16, 20, 25, 32, 40, 50, 63) if r >= least])
    breaking = rng.choice([3000, 6000, 10000]) if family != "bs88-2" else 80000
    energy = maybe(rng, 0.3, 3) if family != "bs88-2" else None
    let = maybe(rng, 0.2, rng.choice([8000, 20000, 60000])) if family != "bs88-2" else None
    return j.device(family, rating, breaking, let, energy)


def random_section(rng, three, sizes, ring=False):
    build = "flat-twin" if ring else rng.choice(["multicore", "multicore", "armoured", "single-cores"] + ([] if three else ["flat-twin"]))
    csa = rng.choice([s for s in sizes if build != "flat-twin" or s <= 16])
    hot = build != "flat-twin" and rng.random() < 0.5 or build == "armoured"
    method = {"multicore": ["clipped", "conduit", "air", "insulated-wall", "duct", "ground", "surrounded"],
              "armoured": ["clipped", "air", "duct", "ground"],
              "single-cores": ["conduit", "clipped", "insulated-wall"],
              "flat-twin": ["clipped", "ceiling-thin", "ceiling-thick", "stud-touching", "stud-apart", "conduit"]}[build]
    method = rng.choice(method)
    buried = method in ("duct", "ground")
    cores = rng.choice([3, 4]) if three else rng.choice([2, 3])
    less = [s for s in (1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50) if s <= csa]
    kind = {"multicore": ["core"], "flat-twin": ["core"], "armoured": ["armour", "armour-and-core", "armour"],
            "single-cores": ["separate", "enclosure"]}[build]
    kind = rng.choice(kind)
    protective = {"core": lambda: j.core(rng.choice(less[-3:])), "separate": lambda: j.separate(rng.choice(less[-2:])),
                  "armour": lambda: j.armour() if csa >= 1.5 else dict(j.armour(5.5), csa=20),
                  "armour-and-core": lambda: j.armour_and_core(None) if csa >= 1.5 else j.core(csa),
                  "enclosure": lambda: dict(j.enclosure(round(rng.uniform(0.5, 4), 2)), csa=maybe(rng, 0.7, 150))}[kind]()
    if build == "armoured" and protective["kind"] == "core":
        build = "multicore"
    more = {}
    if not buried:
        more["ambient"] = rng.choice([20, 25, 30, 32, 40])
        more["grouped"] = rng.choice([1, 1, 2, 5])
        if method != "surrounded":
            more["insulation_run"] = maybe(rng, 0.1, rng.choice([0.1, 0.3]))
    else:
        more["soil"] = rng.choice([1, 2.5])
    if hot:
        more["insulation"] = "thermosetting-90"
        more["operating_limit"] = maybe(rng, 0.4, 70)
    if rng.random() < 0.2 and csa >= 25 and three:
        more["neutral_csa"] = less[-2]
    return j.section(round(rng.uniform(2, 40), 1), csa, protective, construction=build, cores=cores, method=method, **more)


ENCLOSURES = [None, "metal", "insulated"]
CLASSES = ["lighting", "heating", "cooker", "motor", "water-instant", "sockets", "other"]


def random_job(rng, index):
    three = rng.random() < 0.5
    earthing = rng.choice(["tn-s", "tn-c-s", "tt", "not-known", "tn-c-s"])
    supply = j.supply(
        earthing, ze=maybe(rng, 0.93, round(rng.uniform(0.1, 0.8), 3)), phases=3 if three else 1,
        ra=maybe(rng, 0.9, round(rng.uniform(5, 150), 1)) if earthing in ("tt", "not-known") else None,
        fault_level=maybe(rng, 0.9, rng.randint(800, 12000)), fault_level_from="measured", ze_from="measured",
        x_over_r=maybe(rng, 0.5, round(rng.uniform(0.1, 2), 2)), extraneous=rng.random() < 0.7,
        device=maybe(rng, 0.9, rng.choice([j.device("bs88-3", 100, 31500), j.device("breaker-b", 6, 10000), j.device("breaker-c", 63, 10000)])),
        neutral_csa=maybe(rng, 0.9, rng.choice([16, 25, 35, 70, 120])), tails_csa=maybe(rng, 0.9, rng.choice([16, 25, 35])),
        bonding=maybe(rng, 0.9, j.copper(rng.choice([6, 10, 16]))),
        earthing_conductor=maybe(rng, 0.9, j.earthing_conductor(rng.choice([6, 10, 16, 25]), "copper", rng.random() < 0.3,
                                                               rng.random() < 0.5, rng.random() < 0.5)))
    if earthing == "tt" and supply["ra"] is None and supply["ze"] is not None:
        supply["ze"] *= 100
    if supply["fault_level"] is None and rng.random() < 0.5:
        supply["fault_level_from"] = "from-ze"
    rule = lambda: dict(first_amps=rng.choice([0, 10]), first=1, rest=rng.choice([0.3, 0.5, 1]), add=rng.choice([0, 0, 5]),  # noqa: E731
                        largest=1, second=rng.choice([0.5, 0.8, 1]), others=rng.choice([0.2, 0.4, 0.5]))
    profile = model.profile(drop_basis=rng.choice(["full", "load"]), cmin=rng.choice([0.95, 1, 0.9]), cmax=rng.choice([1.05, 1.1]),
                            source_electrode=rng.choice([1, 5, 20]),
                            **{c.replace("-", "_"): rule() for c in CLASSES if rng.random() < 0.7})
    boards, circuits, on_three, depth = [j.board("b0", rcd=maybe(rng, 0.2, random_rcd(rng)), enclosure=rng.choice(ENCLOSURES))], [], {"b0": three}, {"b0": 1}
    for n in range(rng.randint(0, 4)):
        parent = rng.choice([b["id"] for b in boards if depth[b["id"]] < 4])
        wide = on_three[parent] and rng.random() < 0.6
        own = rng.random() < 0.2
        boards.append(j.board(f"b{n + 1}", f"f{n}", rcd=maybe(rng, 0.2, random_rcd(rng)), enclosure=rng.choice(ENCLOSURES),
                              earthing="own-electrode" if own else "as-supply", ra=maybe(rng, 0.9, round(rng.uniform(5, 200), 1)) if own else None,
                              earthing_conductor=j.earthing_conductor(rng.choice([4, 10, 16, 25]), "copper", True, rng.random() < 0.5, rng.random() < 0.5) if own else None,
                              extraneous=rng.random() < 0.4, bonding=j.copper(rng.choice([6, 10])), demand=maybe(rng, 0.15, rng.randint(5, 60)),
                              conditional=maybe(rng, 0.1, 10000)))
        on_three[f"b{n + 1}"], depth[f"b{n + 1}"] = wide, depth[parent] + 1
        load = j.load(power_factor=round(rng.uniform(0.7, 1), 2))
        if rng.random() < 0.2:
            load["current"] = round(rng.uniform(5, 60), 1)
        dev = random_device(rng, 32)
        circuits.append(j.feeder(f"f{n}", parent, dev, [random_section(rng, wide, [10, 16, 25, 35, 50, 70, 95])
                                 for _ in range(rng.randint(1, 2))], phase="three" if wide else rng.choice(["l1", "l2", "l3"]) if three else "l1",
                                 load_=load, rcd=maybe(rng, 1 if dev["family"].startswith("rcbo") else 0.1, random_rcd(rng)), concealed=rng.random() < 0.1))
    for n in range(rng.randint(2, 9)):
        board = rng.choice(boards)["id"]
        wide = on_three[board] and rng.random() < 0.4
        ring = not wide and rng.random() < 0.2
        dev = random_device(rng) if not ring else j.device(rng.choice(["breaker-b", "rcbo-b"]), rng.choice([20, 32]), 6000)
        sizes = [2.5, 4] if ring else [1, 1.5, 2.5, 4, 6, 10, 16, 25, 35]
        sections = [random_section(rng, wide, sizes, ring) for _ in range(rng.randint(1, 3))]
        if rng.random() < 0.2:
            for _ in range(rng.randint(1, 2)):
                spur = random_section(rng, wide, [1.5, 2.5, 4], ring)
                spur.update(part="spur", spur_fuse=maybe(rng, 0.5, j.device("bs1362", rng.choice([3, 13]), 6000)))
                sections.append(spur)
        load = j.load(power_factor=round(rng.uniform(0.6, 1), 2), kind=rng.choice(CLASSES), points=rng.choice([1, 1, 2, 5, 12]))
        if rng.random() < 0.95:
            load["current" if rng.random() < 0.5 else "power"] = 1
            if load["current"]:
                load["current"] = round(rng.uniform(0.5, 1) * dev["rating"], 2)
            else:
                load["power"] = round(rng.uniform(0.2, 1) * dev["rating"] * 230)
        circuits.append(j.circuit(f"c{n}", board, dev, load, sections, use=rng.choice(["sockets", "lighting", "fixed"]),
                                  phase="three" if wide else rng.choice(["l1", "l2", "l3"]) if three else "l1",
                                  shape="ring" if ring else "radial", rcd=maybe(rng, 1 if dev["family"].startswith("rcbo") else 0.4, random_rcd(rng)),
                                  outdoors=rng.random() < 0.2, bath=rng.random() < 0.1, concealed=rng.random() < 0.2, dwelling=rng.random() < 0.3))
    return j.job(f"Random {index}", profile, supply, boards, circuits)


def one(index):
    """The job of one index, to look at a disagreement."""
    rng = random.Random(SEED)
    return [random_job(rng, n) for n in range(index + 1)][index]


def run():
    """Number passed, number failed."""
    rng = random.Random(SEED)
    made = [random_job(rng, n) for n in range(JOBS)]
    answers = ask.judge_many(made)
    tally, refused = examples.Tally(show=40), {}
    read = 0
    for job, answer in zip(made, answers):
        if answer["errors"]:
            reason = f"{answer['errors'][0]['path']}: {answer['errors'][0]['reason']}"
            refused[reason] = refused.get(reason, 0) + 1
            continue
        read += 1
        tally.job(job["name"], model.Model(job), answer)
    print(f"  {JOBS} jobs, seed {SEED}; {read} read without an error" + (f"; refused: {refused}" if refused else ""))
    good, bad = tally.done()
    return good, bad + (read < JOBS * 0.9)
