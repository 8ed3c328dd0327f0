"""Small builders of jobs, so that an example says only what matters to it."""

import copy


def device(family="breaker-b", rating=32, breaking=6000, let_through=None, energy_class=None):
    return dict(family=family, rating=rating, breaking=breaking, let_through=let_through,
                energy_class=energy_class)


def rcd(sensitivity=0.03, kind="a", delay="none"):
    return dict(sensitivity=sensitivity, kind=kind, delay=delay)


def core(csa, material="copper"):
    return dict(kind="core", material=material, csa=csa, resistance=None)


def separate(csa, material="copper"):
    return dict(kind="separate", material=material, csa=csa, resistance=None)


def armour(resistance=None):
    return dict(kind="armour", material="steel", csa=None, resistance=resistance)


def armour_and_core(csa, material="copper", resistance=None):
    return dict(kind="armour-and-core", material=material, csa=csa, resistance=resistance)


def enclosure(resistance):
    return dict(kind="enclosure", material="steel", csa=None, resistance=resistance)


NONE = dict(kind="none", material=None, csa=None, resistance=None)


def section(length, csa, protective, construction="multicore", cores=3, insulation="thermoplastic-70",
            method="clipped", **more):
    out = dict(length=length, part="run", spur_fuse=None, material="copper", csa=csa, neutral_csa=None,
               insulation=insulation, construction=construction, cores=cores, operating_limit=None,
               protective=copy.deepcopy(protective), method=method, ambient=30, grouped=1,
               arrangement="bunched", soil=None, depth=None, insulation_run=None)
    if method in ("duct", "ground"):
        out.update(ambient=20, soil=2.5, depth=0.7, arrangement="touching")
    assert not set(more) - set(out), set(more) - set(out)
    out.update(more)
    return out


def twin(length, csa, cpc, **more):
    """Flat twin with protective conductor."""
    return section(length, csa, core(cpc), construction="flat-twin", cores=2, **more)


def swa(length, csa, cores=2, protective=None, **more):
    """Steel wire armoured, thermosetting."""
    return section(length, csa, protective or armour(), construction="armoured", cores=cores,
                   **{"insulation": "thermosetting-90", "method": "ground", **more})


def load(current=None, power=None, power_factor=1, kind="other", points=1):
    return {"current": current, "power": power, "power_factor": power_factor, "class": kind,
            "points": points}


def circuit(id, board, dev, load_, sections, use="fixed", phase="l1", shape="radial", name=None, **more):
    out = dict(id=id, name=name or id.replace("-", " ").capitalize(), board=board, phase=phase, shape=shape,
               device=dev, rcd=None, use=use, outdoors=False, bath=False, concealed=False, dwelling=False,
               load=load_, sections=sections)
    assert not set(more) - set(out), set(more) - set(out)
    out.update(more)
    return out


def feeder(id, board, dev, sections, **more):
    """Distribution circuit whose load is what hangs on it."""
    return circuit(id, board, dev, more.pop("load_", load()), sections, use="distribution", **more)


def board(id, fed_by=None, name=None, **more):
    out = dict(id=id, name=name or id.replace("-", " ").capitalize(), fed_by=fed_by, earthing="as-supply",
               ra=None, enclosure=None, rcd=None, extraneous=False, bonding=None, earthing_conductor=None, demand=None, conditional=None)
    assert not set(more) - set(out), set(more) - set(out)
    out.update(more)
    return out


def copper(csa):
    return dict(material="copper", csa=csa)


def earthing_conductor(csa, material="copper", buried=False, mechanical=True, corrosion=True):
    return dict(material=material, csa=csa, buried=buried, mechanical=mechanical, corrosion=corrosion)


def supply(earthing="tn-c-s", ze=0.35, fault_level=16000, phases=1, **more):
    out = dict(current="ac", u0=230, phases=phases, earthing=earthing, ze=ze, ze_from="measured", ra=None,
               fault_level=fault_level, fault_level_from="declared", x_over_r=None,
               device=device("bs88-3", 100, 31500), neutral_csa=25, tails_csa=25,
               earthing_conductor=earthing_conductor(16), extraneous=True, bonding=copper(10))
    assert not set(more) - set(out), set(more) - set(out)
    out.update(more)
    return out


def job(name, profile, supply_, boards, circuits, notes=None):
    return dict(format="faultpath-job", version=1, name=name, notes=notes, profile=profile,
                supply=supply_, boards=boards, circuits=circuits)
