"""Random radial three-phase networks: the same description as a job and as a pandapower net.

Compared at every board and at the far end of every circuit: volt drop from the origin (pandapower's
load flow), the largest three-phase fault current (IEC 60909, case max) and the smallest (case min).

Why the tolerances are what they are.

* Volt drop. The loads are given as currents of constant size, each with its own power factor in half
  of the nets, in pandapower as constant-current loads. The job's rule is the projection I·(R cosφ + X sinφ);
  pandapower solves the phasors. Let d of a node be Σ I·|Z| on the way to it over the lowest voltage
  in the net: its voltage is turned by at most d. Then the current of a load i is turned against
  the voltage of node k by at most d_i + d_k, which changes the drop in a section by at most
  |Z|·I_i·(d_i + d_k), and the part of the drop that lies across the voltage lengthens the drop by
  at most d_k²·U0/2. The sum of both, second order in the drop, plus the f32 of the core (1e-5 of the
  drop) is the tolerance, node by node. d is kept to 0.25: beyond it a constant current is no load any more.
* Fault currents. Both are c·U0/|Z| of the same R and X: 1e-5 relative for the f32 of the core and
  1e-6 for pandapower's solution of a whole batch; nothing else is allowed.
  Case max: d.c. resistance at 20 °C and no reactance in the cables, as the job takes it.
  Case min: the job's smallest fault is line to protective conductor, so the net carries the loop
  (line + protective conductor) as its line, each at its own temperature;
  pandapower warms the loop itself where both parts are copper of one temperature up to 16 mm².

2000 nets (seed below), batched as islands of one pandapower net, the batches over two processes.
"""

import argparse
import functools
import multiprocessing
import os
import random
import sys
import time
import warnings

# two processes, two cores: no threads of their own
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
os.environ.setdefault("OMP_NUM_THREADS", "1")
import numpy as np  # noqa: E402

warnings.filterwarnings("ignore")
import pandapower as pp  # noqa: E402
import pandapower.shortcircuit as sc  # noqa: E402

import figures as fig  # noqa: E402
import jobs as j  # noqa: E402
import model as m  # noqa: E402

SEED = 20261125
NETS = 2000
BATCH = 50
PROCESSES = 2
# The voltage factors pandapower takes for a voltage tolerance in percent.
CMAX = {6: 1.05, 10: 1.1}
CMIN = {6: 0.95, 10: 0.9}
F32 = 1e-5
FURTHEST = 0.25  # nets with a longer way, Σ I·|Z| over the voltage, get half the load until they have not


def f(v):
    return float(v)


def random_net(rng, index):
    """A tree of boards up to four deep, 2 to 15 circuits, all three-phase."""
    material = lambda: rng.choice(["copper"] * 3 + ["aluminium"])  # noqa: E731
    pf = round(rng.uniform(0.7, 1.0), 3)
    mixed = index % 2 == 1
    basis = rng.choice(["full", "load"])
    tolerance = rng.choice([6, 10])
    wanted = rng.randint(2, 15)
    depth = rng.randint(1, min(4, wanted))
    feeders = rng.randint(depth - 1, min(wanted - 1, max(depth - 1, wanted // 2)))
    boards = [dict(id="b0", depth=1, fed_by=None)]
    circuits = []

    def sections(big):
        return [one(big) for _ in range(rng.choice([1, 1, 2, 3]))]

    def one(big):
        while True:
            mat = material()
            sizes = [s for s, r in fig.RESISTANCE_20.items() if r[mat] is not None
                     and (10 <= s <= 300 if big else s <= 35)]
            csa = rng.choice(sizes)
            kind = rng.choice(["core", "core", "separate", "armour"])
            insulation = rng.choice(["thermoplastic-70", "thermosetting-90"])
            pe = [s for s, r in fig.RESISTANCE_20.items() if r[mat] is not None and s <= csa]
            if kind == "armour":
                protective = j.armour(resistance=round(rng.uniform(0.7, 9), 3))
            elif kind == "core":
                protective = j.core(f(rng.choice(pe)), mat)
            else:
                protective = j.separate(f(rng.choice([s for s in sizes if s <= 120] or sizes[:1])), mat)
            length = round(rng.uniform(2, 60 if big else 40), 1)
            section = j.section(
                length, f(csa), protective, insulation=insulation, material=mat,
                construction="armoured" if kind == "armour" else "multicore", cores=4,
                operating_limit=70 if insulation == "thermosetting-90" and rng.random() < 0.3 else None,
                # 21 in a group is outside the tables: then Iz isn't known and the full temperature decides
                grouped=21 if basis == "full" else 1, method="clipped")
            if basis == "full" or m.capacity(section, 3) is not None:
                return section

    # feeders first, so that every board exists; the first ones make the depth
    for n in range(feeders):
        parent = boards[n] if n < depth - 1 else rng.choice([b for b in boards if b["depth"] < 4])
        child = dict(id=f"b{n + 1}", depth=parent["depth"] + 1, fed_by=f"c{n}")
        circuits.append((f"c{n}", parent["id"], True, sections(True), None, pf))
        boards.append(child)
    finals = wanted - feeders
    for n in range(finals):
        # every board at the end of the tree gets a circuit first
        parent = boards[-1 - n] if n < len(boards) and n < finals else rng.choice(boards)
        own = round(rng.uniform(0.7, 1.0), 3) if mixed else pf
        circuits.append((f"c{feeders + n}", parent["id"], False, sections(False),
                         round(rng.uniform(1, 32), 2), own))
    ratio = round(rng.uniform(0.1, 4), 3)
    level = round(rng.uniform(3000, 25000))
    ze = round(rng.uniform(0.05, 0.8), 4)
    profile = m.profile(drop_basis=basis, cmin=CMIN[tolerance], cmax=CMAX[tolerance])
    jc = []
    for cid, bid, is_feeder, secs, amps, own in circuits:
        load = j.load(current=amps, power_factor=own)
        use = "distribution" if is_feeder else "fixed"
        jc.append(j.circuit(cid, bid, j.device("bs88-2" if is_feeder else "breaker-d", 63 if is_feeder else 32, 25000),
                            load, secs, use=use, phase="three"))
    job = j.job(f"Net {index}", profile,
                j.supply(earthing="tn-s", ze=ze, fault_level=level, phases=3, x_over_r=ratio),
                [j.board(b["id"], b["fed_by"]) for b in boards], jc)
    entry = dict(job=job, tolerance=tolerance, mixed=mixed, pf=pf, basis=basis, iz={})
    entry["amps"] = currents_of(job)
    while max(turns(entry).values()) > FURTHEST:
        for c in jc:
            if c["load"]["current"] is not None:
                c["load"]["current"] = round(c["load"]["current"] / 2, 3)
        entry["amps"] = currents_of(job)
    return entry


def currents_of(job):
    """Current of every circuit: its load, or all that hangs on it."""
    feeder = {b["id"]: b["fed_by"] for b in job["boards"]}
    out = {c["id"]: c["load"]["current"] or 0.0 for c in job["circuits"]}
    by_id = {c["id"]: c for c in job["circuits"]}
    for c in job["circuits"]:
        own, at = c["load"]["current"] or 0.0, feeder[c["board"]]
        while at:
            out[at] += own
            at = feeder[by_id[at]["board"]]
    return out


# ---------------------------------------------------------------- pandapower

def hot(material, theta):
    """R(θ)/R20 of the job: the greater of the rounded and the exact factor."""
    alpha, beta = {"copper": (0.004, 234.5), "aluminium": (0.004, 228.0), "steel": (0.0045, 202.0)}[material]
    return max(1 + alpha * (theta - 20), (beta + theta) / (beta + 20))


@functools.lru_cache(maxsize=None)
def wire(material, csa, theta):
    """Hot r and x per km: above 16 mm² a.c. (IEC 60287-1-1, 50 Hz) and 0.085 Ω/km."""
    r = f(m.resistance_20(material, m.num(csa))) * hot(material, theta)
    if csa <= 16:
        return r, 0.0
    x2 = 8 * np.pi * 50 * 1e-7 / (r / 1000)
    skin = x2**2 / (192 + 0.8 * x2**2)
    near = skin * 0.756 * (0.312 * 0.756 + 1.18 / (skin + 0.27))
    return r * (1 + skin + near), 0.085


def protective_r_x(section):
    """Hot r and x of the protective conductor per km."""
    p = section["protective"]
    if p["kind"] == "armour":
        ac = section["csa"] > 16
        r = p["resistance"] * hot("steel", f(m.operating(section)) - 10)
        return (r * 1.1, 0.4) if ac else (r, 0.0)
    return wire(p["material"], p["csa"], 30.0 if p["kind"] == "separate" else f(m.operating(section)))


def drop_temperature(entry, circuit, section):
    """Temperature of the conductors that the job's drop is for."""
    theta = f(m.operating(section))
    if entry["basis"] == "full":
        return theta
    key = circuit["id"]
    if key not in entry["iz"]:
        entry["iz"][key] = [m.capacity(s, 3) for s in circuit["sections"]]
    iz = entry["iz"][key][next(n for n, s in enumerate(circuit["sections"]) if s is section)]
    return section["ambient"] + (theta - section["ambient"]) * (entry["amps"][circuit["id"]] / f(iz)) ** 2


UN = np.sqrt(3) * 0.23  # kV


def build(entries, kind):
    """One pandapower net of all the networks as islands, and where each place went.

    kind: 'load' (hot, with loads), 'max' (at 20 °C), 'min' (the loop line + protective conductor).
    """
    buses = 0
    where, grids, lines, loads = {}, [], [], []
    for e in entries:
        job, key = e["job"], e["key"]
        supply = job["supply"]
        rx = 1 / supply["x_over_r"]
        level = np.sqrt(3) * UN * supply["fault_level"] / 1000  # MVA
        loop = np.sqrt(3) * UN * (CMIN[e["tolerance"]] * 230 / supply["ze"]) / 1000
        root, buses = buses, buses + 1
        grids.append((root, level, loop, rx))
        bus_of = {"b0": root}
        where[key, "board", "b0"] = root
        below = {b["fed_by"]: b["id"] for b in job["boards"] if b["fed_by"]}
        for circuit in job["circuits"]:
            at = bus_of[circuit["board"]]
            for s in circuit["sections"]:
                endtemp = 20.0
                if kind == "load":
                    r, x = wire(s["material"], s["csa"], drop_temperature(e, circuit, s))
                elif kind == "max":
                    r, x = f(m.resistance_20(s["material"], m.num(s["csa"]))), 0.0
                else:
                    p, theta = s["protective"], f(m.operating(s))
                    if p["kind"] == "core" and s["material"] == p["material"] == "copper" and s["csa"] <= 16:
                        # pandapower warms the loop
                        r = f(m.resistance_20("copper", m.num(s["csa"])) + m.resistance_20("copper", m.num(p["csa"])))
                        x, endtemp = 0.0, theta
                    else:
                        (r, x), (pr, px) = wire(s["material"], s["csa"], theta), protective_r_x(s)
                        r, x = r + pr, x + px
                lines.append((at, buses, s["length"] / 1000, r, x, endtemp))
                at, buses = buses, buses + 1
            where[key, "circuit", circuit["id"]] = at
            if circuit["id"] in below:
                bus_of[below[circuit["id"]]] = at
                where[key, "board", below[circuit["id"]]] = at
            elif kind == "load":
                current, pf = circuit["load"]["current"], circuit["load"]["power_factor"]
                mva = np.sqrt(3) * UN * current / 1000
                loads.append((at, mva * pf, mva * np.sqrt(1 - pf * pf)))
    net = pp.create_empty_network(f_hz=50)
    pp.create_buses(net, buses, vn_kv=UN)
    # one made by pandapower, repeated: a call for each is most of the time
    pp.create_ext_grid(net, 0, s_sc_max_mva=1.0, rx_max=1.0, s_sc_min_mva=1.0, rx_min=1.0)
    net.ext_grid = net.ext_grid.loc[[0] * len(grids)].reset_index(drop=True)
    for column, values in zip(("bus", "s_sc_max_mva", "s_sc_min_mva", "rx_max"), zip(*grids)):
        net.ext_grid[column] = np.array(values, dtype=net.ext_grid[column].dtype)
    net.ext_grid["rx_min"] = net.ext_grid["rx_max"]
    start, end, km, r, x, endtemp = map(list, zip(*lines))
    pp.create_lines_from_parameters(net, start, end, km, r, x, 0.0, 10.0)
    net.line["endtemp_degree"] = endtemp
    if loads:
        at, p, q = map(list, zip(*loads))
        pp.create_loads(net, at, p, q, const_i_p_percent=100, const_i_q_percent=100)
    return net, where


def pandapower_answers(entries):
    """{(key, kind, id): [volts to neutral, largest A, smallest A]} for a batch."""
    net, where = build(entries, "load")
    pp.runpp(net, numba=False, calculate_voltage_angles=False, tolerance_mva=1e-12, max_iteration=50)
    volts = dict(net.res_bus.vm_pu)
    out = {key: [230 * volts[bus]] for key, bus in where.items()}
    # the voltage tolerance sets c for a whole net, so the two kinds go apart
    for case in ("max", "min"):
        for tolerance in (6, 10):
            some = [e for e in entries if e["tolerance"] == tolerance]
            if not some:
                continue
            net, where = build(some, case)
            sc.calc_sc(net, fault="3ph", case=case, lv_tol_percent=tolerance, ip=False, ith=False,
                       branch_results=False)
            kiloamps = dict(net.res_bus_sc.ikss_ka)
            for key, bus in where.items():
                out[key].append(1000 * kiloamps[bus])
    return out


# ---------------------------------------------------------------- comparison

class Worst:
    """Keeps the worst deviation of a kind, and counts."""

    def __init__(self, name, unit):
        self.name, self.unit = name, unit
        self.count = self.failed = 0
        self.share, self.note = -1.0, ""  # of the tolerance
        self.most, self.most_note = -1.0, ""  # the deviation itself
        self.shown = []

    def see(self, deviation, allowed, scale, note):
        """deviation and allowed in the same unit, scale turns them into the unit shown; NaN fails."""
        self.count += 1
        share = abs(deviation) / allowed
        if not share <= 1:
            self.failed += 1
            self.shown.append(f"  DISAGREES {self.name}: off by {deviation:.6g}, allowed {allowed:.6g}: {note}")
        if not share <= self.share:
            self.share, self.note = share, note
        if not abs(deviation) * scale <= self.most:
            self.most, self.most_note = abs(deviation) * scale, note

    def take(self, other):
        self.count += other.count
        self.failed += other.failed
        self.shown += other.shown
        if not other.share <= self.share:
            self.share, self.note = other.share, other.note
        if not other.most <= self.most:
            self.most, self.most_note = other.most, other.most_note

    def show(self):
        for line in self.shown[:5]:
            print(line)
        print(f"  {self.name}: {self.count} compared, {self.failed} disagree; furthest off {self.most:.3g} {self.unit} "
              f"({self.most_note}); nearest to its tolerance {100 * self.share:.0f} % of it ({self.note})")


def way(job):
    """{circuit id: [(circuit, section) from the origin]}."""
    feeder = {b["id"]: b["fed_by"] for b in job["boards"]}
    by_id = {c["id"]: c for c in job["circuits"]}
    out = {}
    for c in job["circuits"]:
        chain, at = [c], feeder[c["board"]]
        while at:
            chain.insert(0, by_id[at])
            at = feeder[by_id[at]["board"]]
        out[c["id"]] = [(k, s) for k in chain for s in k["sections"]]
    return out


def section_ohms(entry, circuit, section):
    return abs(complex(*wire(section["material"], section["csa"], drop_temperature(entry, circuit, section)))) \
        * section["length"] / 1000


def turns(entry):
    """{circuit: d}: Σ I·|Z| on the way over the lowest voltage, a bound of the angle its voltage is turned by."""
    volts = {cid: sum(entry["amps"][c["id"]] * section_ohms(entry, c, s) for c, s in pairs)
             for cid, pairs in way(entry["job"]).items()}
    lowest = max(230 - max(volts.values()), 1)
    return {cid: v / lowest for cid, v in volts.items()}


def phasor_bounds(entry):
    """{circuit: volts}: see the note at the top."""
    chain, d, amps = way(entry["job"]), turns(entry), entry["amps"]
    final = [c["id"] for c in entry["job"]["circuits"] if c["load"]["current"] is not None]
    beyond = {}
    for k in final:
        for c in {id(c): c for c, _ in chain[k]}.values():
            beyond.setdefault(c["id"], []).append(k)
    out = {}
    for cid, pairs in chain.items():
        # the loads beyond each section, each turned by no more than its own way and ours
        out[cid] = 0.5 * d[cid] ** 2 * 230 + sum(
            section_ohms(entry, c, s) * sum(amps[k] * (d[k] + d[cid]) for k in beyond.get(c["id"], []))
            for c, s in pairs)
    return out


def compare(entries, answers, pandas, worst):
    """answers: key -> {place: {"ib", "drop", "ipf-max", "ief-min"}} of whoever is on trial."""
    for e in entries:
        job, got = e["job"], answers[e["key"]]
        below = {b["fed_by"]: b["id"] for b in job["boards"] if b["fed_by"]}
        bounds = phasor_bounds(e)
        for c in job["circuits"]:
            place = ("circuit", c["id"])
            volts, _, ik_min = pandas[(e["key"],) + place]
            drop = f(got[place]["drop"])
            note = f"net {e['key']} {c['id']}, drop {drop:.4g} V"
            seen = (drop - (230 - volts), bounds[c["id"]] + F32 * drop + 1e-6, 100 / 230, note)
            worst["mixed" if e["mixed"] else "drop"].see(*seen)
            if drop <= 0.05 * 230:
                worst["near"].see(*seen)
            worst["min"].see(f(got[place]["ief-min"]) / ik_min - 1, F32 + 1e-6, 1, f"net {e['key']} {c['id']}")
        for board in job["boards"]:
            place = ("board", board["id"])
            ik_max = pandas[(e["key"],) + place][1]
            worst["max"].see(f(got[place]["ipf-max"]) / ik_max - 1, F32 + 1e-6, 1, f"net {e['key']} {board['id']}")


def by_model(entry):
    facts = m.Model(entry["job"]).judgements[0].facts
    return {place: {k: v for k, v in values.items()} for place, values in facts.items()}


def by_core(entries):
    """Facts by the core, through the ask program."""
    import ask
    return {e["key"]: ask.facts(answer["judgements"][0])
            for e, answer in zip(entries, ask.judge_many([e["job"] for e in entries]))}


def batch(task):
    """One batch: its worst deviations."""
    first, size, seed, who = task
    rng = random.Random(f"{seed} {first}")
    entries = []
    for key in range(first, first + size):
        e = random_net(rng, key)
        e["key"] = key
        entries.append(e)
    worst = new_worst()
    answers = by_core(entries) if who == "core" else {e["key"]: by_model(e) for e in entries}
    compare(entries, answers, pandapower_answers(entries), worst)
    worst["circuits"] = sum(len(e["job"]["circuits"]) for e in entries)
    return worst


def new_worst():
    return {"drop": Worst("volt drop, one power factor", "% of U0"), "mixed": Worst("volt drop, mixed power factors", "% of U0"),
            "max": Worst("largest three-phase fault", "relative"), "min": Worst("smallest fault of the loop", "relative"),
            "near": Worst("those of them that drop 5 % at most", "% of U0"), "circuits": 0}


def run(nets=NETS, seed=SEED, who="core"):
    """Number passed, number failed."""
    began = time.time()
    if who == "core":
        import ask
        os.environ["FAULTPATH_ASK"] = ask.program()  # built once, for all processes
    tasks = [(first, min(BATCH, nets - first), seed, who) for first in range(0, nets, BATCH)]
    worst = new_worst()
    with multiprocessing.Pool(PROCESSES) as pool:
        for part in pool.imap(batch, tasks):
            for key, w in part.items():
                if isinstance(w, Worst):
                    worst[key].take(w)
                else:
                    worst[key] += w
    print(f"  {nets} networks, {worst['circuits']} circuits, seed {seed}, {time.time() - began:.0f} s")
    passed = failed = 0
    for key, w in worst.items():
        if isinstance(w, Worst):
            w.show()
            if key == "near":
                continue  # counted already
            passed += w.count - w.failed
            failed += w.failed + (w.count == 0)
    print("  the drops differ in the second order: the job projects every current on one voltage, pandapower turns each "
          "with the voltage at its own load")
    return passed, failed


if __name__ == "__main__":
    args = argparse.ArgumentParser()
    args.add_argument("--nets", type=int, default=NETS)
    args.add_argument("--seed", type=int, default=SEED)
    args.add_argument("--who", choices=["core", "model"], default="core")
    a = args.parse_args()
    ok, bad = run(a.nets, a.seed, a.who)
    print(f"{ok} passed, {bad} failed")
    sys.exit(1 if bad or not ok else 0)
