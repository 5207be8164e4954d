"""A small workspace with rigs, for tests."""

from __future__ import annotations

import datetime as dt
import hashlib
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from cardgen.bundle.build import BuildResult, build
from cardgen.bundle.plan import Request
from cardgen.bundle.work import Options, RigBuild
from tests.bundle.fake import NAME

DAY = dt.date(2026, 11, 25)


def rig_text(nickname: str, *, pressure: str = "50 psi", drop: str = "4 in", more: str = "") -> str:
    """A short, valid rig file with one shared part."""
    return f"""\
nickname: {nickname}
market: us
vehicle:
  part: vehicles/plain
trailer:
  type: ball
  body: utility
  empty:
    weight: 800 lb
    tongue: 90 lb
  tire_pressure: {pressure}
gear:
  mount:
    drop: {drop}
cases:
  - name: empty run
{more}"""


class Shed:
    """A folder with ``rigs/`` and ``build/``."""

    def __init__(self, root: Path) -> None:
        self.root = root
        self.rigs = root / "rigs"
        self.out = root / "build"
        (self.rigs / "parts" / "vehicles").mkdir(parents=True)
        self.part("wheelbase: 120 in")

    def part(self, text: str) -> None:
        """Write the shared vehicle."""
        (self.rigs / "parts" / "vehicles" / "plain.yaml").write_text(text + "\n", "utf-8")

    def rig(self, name: str, nickname: str = "", **more: str) -> Path:
        """Write a rig file."""
        path = self.rigs / f"{name}.yaml"
        path.write_text(rig_text(nickname or name.capitalize(), **more), "utf-8")
        return path

    def request(self, *names: str, **more: Any) -> Request:
        """A request for some rigs, or all."""
        files = [self.rigs / f"{name}.yaml" for name in names] or sorted(self.rigs.glob("*.yaml"))
        options = Options(day=more.pop("day", DAY))
        made = Request(files=tuple(files), whole=not names, out=self.out, options=options, maker=NAME)
        return replace(made, **more)

    def build(self, *names: str, **more: Any) -> BuildResult:
        """Build with the fake maker, in this process unless told otherwise."""
        return build(self.request(*names, **more))

    def one(self, *names: str, **more: Any) -> RigBuild:
        """Build and return what came of the first rig."""
        return self.build(*names, **more).rigs[0]

    def tree(self) -> Mapping[str, str]:
        """Every output file but our own folder, with its content's fingerprint."""
        return tree_of(self.out)

    def ledger_files(self, slug: str) -> list[str]:
        """Names of the files of a ledger."""
        folder = self.rigs / "revisions" / slug
        return sorted(one.name for one in folder.iterdir()) if folder.is_dir() else []


def tree_of(out: Path) -> dict[str, str]:
    """Every file of a folder except our own, with its content's fingerprint."""
    return {
        path.relative_to(out).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(out.rglob("*"))
        if path.is_file() and ".cardgen" not in path.parts
    }
