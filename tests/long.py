"""The long runs, outside the suite: ``python -m tests.long [PART ...]``; all parts take some hours.

Every part but the driveway is tests of the suite with far more examples. What came of it stands in ``long.md``
beside this file: one row for each part, written anew when that part is run.
"""

from __future__ import annotations

import argparse
import datetime as dt
import platform
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from xml.etree import ElementTree

HERE = Path(__file__).parent
RESULTS = HERE / "long.md"
PARTS = {
    "kills": ("bundle/test_kill.py", "commands/test_ends.py"),
    "disk": ("hardening/test_disk.py", "bundle/test_swap.py"),
    "fuzz": ("hardening/test_reader.py",),
    "sheets": ("hardening/test_sheet.py",),
    "edits": ("acceptance/test_mutations.py", "acceptance/test_told.py", "model/test_mutations.py"),
    "ends": ("hardening/test_extremes.py",),
    "sizes": ("acceptance/test_sizes.py",),
    "driveway": ("site/driveway.py",),
}
"""What is tried, and the files of tests that try it: the ends of a build, disks that fail, 100,000 bent rig
files, cargo sheets, every field of every demo rig changed, every field at its ends, every card in every size and the cards of 200 random rigs, three rigs from nothing to a card on a phone."""
HEAD = """\
# What the long runs gave

Written by `python -m tests.long`, one row for each part. *At* is the version of the sources.

| part | day | at | Python | tests | failed | time [min] |
|---|---|---|---|---|---|---|
"""


def main(words: list[str]) -> int:
    """Run parts and keep what came of them; the code is 1 when a test failed."""
    parser = argparse.ArgumentParser(prog="python -m tests.long", description=__doc__)
    parser.add_argument("parts", nargs="*", metavar="PART", help=f"one of {', '.join(PARTS)}; all when none")
    asked = parser.parse_args(words).parts or list(PARTS)
    for name in asked:
        if name not in PARTS:
            parser.error(f"there is no part '{name}'; there are {', '.join(PARTS)}")
    failed = 0
    for name in asked:
        tests, bad, minutes = run(PARTS[name])
        failed += bad
        day = dt.date.today().isoformat()
        keep(name, f"{day} | {version()} | {platform.python_version()} | {tests} | {bad} | {minutes:.1f}")
    return 1 if failed else 0


def run(files: tuple[str, ...]) -> tuple[int, int, float]:
    """Number of tests, of those that failed, and minutes."""
    with tempfile.TemporaryDirectory() as folder:
        told = Path(folder, "told.xml")
        paths = [str(HERE / one) for one in files]
        flags = ["-n0", "-q", "--hypothesis-profile", "long", f"--junitxml={told}"]
        began = time.monotonic()
        code = subprocess.run([sys.executable, "-m", "pytest", *flags, *paths], check=False).returncode
        minutes = (time.monotonic() - began) / 60
        if not told.exists():
            return 0, 1, minutes
        suites = list(ElementTree.parse(told).iter("testsuite"))
    tests = sum(int(one.get("tests", 0)) for one in suites)
    bad = sum(int(one.get("failures", 0)) + int(one.get("errors", 0)) for one in suites)
    return tests, max(bad, int(code != 0)), minutes


def version() -> str:
    """Short name of the commit, with a plus when files differ from it."""
    said = subprocess.run(
        ["git", "describe", "--always", "--dirty=+"], cwd=HERE, capture_output=True, text=True, check=False
    )
    return said.stdout.strip() or "unknown"


def keep(name: str, row: str) -> None:
    """Put a row in the place of an earlier one of its part."""
    text = RESULTS.read_text("utf-8") if RESULTS.exists() else ""
    rows = {line.split("|")[1].strip(): line for line in text.splitlines() if line.startswith("| ")}
    rows = {part: line for part, line in rows.items() if part in PARTS} | {name: f"| {name} | {row} |"}
    lines = [rows[part] for part in PARTS if part in rows]
    RESULTS.write_text(HEAD + "\n".join(lines) + "\n", "utf-8")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
