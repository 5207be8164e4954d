"""Cards printed once for all tests of the room."""

from __future__ import annotations

import fcntl
import pickle
from collections.abc import Callable
from functools import lru_cache
from pathlib import Path

import pytest

from cardgen.present.blocks import Card
from cardgen.render.pdf import RenderedCard, render_card
from cardgen.render.sizes import SIZES
from tests.conftest import Shared
from tests.render import samples, samples_more

CARDS: dict[str, Callable[[], Card]] = {
    "glovebox": samples.glovebox,
    "fullest": samples_more.fullest,
    "barest": samples_more.barest,
    "absurd": samples_more.absurd,
    "wallet": samples_more.wallet,
}


KEPT: list[Path] = []
"""The folder in which all processes that run the tests keep their prints."""


@pytest.fixture(scope="session", autouse=True)
def keep_prints(shared: Shared) -> None:
    """Make the folder of prints."""
    KEPT[:] = [shared("prints", Path.touch)]


@lru_cache(maxsize=64)
def printed(card: str, size: str) -> RenderedCard:
    """Print a sample card once, whichever process needs it first."""
    file = KEPT[0] / f"{card}-{size}"
    with file.with_suffix(".lock").open("a") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not file.exists():
            file.write_bytes(pickle.dumps(render_card(CARDS[card](), SIZES[size])))
    found = pickle.loads(file.read_bytes())
    assert isinstance(found, RenderedCard)
    return found


@pytest.fixture
def workspace(tmp_path: Path) -> Path:
    """An empty templates folder of a workspace."""
    folder = tmp_path / "templates"
    (folder / "cards" / "blocks").mkdir(parents=True)
    (folder / "styles").mkdir()
    return folder
