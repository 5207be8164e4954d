"""The demo rigs, built once for all acceptance tests, however many processes run them."""

from __future__ import annotations

import json
from dataclasses import asdict
from pathlib import Path

import pytest

from tests.acceptance.shed import DAY, OVERLOADED, Ran, Shed, build_demo, cardgen
from tests.conftest import Shared

SAID = "said.json"


def kept(folder: Path) -> Shed:
    """The workspace in a shared folder, and what its build said."""
    return Shed(folder / "shed", Ran(**json.loads((folder / SAID).read_text("utf-8"))))


def keep(folder: Path, made: Ran) -> None:
    """Write down what a build said."""
    (folder / SAID).write_text(json.dumps(asdict(made)), "utf-8")


@pytest.fixture(scope="session")
def shed(shared: Shared) -> Shed:
    """All demo rigs, built with nothing but the date."""

    def fill(folder: Path) -> None:
        keep(folder, build_demo(folder / "shed").build)

    return kept(shared("demo", fill))


@pytest.fixture(scope="session")
def overloaded(shared: Shared) -> Shed:
    """The overloaded rig, alone in its folder."""

    def fill(folder: Path) -> None:
        rigs = folder / "shed" / "rigs"
        rigs.mkdir(parents=True)
        (rigs / "walrus.yaml").write_bytes(OVERLOADED.read_bytes())
        keep(folder, cardgen("build", "--date", DAY, cwd=rigs.parent))

    return kept(shared("overloaded", fill))
