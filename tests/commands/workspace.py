"""A small workspace and the command line run in it."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

DAY = "2026-11-25"
ROOT = Path(__file__).resolve().parents[2]
OVERLOADED = ROOT / "tests" / "data" / "rigs" / "overloaded.yaml"
PLAIN = """\
nickname: {nickname}
market: us
vehicle:
  wheelbase: 120 in
  gvwr: 6,000 lb
trailer:
  type: ball
  body: utility
  gvwr: 2,000 lb
  empty:
    weight: 800 lb
    tongue: 90 lb
  axles:
    ball_to_center: 9 ft
cases:
  - name: empty run
"""


@dataclass(frozen=True, slots=True)
class Ran:
    """What a command did."""

    code: int
    out: str
    err: str


Run = Callable[..., Ran]


def write(root: Path, name: str, text: str = "", nickname: str = "") -> Path:
    """Write a rig file; a short, valid one when no text is given."""
    path = root / "rigs" / f"{name}.yaml"
    path.parent.mkdir(exist_ok=True)
    path.write_text(text or PLAIN.format(nickname=nickname or name.capitalize()), "utf-8")
    return path


def apart(*words: str, cwd: Path, stdin: str | None = None, **env: str) -> Ran:
    """Run the command line in a process of its own, without a terminal."""
    path = os.pathsep.join(filter(None, (str(ROOT), os.environ.get("PYTHONPATH", ""))))
    ran = subprocess.run(
        [sys.executable, "-m", "cardgen", *words],
        cwd=cwd,
        env=os.environ | {"PYTHONPATH": path} | env,
        input=stdin,
        stdin=subprocess.DEVNULL if stdin is None else None,
        capture_output=True,
        check=False,
        text=True,
        encoding="utf-8",
        errors="surrogateescape",
    )
    return Ran(ran.returncode, ran.stdout, ran.stderr)
