"""What all tests share: the flag that renews golden files, and how a text is held against one."""

from __future__ import annotations

import fcntl
import os
import signal
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

FEW = 100
"""More random examples than these are asked for in the long run only."""
BUSY = [HealthCheck.too_slow]
settings.register_profile(
    "steady", max_examples=50, deadline=None, derandomize=True, suppress_health_check=BUSY
)
settings.register_profile("long", max_examples=20_000, deadline=None, suppress_health_check=BUSY)
settings.load_profile("steady")
"""The same few examples every time, however busy the machine; ``--hypothesis-profile long`` looks further."""

PATIENCE = 600
"""How long a test waits for what must come [s]: only a page or program that hangs takes so long."""

Shared = Callable[[str, Callable[[Path], object]], Path]
"""Gives a folder that is filled once for all workers: ``shared(name, fill)``."""

Golden = Callable[[Path, str], None]
"""Compares a text with a file in the checkout, or writes it there when the flag is given."""


def long_run() -> bool:
    """Whether everything is tried: ``--hypothesis-profile long``."""
    return settings.default is not None and settings.default.max_examples > FEW


def pytest_configure() -> None:
    """Hear Ctrl-C: a shell lets what it runs in the background ignore it, and so would what the tests start.

    And let programs keep what they compile, whatever the shell says: the tests start some hundred of them.
    """
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
        signal.signal(signal.SIGINT, signal.default_int_handler)


def pytest_addoption(parser: pytest.Parser) -> None:
    """Add the flag."""
    parser.addoption(
        "--update-golden",
        action="store_true",
        help="write generated texts and golden files anew instead of comparing with them",
    )


@pytest.fixture(scope="session")
def shared(tmp_path_factory: pytest.TempPathFactory) -> Shared:
    """Fill a folder once, whichever of the processes that run the tests needs it first; the others wait.

    Nobody may change what is in it: who wants to, copies it.
    """
    base = tmp_path_factory.getbasetemp()
    top = base.parent if "PYTEST_XDIST_WORKER" in os.environ else base

    def made(name: str, fill: Callable[[Path], object]) -> Path:
        folder, done = top / f"shared-{name}", top / f"shared-{name}.done"
        with (top / f"shared-{name}.lock").open("a") as lock:
            fcntl.flock(lock, fcntl.LOCK_EX)
            if not done.exists():
                folder.mkdir()
                fill(folder)
                done.touch()
        return folder

    return made


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
