"""What a person waits for in a browser: a large page of all rigs, and an edit in the preview."""

from __future__ import annotations

import datetime as dt
import shutil
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import Browser, sync_playwright

from cardgen.bundle.work import Options
from cardgen.commands.preview import address, open_server, serve, watched
from cardgen.commands.preview_site import PreviewSite, snapshot
from tests.benchmarks.harness import ROOT, Row, Table
from tests.site import fleet
from tests.site.conftest import FLAGS, NAMES

PHONE = {"width": 390, "height": 844}
LARGE, SIDE = 1000, 20
"""Rigs, and vehicles as well as trailers, on the largest page that is measured [-]."""


@contextmanager
def browser() -> Iterator[Browser]:
    """An installed browser."""
    path = next(found for found in map(shutil.which, NAMES) if found)
    with sync_playwright() as play:
        started = play.chromium.launch(executable_path=path, args=FLAGS)
        yield started
        started.close()


def all_rigs(table: Table, folder: Path, rounds: int) -> None:
    """The page of 1,000 rigs: its size, and when a phone-sized window can first be used.

    First use is the end of the page's script: the list is there, and search and filters answer.
    """
    file = folder / "index.html"
    file.write_bytes(fleet.page(LARGE, SIDE))
    table.add(Row(f"page of {LARGE:,} rigs", "kB", [file.stat().st_size / 1000], "under 400"))
    first, typed = [], []
    with browser() as started:
        for _ in range(rounds):
            page = started.new_page(viewport=PHONE)  # type: ignore[arg-type]  # a plain dictionary of two numbers
            page.goto(file.as_uri())
            first.append(
                page.evaluate("performance.getEntriesByType('navigation')[0].domContentLoadedEventEnd / 1000")
            )
            typed.append(
                page.evaluate(
                    "() => { const q = document.querySelector('#q'), at = performance.now(); q.value = 'amber';"
                    " q.dispatchEvent(new Event('input')); document.body.offsetHeight; return performance.now() - at }"
                )
            )
            page.close()
    table.add(Row(f"page of {LARGE:,} rigs, first use", "s", first, "under 1"))
    table.add(Row(f"page of {LARGE:,} rigs, one letter searched", "ms", typed))


def preview(table: Table, folder: Path, rounds: int) -> None:
    """A note of a rig is saved until the page that is open shows it; the demo rigs are served."""
    shutil.copytree(ROOT / "rigs", folder / "rigs", ignore=shutil.ignore_patterns("revisions"))
    rig = folder / "rigs" / "wren.yaml"
    text = rig.read_text("utf-8")
    site = PreviewSite(None, folder / "rigs", Options(day=dt.date(2026, 11, 25)))
    folders = watched((folder / "rigs",), None)
    seen = snapshot(folders)
    site.refresh(seen)
    server = open_server(site, 0, lan=False)
    # A daemon: it ends with the program, as Ctrl-C ends it elsewhere.
    threading.Thread(target=serve, args=(server, folders, seen), daemon=True).start()
    with browser() as started:
        for name, path in (("a rig's page", "wren-and-pebble/use.html"), ("the page of all rigs", "")):
            page = started.new_page()
            page.goto(f"{address(server)}{path}")
            spent = []
            for number in range(rounds):
                time.sleep(1)  # until the page waits for news again
                old = page.evaluate("document.documentElement.dataset.version")
                began = time.perf_counter()
                rig.write_text(text.replace("note: Lent out", f"note: {number} lent out"), "utf-8")
                page.wait_for_function(
                    "(old) => document.readyState === 'complete' && document.documentElement.dataset.version !== old",
                    arg=old,
                    polling=10,
                )
                spent.append(time.perf_counter() - began)
            table.add(Row(f"preview: saved until {name} shows it", "s", spent, "under 0.5"))
            page.close()
