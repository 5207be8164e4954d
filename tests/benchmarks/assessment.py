"""How long one rig's full assessment takes: all cases, envelope, uncertainty, checks, remedies, sway.

Run it by hand, nothing runs it by default:

    python -m tests.benchmarks.assessment [--rounds 30]

Reading and checking the YAML file is not part of it. Prints milliseconds of processor
time per rig, median and ninth decile, and how many findings were close or over, because
every proposal for one is a whole computation of a changed rig.
"""

from __future__ import annotations

import argparse
import datetime as dt
import statistics
import time
from dataclasses import replace

from cardgen.limits.assess import assess
from cardgen.model.results import Assessment, Outcome
from cardgen.model.rig import Rig
from cardgen.physics.compute import compute
from tests.limits.bench import rig as bench_rig
from tests.limits.test_remedies import TROUBLES
from tests.physics.build import DEMO, demo

DAY = dt.date(2026, 11, 25)


def full(rig: Rig) -> Assessment:
    """What is measured."""
    return assess(compute(rig), DAY)


def measure(rig: Rig, rounds: int) -> tuple[float, float]:
    """Median and ninth decile of the processor time of one assessment [ms]."""
    full(rig)
    spent = []
    for anew in [replace(rig) for _ in range(rounds)]:  # what is remembered of a rig does not count
        start = time.process_time()
        full(anew)
        spent.append(1e3 * (time.process_time() - start))
    return statistics.median(spent), statistics.quantiles(spent, n=10)[-1]


def main() -> None:
    """Print one line per rig."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("--rounds", type=int, default=30)
    rounds = parser.parse_args().rounds
    rigs = {name: demo(name) for name in DEMO}
    rigs |= {f"overloaded: {name}": bench_rig(changes) for name, changes in TROUBLES.items()}
    for name, rig in rigs.items():
        median, slow = measure(rig, rounds)
        made = full(rig)
        troubled = sum(f.outcome in (Outcome.CLOSE, Outcome.OVER) for f in made.findings)
        proposals = sum(len(found) for found in made.remedies.values())
        print(
            f"{name:40s} {median:6.1f} ms (9 of 10 under {slow:.1f}), "
            f"{len(made.findings)} findings, {troubled} close or over, {proposals} proposals"
        )


if __name__ == "__main__":
    main()
