"""A copy of the demo rigs in a folder of its own, built by the real command."""

from __future__ import annotations

import contextlib
import hashlib
import io
import json
import os
import shutil
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from cardgen.cli import main

ROOT = Path(__file__).resolve().parents[2]
RIGS = ROOT / "rigs"
OVERLOADED = ROOT / "tests" / "data" / "rigs" / "overloaded.yaml"
DAY = "2026-11-25"
DEMO = tuple(sorted(path.stem for path in RIGS.glob("*.yaml")))


@dataclass(frozen=True, slots=True)
class Ran:
    """A finished command: its exit code and what it said."""

    code: int
    out: str
    err: str


@dataclass(frozen=True, slots=True)
class Shed:
    """A workspace folder; ``build`` is what the first build of it said."""

    root: Path
    build: Ran

    @property
    def rigs(self) -> Path:
        """Folder of the rig files."""
        return self.root / "rigs"

    @property
    def out(self) -> Path:
        """Output folder."""
        return self.root / "build"

    def folders(self) -> list[Path]:
        """Output folder of every rig."""
        return sorted(path.parent for path in self.out.glob("*/index.html"))

    def cards(self) -> list[Path]:
        """Every printed card of every rig."""
        return sorted(self.out.glob("*/*.pdf"))


def copy_rigs(target: Path) -> None:
    """Copy the demo rigs and their parts, without the revisions of the checkout."""
    shutil.copytree(RIGS, target, ignore=shutil.ignore_patterns("revisions", "*.schema.json"))


def cardgen(*words: str, cwd: Path, python: str = sys.executable, **env: str) -> Ran:
    """Run the command line in a process of its own."""
    path = os.pathsep.join(filter(None, (str(ROOT), os.environ.get("PYTHONPATH", ""))))
    ran = subprocess.run(
        [python, "-m", "cardgen", *words],
        cwd=cwd,
        env=os.environ | {"PYTHONPATH": path} | env,
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
    )
    return Ran(ran.returncode, ran.stdout, ran.stderr)


def build_demo(root: Path, *words: str) -> Shed:
    """Copy the demo rigs below a folder and build them all, as README says."""
    copy_rigs(root / "rigs")
    return Shed(root, cardgen("build", "--date", DAY, *words, cwd=root))


def contents(folder: Path) -> dict[str, str]:
    """Fingerprint of every file below a folder."""
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def here(*words: str) -> Ran:
    """Run the command line in this process, which is quicker."""
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        code = main(words)
    return Ran(code, out.getvalue(), err.getvalue())


def results_of(file: Path, *words: str, date: str = DAY) -> dict[str, Any]:
    """What ``cardgen results --json`` prints for a rig file."""
    ran = here("results", str(file), "--json", "--date", date, *words)
    assert ran.code in (0, 1), ran.err
    assert ran.err == ""
    found = json.loads(ran.out)
    assert isinstance(found, dict)
    return found
