"""The long run of the ten laws: ``python -m tests.laws [rigs]``; 2,000 rigs take about ten minutes.

Prints how often each rule met each outcome, names a rule that met one fewer than five times,
and then every break of a law with the smallest rig found that shows it.
"""

from __future__ import annotations

import argparse
import time
from collections import Counter
from pathlib import Path
from random import Random

import yaml

from cardgen.limits.registry import rules
from tests.laws import knowledge, rated
from tests.laws.laws import PARTS
from tests.laws.rigs import random_rig
from tests.laws.subject import RANK, Subject, Violation, rule_of, smallest

FEW = 5


def outcomes(subjects: list[Subject]) -> None:
    """Print the table of rules and outcomes."""
    met: dict[str, Counter[str]] = {one.code: Counter() for one in rules()}
    for subject in subjects:
        for code, finding in subject.findings.items():
            rule = rule_of(code)
            met["weighed-limit" if rule.startswith("weighed-") else rule][finding.outcome.value] += 1
    words = [one.value for one in RANK]
    print(f"{'rule':26}" + "".join(f"{word:>13}" for word in words))
    for rule, counts in met.items():
        few = [word for word in words if counts[word] < FEW]
        note = f"   fewer than {FEW}: {', '.join(few)}" if few else ""
        print(f"{rule:26}" + "".join(f"{counts[word]:13}" for word in words) + note)


def hunt(
    subjects: list[Subject], wanted: tuple[str, ...], every: bool
) -> dict[str, dict[str, list[Violation]]]:
    """Breaks by part and by what breaks."""
    found: dict[str, dict[str, list[Violation]]] = {}
    for name, part in PARTS.items():
        if wanted and not name.startswith(wanted):
            continue
        began, groups = time.process_time(), found.setdefault(name, {})
        for number, subject in enumerate(subjects):
            if number % part.every and not every:
                continue
            for one in part.check(subject, Random(f"{name} {subject.seed}"), every):
                made = Violation(one.key, one.says, one.tree, one.redo, subject.seed, name)
                groups.setdefault(one.key, []).append(made)
        count = sum(len(one) for one in groups.values())
        print(
            f"law {name}: {count} breaks of {len(groups)} kinds, {time.process_time() - began:.0f} s",
            flush=True,
        )
    return found


def tell(name: str, groups: dict[str, list[Violation]], shrink: int, folder: Path | None) -> None:
    """Print every kind of break, the most frequent first, with its smallest rig."""
    part = PARTS[name]
    lines = [f"# Law {name}", "", part.words, ""]
    for place, (key, found) in enumerate(sorted(groups.items(), key=lambda pair: -len(pair[1]))):
        first = min(found, key=lambda one: len(str(one.tree)))
        lines += [f"## {key}", "", f"{len(found)} times, for example rig {first.seed}: {first.says}", ""]
        if place < shrink:
            small = smallest(first, part)
            lines += ["```yaml", yaml.safe_dump(small, sort_keys=False, width=110).rstrip(), "```", ""]
    text = "\n".join(lines)
    if folder is None:
        print(text)
    else:
        (folder / f"{name.replace(' ', '-')}.md").write_text(text + "\n", "utf-8")


def main() -> None:
    """Run everything."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("rigs", nargs="?", type=int, default=2000)
    parser.add_argument(
        "--from", dest="first", type=int, default=0, metavar="N", help="number of the first rig"
    )
    parser.add_argument(
        "--law",
        action="append",
        default=[],
        metavar="NAME",
        help="part to run, such as '7 tongue'; may repeat",
    )
    parser.add_argument(
        "--whole", action="store_true", help="try every leaf and rating of every rig, not a few"
    )
    parser.add_argument(
        "--shrink", type=int, default=3, metavar="N", help="kinds of each part whose rig is made small"
    )
    parser.add_argument(
        "--write", type=Path, metavar="FOLDER", help="write one file per part instead of printing"
    )
    args = parser.parse_args()
    subjects = [Subject(str(seed), random_rig(seed)) for seed in range(args.first, args.first + args.rigs)]
    if not args.law:
        outcomes(subjects)
    found = hunt(subjects, tuple(args.law), args.whole)
    for name, groups in found.items():
        if groups:
            tell(name, groups, args.shrink, args.write)
    if not args.law:
        quiet, unstated = rated.silent(subjects[:200], 12)
        print("fields that change nothing and are not refused:", *sorted(quiet), sep="\n  ")
        print("fields that no rig states:", *sorted(unstated), sep="\n  ")
        missing = sorted({one.key for one in knowledge.starters()})
        print("unknown in a starter and not listed as missing:", *missing, sep="\n  ")


if __name__ == "__main__":
    main()
