"""A fresh workspace for each test."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.bundle.shed import Shed


@pytest.fixture
def shed(tmp_path: Path) -> Shed:
    """A workspace without rigs."""
    return Shed(tmp_path)
