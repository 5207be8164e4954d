"""What all tests share: the flag that renews golden files, and how a text is held against one."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

settings.register_profile(
    "steady", deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow]
)
settings.register_profile("long", settings.get_profile("steady"), derandomize=False, max_examples=20_000)
settings.load_profile("steady")
"""The same examples every time, however busy the machine; ``--hypothesis-profile long`` looks further."""

Golden = Callable[[Path, str], None]
"""Compares a text with a file in the checkout, or writes it there when the flag is given."""


def pytest_addoption(parser: pytest.Parser) -> None:
    """Add the flag."""
    parser.addoption(
        "--update-golden",
        action="store_true",
        help="write generated texts and golden files anew instead of comparing with them",
    )


@pytest.fixture
def golden(request: pytest.FixtureRequest) -> Golden:
    """Hold a text against a file: ``golden(path, text)``."""
    renew = bool(request.config.getoption("--update-golden"))

    def compare(path: Path, text: str) -> None:
        if renew:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8", newline="\n")
        kept = path.read_text(encoding="utf-8") if path.is_file() else ""
        assert kept == text, f"{path.name} is not up to date; renew it with: pytest --update-golden"

    return compare
