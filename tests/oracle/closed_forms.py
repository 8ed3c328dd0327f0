"""Elementary formulas at random inputs: the core's f32 against 30 digits.

Relative error at most 1e-5. The inputs are rounded to f32 first, so that both sides start from
the same numbers; the formulas are typed from the reference.
"""

import random
import struct
import sys

from mpmath import mp, mpf, sqrt

import ask
import earthing_forms
import figures as fig
import model as m
import reading_forms

mp.dps = 30
SEED = 20261125
INPUTS = 2500
LIMIT = 1e-5
METALS = ["copper", "aluminium", "steel", "lead"]


def f32(v):
    """The nearest f32, as the exact decimal of a float."""
    return struct.unpack("f", struct.pack("f", v))[0]


def uniform(rng, low, high):
    return f32(rng.uniform(low, high))


def spread(rng, low, high):
    """Evenly in the logarithm."""
    return f32(low * (high / low) ** rng.random())


def exact(v):
    return mpf(v)


# ---------------------------------------------------------------- one entry a formula

def k(rng):
    metal = rng.choice(METALS)
    start = uniform(rng, -20, 150)
    end = f32(start + rng.uniform(20, 250))
    return ({"material": metal, "initial": start, "final": end}, m.k_factor(metal, exact(start), exact(end)))


def temperature_factor(rng):
    metal, theta = rng.choice(METALS[:3]), uniform(rng, -20, 250)
    return {"material": metal, "temperature": theta}, m.temperature_factor(metal, exact(theta))


def resistance_at(rng):
    metal = rng.choice(METALS[:2])
    csa = rng.choice([s for s, r in fig.RESISTANCE_20.items() if r[metal] is not None])
    theta = uniform(rng, -20, 250)
    return ({"material": metal, "csa": float(csa), "temperature": theta},
            m.at_temperature(m.resistance_20(metal, csa), metal, exact(theta)))


def max_zs(rng):
    family = rng.choice(["breaker", "rcbo"]) + "-" + rng.choice("bcd")
    rating = rng.choice([6, 10, 16, 20, 25, 32, 40, 50, 63, 80, 100, 125])
    u0, cmin = uniform(rng, 50, 400), uniform(rng, 0.8, 1)
    return ({"family": family, "rating": rating, "time": rng.choice([0.1, 0.2, 0.4, 1, 5]), "u0": u0, "cmin": cmin},
            exact(cmin) * exact(u0) / (fig.BREAKER_MULTIPLE[family[-1]] * rating))


def conventional_current(rng):
    rating = rng.choice([6, 10, 16, 20, 25, 32, 40, 50, 63, 80, 100])
    family = rng.choice(["breaker-b", "breaker-c", "rcbo-d"])
    return {"family": family, "rating": rating}, mpf("1.45") * rating


def ambient_factor(rng):
    hot, ground = rng.random() < 0.5, rng.random() < 0.5
    theta = uniform(rng, 10, 80 if hot else 60)
    return ({"insulation": "thermosetting-90" if hot else "thermoplastic-70", "temperature": theta, "ground": ground},
            m.ambient_factor(hot, exact(theta), ground))


def tabulated_minimum(rng):
    line = rng.choice([1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120, 150, 185, 240, 300])
    k1, k2 = uniform(rng, 20, 180), uniform(rng, 20, 180)
    return {"line": line, "k_line": k1, "k_protective": k2}, m.by_line(mpf(line)) * exact(k1) / exact(k2)


def adiabatic(rng):
    metal = rng.choice(METALS[:3])
    start = uniform(rng, 20, 90)
    end = f32(start + rng.uniform(50, 160))
    energy = spread(rng, 1e2, 1e9)
    return ({"i2t": energy, "material": metal, "initial": start, "final": end},
            sqrt(exact(energy)) / m.k_factor(metal, exact(start), exact(end)))


def let_through(rng):
    curve, rating = rng.choice("bcd"), rng.choice([6, 10, 16, 20, 32, 40, 63])
    least = fig.BREAKER_MULTIPLE[curve] * rating
    current = spread(rng, least * 1.001, 6000)
    return ({"family": f"breaker-{curve}", "rating": rating, "current": current, "breaking": 6000},
            exact(current) ** 2 / 10)


def exact_temperature_factor(rng):
    metal, theta = rng.choice(METALS), uniform(rng, -20, 250)
    beta = fig.ADIABATIC[metal][0]
    return {"material": metal, "temperature": theta}, (beta + exact(theta)) / (beta + 20)


def mv_per_a_m(rng):
    """At the operating temperature: twice, or √3 times, the conductor's R, X or Z."""
    metal = rng.choice(METALS[:2])
    csa = rng.choice([s for s, r in fig.RESISTANCE_20.items() if r[metal] is not None and s <= 120])
    insulation = rng.choice(["thermoplastic-70", "thermosetting-90"])
    section = {"construction": rng.choice(["multicore", "armoured"]), "length": 1000}
    loaded, part = rng.choice([2, 3]), rng.choice("rz")
    z = m.conductor(section, metal, csa, mpf(70 if insulation == "thermoplastic-70" else 90))
    value = z.real if part == "r" else abs(z)
    return ({"material": metal, "csa": float(csa), "insulation": insulation, "construction": section["construction"],
             "loaded": loaded, "part": part}, value * (2 if loaded == 2 else sqrt(3)))


def effective_capacity(rng):
    """Iz with all its factors, where the reference list has the table."""
    while True:
        method = rng.choice(["insulated-wall", "conduit", "clipped", "air", "duct", "ground", "surrounded"])
        buried = method in ("duct", "ground")
        hot = rng.random() < 0.5
        build = rng.choice(["single-cores", "multicore", "armoured", "flat-twin"])
        limit = rng.choice([None, None, 70]) if hot else None
        arrangement = {"clipped": ["bunched", "single-layer-wall"], "air": ["single-layer-tray", "ladder"],
                       "duct": ["touching", 0.25, 0.5, 1.0], "ground": ["touching", "gap-diameter", 0.125, 0.25, 0.5]}
        section = dict(
            csa=rng.choice([1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120]), material=rng.choice(METALS[:2]),
            insulation="thermosetting-90" if hot else "thermoplastic-70", construction=build, method=method,
            operating_limit=limit, ambient=uniform(rng, 10, 60 if limit is None and hot else 55),
            grouped=rng.choice([1, 2, 3, 4, 6] if buried else [1, 2, 5, 9, 10, 13, 17, 20]),
            arrangement=rng.choice(arrangement.get(method, ["bunched"])),
            soil=rng.choice([0.5, 1, 1.5, 2, 2.5, 3]) if buried else None,
            depth=rng.choice([0.5, 0.7, 0.9, 1, 1.25, 1.5]) if buried else None,
            insulation_run=rng.choice([None, 0.03, 0.1, 0.3, 0.7]) if not buried else None)
        loaded = rng.choice([2, 3])
        iz = m.capacity(section, loaded)
        if iz is not None:
            inputs = {k: v for k, v in section.items()}
            inputs["loaded"] = loaded
            return inputs, iz


FORMS = {
    "exact-temperature-factor": exact_temperature_factor,
    "mv-per-a-m": mv_per_a_m,
    "effective-capacity": effective_capacity,
    "k": k,
    "temperature-factor": temperature_factor,
    "resistance-at": resistance_at,
    "max-zs": max_zs,
    "conventional-current": conventional_current,
    "ambient-factor": ambient_factor,
    "tabulated-minimum": tabulated_minimum,
    "adiabatic": adiabatic,
    "device-let-through": let_through,
    **earthing_forms.make(uniform, spread),
    **reading_forms.make(uniform, spread),
}


def run():
    """Number passed, number failed."""
    passed = failed = 0
    for name, make in FORMS.items():
        rng = random.Random(f"{SEED} {name}")
        pairs = [make(rng) for _ in range(INPUTS)]
        answers = ask.values(name, [inputs for inputs, _ in pairs])
        worst, at, bad = 0.0, None, 0
        for (inputs, expect), got in zip(pairs, answers):
            error = abs(mpf(got) - expect) / abs(expect) if isinstance(got, (int, float)) else mpf("inf")
            if not error <= LIMIT:
                bad += 1
                if bad <= 3:
                    print(f"  DISAGREES {name} {inputs}: core {got}, 30 digits {mp.nstr(expect, 9)}")
            if at is None or error > worst:
                worst, at = error, inputs
        print(f"  {name}: {len(pairs)} inputs, worst relative error {mp.nstr(mpf(worst), 3)} at {at}")
        passed, failed = passed + len(pairs) - bad, failed + bad
    return passed, failed


if __name__ == "__main__":
    ok, wrong = run()
    print(f"{ok} passed, {wrong} failed")
    sys.exit(1 if wrong or not ok else 0)
