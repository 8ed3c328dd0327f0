#!/usr/bin/env python3
"""Flash, RAM, stack and instructions of the probes, as a table; or whether the table of a README still holds.

    figures.py FOLDER MEASURED            prints the table
    figures.py FOLDER MEASURED README     holds it against the one there
    figures.py --costs FOLDER [README]    the same of what each feature takes

FOLDER/TARGET/PROBE are the probes as linked, MEASURED/TARGET/PROBE those that paint their stack and count; a target
that is not there is left out. Of the costs FOLDER/FEATURE/probe-circuit are without that feature, FOLDER/nothing/probe-circuit has all.
"""
import re
import struct
import subprocess
import sys
from pathlib import Path

import stack

TARGETS = ["thumbv6m-none-eabi", "thumbv7em-none-eabihf", "riscv32imc-unknown-none-elf"]
PROBES = [
    ("probe-zs", "maximum Zs, a reading held against it"),
    ("probe-circuit", "whole check of a final circuit"),
    ("probe-all", "installation, searches, readings"),
]
# What is measured of each, for the analysis to begin with.
ROOTS = {
    "probe-zs": ["probe_zs::verdict"],
    "probe-circuit": ["probe_circuit::check"],
    "probe-all": ["probe_all::walk", "probe_all::readings"],
}
# What another compiler of the same year may differ by.
TOLERANCE = {
    "flash": (0.05, 128),
    "RAM": (0.05, 16),
    "stack": (0.10, 64),
    "analysed": (0.10, 64),
    "instructions": (0.10, 50),
}
# The goals that are reached; those that are not are told by the table.
AT_MOST = [
    ("probe-zs", "thumbv7em-none-eabihf", "flash", 6 * 1024),
    ("probe-circuit", "thumbv7em-none-eabihf", "flash", 24 * 1024),
    ("probe-circuit", "thumbv7em-none-eabihf", "stack", 2 * 1024),
    ("probe-circuit", "thumbv7em-none-eabihf", "analysed", 2 * 1024),
]


def sections(path):
    """Allocated bytes of an ELF file: (for flash, of .data, for RAM)."""
    raw = path.read_bytes()
    assert raw[:6] == b"\x7fELF\x01\x01", f"{path}: not a 32-bit little-endian ELF file"
    (offset,) = struct.unpack_from("<I", raw, 32)
    size, count = struct.unpack_from("<HH", raw, 46)
    flash = data = ram = 0
    for n in range(count):
        _, kind, flags, address, _, length = struct.unpack_from("<6I", raw, offset + n * size)
        if not flags & 2:
            continue
        if kind == 8:
            ram += length
        else:
            flash += length
            if flags & 1 and address >= 0x2000_0000:
                data += length
                ram += length
    return flash, data, ram


def run(path):
    """What a probe tells of itself in QEMU, 1 ns of whose time is an instruction."""
    board = ["qemu-system-arm", "-M", "mps2-an386"]
    if path.parent.name.startswith("riscv"):
        board = ["qemu-system-riscv32", "-M", "virt", "-bios", "none"]
    told = subprocess.run(
        [*board, "-display", "none", "-monitor", "none", "-serial", "none",
         "-icount", "shift=0", "-semihosting-config", "enable=on,target=native", "-kernel", str(path)],
        capture_output=True, text=True, timeout=300, check=True)
    return {name: int(n) for name, n in re.findall(r"^(stack|instructions) (\d+)$", told.stdout + told.stderr, re.M)}


def figures(folder, measured):
    out = {}
    for probe, _ in PROBES:
        for target in TARGETS:
            if not (folder / target).is_dir():
                continue
            flash, data, ram = sections(folder / target / probe)
            assert data == 0, f"{probe} on {target} has {data} bytes of .data"
            row = {"flash": flash, "RAM": ram} | run(measured / target / probe)
            # Of both: what is measured is built with some lines of its own, and so a little otherwise.
            built = [folder / target / probe, measured / target / probe]
            row["analysed"] = max(stack.analysed(path, root)[0] for path in built for root in ROOTS[probe])
            assert row.keys() == TOLERANCE.keys(), f"{probe} on {target} told only {row}"
            # The call that is measured may leave some words of its own caller below it.
            assert row["stack"] <= row["analysed"] + 16, f"{probe} on {target}: more stack than it can be at most: {row}"
            out[probe, target] = row
    return out


def table(all_figures):
    lines = [
        "| what | target | flash | RAM | stack, measured | stack, at most | instructions |",
        "|---|---|---:|---:|---:|---:|---:|",
    ]
    for probe, what in PROBES:
        for target in TARGETS:
            row = all_figures.get((probe, target))
            if not row:
                continue
            cells = [str(row[name]) for name in TOLERANCE]
            lines.append(f"| {what} | `{target}` | {' | '.join(cells)} |")
    return lines


def read(text):
    out = {}
    for probe, what in PROBES:
        for target in TARGETS:
            found = re.search(rf"^\| {re.escape(what)} \| `{target}` \| (.*) \|$", text, re.M)
            assert found, f"the README has no row of '{what}' on {target}"
            cells = found[1].split(" | ")
            out[probe, target] = {name: int(c) for name, c in zip(TOLERANCE, cells)}
    return out


def costs(folder, readme=None):
    """Bytes of flash that each feature adds to the whole check on a Cortex-M4F."""
    flash = {path.name: sections(path / "probe-circuit")[0] for path in Path(folder).iterdir()}
    whole = flash.pop("nothing")
    wrong = []
    for feature, without in flash.items():
        print(f"{feature:14} {whole - without:6}")
        if readme:
            text = Path(readme).read_text(encoding="utf-8")
            found = re.search(rf"^\| `{feature}` \|.* \| (-?\d+) \|$", text, re.M)
            if not found or abs(int(found[1]) - (whole - without)) > 128:
                wrong.append(f"{feature} takes {whole - without} bytes, the README says {found and found[1]}")
    sys.exit("\n".join(wrong) or None)


def main():
    if sys.argv[1] == "--costs":
        costs(*sys.argv[2:])
    folder, measured, *readme = sys.argv[1:]
    now = figures(Path(folder), Path(measured))
    print("\n".join(table(now)))
    wrong = []
    for probe, target, name, most in AT_MOST:
        if (probe, target) in now and now[probe, target][name] > most:
            wrong.append(f"{probe} on {target}: {name} {now[probe, target][name]}, the goal is {most}")
    if readme:
        told = read(Path(readme[0]).read_text(encoding="utf-8"))
        for key, row in now.items():
            for name, value in row.items():
                share, least = TOLERANCE[name]
                said = told[key].get(name)
                if said is None or abs(value - said) > max(share * value, least):
                    wrong.append(f"{key[0]} on {key[1]}: {name} is {value}, the README says {said}")
    sys.exit("\n".join(wrong) or None)


if __name__ == "__main__":
    main()
