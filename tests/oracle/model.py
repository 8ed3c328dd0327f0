"""Second computation of a whole job, from the origin of the supply to every furthest point.

mpmath at 30 digits; formulas and tables written from the reference figures, none from core.
`Model(job).judgements` holds one `Judgement` per earthing considered; each has `facts[place]` and
`findings[place]`, place being ("supply",), ("board", id) or ("circuit", id). What can't be
computed is None ("not known"), never zero.

What the model takes for granted (agreed with the core's author before either was written):

* R(θ) = R20·(1 + 0.004·(θ − 20)) for copper and aluminium, 0.0045 for steel.
* Smallest fault current: line and core protective conductor at the section's operating
  temperature (`operating_limit`, else 70 or 90 °C); separate protective conductor 30 °C; armour
  60 °C on a 70 °C cable and 80 °C on a 90 °C one; conduit or trunking 50 and 60 °C.
  Largest: everything at 20 °C.
* Reactance 0.08 Ω/km per conductor above 16 mm², none below.
* R and X are summed apart. Angle of Ze not known: the largest loop is |Ze| + |Zcable|, the
  smallest the lesser of Ze all resistive and all reactive.
* Volt drop of a section I·(R cosφ + X sinφ), line and neutral for single phase, line alone for
  balanced three phase; line-to-neutral volts are carried from the origin.
* Load at temperature θa + (θmax − θa)·(Ib/Iz)².
"""

from dataclasses import dataclass, field

from mpmath import mp, mpc, mpf, sqrt, log

import figures as fig

mp.dps = 30

TWENTY = mpf(20)
ALPHA = {"copper": mpf("0.004"), "aluminium": mpf("0.004"), "steel": mpf("0.0045")}
REACTANCE = mpf("0.08")  # ohm/km per conductor
REACTANCE_ABOVE = mpf(16)  # mm²


def num(v):
    """A JSON number as the decimal it was written as."""
    return None if v is None else mpf(repr(v) if isinstance(v, float) else v)


# Own copy of the two stock profiles; the job can carry its own.
def _class(first_amps=0, first=1, rest=1, add=0, largest=1, second=1, others=1):
    return dict(first_amps=first_amps, first=first, rest=rest, add=add,
                largest=largest, second=second, others=others)


NO_DIVERSITY = {c: _class() for c in (
    "lighting", "heating", "cooker", "motor", "water-instant", "water-storage", "floor-warming",
    "sockets", "stationary", "other")}


def profile(name="Own", cmin=0.95, cmax=1.1, drop_lighting=0.03, drop_other=0.05,
            drop_basis="full", source_electrode=20, touch_voltage=50, **diversity):
    """A job profile; classes not named have no diversity."""
    return dict(name=name, cmin=cmin, cmax=cmax, drop_lighting=drop_lighting,
                drop_other=drop_other, drop_basis=drop_basis, source_electrode=source_electrode,
                touch_voltage=touch_voltage,
                diversity={**NO_DIVERSITY, **{k.replace("_", "-"): v for k, v in diversity.items()}})


# ---------------------------------------------------------------- conductors

def resistance_20(material, csa):
    """Ω/km at 20 °C by IEC 60228, None for a size that isn't there."""
    row = fig.RESISTANCE_20.get(csa)
    return row.get(material) if row else None


def at_temperature(r20, material, theta):
    return None if r20 is None else r20 * (1 + ALPHA[material] * (theta - TWENTY))


def conductor(material, csa, length, theta):
    """Complex impedance of one conductor, Ω."""
    r = at_temperature(resistance_20(material, csa), material, theta)
    if r is None:
        return None
    x = REACTANCE if csa > REACTANCE_ABOVE else mpf(0)
    return mpc(r, x) * length / 1000


def is_90(section):
    return section["insulation"] != "thermoplastic-70"


def operating(section):
    limit = num(section["operating_limit"])
    return limit if limit is not None else mpf(90 if is_90(section) else 70)


def final_temperature(section, csa):
    """End temperature allowed by the insulation, °C."""
    if section["insulation"] == "thermosetting-90":
        return mpf(250)
    return mpf(140 if csa > 300 else 160)


def k_factor(material, start, end):
    beta, qc, rho = fig.ADIABATIC[material]
    return sqrt(qc * (beta + 20) / rho * log((beta + end) / (beta + start)))


def parallel(a, b):
    return a * b / (a + b)


def armour_20(section):
    p = section["protective"]
    if p["resistance"] is not None:
        return num(p["resistance"])
    row = fig.ARMOUR_RESISTANCE.get(num(section["csa"]))
    return row.get(section["cores"]) if row else None


def protective(section, cold):
    """Complex impedance of the section's protective conductor; None when there is none or not known."""
    p = section["protective"]
    length = num(section["length"])
    hot_cable = mpf(90 if is_90(section) else 70)

    def core():
        theta = TWENTY if cold else operating(section)
        if p["kind"] == "core":
            return conductor(p["material"], num(p["csa"]), length, theta)
        # a core of the cable beside its armour: like the line conductor unless stated
        csa = num(section["csa"] if p["csa"] is None else p["csa"])
        return conductor(section["material"], csa, length, theta)

    def armour():
        r20 = armour_20(section)
        theta = TWENTY if cold else (mpf(80) if is_90(section) else mpf(60))
        material = p["material"] if p["kind"] == "armour" and p["material"] else "steel"
        r = at_temperature(r20, material, theta)
        return None if r is None else mpc(r, 0) * length / 1000

    kind = p["kind"]
    if kind == "core":
        return core()
    if kind == "separate":
        return conductor(p["material"], num(p["csa"]), length, TWENTY if cold else mpf(30))
    if kind == "armour":
        return armour()
    if kind == "armour-and-core":
        a, c = armour(), core()
        return None if a is None or c is None else parallel(a, c)
    if kind == "enclosure":
        if p["resistance"] is None:
            return None
        theta = TWENTY if cold else (mpf(60) if is_90(section) else mpf(50))
        r = at_temperature(num(p["resistance"]), p["material"] or "steel", theta)
        return mpc(r, 0) * length / 1000
    return None


def protective_k(section):
    """k of the section's protective conductor (the part that starts hottest stated by kind)."""
    p = section["protective"]
    end = final_temperature(section, num(p["csa"]) if p["csa"] is not None else mpf(0))
    hot = is_90(section)
    kind = p["kind"]
    if kind == "core":
        return k_factor(p["material"], operating(section), end)
    if kind == "separate":
        return k_factor(p["material"], mpf(30), end)
    if kind in ("armour", "armour-and-core"):
        return k_factor("steel", mpf(80 if hot else 60), mpf(200))
    if kind == "enclosure":
        return k_factor(p["material"] or "steel", mpf(60 if hot else 50), end)
    return None


# ---------------------------------------------------------------- capacity

def _capacity_table(section, loaded):
    """Tabulated capacity before factors, by the table that fits the section."""
    csa = num(section["csa"])
    if section["material"] != "copper":
        return None  # no aluminium capacities are among the reference figures
    hot = is_90(section)
    method, build = section["method"], section["construction"]
    letter = {"insulated-wall": "A", "conduit": "B", "clipped": "C", "air": "E",
              "surrounded": "C"}.get(method)

    def pick(table, column):
        row = table.get(csa)
        return row.get(column) if row else None

    if method in ("duct", "ground"):
        if build == "armoured":
            table = fig.ARMOURED_90 if hot else fig.ARMOURED_70
            return pick(table, f"D{loaded}")
        if build == "multicore":
            return pick(fig.GROUND["90" if hot else "70", loaded], "D1" if method == "duct" else "D2")
        return None
    if build == "flat-twin":
        if hot or loaded != 2:
            return None
        column = "clipped" if method == "surrounded" else method
        if column == "conduit":
            return pick(fig.MULTI_70, "B2")
        if column == "air":
            return pick(fig.MULTI_70, "E2")
        return pick(fig.FLAT_TWIN, column)
    if letter is None:
        return None
    if build == "single-cores":
        return pick(fig.SINGLE_90 if hot else fig.SINGLE_70, f"{letter}{loaded}")
    if build == "multicore":
        return pick(fig.MULTI_90 if hot else fig.MULTI_70, f"{letter}{loaded}")
    if build == "armoured":
        return pick(fig.ARMOURED_90 if hot else fig.ARMOURED_70, f"{letter}{loaded}")
    return None


def ambient_factor(limit, theta, reference):
    """sqrt((θmax − θ)/(θmax − θref)): the printed factors are this, rounded to two places."""
    return sqrt((limit - theta) / (limit - reference)) if theta < limit else mpf(0)


def grouping_factor(section):
    n = section["grouped"]
    if n == 1:
        return mpf(1)
    arrangement = section["arrangement"]
    if section["method"] in ("duct", "ground"):
        row = fig.GROUPING_GROUND.get((section["method"], arrangement))
        return row.get(n) if row else None
    row = fig.GROUPING.get(arrangement)
    if row is None or n > 20:
        return None
    return row[min(c for c in row if c >= n)]  # the next larger group: the safe side


def capacity(section, loaded, device):
    """Iz of a section, A, with its factors; None when a figure is missing."""
    it = _capacity_table(section, loaded)
    group = grouping_factor(section)
    if it is None or group is None:
        return None
    buried = section["method"] in ("duct", "ground")
    limit = mpf(90 if is_90(section) else 70)
    reference = mpf(20 if buried else 30)
    factor = ambient_factor(limit, num(section["ambient"]), reference) * group
    if section["operating_limit"] is not None and operating(section) < limit:
        # A cable held to a lower temperature carries less: heat flow goes by the rise.
        factor *= sqrt((operating(section) - num(section["ambient"])) / (limit - num(section["ambient"])))
    if buried:
        soil = num(section["soil"])
        soil = mpf("2.5") if soil is None else soil
        row = fig.SOIL[section["method"]]
        if soil not in row:
            return None
        factor *= row[soil]
    if section["method"] == "surrounded":
        factor *= fig.INSULATION_RUN[mpf("0.5")]
    elif section["insulation_run"] is not None:
        run = num(section["insulation_run"])
        longer = [c for c in fig.INSULATION_RUN if c >= run]
        factor *= fig.INSULATION_RUN[min(longer)] if longer else mpf("0.5")
    if device["family"] == "bs3036":
        factor *= fig.BS3036_FACTOR
    return it * factor


# ---------------------------------------------------------------- devices

def breaker_multiple(device):
    family = device["family"]
    if family.startswith(("breaker-", "rcbo-")):
        return mpf(fig.BREAKER_MULTIPLE[family[-1]])
    return None


def disconnecting_current(device, time):
    """Current that surely disconnects in `time`, A: breakers at once; fuses only where a print was read."""
    multiple = breaker_multiple(device)
    if multiple is not None:
        return multiple * num(device["rating"])
    if device["family"] == "bs88-2" and time == mpf("0.4"):
        zs = fig.BS88_2_ZS_04_NO_CMIN.get(num(device["rating"]))
        return None if zs is None else 230 / zs
    return None


def max_zs(device, time, u0, cmin):
    current = disconnecting_current(device, time)
    return None if current is None else cmin * u0 / current


def disconnection_time(circuit, earthing, u0):
    """Required time at 230 V, s (IEC 60364-4-41 Table 41.1 band 120 to 230 V)."""
    if not 120 < u0 <= 230:
        return None
    rating = num(circuit["device"]["rating"])
    quick = circuit["use"] != "distribution" and (
        rating <= 32 or (circuit["use"] == "sockets" and rating <= 63))
    if earthing == "tt":
        return mpf("0.2") if quick else mpf(1)
    return mpf("0.4") if quick else mpf(5)


def conventional_factor(device):
    """I2 / In: 1.45 for breakers, 1.6 for gG fuses, 1.5 for BS 1361, 1.9 BS 1362, 2 BS 3036 (from memory)."""
    family = device["family"]
    if breaker_multiple(device) is not None:
        return mpf("1.45")
    return {"bs88-2": mpf("1.6"), "bs88-3": mpf("1.6"), "gg": mpf("1.6"), "bs1361": mpf("1.5"),
            "bs1362": mpf("1.9"), "bs3036": mpf(2)}[family]


# ---------------------------------------------------------------- impedances of the supply

@dataclass
class Source:
    """Something with a magnitude whose angle may be unknown (x_over_r None)."""
    magnitude: object
    x_over_r: object

    def _complex(self):
        r = self.magnitude / sqrt(1 + self.x_over_r**2)
        return mpc(r, r * self.x_over_r)

    def largest(self, z):
        if self.x_over_r is None:
            return self.magnitude + abs(z)
        return abs(self._complex() + z)

    def smallest(self, z):
        if self.x_over_r is None:
            return min(abs(self.magnitude + z), abs(mpc(0, self.magnitude) + z))
        return abs(self._complex() + z)


# ---------------------------------------------------------------- the walk

@dataclass
class Path:
    """What has been gathered from the origin to a board."""
    line_hot: object = mpc(0)
    protective_hot: object = mpc(0)
    line_cold: object = mpc(0)
    neutral_cold: object = mpc(0)
    drop_full: object = mpf(0)
    drop_load: object = mpf(0)
    three: bool = False
    earth: object = None  # Source of the earth return
    earthing: str = ""
    ra: object = None  # electrode in use, Ω, when the earth return goes through one


@dataclass
class Judgement:
    earthing: str
    facts: dict = field(default_factory=dict)
    findings: dict = field(default_factory=dict)


def opt(f, *values):
    """f of the values, None if any of them isn't known."""
    return None if any(v is None for v in values) else f(*values)


class Model:
    def __init__(self, job, stock=None):
        self.job = job
        self.profile = job["profile"] if isinstance(job["profile"], dict) else stock[job["profile"]]
        self.cmin, self.cmax = num(self.profile["cmin"]), num(self.profile["cmax"])
        supply = job["supply"]
        self.u0 = num(supply["u0"])
        self.boards = {b["id"]: b for b in job["boards"]}
        self.feeders = {}
        for b in job["boards"]:
            if b["fed_by"] is not None:
                self.feeders[b["fed_by"]] = b["id"]
        self.by_board = {}
        for c in job["circuits"]:
            self.by_board.setdefault(c["board"], []).append(c)
        self._order()
        self.ib, self.demand, self.demand_phases = {}, {}, {}
        self._currents()
        stated = supply["earthing"]
        kinds = ["tn-c-s", "tt"] if stated == "not-known" else [stated]
        self.judgements = [self._judge(kind) for kind in kinds]

    # -- structure
    def _order(self):
        """Boards parents first."""
        self.order, waiting = [], [b["id"] for b in self.job["boards"]]
        circuit_board = {c["id"]: c["board"] for c in self.job["circuits"]}
        done = set()
        while waiting:
            ready = [b for b in waiting if self.boards[b]["fed_by"] is None
                     or circuit_board[self.boards[b]["fed_by"]] in done]
            assert ready, "boards feed each other"
            self.order += ready
            done |= set(ready)
            waiting = [b for b in waiting if b not in done]

    def _phases(self, circuit):
        return ["l1", "l2", "l3"] if circuit["phase"] == "three" else [circuit["phase"]]

    # -- currents
    def _load_current(self, circuit):
        load = circuit["load"]
        if load["current"] is not None:
            return num(load["current"])
        if load["power"] is not None:
            legs = 3 if circuit["phase"] == "three" else 1
            return num(load["power"]) / (legs * self.u0 * num(load["power_factor"]))
        return None

    def _currents(self):
        for board_id in reversed(self.order):
            for c in self.by_board.get(board_id, []):
                current = self._load_current(c)
                if current is None and c["id"] in self.feeders:
                    current = self.demand[self.feeders[c["id"]]]
                self.ib[c["id"]] = current
            self._demand(board_id)

    def _demand(self, board_id):
        """Per phase and class: shares by rank times the allowance of each load; sub-boards in full."""
        phases = {}
        for phase in ("l1", "l2", "l3"):
            total = mpf(0)
            classes = {}
            for c in self.by_board.get(board_id, []):
                if phase not in self._phases(c):
                    continue
                current = self.ib[c["id"]]
                if c["use"] == "distribution":
                    below = self.feeders.get(c["id"])
                    if c["phase"] == "three" and below is not None and self._load_current(c) is None \
                            and self.boards[below]["demand"] is None:
                        current = self.demand_phases[below][phase]
                    total = opt(lambda a, b: a + b, total, current)
                else:
                    classes.setdefault(c["load"]["class"], []).append(current)
            for name, currents in classes.items():
                rule = {k: num(v) for k, v in self.profile["diversity"][name].items()}
                if any(i is None for i in currents):
                    total = None
                    continue
                for rank, i in enumerate(sorted(currents, reverse=True)):
                    share = [rule["largest"], rule["second"]][rank] if rank < 2 else rule["others"]
                    first = min(i, rule["first_amps"])
                    value = share * (rule["first"] * first + rule["rest"] * (i - first) + rule["add"])
                    total = opt(lambda a: a + value, total)
            phases[phase] = total
        self.demand_phases[board_id] = phases
        stated = num(self.boards[board_id]["demand"])
        if stated is not None:
            self.demand[board_id] = stated
        else:
            known = list(phases.values())
            self.demand[board_id] = None if any(v is None for v in known) else max(known)

    # -- one earthing
    def _supply_source(self, earthing):
        """(earth return, fault level part)."""
        supply = self.job["supply"]
        ratio = num(supply["x_over_r"])
        ze, ra = num(supply["ze"]), num(supply["ra"])
        if earthing == "tt" and (ze is None or supply["earthing"] == "not-known"):
            earth = opt(lambda r: Source(r + num(self.profile["source_electrode"]), mpf(0)), ra)
        else:
            earth = opt(lambda z: Source(z, ratio), ze)
        level = num(supply["fault_level"])
        if supply["fault_level_from"] == "from-ze" and level is None:
            level = opt(lambda z: self.cmax * self.u0 / z, ze)
        fault = opt(lambda i: Source(self.cmax * self.u0 / i, ratio), level)
        return earth, fault, level

    def _judge(self, earthing):
        out = Judgement(earthing)
        supply = self.job["supply"]
        earth, fault, level = self._supply_source(earthing)
        out.facts["supply",] = {"ze": opt(lambda e: e.magnitude, earth), "ipf-max": level}
        out.findings["supply",] = {}
        paths = {}
        for board_id in self.order:
            board = self.boards[board_id]
            if board["fed_by"] is None:
                path = Path(three=supply["phases"] == 3, earth=earth, earthing=earthing,
                            ra=num(supply["ra"]) if earthing == "tt" else None)
            else:
                path = self._after[board["fed_by"]]
            if board["earthing"] == "own-electrode":
                ra = num(board["ra"])
                source = num(self.profile["source_electrode"])
                path = Path(**{**path.__dict__, "protective_hot": mpc(0), "earthing": "tt", "ra": ra,
                               "earth": opt(lambda r: Source(r + source, mpf(0)), ra)})
            paths[board_id] = path
            place = ("board", board_id)
            out.facts[place] = {
                "demand": self.demand[board_id],
                "drop": path.drop_full,
                "zs": self._zs(path),
                "ipf-max": self._ipf(path, fault, path.three),
            }
            out.findings[place] = self._board_findings(board, path)
            if not hasattr(self, "_after"):
                self._after = {}
            for c in self.by_board.get(board_id, []):
                self._circuit(c, path, fault, out)
        self._supply_findings(out, earthing)
        del self._after
        return out

    def _zs(self, path, extra=mpc(0)):
        if path.earth is None or path.protective_hot is None or extra is None or path.line_hot is None:
            return None
        return path.earth.largest(path.line_hot + path.protective_hot + extra)

    def _ipf(self, path, fault, three):
        if fault is None:
            return None
        z = path.line_cold if three else path.line_cold + path.neutral_cold
        return self.cmax * self.u0 / fault.smallest(z)

    # -- a circuit
    def _circuit(self, c, path, fault, out):
        place = ("circuit", c["id"])
        three = c["phase"] == "three"
        loaded = 3 if three else 2
        ring = c["shape"] == "ring"
        device, ib = c["device"], self.ib[c["id"]]
        rating = num(device["rating"])
        runs = [s for s in c["sections"] if s["part"] == "run"]
        spurs = [s for s in c["sections"] if s["part"] == "spur"]
        pf = num(c["load"]["power_factor"])
        pf = mpf(1) if pf is None else pf
        sin = sqrt(1 - pf * pf)
        points = c["load"]["points"]

        def capacity_of(s):
            guard = s["spur_fuse"] if s["part"] == "spur" and s["spur_fuse"] else device
            return capacity(s, loaded, guard)

        izs = [capacity_of(s) for s in c["sections"]]
        iz = None if any(v is None for v in izs) or not izs else min(izs)

        def pieces(s, theta):
            length = num(s["length"])
            csa = num(s["csa"])
            ncsa = num(s["neutral_csa"]) if s["neutral_csa"] is not None else csa
            return (conductor(s["material"], csa, length, theta),
                    conductor(s["material"], ncsa, length, theta))

        quarter = mpf(1) / 4 if ring else mpf(1)
        r1 = sum((pieces(s, operating(s))[0] for s in runs), mpc(0))
        parts = [protective(s, False) for s in runs]
        r2 = None if any(p is None for p in parts) else sum(parts, mpc(0))
        cold_line = sum((pieces(s, TWENTY)[0] for s in runs), mpc(0)) * quarter
        cold_neutral = sum((pieces(s, TWENTY)[1] for s in runs), mpc(0)) * quarter
        line, prot = r1 * quarter, opt(lambda z: z * quarter, r2)
        # the worst spur is the one with the greatest loop
        spur_loops = [(pieces(s, operating(s))[0], protective(s, False)) for s in spurs]
        end_line, end_prot = line, prot
        if spurs and prot is not None:
            if any(p is None for _, p in spur_loops):
                end_prot = None
            else:
                worst = max(spur_loops, key=lambda zp: abs(zp[0] + zp[1]))
                end_line, end_prot = line + worst[0], prot + worst[1]
        elif spurs:
            end_prot = None
        loop = opt(lambda z: end_line + z, end_prot)
        zs = self._zs(path, loop)
        r1r2 = opt(abs, loop)

        # -- volt drop in line-to-neutral volts
        def share_of(s, current, theta):
            line_z, neutral_z = pieces(s, theta)
            z = line_z if three else line_z + neutral_z
            return current * (z.real * pf + z.imag * sin)

        def drop(theta_of):
            if ib is None:
                return None
            unit = [share_of(s, mpf(1), theta_of(s, ib / 2 if ring else ib)) for s in runs]
            if any(u is None for u in unit):
                return None
            if ring:
                total = ring_factor(points) * sum(unit) * ib
            else:
                lengths = [num(s["length"]) for s in runs]
                total = sum(u * f for u, f in zip(unit, radial_factors(lengths, points))) * ib
            if spurs:
                extras = []
                for s in spurs:
                    fuse = s["spur_fuse"]
                    current = min(ib, num(fuse["rating"]) if fuse else mpf(20))
                    extras.append(share_of(s, current, theta_of(s, current)))
                if any(e is None for e in extras):
                    return None
                total += max(extras)
            return total

        def full(s, _):
            return operating(s)

        def loaded_theta(s, current):
            zone = capacity_of(s)
            if zone is None:
                return operating(s)
            ambient = num(s["ambient"])
            theta = ambient + (operating(s) - ambient) * (current / zone) ** 2
            return theta

        drop_full, drop_load = drop(full), drop(loaded_theta)
        here_full = opt(lambda a, b: a + b, path.drop_full, drop_full)
        here_load = opt(lambda a, b: a + b, path.drop_load, drop_load)
        basis = here_full if self.profile["drop_basis"] == "full" else here_load

        self._after[c["id"]] = Path(
            line_hot=path.line_hot + line, line_cold=path.line_cold + cold_line,
            protective_hot=opt(lambda a, b: a + b, path.protective_hot, prot),
            neutral_cold=path.neutral_cold + cold_neutral, drop_full=here_full, drop_load=here_load,
            three=three, earth=path.earth, earthing=path.earthing, ra=path.ra)

        ief = opt(lambda z: self.cmin * self.u0 / z, zs)
        time = disconnection_time(c, path.earthing, self.u0)
        limit_zs = None if time is None else max_zs(device, time, self.u0, self.cmin)
        ipf = self._ipf(path, fault, three)
        lighting = c["use"] == "lighting"
        drop_limit = num(self.profile["drop_lighting" if lighting else "drop_other"])
        rcd = c["rcd"] or self.boards[c["board"]]["rcd"]
        out.facts[place] = {
            "ib": ib, "in": rating, "iz": iz,
            "r1": abs(end_line), "r2": opt(abs, end_prot), "r1r2": r1r2, "zs": zs, "ief-min": ief,
            "ipf-max": ipf, "drop": basis, "drop-full": here_full, "drop-load": here_load,
            "drop-share": opt(lambda d: d / self.u0, basis), "max-zs": limit_zs, "time": time,
            "touch-voltage": None,
        }
        findings = {
            "design-current": (ib, rating, "at-most"),
            "volt-drop": (opt(lambda d: d / self.u0, basis), drop_limit, "at-most"),
            "breaking": (ipf, num(device["breaking"]), "at-most"),
        }
        if not ring and not spurs:
            findings["capacity"] = (rating, iz, "at-most")
            findings["overload"] = (conventional_factor(device) * rating,
                                    opt(lambda i: mpf("1.45") * i, iz), "at-most")
        if limit_zs is not None:
            findings["disconnection"] = (zs, limit_zs, "at-most")
        if path.earthing == "tt" and path.ra is not None and rcd is not None:
            touch = path.ra * num(rcd["sensitivity"])
            out.facts[place]["touch-voltage"] = touch
            findings["electrode"] = (touch, num(self.profile["touch_voltage"]), "at-most")
        out.findings[place] = findings

    # -- boards and supply
    def _board_findings(self, board, path):
        findings = {}
        if board["fed_by"] is not None:
            feeder = next(c for c in self.job["circuits"] if c["id"] == board["fed_by"])
            findings["demand"] = (self.demand[board["id"]], num(feeder["device"]["rating"]), "at-most")
        return findings

    def _supply_findings(self, out, earthing):
        supply = self.job["supply"]
        device = supply["device"]
        total = [self.demand[b["id"]] for b in self.job["boards"] if b["fed_by"] is None]
        demand = None if any(d is None for d in total) else sum(total, mpf(0))
        out.facts["supply",]["demand"] = demand
        findings = out.findings["supply",]
        if device is not None:
            findings["demand"] = (demand, num(device["rating"]), "at-most")
            findings["breaking"] = (out.facts["supply",]["ipf-max"], num(device["breaking"]), "at-most")
        if supply["extraneous"] and supply["bonding"] is not None:
            findings["bonding"] = (num(supply["bonding"]["csa"]),
                                   bonding_size(supply, earthing), "at-least")
        if supply["earthing_conductor"] is not None and earthing != "not-known":
            findings["earthing-conductor"] = (num(supply["earthing_conductor"]["csa"]),
                                              earthing_size(supply), "at-least")


def radial_factors(lengths, points):
    """Mean share of the load current carried by each section, n equal points evenly spaced to the far end."""
    total = sum(lengths, mpf(0))
    factors, start = [], mpf(0)
    for length in lengths:
        end = start + length
        # integral of (number of points at or beyond x)/n over the section
        area = mpf(0)
        for j in range(1, points + 1):
            x = total * j / points
            area += max(mpf(0), min(x, end) - start) / points
        factors.append(area / length)
        start = end
    return factors


def ring_factor(points):
    """Largest drop of a ring by nodal sum, in units of (end-to-end R)·Ib; one point: the middle, 1/4."""
    xs = [mpf(j) / (points + 1) for j in range(1, points + 1)]
    return max(sum(min(x, y) * (1 - max(x, y)) for y in xs) for x in xs) / points


def bonding_size(supply, earthing):
    """Smallest main bonding conductor, mm² copper."""
    if earthing == "tn-c-s":
        neutral = num(supply["neutral_csa"])
        if neutral is None:
            return None
        for upto, size in ((35, 10), (50, 16), (95, 25), (150, 35)):
            if neutral <= upto:
                return mpf(size)
        return mpf(50)
    need = earthing_by_table(supply)
    if need is None:
        return None
    half = need / 2
    return min(max(half, mpf(6)), mpf(25))


def earthing_by_table(supply):
    line = num(supply["tails_csa"])
    if line is None:
        return None
    if line <= 16:
        return line
    return mpf(16) if line <= 35 else line / 2


def earthing_size(supply):
    """Table 54.7 by the line conductor, with the floor of a buried conductor (copper)."""
    need = earthing_by_table(supply)
    if need is None:
        return None
    e = supply["earthing_conductor"]
    if e["buried"]:
        if not e["corrosion"]:
            floor = 25
        elif not e["mechanical"]:
            floor = 16
        else:
            floor = 2.5
        need = max(need, mpf(floor))
    return need
