"""A real browser, the pages on disk and the pages from a server on this machine."""

from __future__ import annotations

import functools
import shutil
import threading
from collections.abc import Iterator
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect, sync_playwright

from tests.conftest import PATIENCE, Shared
from tests.site import shed

NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


expect.set_options(timeout=PATIENCE * 1000)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """An installed Chromium-family browser; the tests fail without one."""
    path = next((found for found in map(shutil.which, NAMES) if found), None)
    if path is None:
        pytest.fail(f"no Chromium-family browser found: install one of {', '.join(NAMES)}")
    with sync_playwright() as play:
        started = play.chromium.launch(executable_path=path, args=FLAGS)
        yield started
        started.close()


@pytest.fixture(scope="session")
def site(shared: Shared) -> shed.Site:
    """All pages in a folder."""
    return shed.Site(shared("site", lambda folder: shed.write(folder)))


class Quiet(SimpleHTTPRequestHandler):
    """Serves files and says nothing."""

    def log_message(self, format: str, *args: object) -> None:
        """Stay silent."""


@pytest.fixture(scope="session")
def served(site: shed.Site) -> Iterator[str]:
    """Address of a server of the folder on the loopback."""
    server = ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(Quiet, directory=str(site.folder)))
    thread = threading.Thread(target=server.serve_forever)
    thread.start()
    yield f"http://127.0.0.1:{server.server_port}"
    server.shutdown()
    thread.join()
    server.server_close()


@pytest.fixture(scope="session")
def pages(site: shed.Site) -> list[Path]:
    """Every page."""
    return sorted(site.folder.rglob("*.html"))
