"""The preview as people use it: started from the shell, files edited, seen in a browser."""

from __future__ import annotations

import io
import re
import shutil
import signal
import subprocess
import sys
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np
import pytest
import zxingcpp
from playwright.sync_api import Browser, Error, Page, expect

from cardgen.commands.preview import code
from tests.conftest import PATIENCE
from tests.site.shed import ROOT
from tests.site.watch import watch

pytestmark = pytest.mark.browser


@pytest.fixture
def shelf(tmp_path: Path) -> Path:
    """A workspace with two rigs and their parts."""
    shutil.copytree(ROOT / "rigs" / "parts", tmp_path / "rigs" / "parts")
    for name in ("wren", "mule"):
        shutil.copy(ROOT / "rigs" / f"{name}.yaml", tmp_path / "rigs")
    return tmp_path


class Running:
    """A preview that runs."""

    def __init__(self, folder: Path, *flags: str) -> None:
        command = [sys.executable, "-m", "cardgen", "preview", "--port", "0", "--date", "2026-11-25", *flags]
        self.process = subprocess.Popen(
            command,
            cwd=folder,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            # Whoever runs the tests in the background has told them to ignore Ctrl-C, and it would never end.
            preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),
        )
        assert self.process.stdout is not None
        line = self.process.stdout.readline()
        found = re.fullmatch(r"preview at (http://[\w.:-]+/)\n", line)
        if found is None:
            self.process.kill()
            pytest.fail(f"no address: {line!r} {self.process.communicate()}")
        self.url = found[1]

    def end(self) -> tuple[int, str, str]:
        """Press Ctrl-C and wait; a preview that does not end is killed, and the test fails."""
        self.process.send_signal(signal.SIGINT)
        try:
            out, err = self.process.communicate(timeout=PATIENCE)
        finally:
            self.kill()
        return self.process.returncode, out, err

    def kill(self) -> None:
        """Leave no process behind, whatever the test came to."""
        if self.process.poll() is None:
            self.process.kill()
            self.process.communicate()


Start = Callable[..., Running]


@pytest.fixture
def start(shelf: Path) -> Iterator[Start]:
    """Starts previews of the workspace on the loopback, none of which outlives the test."""
    started: list[Running] = []

    def begin(*flags: str) -> Running:
        started.append(Running(shelf, *flags))
        return started[-1]

    yield begin
    for one in started:
        one.kill()


@pytest.fixture
def running(start: Start) -> Running:
    """A preview of the workspace."""
    return start()


def fetched(url: str, **headers: str) -> tuple[int, str, bytes]:
    """Status, kind and body of an answer."""
    try:
        with urllib.request.urlopen(urllib.request.Request(url, headers=headers), timeout=PATIENCE) as answer:
            return answer.status, answer.headers["Content-Type"], answer.read()
    except urllib.error.HTTPError as fault:
        with fault:
            return fault.code, fault.headers["Content-Type"], fault.read()


def newest(page: Page) -> None:
    """Wait until the page is of the newest version: one that says less than it is loads anew by itself once more."""
    page.wait_for_function(
        "async () => (await (await fetch('/-/next?v=no')).text()) === document.documentElement.dataset.version"
    )


def go(page: Page, url: str) -> None:
    """Open a page; one that begins to load itself anew just then breaks a try off, on a busy machine more than one."""
    for _ in range(4):
        try:
            page.goto(url)
            return
        except Error:
            page.wait_for_timeout(200)
    page.goto(url)


def test_edit_break_and_mend_a_rig(browser: Browser, shelf: Path, running: Running) -> None:
    file = shelf / "rigs" / "wren.yaml"
    good = file.read_text(encoding="utf-8")
    with watch(browser) as seen:
        page = seen.page
        page.goto(f"{running.url}wren-and-pebble/#governs")
        expect(page.locator("h1")).to_have_text("Wren and Pebble")
        file.write_text(good.replace("note: Lent out", "note: Now <i>lent</i> out"), encoding="utf-8")
        expect(page.locator(".subtitle")).to_contain_text("Now <i>lent</i> out")
        assert page.url.endswith("#governs")
        file.write_text(good.replace("planned_speed: 60 mph", "planned_speed: '60 <b>'"), encoding="utf-8")
        expect(page.locator("h1")).to_have_text("wren.yaml has faults")
        line = 1 + good[: good.index("planned_speed")].count("\n")
        expect(page.locator(".faults code").first).to_contain_text(f"wren.yaml:{line}:")
        assert "<b>" in page.locator(".faults").last.inner_text()  # escaped
        page.goto(running.url)
        assert page.locator("tr.faults").inner_text().startswith("wren.yaml")
        assert page.locator(".rigs tbody tr").count() == 2  # the other rig is there
        assert page.locator(".choice").first.locator("a").all_text_contents() == [
            "all 2",
            "faulty 1",
            "close 1",
        ]
        file.write_text(good, encoding="utf-8")
        expect(page.locator("tr.faults")).to_have_count(0)
        newest(page)
        go(page, f"{running.url}wren-and-pebble/")
        file.write_text(good.replace("nickname: Wren and Pebble", "nickname: Jenny"), encoding="utf-8")
        expect(page.locator("h1")).to_have_text("There is no such page")  # it has loaded anew by itself
        page.get_by_role("link", name="Jenny").click()
        expect(page.locator("h1")).to_have_text("Jenny")
        newest(page)
        go(page, f"{running.url}wren-and-pebble/")
        file.write_text(good, encoding="utf-8")
        expect(page.locator("h1")).to_have_text("Wren and Pebble")
        refused = [
            text for text in seen.said if "status of 404" in text
        ]  # the browser's own word on a page that is gone
        assert len(refused) == 2
        seen.said[:] = [text for text in seen.said if text not in refused]
    status, out, err = running.end()
    assert status == 0
    assert out.endswith("preview ended\n")
    assert "Traceback" not in err
    assert "wren.yaml: 1 fault" in err


def test_a_changed_part_reaches_the_rigs_that_use_it(browser: Browser, shelf: Path, running: Running) -> None:
    part = shelf / "rigs" / "parts" / "trailers" / "wren.yaml"
    with watch(browser) as seen:
        seen.page.goto(f"{running.url}wren-and-pebble/check.html")
        expect(seen.page.locator("#governs")).to_contain_text("of 1,900\u00a0lb")
        part.write_text(re.sub("gvwr: 1,900 lb", "gvwr: 1,950 lb", part.read_text("utf-8")), encoding="utf-8")
        expect(seen.page.locator("#governs")).to_contain_text("of 1,950\u00a0lb")
    status, _, err = running.end()
    assert status == 0
    assert err.count("mule.yaml: made") == 1  # only made once, at the start


def test_an_own_template_shows_at_once(browser: Browser, shelf: Path, start: Start) -> None:
    own = shelf / "templates" / "report"
    own.mkdir(parents=True)
    text = '{% extends "cardgen/report/report.html.j2" %}{% block verdict %}<p>Our own words</p>{{ super() }}{% endblock %}'
    (own / "report.html.j2").write_text(text, encoding="utf-8")
    started = start()
    with watch(browser) as seen:
        seen.page.goto(f"{started.url}mule-and-pebble/")
        expect(seen.page.locator("main")).to_contain_text("Our own words")
        (own / "report.html.j2").write_text(text.replace("Our own", "Other"), encoding="utf-8")
        expect(seen.page.locator("main")).to_contain_text("Other words")
        (own / "report.html.j2").write_text("{% extends 'report/nothing.j2' %}", encoding="utf-8")
        expect(seen.page.locator("h1")).to_contain_text("has faults")
    assert started.end()[0] == 0


def test_only_known_pages_and_names_are_served(shelf: Path, running: Running) -> None:
    assert fetched(running.url)[:2] == (200, "text/html; charset=utf-8")
    assert fetched(f"{running.url}wren-and-pebble?c=g&r=1")[0] == 200  # led on to the folder
    for path in (
        "../rigs/wren.yaml",
        "%2e%2e/rigs/wren.yaml",
        "rigs/wren.yaml",
        "wren-and-pebble/x.html",
        "a/b/c",
    ):
        assert fetched(running.url + path)[0] == 404
    assert fetched(running.url, Host="evil.example")[0] == 421
    assert not (shelf / "build").exists()
    assert not (shelf / "rigs" / "revisions").exists()


def test_a_card_is_printed_when_asked_for(running: Running) -> None:
    status, kind, body = fetched(f"{running.url}mule-and-pebble/wallet-card.pdf")
    assert (status, kind) == (200, "application/pdf")
    assert body.startswith(b"%PDF-")
    assert fetched(f"{running.url}mule-and-pebble/no-card.pdf")[0] == 404


def test_on_the_local_network_after_a_notice(start: Start) -> None:
    started = start("--lan")
    text = fetched(f"{started.url}mule-and-pebble/")[2].decode()
    assert "Mule and Pebble" in text
    status, out, err = started.end()
    assert status == 0
    assert "Everybody on this local network can now read these pages" in err
    assert f"preview at {started.url}" not in out  # read before
    rows = out.partition("scan:\n")[2].partition("preview ended")[0].splitlines()
    assert scanned(rows) == started.url
    assert not started.url.startswith("http://localhost")


def scanned(rows: list[str]) -> str:
    """What a phone reads from a code in letters: half blocks, or two letters for each module."""
    halves = {" ": (0, 0), "\u2584": (0, 1), "\u2580": (1, 0), "\u2588": (1, 1)}
    if "#" in "".join(rows):
        dark = [[one == "#" for one in row[::2]] for row in rows]
    else:
        dark = [[halves[one][half] == 1 for one in row] for row in rows for half in (0, 1)]
    picture = np.array([[0 if one else 255 for one in row] for row in dark], dtype=np.uint8)
    (found,) = zxingcpp.read_barcodes(picture.repeat(6, axis=0).repeat(6, axis=1))
    return str(found.text)


@pytest.mark.parametrize("encoding", ["utf-8", "cp1252"])
def test_a_code_in_letters_can_be_scanned(encoding: str) -> None:
    out = io.TextIOWrapper(io.BytesIO(), encoding)
    assert scanned(list(code("http://192.0.2.7:8731/", out))) == "http://192.0.2.7:8731/"


def test_a_port_in_use_is_told(shelf: Path, running: Running) -> None:
    port = running.url.rstrip("/").rsplit(":", 1)[1]
    command = [sys.executable, "-m", "cardgen", "preview", "--port", port]
    done = subprocess.run(command, cwd=shelf, capture_output=True, text=True, check=False, timeout=PATIENCE)
    assert done.returncode == 5
    assert f"port {port} cannot be used" in done.stderr
    assert "Traceback" not in done.stderr
