#!/usr/bin/env python3
"""The stack a program may take at most, by its instructions: each function's frame, and the deepest way of calls.

    stack.py ELF [ROOT]       the way from ROOT (reset), a line a function

Frames are what prologues take off the stack pointer. A jump to another function counts as a call. A call through a
register goes to the functions whose addresses are loaded where it is made, else to any whose address stands among the
constants. Stops where a function takes what is not a constant, or where the calls come round again.
"""
import re
import subprocess
import sys
from bisect import bisect_right
from pathlib import Path

LINE = re.compile(r"^\s*([0-9a-f]+):\s+(\S+)\s*(.*)$")
CALLS = {"bl", "blx", "jal", "jalr"}
JUMPS = {"b", "b.w", "j", "jr", "bx", "tail"}


def listing(path):
    """Functions: start address → (name, [(address, mnemonic, operands)])."""
    told = subprocess.run(["llvm-objdump", "-d", "--no-show-raw-insn", "--demangle", str(path)],
                          capture_output=True, text=True, check=True).stdout
    functions, now = {}, None
    for line in told.splitlines():
        if head := re.match(r"^([0-9a-f]+) <(.*)>:$", line):
            # Marks of data inside a function are none.
            if not re.fullmatch(r"\$[adtx](\.\d+)?|\.L.*", head[2]):
                now = functions.setdefault(int(head[1], 16), (head[2], []))[1]
        elif now is not None and (found := LINE.match(line)):
            now.append((int(found[1], 16), found[2], found[3]))
    return functions


def code(functions):
    """From and to of each stretch of instructions."""
    return [(start, body[-1][0] + 4) for start, (_, body) in functions.items() if body]


def words(path):
    """Words of the file by address, of what is loaded."""
    raw = Path(path).read_bytes()
    number = lambda at, size: int.from_bytes(raw[at:at + size], "little")
    table, size, count = number(28, 4), number(42, 2), number(44, 2)
    out = {}
    for n in range(count):
        at = table + n * size
        if number(at, 4) != 1:
            continue
        offset, address, length = number(at + 4, 4), number(at + 8, 4), number(at + 16, 4)
        for k in range(0, length - 3, 4):
            out[address + k] = number(offset + k, 4)
    return out


def registers(operands):
    """How many a list in braces names."""
    total = 0
    for part in re.search(r"\{(.*?)\}", operands)[1].split(","):
        ends = [int(n) for n in re.findall(r"\d+", part)]
        total += ends[1] - ends[0] + 1 if "-" in part else 1
    return total


def constant(name, body, upto, memory):
    """What a register was last given as a constant."""
    value = None
    for address, op, operands in body[:upto]:
        to, _, rest = operands.partition(",")
        if to.strip() != name:
            continue
        if literal := re.search(r"@ 0x([0-9a-f]+)", rest):
            value = memory.get(int(literal[1], 16))
        elif op == "lui":
            value = int(rest.strip(), 0) << 12
        elif op in ("addi", "li") and (n := re.search(r"(-?\d+)$", rest)):
            value = int(n[1]) + (value or 0 if op == "addi" else 0)
    if value is None:
        return None
    value &= 0xFFFF_FFFF
    return value - (1 << 32) if value >> 31 else value


def frame(name, body, memory):
    total = 0
    for n, (_, op, operands) in enumerate(body):
        if op.startswith("push"):
            total += 4 * registers(operands)
        elif op == "vpush":
            total += (8 if "d" in operands else 4) * registers(operands)
        elif op.startswith("stmdb") and operands.startswith("sp!"):
            total += 4 * registers(operands)
        elif op.startswith("str") and (pre := re.search(r"\[sp, #-(\d+)\]!", operands)):
            total += int(pre[1])
        elif op in ("sub", "sub.w", "subw") and (m := re.fullmatch(r"(?:sp, )?sp, #(\d+)", operands)):
            total += int(m[1])
        elif op in ("addi", "c.addi16sp") and (m := re.fullmatch(r"sp, (?:sp, )?-(\d+)", operands)):
            total += int(m[1])
        elif op in ("add", "sub") and (m := re.fullmatch(r"sp, (?:sp, )?([a-z]\w*)", operands)) and m[1] != "sp":
            value = constant(m[1], body, n, memory)
            if value is None:
                sys.exit(f"{name}: takes {m[1]} off the stack, which is no constant here")
            down = -value if op == "add" else value
            total += max(down, 0)
    return total


def analysed(path, root="reset"):
    """Bytes from a function on, and the way there: [(name, frame)]."""
    functions, memory = listing(path), words(path)
    ordered = sorted(functions)
    starts = set(functions)
    name_of = {at: name for at, (name, _) in functions.items()}
    roots = {at for at, name in name_of.items() if root in (name, name.split("::h")[0])}
    if not roots:
        sys.exit(f"{path}: no {root}")
    last = max(end for _, end in code(functions))
    constants = [w & ~1 for at, w in memory.items() if at >= last]
    # The way in stands among the constants too.
    taken = {to for to in constants if to in starts} - roots

    def whose(address):
        """The function an address is in."""
        return ordered[bisect_right(ordered, address) - 1]

    def callees(start):
        name, body = functions[start]
        out = set()
        loaded = set()
        last = body[-1][0] if body else start
        high = None
        for address, op, operands in body:
            target = re.search(r"(?:^|[\s,(])0x([0-9a-f]+) <", operands)
            if literal := re.search(r"@ 0x([0-9a-f]+)", operands):
                word = memory.get(int(literal[1], 16), 0)
                loaded |= {word & ~1} & starts
            if op == "auipc" and (m := re.search(r"(\w+), (\d+)", operands)):
                high = (m[1], address + (int(m[2]) << 12))
            if op in ("jalr", "jr") and high and (m := re.search(r"(-?\d+)\((\w+)\)", operands)) and m[2] == high[0]:
                to = (high[1] + int(m[1])) & 0xFFFF_FFFF
                if to not in starts:
                    sys.exit(f"{name}: a call to {to:x}, which is no function")
                out.add(to)
                high = None
            elif op in CALLS and target:
                to = int(target[1], 16)
                # Within itself it is a jump that is too far for one.
                if whose(to) != start or to == start:
                    out.add(whose(to))
            elif op.split(".")[0] in ("b", "j") and target:
                to = int(target[1], 16)
                if to in starts and not start <= to <= last:
                    out.add(to)
            elif op in ("blx", "jalr") or (op in ("jr", "bx") and operands not in ("lr", "ra", "t0")):
                out |= loaded or taken
        return out

    best, doing = {}, []

    def deepest(start):
        if start in best:
            return best[start]
        if start in doing:
            way = " > ".join(name_of[at] for at in [*doing[doing.index(start):], start])
            sys.exit(f"the calls come round: {way}")
        doing.append(start)
        own = frame(*functions[start], memory)
        below = max((deepest(to) for to in callees(start)), key=lambda way: way[0], default=(0, []))
        doing.pop()
        best[start] = (own + below[0], [(name_of[start], own), *below[1]])
        return best[start]

    return deepest(min(roots))


def main():
    total, way = analysed(*sys.argv[1:])
    for name, own in way:
        print(f"{own:6} {name}")
    print(f"{total:6} in all")


if __name__ == "__main__":
    main()
