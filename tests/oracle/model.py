"""Second computation of a whole job, from the origin of the supply to every furthest point.

mpmath at 30 digits; formulas and tables written from the reference figures, none from core.
`Model(job).judgements` holds one `Judgement` per earthing considered; each has `facts[place]` and
`findings[place]`, place being ("supply",), ("board", id) or ("circuit", id). What can't be
computed is None ("not known"), never zero.

What the model takes for granted. Agreed before either side was written:

* Smallest fault current: line and core protective conductor at the section's operating
  temperature (`operating_limit`, else 70 or 90 °C); separate protective conductor 30 °C; armour
  10 °C below the cable's conductors. Largest: everything at 20 °C.
* R and X are summed apart. Angle of Ze not known: the largest loop is |Ze| + |Zcable|, the
  smallest the lesser of Ze all resistive and all reactive.
* Volt drop of a section I·(R cosφ + X sinφ), line and neutral for single phase, line alone for
  balanced three phase; line-to-neutral volts are carried from the origin.
* Load at temperature θa + (θmax − θa)·(Ib/Iz)².

Taken over from the core's documentation once both stood (each is a choice, not a formula, and each
was a difference first):

* R(θ)/R20 is the greater of 1 + 0.004·(θ − 20) and the exact (β + θ)/(β + 20); the model had 0.004
  alone, which is 0.2 % low for aluminium at 90 °C.
* Reactance above 16 mm² 0.085 Ω/km in multicore cables, the printed figures for single cores; the
  model had 0.08 throughout. Armour above 16 mm²: 1.1 times its d.c. resistance and 0.4 Ω/km.
* Conduit and trunking 20 °C below the conductors; the model had 60 °C at 90 °C.
* Currents are carried as active and reactive parts by line, both with the same diversity, so that
  power factors may differ; Ib and demand are plain sums of amperes. A feed's own power factor
  counts only where its load, or the board's demand, is stated. (First the core used the feed's
  own power factor throughout and the random networks found it up to 9 % low.)
* The order of loads of one class is that of the part that is added up: of amperes, of the active and of the
  reactive parts. (First it was that of the amperes for all, and a load of a poor power factor that outgrew
  another took up to a third off the drop.)
* A three-phase feed whose lines differ: each line's own drop and the part of the neutral's drop
  that lies along it, if that adds to it. The neutral has the loads between one line and neutral, by
  diversity among themselves. (First it had the difference of the lines' demands, in which a load on
  three lines, first of its class on two and second on the third, took current out of the neutral.)
* Conductors of copper and aluminium above 16 mm² have their a.c. resistance when hot: skin and
  proximity by IEC 60287-1-1. The model had d.c. resistance.
* Largest currents: no reactance in the cables. The model had it, which promised less current.
* A separate protective conductor is no cooler than its surroundings.
* A ring with several points and unlike sections: nodal sum by length. (First the core spread the
  points in ohms, up to 8 % low.)
* Where a section's Iz isn't known, it counts at full temperature in the drop at load.
* The largest current at a device is the greatest of three-phase, line-neutral and line-earth.
* A fault level from Ze is taken only from a measured Ze with TN-C-S, twice it for three phases.
* r1r2 is shown at 20 °C, as a continuity test would read it. Iz is the least of the run.
* Ambient factors are the printed ones, straight between them; the smaller of the table of the
  insulation and, where a lower limit is set, of the 70 °C table.
* The first factor of k is the smaller of the computed and the printed one (steel 78.2 and 78).
* BS 3036 enters by I2 = 2·In, not by a factor on Iz.
* Of the RCDs further up only the most sensitive counts.
* A board fed by one line has all its circuits on that line.
"""

from dataclasses import dataclass, field

from mpmath import exp, log, mp, mpc, mpf, pi, sqrt

import figures as fig

mp.dps = 30

TWENTY = mpf(20)
ALPHA = {"copper": mpf("0.004"), "aluminium": mpf("0.004"), "steel": mpf("0.0045")}
REACTANCE = mpf("0.085")  # Ω/km per conductor of a multicore cable
REACTANCE_ABOVE = mpf(16)  # mm²
FREQUENCY = 50
PROXIMITY = mpf("0.756")  # (dc/s)² of conductors that touch but for their insulation
ARMOUR_AC = mpf("1.1")
ARMOUR_REACTANCE = mpf("0.4")


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


def temperature_factor(material, theta):
    beta = fig.ADIABATIC[material][0]
    return max(1 + ALPHA[material] * (theta - TWENTY), (beta + theta) / (beta + TWENTY))


def at_temperature(r20, material, theta):
    return None if r20 is None else r20 * temperature_factor(material, theta)


def reactance(csa, construction):
    """Ω/km of one conductor."""
    if csa <= REACTANCE_ABOVE:
        return mpf(0)
    return fig.REACTANCE_SINGLE.get(csa) if construction == "single-cores" else REACTANCE


def ac_factor(csa, r):
    """R a.c. over R d.c. of a conductor of r Ω/km, IEC 60287-1-1 skin and proximity effect."""
    if csa <= REACTANCE_ABOVE:
        return mpf(1)
    x4 = (8 * pi * FREQUENCY * mpf("1e-7") / (r / 1000)) ** 2
    skin = x4 / (192 + mpf("0.8") * x4)
    return 1 + skin + skin * PROXIMITY * (mpf("0.312") * PROXIMITY + mpf("1.18") / (skin + mpf("0.27")))


def conductor(section, material, csa, theta):
    """Complex impedance of one conductor of a section when hot, Ω."""
    r = at_temperature(resistance_20(material, csa), material, theta)
    x = reactance(csa, section["construction"])
    if r is None or x is None:
        return None
    return mpc(r * ac_factor(csa, r), x) * num(section["length"]) / 1000


def cold_conductor(section, material, csa):
    """The same for the largest current: d.c. at 20 °C, no reactance."""
    r = resistance_20(material, csa)
    return None if r is None else mpc(r, 0) * num(section["length"]) / 1000


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
    """Closed form; its first factor is printed rounded too (226, 148, 78, 41) and the smaller one counts."""
    beta, qc, rho = fig.ADIABATIC[material]
    whole = min(sqrt(qc * (beta + 20) / rho), mpf(fig.ADIABATIC_PRINTED[material]))
    return whole * sqrt(log((beta + end) / (beta + start)))


def armour_area(section):
    """mm²: two cores as read; more cores by resistance, ρ·1000 the least product of the two-core rows."""
    p = section["protective"]
    if p["resistance"] is not None:
        return num(p["csa"]) if p["kind"] == "armour" else None
    csa, cores = num(section["csa"]), section["cores"]
    if cores == 2:
        return fig.ARMOUR_AREA.get(csa, {}).get(2)
    least = min(fig.ARMOUR_AREA[a][2] * fig.ARMOUR_RESISTANCE[a][2] for a in fig.ARMOUR_AREA)
    r20 = armour_20(section)
    return None if r20 is None else least / r20


def parallel(a, b):
    return a * b / (a + b)


def armour_20(section):
    p = section["protective"]
    if p["resistance"] is not None:
        return num(p["resistance"])
    if section["insulation"] != "thermosetting-90":
        return None  # the thermoplastic cable has other wires, of which no figure was read
    row = fig.ARMOUR_RESISTANCE.get(num(section["csa"]))
    return row.get(section["cores"]) if row else None


def protective(section, cold):
    """Complex impedance of the section's protective conductor; None when there is none or not known."""
    paths = protective_paths(section, cold)
    if not paths or any(p is None for p in paths):
        return None
    return paths[0] if len(paths) == 1 else parallel(*paths)


def armour_temperature(section):
    return operating(section) - 10


def separate_temperature(section):
    return max(mpf(30), num(section["ambient"]))


def enclosure_temperature(section):
    return operating(section) - 20


def protective_paths(section, cold):
    """Impedance of each metal path, Ω; empty where there is none."""
    p = section["protective"]
    length = num(section["length"])

    def wire(material, csa, theta):
        return cold_conductor(section, material, csa) if cold else conductor(section, material, csa, theta)

    def core():
        if p["kind"] == "core":
            return wire(p["material"], num(p["csa"]), operating(section))
        # a core of the cable beside its armour: like the line conductor unless stated
        csa = num(section["csa"] if p["csa"] is None else p["csa"])
        return wire(section["material"], csa, operating(section))

    def armour():
        r20 = armour_20(section)
        if r20 is None:
            return None
        if cold:
            return mpc(r20, 0) * length / 1000
        r = at_temperature(r20, "steel", armour_temperature(section))
        if num(section["csa"]) > REACTANCE_ABOVE:
            return mpc(r * ARMOUR_AC, ARMOUR_REACTANCE) * length / 1000
        return mpc(r, 0) * length / 1000

    kind = p["kind"]
    if kind == "core":
        return [core()]
    if kind == "separate":
        return [wire(p["material"], num(p["csa"]), separate_temperature(section))]
    if kind == "armour":
        return [armour()]
    if kind == "armour-and-core":
        return [armour(), core()]
    if kind == "enclosure":
        if p["resistance"] is None:
            return [None]
        r20 = num(p["resistance"])
        r = r20 if cold else at_temperature(r20, "steel", enclosure_temperature(section))
        return [mpc(r, 0) * length / 1000]
    return []


# ---------------------------------------------------------------- capacity

def _capacity_table(section, loaded, hot):
    """Tabulated capacity before factors, by the table that fits the section."""
    csa = num(section["csa"])
    method, build = section["method"], section["construction"]
    letter = {"insulated-wall": "A", "conduit": "B", "clipped": "C", "air": "E",
              "surrounded": "C"}.get(method)

    def pick(table, column):
        row = table.get(csa)
        return row.get(column) if row else None

    if section["material"] == "aluminium":
        if build != "multicore":
            return None
        column = {"duct": "D1", "ground": "D2"}.get(method, letter)
        return pick(fig.ALUMINIUM[hot, loaded], column)
    if method in ("duct", "ground"):
        if build == "armoured":
            table = fig.ARMOURED_90 if hot else fig.ARMOURED_70
            return pick(table, f"D{loaded}")
        if build == "multicore":
            return pick(fig.GROUND["90" if hot else "70", loaded], "D1" if method == "duct" else "D2")
        return None
    if build == "flat-twin":
        if hot or loaded != 2 or csa not in fig.FLAT_TWIN:
            return None
        if method == "surrounded":  # half of it is the 103 column
            return opt(lambda i: 2 * i, pick(fig.FLAT_TWIN, "stud-apart"))
        if method == "conduit":
            return pick(fig.MULTI_70, "B2")
        if method == "air":
            return pick(fig.MULTI_70, "E2")
        return pick(fig.FLAT_TWIN, method)
    if letter is None:
        return None
    table = {"single-cores": (fig.SINGLE_70, fig.SINGLE_90), "multicore": (fig.MULTI_70, fig.MULTI_90),
             "armoured": (fig.ARMOURED_70, fig.ARMOURED_90)}[build][hot]
    return pick(table, f"{letter}{loaded}")


def ambient_factor(hot, theta, ground):
    """The printed factors, straight between them; nothing outside."""
    table = (fig.AMBIENT_GROUND if ground else fig.AMBIENT_AIR)[hot]
    points = sorted((mpf(k), mpf(v)) for k, v in table.items())
    if theta < 10 or theta > points[-1][0]:
        return None
    if theta <= points[0][0]:
        return points[0][1]
    for (x0, y0), (x1, y1) in zip(points, points[1:]):
        if theta <= x1:
            return y0 + (y1 - y0) * (theta - x0) / (x1 - x0)
    return None


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


def capacity(section, loaded):
    """Iz of a section, A, with its factors; None when a figure is missing."""
    factor = grouping_factor(section)
    if factor is None:
        return None
    buried = section["method"] in ("duct", "ground")
    if buried:
        soil, depth = num(section["soil"]), num(section["depth"])
        soil_row = fig.SOIL[section["method"]]
        deeper = [] if depth is None else [d for d in fig.DEPTH if d >= depth]
        if soil not in soil_row or not deeper:
            return None
        factor *= soil_row[soil] * fig.DEPTH[min(deeper)]
    if section["method"] == "surrounded":
        factor *= mpf("0.5")
    elif section["insulation_run"] is not None:
        run = num(section["insulation_run"])
        longer = [c for c in fig.INSULATION_RUN if c >= run]
        factor *= fig.INSULATION_RUN[min(longer)] if longer else mpf("0.5")
    theta = num(section["ambient"])

    def by_table(hot):
        it = _capacity_table(section, loaded, hot)
        own = mpf(90 if hot else 70)
        ca = ambient_factor(hot, theta, buried)
        if it is None or ca is None:
            return None
        if operating(section) < own:
            ca *= sqrt((operating(section) - theta) / (own - theta))
        return it * ca * factor

    hot = section["insulation"] == "thermosetting-90"
    iz = by_table(hot)
    if hot and operating(section) < 90 and iz is not None and operating(section) <= 70:
        other = by_table(False)
        if other is not None:
            iz = min(iz, other)
    return iz


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
    """I2 / In (all from memory): 1.45 for breakers and, as the rule takes it, for BS 88 and BS 1361."""
    family, rating = device["family"], device["rating"]
    if family == "gg":
        return mpf("2.1") if rating <= 4 else mpf("1.9") if rating < 16 else mpf("1.6")
    return {"bs1362": mpf("1.9"), "bs3036": mpf(2)}.get(family, mpf("1.45"))


def let_through(device, current):
    """Bound of a breaker's I²t from its instantaneous current up to its capacity, A²s; None elsewhere."""
    multiple, most = breaker_multiple(device), num(device["breaking"])
    if multiple is None or current < multiple * num(device["rating"]) or (most is not None and current > most):
        return None
    bounds = [current**2 * mpf("0.1")]
    if device["let_through"] is not None:
        bounds.append(num(device["let_through"]))
    elif device["energy_class"] == 3:
        limits = fig.ENERGY_CLASS_3.get((device["family"][-1], most))
        if limits is not None and device["rating"] <= 32:
            bounds.append(limits[0 if device["rating"] <= 16 else 1])
    return min(bounds)


RCD_BREAKING = 500  # A that any RCD can break (IEC 61008-1, from memory); above it only the breaker counts


def rcd_time(rcd, current):
    """Latest time of an RCD at a sinusoidal residual current, s (IEC 61008-1, from memory)."""
    times = current / num(rcd["sensitivity"])
    general, selective = [("5", "0.04", "0.15"), ("2", "0.15", "0.2"), ("1", "0.3", "0.5")], rcd["delay"] == "selective"
    for multiple, plain, delayed in general:
        if times >= mpf(multiple):
            return mpf(delayed if selective else plain)
    return None


def breaker_steps(device):
    """(from A, below A, latest s) below the instantaneous current (IEC 60898-1, from memory)."""
    rating = num(device["rating"])
    slow, quick = mpf("1.45") * rating, mpf("2.55") * rating
    return [(slow, quick, mpf(3600 if rating <= 63 else 7200)),
            (quick, breaker_multiple(device) * rating, mpf(60 if rating <= 32 else 120))]


def breaker_energy(device, rcds, low, high):
    """Greatest I²t of a breaker for a fault current between low and high, A²s; None: nothing bounds it.

    The breaker by its steps; an RCD by its time as far as it can break; and an RCD up to the instantaneous current with the
    breaker from there. The least of these holds.
    """
    instant, most = breaker_multiple(device) * num(device["rating"]), num(device["breaking"])
    at_high = let_through(device, high)  # none below the instantaneous current
    bounds = []
    if low >= breaker_steps(device)[0][0] and (most is None or high <= most):
        worst = at_high or mpf(0)
        for start, end, time in breaker_steps(device):
            if low < end and high >= start:
                worst = max(worst, min(high, end) ** 2 * time)
        bounds.append(worst)
    for r in rcds:
        time = rcd_time(r, low)
        if time is None:
            continue
        if high <= RCD_BREAKING:
            bounds.append(high**2 * time)
        if low < instant < high and instant <= RCD_BREAKING and at_high is not None:
            bounds.append(max(at_high, instant**2 * time))
    return min(bounds) if bounds else None


def better_rcd(rcds):
    """Of those further up only the most sensitive counts, the prompt one of two equals."""
    return tuple(sorted(rcds, key=lambda r: (r["sensitivity"], r["delay"] != "none"))[:1])


# RCDs to IEC 61008/61009 (from memory): multiple of IΔn that disconnects in the time required.
def rcd_multiple(rcd, time):
    if rcd["delay"] == "selective":
        return mpf(1) if time >= mpf("0.5") else mpf(2)
    return mpf(1) if time >= mpf("0.3") else mpf(2)


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
    three: bool
    line: int  # the line of a single-phase board
    earth: object  # Source of the earth return, None: not known
    earth_smallest: object  # the least it can be, for the largest current
    fault: object  # Source of the supply's line, for the largest currents
    earthing: str
    ra: object = None  # electrode in use, Ω, where the earth return goes through one
    line_hot: object = mpc(0)
    protective_hot: object = mpc(0)
    line_cold: object = mpc(0)
    neutral_cold: object = mpc(0)
    protective_cold: object = mpc(0)
    drop_full: tuple = (mpf(0),) * 3  # None: not known
    drop_load: tuple = (mpf(0),) * 3
    rcds: tuple = ()


@dataclass
class Judgement:
    """Facts by name, and findings (value, limit, sense[, outcome]) by check, of every place."""
    earthing: str
    facts: dict = field(default_factory=dict)
    findings: dict = field(default_factory=dict)


def opt(f, *values):
    """f of the values, None if any of them isn't known."""
    return None if any(v is None for v in values) else f(*values)


def add(a, b):
    return opt(lambda x, y: x + y, a, b)


@dataclass
class Flow:
    """Current of one line, A: the plain sum, its active and reactive parts, the phasor of what goes to neutral."""
    amps: object = mpf(0)
    active: object = mpf(0)
    reactive: object = mpf(0)
    single: object = mpc(0)

    def __add__(self, other):
        return Flow(self.amps + other.amps, self.active + other.active, self.reactive + other.reactive, self.single + other.single)

    def scaled(self, factor):
        return Flow(self.amps * factor, self.active * factor, self.reactive * factor, self.single * factor)

    def along(self, z):
        """Volts along the line's voltage: Re(Z·I)."""
        return self.active * z.real + self.reactive * z.imag


def flow(amps, pf, balanced=False):
    parts = amps, amps * pf, amps * sqrt(1 - pf * pf)
    return Flow(*parts) if balanced else loaded(*parts)


def loaded(amps, active, reactive):
    """A flow between one line and neutral."""
    return Flow(amps, active, reactive, mpc(active, -reactive))


def neutral_flow(lines, seen_from):
    """The neutral's current as seen from one line's voltage, lines 120° apart."""
    turn = exp(mpc(0, -2 * pi / 3))
    total = sum((f.single * turn ** (k - seen_from) for k, f in enumerate(lines)), mpc(0))
    return Flow(abs(total), total.real, -total.imag)


UNREAD = "a limit by a curve that was not read"


class Model:
    """The whole job, computed when made."""

    def __init__(self, job, stock=None):
        self.job = job
        self.profile = job["profile"] if isinstance(job["profile"], dict) else stock[job["profile"]]
        self.cmin, self.cmax = num(self.profile["cmin"]), num(self.profile["cmax"])
        supply = job["supply"]
        self.u0 = num(supply["u0"])
        self.boards = {b["id"]: b for b in job["boards"]}
        self.circuits = {c["id"]: c for c in job["circuits"]}
        self.fed = {}
        for b in job["boards"]:
            if b["fed_by"] is not None:
                self.fed.setdefault(b["fed_by"], []).append(b["id"])
        self.by_board = {}
        for c in job["circuits"]:
            self.by_board.setdefault(c["board"], []).append(c)
        self._order()
        self.currents, self.demand = {}, {}  # circuit, board -> A by line, or None
        for board_id in reversed(self.order):
            self._board_currents(board_id)
        stated = supply["earthing"]
        kinds = ["tn-c-s", "tt"] if stated == "not-known" else [stated]
        self.judgements = [self._judge(kind) for kind in kinds]

    # -- structure
    def _order(self):
        """Boards parents first, and the lines each is on."""
        self.order, waiting, self.lines = [], list(self.boards), {}
        while waiting:
            before = len(waiting)
            for b in list(waiting):
                feed = self.boards[b]["fed_by"]
                if feed is None:
                    self.lines[b] = (self.job["supply"]["phases"] == 3, 0)
                elif self.circuits[feed]["board"] in self.lines:
                    circuit = self.circuits[feed]
                    three = self.lines[circuit["board"]][0] and circuit["phase"] == "three"
                    self.lines[b] = (three, self._line(circuit))
                else:
                    continue
                waiting.remove(b)
                self.order.append(b)
            assert len(waiting) < before, "boards feed each other"

    def _line(self, circuit):
        three, line = self.lines[circuit["board"]]
        if not three:
            return line
        return {"l1": 0, "l2": 1, "l3": 2, "three": 0}[circuit["phase"]]

    # -- currents
    def _own_current(self, circuit):
        load = circuit["load"]
        if load["current"] is not None:
            return num(load["current"])
        if load["power"] is not None:
            legs = 3 if circuit["phase"] == "three" else 1
            return num(load["power"]) / (legs * self.u0 * num(load["power_factor"]))
        return None

    def _board_currents(self, board_id):
        for c in self.by_board.get(board_id, []):
            own = self._own_current(c)
            pf = num(c["load"]["power_factor"])
            three = c["phase"] == "three"
            if own is not None:
                lines = [flow(own, pf, balanced=True)] * 3 if three else self._one(c, flow(own, pf))
            elif c["id"] in self.fed:
                below = [self._arriving(b, pf) for b in self.fed[c["id"]]]
                lines = opt(lambda *d: [sum(x, Flow()) for x in zip(*d)], *below)
                if lines is not None and not three:
                    lines = self._one(c, max(lines, key=lambda f: f.amps))
            else:
                lines = None
            self.currents[c["id"]] = lines
        stated = num(self.boards[board_id]["demand"])
        if stated is None:
            self.demand[board_id] = self._diversified(board_id)
        else:
            three, line = self.lines[board_id]
            self.demand[board_id] = [Flow(stated) if three or k == line else Flow() for k in range(3)]

    def _arriving(self, board_id, pf):
        """What a board draws; of a stated demand only the amperes are known, so the feed's power factor counts."""
        if self.boards[board_id]["demand"] is None:
            return self.demand[board_id]
        three, _ = self.lines[board_id]
        return [flow(f.amps, pf, balanced=three) for f in self.demand[board_id]]

    def _one(self, circuit, current):
        line = self._line(circuit)
        return [current if k == line else Flow() for k in range(3)]

    def _diversified(self, board_id):
        """By line: each class by rank, each load by its allowance; feeds of other boards in full."""
        here = self.by_board.get(board_id, [])
        if any(self.currents[c["id"]] is None for c in here):
            return None
        singles = [c for c in here if c["phase"] != "three" or c["use"] == "distribution"]
        return [Flow(f.amps, f.active, f.reactive, alone.single)
                for f, alone in zip(self._totals(here), self._totals(singles))]

    def _totals(self, here):
        totals = []
        for k in range(3):
            total, classes = Flow(), {}
            for c in here:
                current = self.currents[c["id"]][k]
                if c["use"] == "distribution":
                    total += current
                elif current.amps > 0:
                    classes.setdefault(c["load"]["class"], []).append(current)
            for name, flows in classes.items():
                rule = {key: num(v) for key, v in self.profile["diversity"][name].items()}
                counted = []
                for f in flows:
                    first = min(f.amps, rule["first_amps"])
                    counted.append(f.scaled((rule["first"] * first + rule["rest"] * (f.amps - first) + rule["add"]) / f.amps))

                def ranked(part):
                    parts = sorted(map(part, counted), reverse=True)
                    return rule["largest"] * parts[0] + rule["second"] * sum(parts[1:2]) + rule["others"] * sum(parts[2:])
                total += loaded(*map(ranked, (lambda f: f.amps, lambda f: f.active, lambda f: f.reactive)))
            totals.append(total)
        return totals

    # -- one earthing
    def _origin(self, earthing):
        supply = self.job["supply"]
        ratio = num(supply["x_over_r"])
        ze, ra = num(supply["ze"]), num(supply["ra"])
        level = num(supply["fault_level"])
        if level is None and supply["fault_level_from"] == "from-ze" and earthing == "tn-c-s" \
                and supply["ze_from"] == "measured" and ze is not None:
            level = self.cmax * self.u0 / ze * (2 if supply["phases"] == 3 else 1)
        fault = opt(lambda i: Source(self.cmax * self.u0 / i, ratio), level)
        path = Path(three=supply["phases"] == 3, line=0, earth=opt(lambda z: Source(z, ratio), ze),
                    earth_smallest=fault, fault=fault, earthing=earthing)
        if earthing == "tt":
            self._electrode(path, ra, None if supply["earthing"] == "not-known" else ze)
        return path

    def _electrode(self, path, ra, measured):
        """The earth return goes through an electrode from here on."""
        path.earthing = "tt"
        path.protective_hot = path.protective_cold = mpc(0)
        if measured is not None:
            loop = measured if ra is None else max(measured, ra)
        else:
            loop = opt(lambda r: r + num(self.profile["source_electrode"]), ra)
        path.ra = ra if ra is not None else measured
        path.earth = opt(lambda z: Source(z, mpf(0)), loop)
        path.earth_smallest = opt(lambda z: Source(z, mpf(0)), path.ra)

    def _judge(self, earthing):
        out = Judgement(earthing)
        origin = self._origin(earthing)
        self._supply(out, origin)
        after = {}
        for board_id in self.order:
            board = self.boards[board_id]
            if board["fed_by"] is None:
                path = self._origin(earthing)
            else:
                path = Path(**after[board["fed_by"]].__dict__)
            path.three, path.line = self.lines[board_id]
            if board["earthing"] == "own-electrode":
                self._electrode(path, num(board["ra"]), None)
            ahead = path.rcds
            path.rcds = better_rcd(path.rcds + ((board["rcd"],) if board["rcd"] else ()))
            self._board(out, board, path, ahead)
            for c in self.by_board.get(board_id, []):
                after[c["id"]] = self._circuit(c, path, out)
        return out

    def _zs(self, path, extra=mpc(0)):
        if path.earth is None or path.protective_hot is None or extra is None:
            return None
        return path.earth.largest(path.line_hot + path.protective_hot + extra)

    def _earth_fault(self, path, beyond=mpc(0)):
        """Largest line-earth current, `beyond` further on."""
        if path.earth_smallest is None or path.protective_cold is None or beyond is None:
            return None
        return self.cmax * self.u0 / path.earth_smallest.smallest(
            path.line_cold + path.protective_cold + beyond)

    def _ipf(self, path):
        """Largest of the prospective currents at a board."""
        if path.fault is None:
            return None
        u = self.cmax * self.u0
        all_ = [u / path.fault.smallest(path.line_cold + path.neutral_cold)]
        if path.three:
            all_.append(u / path.fault.smallest(path.line_cold))
        earth = self._earth_fault(path)
        return max(all_ + ([] if earth is None else [earth]))

    def _deciding(self, full, load):
        """The drop that decides, of two sums."""
        if full is None or load is None:
            return full
        return load if self.profile["drop_basis"] == "load" else max(full, load)

    # -- a circuit
    def _circuit(self, c, path, out):
        place = ("circuit", c["id"])
        three = c["phase"] == "three"
        loaded = 3 if three else 2
        ring = c["shape"] == "ring"
        device, rating = c["device"], num(c["device"]["rating"])
        lines = self.currents[c["id"]]
        ib = None if lines is None else max(f.amps for f in lines)
        runs = [s for s in c["sections"] if s["part"] == "run"]
        spurs = [s for s in c["sections"] if s["part"] == "spur"]
        pf = num(c["load"]["power_factor"])
        iz = {id(s): capacity(s, loaded) for s in c["sections"]}

        def line_of(s, theta):
            return conductor(s, s["material"], num(s["csa"]), theta)

        def neutral_of(s, theta):
            return conductor(s, s["material"], num(s["neutral_csa"] or s["csa"]), theta)

        # -- loop
        quarter = mpf(1) / 4 if ring else mpf(1)

        def to_end(part):
            """The run, a quarter of it for a ring, and the spur with the greatest hot loop."""
            run = [part(s) for s in runs]
            if any(z is None for z in run) or any(part(s) is None for s in spurs):
                return None
            total = quarter * sum(run, mpc(0))
            if spurs:
                worst = max(spurs, key=lambda s: abs(
                    line_of(s, operating(s)) + (protective(s, False) or mpc(0))))
                total += part(worst)
            return total

        line_hot = to_end(lambda s: line_of(s, operating(s)))
        line_cold = to_end(lambda s: cold_conductor(s, s["material"], num(s["csa"])))
        neutral_cold = to_end(lambda s: cold_conductor(s, s["material"], num(s["neutral_csa"] or s["csa"])))
        protective_hot = to_end(lambda s: protective(s, False))
        protective_cold = to_end(lambda s: protective(s, True))
        zs = self._zs(path, add(line_hot, protective_hot))
        ief = opt(lambda z: self.cmin * self.u0 / z, zs)
        r1r2 = opt(lambda a, b: a.real + b.real, line_cold, protective_cold)

        # -- drop
        lengths = [num(s["length"]) for s in runs]
        points = c["load"]["points"]

        def shares_of(thetas):
            """Share of the current that each section of the run carries, in its mean."""
            if not ring:
                return radial_factors(lengths, points)
            ohms = [abs(line_of(s, t) + neutral_of(s, t)) for s, t in zip(runs, thetas)]
            return [ring_factor(lengths, ohms, points)] * len(runs)

        def theta_at(s, current, at_load):
            if not at_load or iz[id(s)] is None:
                return operating(s)
            theta_a = num(s["ambient"])
            return theta_a + (operating(s) - theta_a) * (current / iz[id(s)]) ** 2

        def drop(at_load):
            """By line along the run, and of the worst spur."""
            run = [mpf(0)] * 3
            thetas = [theta_at(s, ib / 2 if ring else ib, at_load) for s in runs]
            for s, share, theta in zip(runs, shares_of(thetas), thetas):
                z, z_n = line_of(s, theta), neutral_of(s, theta)
                for k in range(3):
                    if lines[k].amps > 0:
                        back = neutral_flow(lines, k).along(z_n) if three else lines[k].along(z_n)
                        run[k] += share * (lines[k].along(z) + max(back, mpf(0)))
            spur = mpf(0)
            for s in spurs:
                current = min(ib, num(s["spur_fuse"]["rating"]) if s["spur_fuse"] else mpf(20))
                theta = theta_at(s, current, at_load)
                spur = max(spur, flow(current, pf).along(line_of(s, theta) + neutral_of(s, theta)))
            return run, spur

        mine = range(3) if three else [self._line(c)]
        full = load = after_full = after_load = None
        if lines is not None and path.drop_full is not None:
            run, spur = drop(False)
            after_full = tuple(path.drop_full[k] + (run[k] if k in mine else 0) for k in range(3))
            full = max(after_full[k] for k in mine) + spur
            run, spur = drop(True)
            after_load = tuple(path.drop_load[k] + (run[k] if k in mine else 0) for k in range(3))
            load = max(after_load[k] for k in mine) + spur
        basis = self._deciding(full, load)

        # -- facts
        run_iz = [iz[id(s)] for s in runs]
        ipf = self._ipf(path)
        out.facts[place] = {
            "ib": ib, "in": rating, "iz": None if None in run_iz or not run_iz else min(run_iz),
            "r1r2": r1r2, "zs": zs, "ief-min": ief, "ipf-max": ipf, "drop": basis,
            "drop-full": full, "drop-load": load, "drop-share": opt(lambda d: d / self.u0, basis),
        }

        # -- findings
        rcds = path.rcds + ((c["rcd"],) if c["rcd"] else ())
        findings = {"design-current": (ib, rating, "at-most"),
                    "breaking": (ipf, breaking_capacity(device, self.boards[c["board"]]["conditional"]), "at-most")}
        if c["use"] != "distribution":
            lighting = "lighting" in (c["use"], c["load"]["class"])
            limit = num(self.profile["drop_lighting" if lighting else "drop_other"])
            findings["volt-drop"] = (opt(lambda d: d / self.u0, basis), limit, "at-most")
        needs = []
        for s in c["sections"]:
            need = rating
            if s["part"] == "spur" and s["spur_fuse"]:
                need = min(rating, num(s["spur_fuse"]["rating"]))
            elif s["part"] == "spur" and ring:
                need = min(rating, mpf(20))
            elif ring and rating in (30, 32):
                need = mpf(20)
            needs.append((need, iz[id(s)]))
        known = [(need, z) for need, z in needs if z is not None]
        missing = len(known) < len(needs)
        if known:
            need, z = min(known, key=lambda nz: nz[1] / nz[0])
            short = any(need > z for need, z in known)
            findings["capacity"] = (need, z, "at-most", "fail" if short else "cannot-say" if missing else "pass")
        else:
            findings["capacity"] = (needs[-1][0], None, "at-most", "cannot-say")
        if not ring:
            i2 = conventional_factor(device) * rating
            guarded = [iz[id(s)] for s in c["sections"] if not (s["part"] == "spur" and s["spur_fuse"])]
            least = min((z for z in guarded if z is not None), default=None)
            limit = opt(lambda z: mpf("1.45") * z, least)
            short = limit is not None and i2 > limit
            findings["overload"] = (i2, limit, "at-most", "fail" if short else "cannot-say" if None in guarded else "pass")
        self._disconnection(c, path, zs, rcds, findings)
        if path.earthing == "tt" and rcds:
            total = opt(lambda ra, a, b: ra + (a + b).real, path.ra, path.protective_hot, protective_hot)
            findings["electrode"] = (opt(lambda r: r * min(num(x["sensitivity"]) for x in rcds), total),
                                     num(self.profile["touch_voltage"]), "at-most")
        self._rcd(c, rcds, findings)
        passes = [outcome(findings[name]) == "pass" for name in ("capacity", "breaking")]
        self._thermal(c, path, iz, ief, passes, rcds, findings)
        out.findings[place] = findings
        return Path(three=path.three and three, line=self._line(c), earth=path.earth,
                    earth_smallest=path.earth_smallest, fault=path.fault, earthing=path.earthing, ra=path.ra,
                    line_hot=path.line_hot + line_hot, line_cold=path.line_cold + line_cold,
                    neutral_cold=path.neutral_cold + neutral_cold,
                    protective_hot=add(path.protective_hot, protective_hot),
                    protective_cold=add(path.protective_cold, protective_cold),
                    drop_full=after_full, drop_load=after_load, rcds=better_rcd(rcds))

    def _disconnection(self, c, path, zs, rcds, findings):
        """Device first; an RCD where the device is too slow; nothing said of a fuse whose curve wasn't read."""
        time = disconnection_time(c, path.earthing, self.u0)
        if time is None:
            return
        by_device = max_zs(c["device"], time, self.u0, self.cmin)
        by_rcd = [self.cmin * self.u0 / (rcd_multiple(r, time) * num(r["sensitivity"])) for r in rcds]
        if zs is None:
            # Not known: in TT the RCD is what it will take.
            if by_device is not None:
                most = max(by_rcd + [by_device]) if path.earthing == "tt" else by_device
                findings["disconnection"] = (None, most, "at-most", "cannot-say")
            return
        if by_device is not None and (zs <= by_device or by_device >= max(by_rcd, default=0)):
            findings["disconnection"] = (zs, by_device, "at-most")
        elif by_device is not None or path.earthing == "tt":
            if by_rcd:
                findings["disconnection"] = (zs, max(by_rcd), "at-most")

    def _rcd(self, c, rcds, findings):
        """Additional protection, 30 mA: sockets to 32 A, bath, concealed, dwelling lights, outdoors to 32 A."""
        small = c["device"]["rating"] <= 32
        asked = c["concealed"]
        if c["use"] != "distribution":
            asked = asked or c["bath"]
        if c["use"] == "sockets":
            asked = asked or small
        if c["use"] == "lighting":
            asked = asked or c["dwelling"]
        if c["use"] in ("lighting", "fixed"):
            asked = asked or (c["outdoors"] and small)
        if not asked:
            return
        prompt = [num(r["sensitivity"]) for r in rcds if r["delay"] == "none"]
        if prompt:
            findings["rcd"] = (min(prompt), mpf("0.03"), "at-most")
        else:
            findings["rcd"] = (None, mpf("0.03"), "at-most", "fail")

    def _thermal(self, c, path, iz, ief, outcomes, rcds, findings):
        """Adiabatic checks of circuits behind a breaker (fuses have curves that were not read)."""
        device = c["device"]
        if breaker_multiple(device) is None:
            return
        rating, ring = num(device["rating"]), c["shape"] == "ring"

        def start(s, full):
            """Temperature before the fault with the rated current in the cable."""
            if ring or iz[id(s)] is None:
                return full
            ratio, ambient = rating / iz[id(s)], num(s["ambient"])
            if ratio >= 1 or ambient >= full:
                return full
            return ambient + (full - ambient) * ratio**2

        rank = {"pass": 0, "cannot-say": 1, "fail": 2}

        def worst(rows):
            """The row that decides: worst outcome, then least room; (needed, there, outcome, room)."""
            return max(rows, key=lambda r: (rank[r[2]], -r[3]))

        # protective conductor: any earth fault from the far end (ief) to the section's beginning
        rows, before = [], mpc(0)
        far = opt(lambda i: breaker_energy(device, rcds, i, i), ief)
        whole = all(protective(s, False) is not None for s in c["sections"])
        for s in c["sections"] if whole else []:
            hanging = ring or s["part"] == "spur"
            high = self._earth_fault(path, mpc(0) if hanging else before)
            energy = opt(lambda i, h: breaker_energy(device, rcds, i, max(h, i)), ief, high)
            rows += self._strands(s, start, energy, far)
            if s["part"] == "run":
                before += line_and_protective_cold(s)
        if rows:
            needed, area, outcome, _ = worst(rows)
            findings["protective-thermal"] = (needed, area, "at-most", outcome)
        else:
            findings["protective-thermal"] = (None, None, "at-most", "cannot-say")

        # line conductor: any fault beyond the section's beginning, or the overload device covers it
        u = self.cmax * self.u0
        capacity_passes, breaking_passes = outcomes
        deemed = capacity_passes and breaking_passes and device["family"][-1] != "d"
        quick = breaker_multiple(device) * rating
        rows, before = [], mpc(0)
        for s in c["sections"]:
            begin = mpc(0) if ring or s["part"] == "spur" else before
            if path.fault is None:
                findings["line-thermal"] = (None, num(s["csa"]), "at-most", "cannot-say")
                return
            largest = [u / path.fault.smallest(path.line_cold + path.neutral_cold + begin)]
            if c["phase"] == "three":
                largest.append(u / path.fault.smallest(path.line_cold + begin))
            else:
                earth = self._earth_fault(path, begin)
                largest += [] if earth is None else [earth]
            high = max(largest)
            energy = breaker_energy(device, (), min(quick, high), high)
            area = num(s["csa"])
            k = k_factor(s["material"], start(s, operating(s)), final_temperature(s, area))
            needed = opt(lambda e: sqrt(e) / k, energy)
            room = mp.inf if needed is None else area / needed
            if needed is not None and needed <= area:
                rows.append((needed, area, "pass", room))
            elif deemed:
                rows.append((None, None, "pass", room))
            elif needed is not None and not capacity_passes:
                rows.append((needed, area, "fail", room))
            else:
                rows.append((needed, area, "cannot-say", room))
            if s["part"] == "run":
                before += cold_conductor(s, s["material"], area)
        needed, area, outcome, _ = worst(rows)
        findings["line-thermal"] = (needed, area, "at-most", outcome)

    def _strands(self, s, start, energy, energy_far):
        """(needed mm², there mm², outcome, room) of each metal path."""
        p, kind = s["protective"], s["protective"]["kind"]
        line = num(s["csa"])
        line_k = k_factor(s["material"], operating(s), final_temperature(s, line))
        paths = []
        if kind in ("core", "separate"):
            area = num(p["csa"])
            full = operating(s) if kind == "core" else separate_temperature(s)
            paths = [(p["material"], area, mpf(1), full, final_temperature(s, area), kind == "core")]
        elif kind in ("armour", "armour-and-core"):
            area = armour_area(s)
            shares = [mpf(1), mpf(1)]
            if kind == "armour-and-core":
                both = [protective_paths(s, cold) for cold in (False, True)]
                shares = [max(abs(pair[1 - n]) / abs(pair[0] + pair[1]) for pair in both) for n in (0, 1)]
            paths = [("steel", area, shares[0], armour_temperature(s), mpf(200), True)]
            if kind == "armour-and-core":
                csa = num(s["csa"] if p["csa"] is None else p["csa"])
                paths.append((s["material"], csa, shares[1], operating(s), final_temperature(s, csa), True))
        elif kind == "enclosure":
            paths = [("steel", num(p["csa"]), mpf(1), enclosure_temperature(s), final_temperature(s, line), True)]
        by_table = None
        for material, area, _, full, end, _ in paths:
            table = by_line(line) * line_k / k_factor(material, full, end)
            if area is not None and area >= table:
                by_table = table
        rows = []
        for material, area, share, full, end, in_cable in paths:
            if area is None:
                rows.append((None, None, "cannot-say", mp.inf))
                continue
            k = k_factor(material, start(s, full) if in_cable else full, end)
            needed = opt(lambda e: share * sqrt(e) / k, energy)
            far = opt(lambda e: share * sqrt(e) / k, energy_far)
            if needed is not None and needed <= area:
                row = (needed, "pass")
            elif by_table is not None:
                row = (by_table, "pass")
            elif far is not None and far > area:
                row = (far, "fail")
            else:
                row = (needed, "cannot-say")
            rows.append((row[0], area, row[1], mp.inf if row[0] is None else area / row[0]))
        return rows

    # -- boards and supply
    def _board_fault(self, board, path, ahead):
        """An earth fault at a board that stands on an electrode, in front of the RCDs in it; `ahead` are those
        before the board. A fuse's curve wasn't read: below its rating it disconnects nothing, above that nothing is
        said."""
        feed = self.circuits.get(board["fed_by"])
        device = self.job["supply"]["device"] if feed is None else feed["device"]
        by_device = opt(lambda d: max_zs(d, 1, self.u0, self.cmin), device)  # 1 s: TT, distribution
        zs, made = self._zs(path), board["enclosure"]
        if device is not None and by_device is None:
            if zs is None or self.cmin * self.u0 / zs >= num(device["rating"]):
                return None
            by_device = UNREAD
        device_passes = by_device not in (None, UNREAD) and zs is not None and zs <= by_device

        def cleared(rcds):
            if zs is None:
                by_rcd = [self.cmin * self.u0 / (rcd_multiple(r, 1) * num(r["sensitivity"])) for r in rcds]
                return (None, by_device or max(by_rcd, default=None), "at-most", "cannot-say")
            if device_passes:
                return (zs, by_device, "at-most")
            for r in rcds:
                i = num(r["sensitivity"])
                touch = (path.ra * i, num(self.profile["touch_voltage"]), "at-most")
                time = (zs, self.cmin * self.u0 / (rcd_multiple(r, 1) * i), "at-most")
                # the one that is broken, else the one nearer to it
                worst = max((time, touch), key=lambda f: (outcome(f) == "fail", f[0] / f[1]))
                if outcome(worst) == "fail" and by_device is None:
                    worst += ("cannot-say",)
                return worst
            return (zs, by_device, "at-most", "cannot-say" if by_device is None else "fail")

        first = cleared(ahead)
        if outcome(first) == "pass" or made == "metal":
            return first
        if made is None:
            return first[:3] + ("cannot-say",)
        return cleared(path.rcds) if board["rcd"] else (None, None, "at-most", "pass")

    def _board(self, out, board, path, ahead):
        place = ("board", board["id"])
        demand = self.demand[board["id"]]
        drops = None if path.drop_full is None else [
            self._deciding(f, load) for f, load in zip(path.drop_full, path.drop_load)]
        demand = opt(lambda d: max(f.amps for f in d), demand)
        out.facts[place] = {"demand": demand, "zs": self._zs(path), "ipf-max": self._ipf(path),
                            "drop": opt(max, drops)}
        findings = out.findings[place] = {}
        if path.earthing == "tt" and (board["fed_by"] is None or board["earthing"] == "own-electrode"):
            fault = self._board_fault(board, path, ahead)
            if fault is not None:
                findings["board-fault"] = fault
        if board["fed_by"] is None:
            return
        feed = self.circuits[board["fed_by"]]
        findings["demand"] = (demand, num(feed["device"]["rating"]), "at-most")
        last = num(feed["sections"][-1]["csa"])
        own = board["earthing"] == "own-electrode"
        if own:
            findings["earthing-conductor"] = earthing_finding(board["earthing_conductor"], last, None)
        if board["extraneous"]:
            needed = bonding_size(path.earthing, num(self.job["supply"]["neutral_csa"]), last)
            findings["bonding"] = (opt(lambda b: num(b["csa"]), board["bonding"]), needed, "at-least")
            if path.earthing == "tn-c-s" and not own:
                worst = [opt(lambda z: z.real / num(s["length"]) * 1000, protective(s, True)) for s in feed["sections"]]
                findings["feed-bonding"] = (None if needed is None or None in worst else max(worst),
                                            opt(lambda n: resistance_20("copper", n), needed), "at-most")

    def _supply(self, out, origin):
        supply = self.job["supply"]
        device = supply["device"]
        roots = [self.demand[b] for b in self.order if self.boards[b]["fed_by"] is None]
        total = opt(lambda *d: max(sum((f.amps for f in x), mpf(0)) for x in zip(*d)), *roots)
        ipf = self._ipf(origin)
        out.facts["supply",] = {"demand": total, "zs": opt(lambda e: e.magnitude, origin.earth),
                                "ipf-max": ipf}
        findings = out.findings["supply",] = {
            "demand": (total, opt(lambda d: num(d["rating"]), device), "at-most")}
        if device is not None:
            findings["breaking"] = (ipf, breaking_capacity(device), "at-most")
        tails = num(supply["tails_csa"])
        bonding = bonding_size(origin.earthing, num(supply["neutral_csa"]), tails)
        floor = bonding if origin.earthing == "tn-c-s" and supply["extraneous"] else None
        findings["earthing-conductor"] = earthing_finding(supply["earthing_conductor"], tails, floor)
        if supply["extraneous"]:
            findings["bonding"] = (opt(lambda b: num(b["csa"]), supply["bonding"]), bonding, "at-least")


def outcome(finding):
    """How a finding comes out: as stated, else by value and limit."""
    value, limit, sense = finding[:3]
    if len(finding) > 3:
        return finding[3]
    if value is None or limit is None:
        return "cannot-say"
    hair = limit * mpf("1e-20")  # equal is equal, whatever the last digit of thirty
    good = value <= limit + hair if sense == "at-most" else value >= limit - hair
    return "pass" if good else "fail"


def line_and_protective_cold(s):
    return cold_conductor(s, s["material"], num(s["csa"])) + protective(s, True)


def breaking_capacity(device, conditional=None):
    """The greater of what is marked, or the standard fixes (from memory), and the assembly's conditional rating, A."""
    own = num(device["breaking"])
    if own is None:
        own = STANDARD_BREAKING.get(device["family"])
    both = [v for v in (own, num(conditional)) if v is not None]
    return max(both) if both else None


STANDARD_BREAKING = {"bs88-2": mpf(50000), "bs88-3": mpf(16000), "bs1361": mpf(16500), "bs1362": mpf(6000)}


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


def ring_factor(lengths, ohms, points):
    """Largest drop of a ring over (end-to-end Z)·Ib, n equal points evenly spaced along its length.

    A current at x lifts point y by x·(1 − y) for x up to y, both in shares of the whole Z: nodal sum,
    both ends being at one voltage. One point: the electrical middle, wherever it lies: 1/4.
    """
    if points == 1:
        return mpf(1) / 4
    whole, total = sum(lengths, mpf(0)), sum(ohms, mpf(0))
    xs = []
    for j in range(1, points + 1):
        left, passed = whole * j / (points + 1), mpf(0)
        for length, z in zip(lengths, ohms):
            part = min(left, length)
            passed += z * part / length
            left -= part
        xs.append(passed / total)
    return max(sum(min(x, y) * (1 - max(x, y)) for y in xs) for x in xs) / points


def bonding_size(earthing, neutral, line):
    """Smallest main bonding conductor, mm² copper: Table 54.8 for TN-C-S, else half the earthing conductor."""
    if earthing == "tn-c-s":
        if neutral is None:
            return None
        for upto, size in ((35, 10), (50, 16), (95, 25), (150, 35)):
            if neutral <= upto:
                return mpf(size)
        return mpf(50)
    return opt(lambda size: min(max(size / 2, mpf(6)), mpf(25)), by_line(line))


def by_line(line):
    """Table 54.7 for copper by copper."""
    if line is None:
        return None
    return line if line <= 16 else mpf(16) if line <= 35 else line / 2


def earthing_finding(given, line, floor):
    """Copper earthing conductor: by the line conductor, by the ground (Table 54.1), by what bonding asks."""
    if given is None:
        return (None, None, "at-least", "cannot-say")
    assert given["material"] == "copper"
    if given["buried"]:
        least = 25 if not given["corrosion"] else 16 if not given["mechanical"] else 2.5
    else:
        least = 2.5 if given["mechanical"] else 4
    if line is None:
        return (num(given["csa"]), mpf(least), "at-least", "cannot-say")
    return (num(given["csa"]), max(by_line(line), mpf(least), floor or mpf(0)), "at-least")
