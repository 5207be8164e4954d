"""The demo rigs, built once for all acceptance tests."""

from __future__ import annotations

import pytest

from tests.acceptance.shed import Ran, Shed, build_demo, cardgen


@pytest.fixture(scope="session")
def shed(tmp_path_factory: pytest.TempPathFactory) -> Shed:
    """All demo rigs, built with nothing but the date."""
    return build_demo(tmp_path_factory.mktemp("shed"))


@pytest.fixture(scope="session")
def overloaded(tmp_path_factory: pytest.TempPathFactory) -> Shed:
    """The overloaded rig, alone in its folder."""
    from tests.acceptance.shed import DAY, OVERLOADED

    root = tmp_path_factory.mktemp("overloaded")
    (root / "rigs").mkdir()
    (root / "rigs" / "walrus.yaml").write_bytes(OVERLOADED.read_bytes())
    made: Ran = cardgen("build", "--date", DAY, cwd=root)
    return Shed(root, made)
