"""Electrodes and lost neutrals at random inputs: closed forms of our own, in 30 digits.

The electrodes are bodies in uniform soil under a surface that lets no current out; the lost neutral is a sum
of admittances. Nothing is shared with the core: not the constants, not the way of the sums.
"""

from functools import cache

from mpmath import atan, cbrt, exp, findroot, log, mp, mpc, mpf, pi, sqrt

mp.dps = 30
ROD_DIAMETERS = [0.0125, 0.0146, 0.016, 0.0172, 0.02]


def resistivity(rng, spread):
    return spread(rng, 1, 5000)


def season(rng, uniform):
    """None is the worst season already."""
    return None if rng.random() < 0.3 else uniform(rng, 1, 5)


def with_season(inputs, factor, value):
    if factor is not None:
        inputs["season"] = factor
        value *= mpf(factor)
    return inputs, value


def rod_of(rho, length, diameter):
    """A thin rod: its mean potential when its current leaves evenly along it, the image counted."""
    rho, length, diameter = map(mpf, (rho, length, diameter))
    return rho * (log(8 * length) - log(diameter) - 1) / (2 * pi * length)


def places(layout, n):
    """Where the rods stand, in units of their distance."""
    if layout == "line":
        return [mpc(k) for k in range(n)]
    side = n - 1
    return [corner + step * k for corner, step in
            [(mpc(0), mpc(1)), (mpc(side), mpc(0, 1)), (mpc(side, side), mpc(-1)), (mpc(0, side), mpc(0, -1))]
            for k in range(side)]


@cache
def seen(layout, n):
    """What the others are to each, on the mean of all, and how many there are."""
    at = places(layout, n)
    return sum(1 / abs(a - b) for a in at for b in at if a != b) / len(at), len(at)


def rods_of(rho, length, diameter, layout, n, spacing):
    """Each by itself, and half balls of equal current as seen from each other."""
    others, count = seen(layout, n)
    return (rod_of(rho, length, diameter) + mpf(rho) * others / (2 * pi * mpf(spacing))) / count


def rod_inputs(rng, uniform, spread):
    return dict(resistivity=resistivity(rng, spread), length=uniform(rng, 0.6, 29), diameter=uniform(rng, 0.008, 0.028))


def make(uniform, spread):
    """The forms, with the two ways of drawing numbers."""

    def rod(rng):
        inputs = rod_inputs(rng, uniform, spread)
        value = rod_of(inputs["resistivity"], inputs["length"], inputs["diameter"])
        return with_season(inputs, season(rng, uniform), value)

    def rods(rng):
        inputs = dict(resistivity=resistivity(rng, spread), length=uniform(rng, 0.6, 4), diameter=uniform(rng, 0.008, 0.028),
                      layout=rng.choice(["line", "hollow-square"]), spacing=uniform(rng, 4, 20))
        inputs["count"] = rng.randint(1, 10) if inputs["layout"] == "line" else rng.randint(2, 12)
        value = rods_of(inputs["resistivity"], inputs["length"], inputs["diameter"], inputs["layout"], inputs["count"],
                        inputs["spacing"])
        return with_season(inputs, season(rng, uniform), value)

    def plate(rng):
        inputs = dict(resistivity=resistivity(rng, spread), width=uniform(rng, 0.3, 5), height=uniform(rng, 0.3, 5))
        # A disc in the surface, of the radius that gives the same area: rho / 4a.
        radius = sqrt(mpf(inputs["width"]) * mpf(inputs["height"]) / pi)
        return with_season(inputs, season(rng, uniform), mpf(inputs["resistivity"]) / (4 * radius))

    def level(rng, name, most, share):
        inputs = dict(resistivity=resistivity(rng, spread), length=uniform(rng, 20, 200), depth=uniform(rng, 0.3, 2))
        inputs[name] = uniform(rng, 0.006, most)
        d = mpf(inputs[name]) * share
        length, depth = mpf(inputs["length"]), mpf(inputs["depth"])
        value = mpf(inputs["resistivity"]) * (2 * log(length) - log(mpf("1.83")) - log(depth) - log(d)) / (2 * pi * length)
        return with_season(inputs, season(rng, uniform), value)

    def wire(rng):
        return level(rng, "diameter", 0.03, 1)

    def tape(rng):
        return level(rng, "width", 0.05, mpf(1) / 2)

    def foundation(rng):
        inputs = dict(resistivity=resistivity(rng, spread), length=uniform(rng, 1, 30), width=uniform(rng, 0.3, 20),
                      depth=uniform(rng, 0.1, 2), in_contact=True)
        volume = mpf(inputs["length"]) * mpf(inputs["width"]) * mpf(inputs["depth"])
        # Half a ball: 2/3 pi r^3.
        return with_season(inputs, season(rng, uniform), mpf(inputs["resistivity"]) / (2 * pi * cbrt(volume * 3 / (2 * pi))))

    def rod_length(rng):
        diameter = uniform(rng, 0.01, 0.02)
        rho, factor = resistivity(rng, spread), season(rng, uniform)
        length = uniform(rng, 0.7, 28)
        # A target that a rod of about this length meets; f32, so the length is looked for from it.
        target = float(rod_of(rho, length, diameter) * (mpf(factor) if factor else 1))
        target = uniform(rng, target, target)
        inputs = dict(target=target, diameter=diameter, resistivity=rho)
        if factor is not None:
            inputs["season"] = factor
        value = findroot(lambda l: rod_of(rho, l, diameter) * (mpf(factor) if factor else 1) - mpf(target), mpf(length))
        return inputs, value

    def rods_needed(rng):
        """The first number that does, where the next would not turn on the last digit."""
        while True:
            layout = rng.choice(["line", "hollow-square"])
            inputs = dict(length=uniform(rng, 0.6, 4), diameter=uniform(rng, 0.008, 0.028), layout=layout,
                          spacing=uniform(rng, 4, 20), resistivity=resistivity(rng, spread))
            most = range(1, 11) if layout == "line" else range(2, 13)
            of = {n: rods_of(inputs["resistivity"], inputs["length"], inputs["diameter"], layout, n, inputs["spacing"])
                  for n in most}
            n = rng.choice(list(most))
            target = uniform(rng, float(of[n]) * 0.9, float(of[n]) * 1.1)
            if min(abs(r / mpf(target) - 1) for r in of.values()) < mpf("1e-4"):
                continue
            first = next((n for n in most if of[n] <= mpf(target)), None)
            if first is not None:
                inputs["target"] = target
                return inputs, mpf(len(places(layout, first)))

    def touch_voltage(rng):
        inputs = dict(ra=spread(rng, 0.1, 5000), sensitivity=rng.choice([0.01, 0.03, 0.1, 0.3, 0.5]))
        return inputs, mpf(inputs["ra"]) * mpf(uniform(rng, inputs["sensitivity"], inputs["sensitivity"]))

    def largest_ra(rng):
        inputs = dict(limit=uniform(rng, 12, 120), sensitivity=rng.choice([0.01, 0.03, 0.1, 0.3, 0.5]))
        return inputs, mpf(inputs["limit"]) / mpf(uniform(rng, inputs["sensitivity"], inputs["sensitivity"]))

    def admittance(u0, current, factor):
        """Lagging: the angle is minus the one whose cosine is the power factor."""
        factor = mpf(factor)
        angle = atan(sqrt(1 - factor ** 2) / factor)
        return mpf(current) / mpf(u0) * exp(mpc(0, -angle))

    def star(inputs, loads, earth):
        """The voltage of the star point: what the loads drive in, over all that is joined there."""
        u = mpf(inputs["u0"]) * mpf(inputs["factor"])
        into = sum(y * u * exp(mpc(0, -2 * pi * k / 3)) for k, y in loads)
        return into / (sum(y for _, y in loads) + earth)

    def lost(rng, phases):
        inputs = dict(u0=uniform(rng, 100, 260), factor=uniform(rng, 1, 1.15))
        lines = [0] if phases == 1 else sorted(rng.sample([0, 1, 2], rng.choice([1, 2, 3])))
        loads = []
        # Equal resistive loads are what a heater of several phases is, and where none is the worst more than another.
        alike = (spread(rng, 0.2, 100), 1.0) if rng.random() < 0.2 else None
        for k in lines:
            current, factor = alike or (spread(rng, 0.2, 100), uniform(rng, 0.3, 1))
            mark = "" if phases == 1 else f"_{k + 1}"
            inputs[f"current{mark}"], inputs[f"power_factor{mark}"] = current, factor
            loads.append((k, admittance(inputs["u0"], current, factor)))
        earth = mpf(0)
        if rng.random() < 0.8:
            inputs["electrode"] = spread(rng, 0.5, 500)
            earth = 1 / mpf(inputs["electrode"])
        return inputs, loads, earth

    def well_kept(inputs, loads, earth):
        """Loads that nearly cancel leave a difference of large numbers, which f32 can't hold to 1e-5."""
        volts = abs(star(inputs, loads, earth))
        return volts > mpf(inputs["u0"]) / 50 * len(loads) or len(loads) == 1

    def lost_neutral(rng):
        while True:
            inputs, loads, earth = lost(rng, rng.choice([1, 3]))
            if well_kept(inputs, loads, earth):
                return inputs, abs(star(inputs, loads, earth))

    def lost_most(rng):
        while True:
            inputs, loads, earth = lost(rng, rng.choice([1, 3]))
            share = uniform(rng, 0.05, 1)
            inputs["least"] = share
            volts = []
            for case in range(2 ** len(loads)):
                part = [(k, y * (mpf(share) if case >> n & 1 else 1)) for n, (k, y) in enumerate(loads)]
                volts.append(abs(star(inputs, part, earth)))
            if max(volts) > mpf(inputs["u0"]) / 50 * len(loads):
                return inputs, max(volts)

    def lost_electrode(rng):
        """One line: |Y| cmax U0 = V |Y + 1/R|, for 1/R the greater root of a square."""
        while True:
            inputs = dict(u0=uniform(rng, 100, 260), factor=uniform(rng, 1, 1.15), current=spread(rng, 1, 100),
                          power_factor=uniform(rng, 0.5, 1), limit=uniform(rng, 25, 90), least=1)
            y = admittance(inputs["u0"], inputs["current"], inputs["power_factor"])
            u = mpf(inputs["u0"]) * mpf(inputs["factor"])
            wanted = abs(y) * u / mpf(inputs["limit"])
            under = wanted ** 2 - y.imag ** 2
            if under <= 0:
                continue
            conductance = sqrt(under) - y.real
            # A small difference of large numbers is not held by f32.
            if conductance > abs(y) / 10:
                return inputs, 1 / conductance

    return {
        "rod": rod, "rods": rods, "plate": plate, "wire": wire, "tape": tape, "foundation": foundation,
        "rod-length": rod_length, "rods-needed": rods_needed, "touch-voltage": touch_voltage, "largest-ra": largest_ra,
        "lost-neutral": lost_neutral, "lost-neutral-most": lost_most, "lost-neutral-electrode": lost_electrode,
    }
