"""The figures of vectors/TR50480.md: formulas of the published method, as far as they are public, against the core.

Nothing of the report itself was read. ρ1 and λ were read on a handbook's page on IEC 60364-5-52 Annex G; the rest is
from memory, as the page says.
"""

import math
from pathlib import Path

import ask

PAGE = Path(__file__).resolve().parents[2] / "vectors" / "TR50480.md"
COPPER = [1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120, 150, 185, 240, 300]
SIZES = {"copper": COPPER, "aluminium": COPPER[5:]}
FULL = {70: "thermoplastic-70", 90: "thermosetting-90"}
# Ω·mm²/m at normal working temperature, and mΩ/m: read.
RHO1 = {"copper": 0.0225, "aluminium": 0.036}
LAMBDA = 0.08
# Ω·mm²/km at 20 °C: from memory.
RHO0 = {"copper": 18.51, "aluminium": 29.41}


def each(name, inputs):
    """The core's value of each of the inputs, all of them figures."""
    values = ask.values(name, inputs)
    if not all(isinstance(v, float) for v in values):
        raise ValueError(f"{name}: {[v for v in values if not isinstance(v, float)][:3]}")
    return values


def span(shares):
    """The ends of shares as per cent, with their signs."""
    low, high = (f"{100 * v:+.1f}".replace("-", "−") for v in (min(shares), max(shares)))
    return f"{low} to {high} %" if low != high else f"{low} %"


def hot(metal, degrees):
    """R of each size in Ω/km as the walk takes it."""
    inputs = [{"material": metal, "csa": s, "temperature": degrees} for s in SIZES[metal]]
    factors = each("ac-factor", inputs)
    return [r * (f if s > 16 else 1) for r, f, s in zip(each("resistance-at", inputs), factors, SIZES[metal])]


def lines():
    out = []
    reactance = {c: each("reactance", [{"csa": s, "construction": c} for s in COPPER]) for c in ("multicore", "armoured", "single-cores")}
    at = dict(zip(COPPER, reactance["multicore"]))
    for metal, sizes in SIZES.items():
        theirs = [1000 * RHO1[metal] / s for s in sizes]
        for degrees in FULL:
            ours = hot(metal, degrees)
            out.append((f"R for volt drop, {metal} at {degrees} °C, over ρ1/S", span([o / t - 1 for o, t in zip(ours, theirs)])))
            for cos in (1.0, 0.8):
                sin = math.sqrt(1 - cos * cos)
                drop = [(o * cos + at[s] * sin) / (t * cos + LAMBDA * sin) - 1 for o, t, s in zip(ours, theirs, sizes)]
                out.append((f"volt drop, multicore {metal} at {degrees} °C, cosφ {cos:g}", span(drop)))
    for name, values in reactance.items():
        out.append((f"X above 16 mm², {name}, over 0.08 Ω/km", span([v / LAMBDA - 1 for v, s in zip(values, COPPER) if s > 16])))
    for metal, sizes in SIZES.items():
        ours = each("resistance-20", [{"material": metal, "csa": s} for s in sizes])
        theirs = [math.hypot(RHO0[metal] / s, LAMBDA) for s in sizes]
        out.append((f"largest fault current, limited by {metal} cable alone", span([t / o - 1 for o, t in zip(ours, theirs)])))
    for degrees, mean in ((70, 115), (90, 170)):
        ours = each("temperature-factor", [{"material": "copper", "temperature": degrees}])[0]
        out.append((f"smallest fault current, R at {degrees} °C over R at the mean of the fault, {mean} °C", span([ours / (1 + 0.004 * (mean - 20)) - 1])))
    for low, last, printed, metal in ((70, 160, 115, "copper"), (90, 250, 143, "copper"), (70, 160, 76, "aluminium"), (90, 250, 94, "aluminium")):
        ours = each("k", [{"material": metal, "initial": low, "final": last}])[0]
        out.append((f"k, {metal} {low} to {last} °C, over {printed}", span([ours / printed - 1])))
    for title, some in (("up to 120 mm²", [s for s in COPPER if 1.5 <= s <= 120]), ("above 120 mm²", [s for s in COPPER if s > 120])):
        inputs = [{"material": "copper", "csa": s, "insulation": i, "construction": "multicore", "method": m, "loaded": n}
                  for s in some for i in FULL.values() for m in ("insulated-wall", "conduit", "clipped", "air", "duct") for n in (2, 3)]
        pairs = zip(ask.values("tabulated-capacity", inputs), ask.values("fitted-capacity", inputs))
        both = [t / f - 1 for t, f in pairs if isinstance(t, float) and isinstance(f, float)]
        if len(both) < len(inputs) / 2:
            raise ValueError(f"capacity: {len(both)} of {len(inputs)}")
        out.append((f"capacity of copper multicore, table over A·S^m, {title}", span(both)))
    return [f"| {what} | {much} |" for what, much in out]


def run():
    page = PAGE.read_text()
    wanted = lines()
    missing = [line for line in wanted if line not in page]
    for line in missing:
        print(f"  not on the page: {line}")
    return len(wanted) - len(missing), len(missing)


if __name__ == "__main__":
    print("\n".join(lines()))
