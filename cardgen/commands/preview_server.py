"""The small HTTP server of the preview: known pages only, nothing from the disk."""

from __future__ import annotations

import contextlib
import socket
import sys
import threading
import time
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any
from urllib.parse import parse_qs, unquote, urlsplit

from cardgen.bundle.manifest import is_slug
from cardgen.commands.preview_site import Answer, PreviewSite
from cardgen.render.env import environment
from cardgen.render.live import live

WAIT = 25.0
"""How long a page's question for a newer version is kept waiting [s]."""
IDLE = 30.0
"""How long a connection may say nothing [s]."""
MOST = 200
"""Connections at one time [-]: a class with a few pages each; fewer where the system allows few descriptors."""
BACKLOG = 128
"""Connections that may wait to be taken [-]."""
PAUSE = 0.2
"""How long to wait when the system has no descriptor for the next connection [s]."""
PLAIN = "text/plain; charset=utf-8"


FULL = b"HTTP/1.1 503 Service Unavailable\r\nContent-Length: 0\r\nRetry-After: 2\r\nConnection: close\r\n\r\n"


def most() -> int:
    """Connections that are taken at one time: half the descriptors of this process at most [-]."""
    if sys.platform == "win32":
        return MOST
    import resource

    soft, _ = resource.getrlimit(resource.RLIMIT_NOFILE)
    return MOST if soft == resource.RLIM_INFINITY else max(4, min(MOST, soft // 2))


class Server(ThreadingHTTPServer):
    """Serves one site; open questions do not keep it from ending.

    Args:
        address: host and port; port 0 for any free one.
        site: what is served.
        names: host names under which it may be asked, without port.
    """

    daemon_threads = True
    block_on_close = False
    request_queue_size = BACKLOG

    def __init__(self, address: tuple[str, int], site: PreviewSite, names: frozenset[str]) -> None:
        self.site = site
        self.names = names
        self.room = threading.Semaphore(most())
        super().__init__(address, Handler)

    def get_request(self) -> Any:
        """Take the next connection; where there is no descriptor for it, wait instead of asking all the time."""
        try:
            return super().get_request()
        except OSError:
            time.sleep(PAUSE)
            raise

    def process_request(self, request: Any, client_address: Any) -> None:
        """Answer in a thread of its own, or say at once that there are too many."""
        if not self.room.acquire(blocking=False):
            with contextlib.suppress(OSError):
                request.setblocking(False)  # whoever reads nothing keeps nobody waiting
                request.sendall(FULL)
            self.shutdown_request(request)
            return
        try:
            super().process_request(request, client_address)
        except BaseException:
            self.room.release()
            raise

    def process_request_thread(self, request: Any, client_address: Any) -> None:
        """Answer, and make room for the next."""
        try:
            super().process_request_thread(request, client_address)
        finally:
            self.room.release()

    def handle_error(self, request: Any, client_address: Any) -> None:
        """Pass over browsers that went away; tell everything else as a bug."""
        if not isinstance(sys.exc_info()[1], (ConnectionError, TimeoutError)):
            super().handle_error(request, client_address)


class Handler(BaseHTTPRequestHandler):
    """Answers GET and HEAD."""

    server: Server
    protocol_version = "HTTP/1.1"
    timeout = IDLE

    def log_message(self, format: str, *args: object) -> None:
        """Stay silent."""

    def do_GET(self) -> None:
        """Answer with a page."""
        self._answer(body=True)

    def do_HEAD(self) -> None:
        """Answer with the head of a page."""
        self._answer(body=False)

    def _answer(self, *, body: bool) -> None:
        try:
            host = urlsplit(f"//{self.headers.get('Host', '')}").hostname or ""
            address = urlsplit(self.path)
        except ValueError:
            self._send(Answer(400, PLAIN, b"This is no address.\n"), body)
            return
        if host not in self.server.names:
            self._send(Answer(421, PLAIN, b"This server is not known under that name.\n"), body)
            return
        path = unquote(address.path)
        if path == "/-/next":
            self._send(self._next(parse_qs(address.query).get("v", ["0"])[0]), body)
            return
        if path.startswith("/") and is_slug(path[1:]):  # nothing else, or it could lead to another machine
            query = f"?{address.query}" if address.query else ""
            self._redirect(f"{address.path}/{query}")
            return
        version = self.server.site.version  # before the answer: a page may be newer than it says, never older
        page = self.server.site.answer(path)
        if page.live:
            page = Answer(page.status, page.kind, live(page.body, version, environment()))
        self._send(page, body)

    def _next(self, seen: str) -> Answer:
        """Wait until the site is newer than what a page has seen."""
        site = self.server.site
        with site.changed:
            site.changed.wait_for(lambda: str(site.version) != seen, WAIT)
            return Answer(200, PLAIN, str(site.version).encode())

    def _redirect(self, to: str) -> None:
        self.send_response(308)
        self.send_header("Location", to)
        self.send_header("Content-Length", "0")
        self.end_headers()

    def _send(self, page: Answer, body: bool) -> None:
        self.send_response(page.status)
        self.send_header("Content-Type", page.kind)
        self.send_header("Content-Length", str(len(page.body)))
        self.send_header("Cache-Control", "no-store")
        self.send_header("X-Content-Type-Options", "nosniff")
        self.send_header("Referrer-Policy", "no-referrer")
        self.end_headers()
        if body:
            self.wfile.write(page.body)


def lan_address() -> str:
    """Return this machine's own address on the local network; nothing is sent.

    Connecting a datagram socket only makes the system choose the interface; the address
    asked for is one reserved for documentation (RFC 5737).
    """
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))
            return str(probe.getsockname()[0])
        except OSError:
            return socket.gethostname()
