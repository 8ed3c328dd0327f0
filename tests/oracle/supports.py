"""What stands behind the rows from memory, computed where it can be: each support that is a formula, a bound or
another row is worked out here from the inputs, by no table and no code of the core.

A support of a form that is not known here is counted as stated only. Rows without any say 'none'.
"""

import json
import math
import re
from itertools import combinations
from pathlib import Path

VECTORS = Path(__file__).resolve().parents[2] / "vectors"
N = {"b": 5, "c": 10, "d": 20}
LIMIT = {"thermoplastic-70": 70, "thermosetting-90": 90, "thermoplastic-90": 90}
# β in °C, Qc in J/(K·mm³), ρ20 in Ω·mm: IEC 60364-5-54 Annex A, from memory.
METAL = {"copper": (234.5, 3.45e-3, 17.241e-6), "aluminium": (228, 2.5e-3, 28.264e-6), "steel": (202, 3.8e-3, 138e-6)}


class Rows:
    """All rows, found again by question and inputs."""

    def __init__(self):
        self.all = [(file.stem, row) for file in sorted(VECTORS.glob("*.json")) for row in json.loads(file.read_text())["rows"]]
        self.by = {}
        for topic, row in self.all:
            # Those stand beside limits, for which one of a pair has no figure; they support nothing.
            if topic == "boundaries":
                continue
            self.by.setdefault(row["ask"], []).append(row)

    def find(self, ask, **inputs):
        return [r for r in self.by.get(ask, []) if all(r["inputs"].get(k) == v for k, v in inputs.items())]

    def values(self, ask, **inputs):
        return [r["expect"] for r in self.find(ask, **inputs) if isinstance(r["expect"], (int, float))]


def near(a, b, abs_=0.0, rel=0.0):
    return abs(a - b) <= abs_ + rel * abs(b) + 1e-9


def step(text):
    """Half of the last step a printed number has."""
    text = text.replace(",", "")
    return 0.5 * 10 ** -(len(text.split(".")[1]) if "." in text else 0)


def of(row):
    return row["inputs"], row["expect"]


# ---------------------------------------------------------------- devices

def breaker(row, rows, found):
    i, z = of(row)
    n = N[i["family"][-1]]
    return near(z, i["u0"] * i["cmin"] / (n * i["rating"]), 0.00501)


def breaker_current(row, rows, found):
    """I = n·In; every Zs of that family times it is U0·cmin."""
    i, amps = of(row)
    same = [r for r in rows.find("max-zs", family=i["family"].replace("rcbo", "breaker")) if r["inputs"]["time"] == 0.4]
    n = amps / i["rating"]
    return len(same) > 0 and all(near(r["expect"], r["inputs"]["u0"] * r["inputs"]["cmin"] / (n * r["inputs"]["rating"]), 0.0051) for r in same)


def editions(row, rows, found):
    """The same device with and without cmin: 0.95 apart, each rounded as it is printed."""
    i, z = of(row)
    other = [r for r in rows.find("max-zs", family=i["family"], rating=i["rating"], time=i["time"], u0=i["u0"]) if r["inputs"]["cmin"] != i["cmin"]]
    pairs = [(r["expect"], z) if i["cmin"] == 0.95 else (z, r["expect"]) for r in other]
    # The later one may be less than 0.95 of the earlier where a standard changed: then it is the safe one.
    less = "safely less" in row["support"]
    if not pairs:
        return None  # The other edition has no row.
    return any(near(late, 0.95 * early, step(str(late)) + 0.95 * step(str(early))) or (less and late < 0.95 * early) for early, late in pairs)


def energy_falls(row, rows, found):
    """I²t never rises towards shorter times along the remembered points of one device."""
    i, _ = of(row)
    points = {}
    for r in rows.find("max-zs", family=i["family"], rating=i["rating"]):
        points.setdefault(r["inputs"]["time"], []).append(r["inputs"]["u0"] * r["inputs"]["cmin"] / r["expect"])
    for r in rows.find("disconnecting-current", family=i["family"], rating=i["rating"]):
        if isinstance(r["expect"], (int, float)):
            points.setdefault(r["inputs"]["time"], []).append(r["expect"])
    line = sorted((t, min(c), max(c)) for t, c in points.items())
    # Rounding of a printed Zs moves its current by a share of it.
    return len(line) > 1 and all(a[1] ** 2 * a[0] <= b[2] ** 2 * b[0] * 1.02 for a, b in zip(line, line[1:]))


def gates(row, rows, found):
    """The disconnecting current lies within what IEC 60269 allows at 5 s and at 0.1 s."""
    i, z = of(row)
    current = i["u0"] * i["cmin"] / z
    time = 5 if i["time"] >= 5 else 0.1
    gate = [v for family in ("gg", "bs88-2", "bs88-3") for v in rows.values("disconnecting-current", family=family, rating=i["rating"], time=time)]
    return len(gate) > 0 and current <= max(gate) * 1.01


# ---------------------------------------------------------------- conductors, cables

def k(row, rows, found):
    i, value = of(row)
    beta, qc, rho = METAL[i["material"]]
    closed = math.sqrt(qc * (beta + 20) / rho * math.log((beta + i["final"]) / (beta + i["initial"])))
    return near(value, closed, 0.5, 0.006)


def ambient(reference):
    def law(row, rows, found):
        i, value = of(row)
        top = LIMIT[i["insulation"]]
        return near(value, math.sqrt(max(top - i["temperature"], 0) / (top - reference)), 0.00501)
    return law


def ambient_above(row, rows, found):
    i, value = of(row)
    top = LIMIT[i["insulation"]]
    exact = math.sqrt((top - i["temperature"]) / (top - 30))
    return value < exact and near(exact, float(found[1]), 0.005)


def warming(row, rows, found):
    i, value = of(row)
    return near(value, 1 + 0.004 * (i["temperature"] - 20), 0.00501)


def hot(row, rows, found):
    i, value = of(row)
    cold = rows.values("resistance-20", material=i["material"], csa=i["csa"])
    return len(cold) > 0 and near(value, 1.2 * cold[0], row["tolerance"].get("abs", 0), row["tolerance"].get("rel", 0))


def drop(row, rows, found):
    """Print against the resistance of IEC 60228 at the conductor's full temperature, by the share that is said."""
    i, value = of(row)
    share, side, factor, at = float(found[1]), found[2], 2 if found[3] == "2" else math.sqrt(3), float(found[4])
    cold = rows.values("resistance-20", material=i["material"], csa=i["csa"])
    if not cold:
        return False
    off = value / (factor * cold[0] * (1 + 0.004 * (at - 20))) - 1
    return near(abs(off) * 100, share, 0.06) and (share == 0 or (off > 0) == (side == "above"))


def impedance(row, rows, found):
    """√(r² + x²) of the remembered r and x."""
    i, _ = of(row)
    part = {p: [r["expect"] for r in rows.find("mv-per-a-m", **{**i, "part": p}) if r["standing"] == row["standing"]] for p in "rx"}
    return all(part.values()) and any(near(math.hypot(r, x), float(found[1]), step(found[1])) for r in part["r"] for x in part["x"])


def fitted(row, rows, found):
    """Remembered table against remembered A·S^m: both would have to be wrong alike. A and m of its rows on either
    side, or of the last two beyond them."""
    i, value = of(row)
    keys = {key: i[key] for key in ("material", "insulation", "construction", "method", "loaded")}
    # The annex has 47.5 mm² for the nominal 50.
    size = lambda csa: math.log(47.5 if csa == 50 else csa)
    points = sorted((size(r["inputs"]["csa"]), math.log(r["expect"])) for r in rows.find("fitted-capacity", **keys))
    at = size(i["csa"])
    pairs = list(zip(points, points[1:]))
    if not pairs:
        # Aluminium has no rows of its fit; core's own test holds its tables against it.
        return None
    (x0, y0), (x1, y1) = next((pair for pair in pairs if at <= pair[1][0]), pairs[-1])
    fit = math.exp(y0 + (y1 - y0) * (at - x0) / (x1 - x0))
    return near(value, fit, 0.51, float(found[1]) / 100)


def fit_of_table(row, rows, found):
    i, value = of(row)
    table = rows.values("tabulated-capacity", **i)
    return len(table) > 0 and any(near(t, value, 0.51, float(found[1]) / 100) for t in table)


def half_of_c(row, rows, found):
    i, value = of(row)
    c = rows.values("tabulated-capacity", **{**i, "method": "c"}) or rows.values("tabulated-capacity", **{**i, "method": "clipped"})
    return len(c) > 0 and near(value, c[0] / 2, 0.51)


def of_multicore(row, rows, found):
    """Armoured or flat, by its ratio to the multicore column of the same method."""
    i, value = of(row)
    plain = rows.values("tabulated-capacity", **{**i, "construction": "multicore"})
    return len(plain) > 0 and float(found[1]) - 0.005 <= value / plain[0] <= float(found[2]) + 0.005


def same_column(row, rows, found):
    """The same cable in a duct, by the other standard."""
    i, value = of(row)
    same = rows.values("tabulated-capacity", **{**i, "construction": "multicore", "method": "duct"})
    return value in same


def beside_multicore(row, rows, found):
    i, value = of(row)
    plain = rows.values("tabulated-capacity", **{**i, "construction": "multicore"})
    return len(plain) > 0 and near(value, plain[0], float(found[1]))


def half_to_whole(row, rows, found):
    """Insulation about a cable takes from it, and wholly about it half."""
    i, value = of(row)
    c = rows.values("tabulated-capacity", **{**i, "construction": "multicore", "method": "clipped"})
    return len(c) > 0 and c[0] / 2 <= value <= c[0]


def soil(row, rows, found):
    """Heat goes through cable, duct and soil; were it soil alone, the current would go by the root of its resistivity."""
    i, value = of(row)
    alone = math.sqrt(2.5 / i["soil"])
    if found[1] == "at most":
        return value <= alone + 0.005
    return min(1, alone) - 0.005 <= value <= max(1, alone) + 0.005


def of_copper(row, rows, found):
    """Aluminium against copper of the same size: as much heat at the root of the ratio of resistances."""
    i, value = of(row)
    copper = rows.values("tabulated-capacity", **{**i, "material": "copper"})
    cold = [rows.values("resistance-20", material=m, csa=i["csa"]) for m in ("copper", "aluminium")]
    if not copper or not all(cold):
        return None  # Copper of that size has no row.
    share = value / (copper[0] * math.sqrt(cold[0][0] / cold[1][0]))
    return 0.9 < share <= float(found[1]) + 0.005


def ratio_at(row, rows, found):
    """The ratio to the multicore column is that at a size which was read."""
    i, value = of(row)
    size = int(found[1])
    all_of = [rows.values("tabulated-capacity", **{**i, "construction": c, "csa": s}) for s in (i["csa"], size) for c in ("armoured", "multicore")]
    if not all(all_of):
        return False
    (armoured, plain, armoured_read, plain_read) = (v[0] for v in all_of)
    read = [r for r in rows.find("tabulated-capacity", **{**i, "csa": size}) if r["standing"] == "published"]
    return len(read) > 0 and near(armoured / plain, armoured_read / plain_read, 0, float(found[2]) / 100)


def times_type_b(row, rows, found):
    i, value = of(row)
    b = rows.values("device-let-through", **{**i, "family": "breaker-b"})
    # Rounded to one or two figures.
    return len(b) > 0 and near(value, float(found[1]) * b[0], 0, 0.05)


def coefficient(row, rows, found):
    """At 1 mm² the fit is its A: that of the two nearest sizes, carried down."""
    i, value = of(row)
    keys = {key: i[key] for key in ("material", "insulation", "construction", "method", "loaded")}
    points = sorted((math.log(r["inputs"]["csa"]), math.log(r["expect"])) for r in rows.find("fitted-capacity", **keys))
    if len(points) < 2 or i["csa"] != 1:
        return None
    (x0, y0), (x1, y1) = points[:2]
    return near(value, math.exp(y0 - x0 * (y1 - y0) / (x1 - x0)), 0.51, float(found[1]) / 100)


def armour(row, rows, found):
    i, value = of(row)
    area = float(found[3]) if found[3] else None
    areas = [area] if area else rows.values("armour-area", **i)
    return len(areas) > 0 and any(float(found[1]) - 0.5 <= value * a <= float(found[2]) + 0.5 for a in areas)


def below_read(row, rows, found):
    return row["expect"] < float(found[1])


# ---------------------------------------------------------------- electrodes, readings

def over_delta(row, rows, found):
    i, value = of(row)
    return near(value, 50 / i["sensitivity"], 0.5, 0.001)


def mean_distance(row, rows, found):
    """λ against the mean of 1/distance over all pairs of rods, rods a unit apart."""
    i, value = of(row)
    n = i["count"]
    if i["layout"] == "line":
        places = [(x, 0) for x in range(n)]
    else:
        side = n - 1
        places = sorted({(x, y) for x in range(n) for y in range(n) if x in (0, side) or y in (0, side)})
    total = 2 * sum(1 / math.dist(a, b) for a, b in combinations(places, 2)) / len(places)
    return near(total, float(found[1]), step(found[1]) + 1e-4) and near(value, total, 0, 0.25)


def logarithm(row, rows, found):
    i, value = of(row)
    exact = i["resistivity"] / (2 * math.pi * i["length"]) * (math.log(8 * i["length"] / i["diameter"]) - 1)
    return near(exact, float(found[1]), step(found[1])) and near(value, exact, 0, row["tolerance"]["rel"])


def half_ball(row, rows, found):
    """ρ/(2πr) of the half ball that has the volume."""
    i, value = of(row)
    radius = (3 * i["length"] * i["width"] * i["depth"] / (2 * math.pi)) ** (1 / 3)
    return near(i["resistivity"] / (2 * math.pi * radius), value, 0, row["tolerance"]["rel"])


def disc(row, rows, found):
    """ρ/8a of a disc of the same area, within 15 %."""
    i, value = of(row)
    exact = i["resistivity"] / (8 * math.sqrt(i["width"] * i["height"] / math.pi))
    return near(exact, float(found[1]), step(found[1])) and near(value, exact, 0, 0.15)


def sum_of_it(row, rows, found):
    """A product over a number."""
    value = math.prod(float(f) for f in found[1].split("·")) / float(found[2])
    return near(row["expect"], value, 0, 1e-5)


def ends(i, limit=None):
    """Of the true value: half a step of the display, a share of the reading (or of the limit where that is more), and the digits."""
    if limit is not None:
        far = i["resolution"] / 2 + i["share"] * max(limit, i["shown"]) + i["digits"] * i["resolution"]
        return i["shown"] - far, i["shown"] + far
    low = (i["shown"] - i["resolution"] / 2) * (1 - i["share"]) - i["digits"] * i["resolution"]
    high = (i["shown"] + i["resolution"] / 2) * (1 + i["share"]) + i["digits"] * i["resolution"]
    return low, high


def band(row, rows, found):
    """The ends of the true value and the limit are those said, and the verdict follows from them."""
    i, value = of(row)
    if "shown" not in i:
        return False
    said = [float(found[1]), float(found[2]), float(found[3])]
    # IEC 61557-6 refers the uncertainty of a time to its limit.
    low, high = ends(i, said[2] if row["ask"] == "rcd-time" else None)
    if not (near(low, said[0], 2 * step(found[1])) and near(high, said[1], 2 * step(found[2]))):
        return False
    verdict = "pass" if high <= said[2] else "fail" if low > said[2] else "doubtful"
    return value == verdict or value not in ("pass", "fail", "doubtful")


FORMS = [
    (r"^\d+(?:·0\.95)?/\((?:5|10|20|n)·In\) to two places$", breaker),
    (r"^Zs tables are U0·cmin/\(n·In\)$", breaker_current),
    (r"0\.95 times (?:it is )?the (?:remembered|printed)|two editions, 0\.95 apart|remembered figure with cmin", editions),
    (r"^I²t falls along the curve$", energy_falls),
    (r"^inside the gates? of IEC 60269", gates),
    (r"^closed form of IEC 60364-5-54 Annex A$", k),
    (r"^√\(\(θmax − θa\)/\(θmax − 30\)\)", ambient(30)),
    (r"^√\(\(θmax − θg\)/\(θmax − 20\)\)", ambient(20)),
    (r"^below the (1\.04) of the law$", ambient_above),
    (r"^1 \+ 0\.004·\(θ − 20\)$", warming),
    (r"^1\.2·R20 of IEC 60228$", hot),
    (r"^print lies ([\d.]+) % (above|below) (2|√3) times the resistance of IEC 60228 at (70|90) °C$", drop),
    (r"^√\(r² \+ x²\) of print is ([\d.]+)", impedance),
    (r"^fitted form of IEC 60364-5-52, within ([\d.]+) %", fitted),
    (r"^reproduces the tables within ([\d.]+) %$", fit_of_table),
    (r"^half of method C$", half_of_c),
    (r"^([\d.]+) to ([\d.]+) of the multicore column(?:;| A$)", of_multicore),
    (r"^equals IEC column D1;", same_column),
    (r"^within (\d) A of the multicore column C$", beside_multicore),
    (r"^(149) to (1\d\d) Ω·mm²/km over (?:the remembered area of (\d+) mm²|the area)", armour),
    (r"^below the ([\d.]+) of the 16th edition, which was read$", below_read),
    (r"^between half of method C and method C, of multicore$", half_to_whole),
    (r"^(at most|between 1 and) √\(2\.5/ρ\)", soil),
    (r"^50/IΔn$", over_delta),
    (r"^at most ([\d.]+) of copper times the root", of_copper),
    (r"^ratio to the multicore column as at (\d+) mm², which was read, within (\d+) %$", ratio_at),
    (r"; ([\d.]+) times type B within rounding$", times_type_b),
    (r"^A of the fitted form of IEC 60364-5-52, within (\d+) %$", coefficient),
    (r"^the logarithmic formula, which was read, gives ([\d.]+) Ω$", logarithm),
    (r"^half a ball of the same volume", half_ball),
    (r"^a disc of that area deep down, ρ/8a, has ([\d.]+) Ω$", disc),
    (r"^([\d.]+(?:·[\d.]+)?)/([\d.]+)$", sum_of_it),
    (r"^mean of 1/distance over all pairs of rods: ([\d.]+)$", mean_distance),
    (r"^([\d.]+) to ([\d.]+) against ([\d.]+) ?(?:Ω|s|A)$", band),
]


def run():
    rows = Rows()
    memory = [(topic, row) for topic, row in rows.all if row["standing"] == "from memory"]
    good = bad = stated = none = 0
    used = dict.fromkeys((pattern for pattern, _ in FORMS), 0)
    for topic, row in memory:
        if row["support"].startswith("none"):
            none += 1
            continue
        form = next(((pattern, check, found) for pattern, check in FORMS if (found := re.search(pattern, row["support"]))), None)
        if form is None:
            stated += 1
            continue
        pattern, check, found = form
        holds = check(row, rows, found) if isinstance(row["expect"], (int, float)) or check is band else False
        if holds is None:
            stated += 1
            continue
        used[pattern] += 1
        if holds:
            good += 1
        else:
            bad += 1
            if bad <= 40:
                print(f"  NOT SO {topic} {row['ask']} {row['inputs']} {row['expect']}: {row['support']}")
    for pattern, count in used.items():
        if count == 0:
            bad += 1
            print(f"  no row has a support of the form {pattern}")
    print(f"  {len(memory)} rows from memory: {good} supports computed, {stated} stated only, {none} unsupported")
    return good, bad


if __name__ == "__main__":
    run()
