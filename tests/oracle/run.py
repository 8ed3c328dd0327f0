"""Runs every oracle; ends with a line 'N passed, N failed' and fails if anything disagrees.

    python tests/oracle/run.py [part ...]
"""

import sys
import time

import boundaries
import closed_forms
import examples
import mutations
import networks
import random_jobs
import reading_forms
import supports
import tr50480

PARTS = {
    "examples": ("the examples on disk are what the second computation says", examples.on_disk),
    "boundaries": ("the rows beside each limit are where the second computation puts it", boundaries.run),
    "rows": ("the core's answers to the rows of the examples", examples.rows),
    "whole": ("every figure of every example job, core against second computation", examples.whole),
    "random-jobs": ("the same of random jobs", random_jobs.run),
    "supports": ("what stands behind the rows from memory, where it can be computed", supports.run),
    "tr50480": ("how far our method lies from one made to check software by, as its page says", tr50480.run),
    "closed-forms": ("elementary formulas at random inputs, 30 digits", closed_forms.run),
    "readings": ("readings of random jobs, their limits, bands and verdicts", reading_forms.run),
    "jobs": ("schema and reader of one mind", mutations.run),
    "networks": ("random radial networks against pandapower", networks.run),
}


def main():
    wanted = sys.argv[1:] or list(PARTS)
    strangers = [w for w in wanted if w not in PARTS]
    if strangers:
        print(f"no such part: {', '.join(strangers)}; there are {', '.join(PARTS)}")
        return 2
    passed = failed = 0
    for name in wanted:
        title, part = PARTS[name]
        began = time.time()
        print(f"{name}: {title}", flush=True)
        try:
            good, bad = part()
        except Exception as error:  # a part that breaks has not passed
            print(f"  broke: {type(error).__name__}: {error}")
            good, bad = 0, 1
        if good == 0 and bad == 0:
            print("  nothing was compared")
            bad = 1
        passed, failed = passed + good, failed + bad
        print(f"  {good} passed, {bad} failed, {time.time() - began:.0f} s", flush=True)
    print(f"{passed} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
