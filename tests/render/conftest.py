"""Cards printed once for all tests of the room."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from pathlib import Path

import pytest

from cardgen.present.blocks import Card
from cardgen.render.pdf import RenderedCard, render_card
from cardgen.render.sizes import SIZES
from tests.render import samples, samples_more

CARDS: dict[str, Callable[[], Card]] = {
    "glovebox": samples.glovebox,
    "fullest": samples_more.fullest,
    "barest": samples_more.barest,
    "absurd": samples_more.absurd,
    "wallet": samples_more.wallet,
}


@lru_cache(maxsize=64)
def printed(card: str, size: str) -> RenderedCard:
    """Print a sample card once."""
    return render_card(CARDS[card](), SIZES[size])


@pytest.fixture
def workspace(tmp_path: Path) -> Path:
    """An empty templates folder of a workspace."""
    folder = tmp_path / "templates"
    (folder / "cards" / "blocks").mkdir(parents=True)
    (folder / "styles").mkdir()
    return folder
