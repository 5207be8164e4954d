"""The preview's server: nothing from the disk, no other name, no way to another machine."""

from __future__ import annotations

import contextlib
import os
import re
import shutil
import socket
import subprocess
import sys
import threading
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest

from cardgen.bundle.work import Options
from cardgen.commands import preview_server
from cardgen.commands.preview import open_server
from cardgen.commands.preview_server import Server
from cardgen.commands.preview_site import PreviewSite, snapshot
from tests.commands.workspace import ROOT, write
from tests.conftest import PATIENCE
from tests.each import each
from tests.hardening.hostile import DAY

LENGTH = 200_000


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    root = tmp_path_factory.mktemp("preview")
    write(root, "plover")
    (root / "secret.txt").write_text("secret words", "utf-8")
    (root / "rigs" / "secret.txt").write_text("secret words", "utf-8")
    site = PreviewSite(None, root / "rigs", Options(day=DAY, html_only=True))
    site.refresh(snapshot((root / "rigs",)))
    made = open_server(site, 0, lan=False)
    thread = threading.Thread(target=made.serve_forever, kwargs={"poll_interval": 0.05}, daemon=True)
    thread.start()
    yield made
    made.shutdown()
    thread.join()
    made.server_close()


def ask(server: Server, request: bytes) -> tuple[int, str]:
    """Send raw bytes; return the status (0 for none) and the whole answer."""
    with socket.create_connection(("127.0.0.1", server.server_port), timeout=PATIENCE) as line:
        line.sendall(request)
        line.shutdown(socket.SHUT_WR)
        answer = b""
        while len(answer) < LENGTH and (more := line.recv(65536)):
            answer += more
    head = answer.split(b"\r\n", 1)[0].split()
    return (int(head[1]) if len(head) > 1 and head[0].startswith(b"HTTP/") else 0), answer.decode(
        "utf-8", "replace"
    )


def get(server: Server, path: str, host: str = "127.0.0.1") -> tuple[int, str]:
    return ask(server, f"GET {path} HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n".encode())


def test_it_serves_the_rig(server: Server) -> None:
    assert get(server, "/")[0] == 200
    status, page = get(server, "/plover/")
    assert status == 200
    assert "Plover" in page
    assert get(server, "/plover")[0] == 308


PATHS = [
    "/../secret.txt", "/../../secret.txt", "/plover/../../secret.txt", "/plover/../secret.txt", "/%2e%2e/secret.txt",
    "/%2e%2e%2fsecret.txt", "/..%5csecret.txt", "/plover/%2e%2e/secret.txt", "/plover/..%2f..%2fsecret.txt",
    "//secret.txt", "/./secret.txt", "/etc/passwd", "//etc/passwd", "/%00", "/plover/%00", "/plover/secret.txt",
    "/plover.yaml", "/rigs/plover.yaml", "/secret.txt", "secret.txt", "/plover/glovebox-card.pdf/..", "/plover/x.pdf",
    "/plover/../plover/../secret.pdf", "/plover/index.html/secret.txt", "*", "/?x=/../secret.txt#/secret",
    "http://127.0.0.1/secret.txt", "/" + "a" * 5000, "/" + "%25" * 500, "/plover/" + "a/" * 500,
]  # fmt: skip


@each("path", PATHS, ids=lambda text: text[:30])
def test_nothing_else_is_served(server: Server, path: str) -> None:
    status, answer = get(server, path)
    assert status in (200, 400, 404, 414), answer[:200]
    assert "secret words" not in answer
    assert "root:" not in answer
    if status == 200:
        assert path.startswith(("/?", "http://127.0.0.1/", "*", "//", "secret")) or "Rigs" in answer


@each(
    "path",
    [
        "//evil",
        "///evil",
        "/\\evil",
        "/%5cevil",
        "/\\\\evil",
        "/%2fevil",
        "/evil%0d%0aX:1",
        "//2130706433",
        "/@evil",
    ],
)
def test_no_answer_leads_to_another_machine(server: Server, path: str) -> None:
    _, answer = get(server, path)
    head = answer.split("\r\n\r\n")[0]
    for line in head.split("\r\n"):
        if line.lower().startswith("location:"):
            where = line.split(":", 1)[1].strip()
            assert where.startswith("/")
            assert where[1:2] not in ("/", "\\", "%")
    assert "\r\nX:" not in head


@each(
    "host",
    ["evil.example", "127.0.0.1.evil.example", "localhost.evil", "", "[::1", "[::1]", "0.0.0.0", "x" * 3000],
)
def test_other_names_are_refused(server: Server, host: str) -> None:
    """A page elsewhere cannot read the preview through a name that leads here."""
    status, answer = get(server, "/plover/", host)
    assert status in (400, 421)
    assert "Plover" not in answer


@each("method", ["POST", "PUT", "DELETE", "OPTIONS", "TRACE", "CONNECT", "PATCH", "get", "X" * 3000])
def test_only_reading(server: Server, method: str) -> None:
    status, answer = ask(
        server, f"{method} / HTTP/1.1\r\nHost: 127.0.0.1\r\nConnection: close\r\n\r\n".encode()
    )
    assert status in (400, 414, 501), answer[:100]


@each(
    "request_",
    [
        b"", b"\r\n\r\n", b"GET\r\n\r\n", b"\x00\xff\xfe\r\n\r\n", b"GET / HTTP/9.9\r\n\r\n", b"GET / HTTP/1.1\r\n\r\n",
        b"GET /[::1 HTTP/1.1\r\nHost: 127.0.0.1\r\nConnection: close\r\n\r\n",
        b"GET //[::1 HTTP/1.1\r\nHost: 127.0.0.1\r\nConnection: close\r\n\r\n",
        b"GET / HTTP/1.1\r\n" + b"".join(b"X%d: y\r\n" % i for i in range(500)) + b"\r\n",
        b"GET / HTTP/1.1\r\nHost: 127.0.0.1\r\nHost: evil.example\r\nConnection: close\r\n\r\n",
        b"GET /" + b"\xff" * 100 + b" HTTP/1.1\r\nHost: 127.0.0.1\r\nConnection: close\r\n\r\n",
    ],
)  # fmt: skip
def test_odd_requests_end_and_are_no_bug(
    server: Server, capfd: pytest.CaptureFixture[str], request_: bytes
) -> None:
    status, _ = ask(server, request_)
    assert status in (0, 200, 400, 404, 414, 421, 431, 505)
    assert "Traceback" not in capfd.readouterr().err
    assert get(server, "/")[0] == 200


def test_pages_may_not_be_framed_or_run_anything_else(server: Server) -> None:
    status, page = get(server, "/plover/")
    assert status == 200
    assert "X-Content-Type-Options: nosniff" in page
    assert "default-src 'none'" in page


def test_it_is_bound_to_this_machine_only(server: Server) -> None:
    assert server.server_address[0] == "127.0.0.1"


def all_ended(server: Server, most: int) -> None:
    """Wait until every connection so far has given its place back."""
    with contextlib.ExitStack() as places:
        for _ in range(most):
            assert server.room.acquire(timeout=PATIENCE)
            places.callback(server.room.release)


def test_idle_connections_end_and_too_many_are_told(
    server: Server, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    all_ended(server, preview_server.most())  # or it would be given back to the next one
    monkeypatch.setattr(server, "room", threading.Semaphore(3))
    address = ("127.0.0.1", server.server_port)
    with contextlib.ExitStack() as lines:

        def idle() -> socket.socket:
            return lines.enter_context(socket.create_connection(address, timeout=PATIENCE))

        first, *_ = (idle() for _ in range(3))
        first.sendall(b"GET / HTTP/1.1\r\n")  # the rest never comes
        status, _ = ask(server, b"")
        assert status == 503
    all_ended(server, 3)
    monkeypatch.setattr(preview_server.Handler, "timeout", 0.5)
    with contextlib.closing(socket.create_connection(address, timeout=PATIENCE)) as line:
        assert line.recv(1) == b"", "it was ended from the other side"
    assert get(server, "/")[0] == 200
    assert "Traceback" not in capfd.readouterr().err


def test_a_class_may_wait_in_line(server: Server) -> None:
    assert server.request_queue_size >= 100
    assert 4 <= preview_server.most() <= preview_server.MOST


@pytest.fixture
def narrow(tmp_path: Path) -> Iterator[tuple[Path, str, subprocess.Popen[str]]]:
    """A preview that may have 48 open files, its workspace and address."""
    write(tmp_path, "plover")
    command = f"ulimit -n 48; exec '{sys.executable}' -m cardgen preview --port 0 --date {DAY}"
    with (tmp_path / "said").open("w", encoding="utf-8") as said:
        process = subprocess.Popen(
            ["sh", "-c", command],
            cwd=tmp_path,
            env=os.environ | {"PYTHONPATH": str(ROOT)},
            stdout=subprocess.PIPE,
            stderr=said,
            text=True,
        )
    try:
        assert process.stdout is not None
        found = re.fullmatch(r"preview at (http://[\w.:-]+/)\n", process.stdout.readline())
        assert found is not None, (tmp_path / "said").read_text("utf-8")
        yield tmp_path, found[1], process
    finally:
        process.kill()
        process.communicate()


def opened(url: str) -> str:
    with urllib.request.urlopen(url, timeout=PATIENCE) as answer:
        return str(answer.read().decode("utf-8"))


def until(url: str, words: str, *, there: bool = True) -> None:
    """Ask as a page does, until what is served says something; a preview that has ended fails the test."""
    seen = ""
    while (words in opened(url)) is not there:
        seen = opened(f"{url}-/next?v={seen}")


def test_it_survives_folders_that_go_and_descriptors_that_run_out(
    narrow: tuple[Path, str, subprocess.Popen[str]],
) -> None:
    root, url, process = narrow
    until(url, "Plover")
    port = int(url.rstrip("/").rsplit(":", 1)[1])
    crowd = [socket.create_connection(("127.0.0.1", port), timeout=PATIENCE) for _ in range(80)]
    write(root, "plover", nickname="Dunlin")
    for line in crowd:
        line.close()
    until(url, "Dunlin")
    shutil.rmtree(root / "rigs")
    until(url, "Dunlin", there=False)
    write(root, "plover", nickname="Knot")
    until(url, "Knot")
    assert process.poll() is None
    assert "Traceback" not in (root / "said").read_text("utf-8")
