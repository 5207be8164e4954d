"""The small HTTP server of the preview: known pages only, nothing from the disk."""

from __future__ import annotations

import socket
import sys
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any
from urllib.parse import parse_qs, unquote, urlsplit

from cardgen.bundle.manifest import is_slug
from cardgen.commands.preview_site import Answer, PreviewSite
from cardgen.render.env import environment
from cardgen.render.live import live

WAIT = 25.0
"""How long a page's question for a newer version is kept waiting [s]."""
PLAIN = "text/plain; charset=utf-8"


class Server(ThreadingHTTPServer):
    """Serves one site; open questions do not keep it from ending.

    Args:
        address: host and port; port 0 for any free one.
        site: what is served.
        names: host names under which it may be asked, without port.
    """

    daemon_threads = True
    block_on_close = False

    def __init__(self, address: tuple[str, int], site: PreviewSite, names: frozenset[str]) -> None:
        self.site = site
        self.names = names
        super().__init__(address, Handler)

    def handle_error(self, request: Any, client_address: Any) -> None:
        """Pass over browsers that went away; tell everything else as a bug."""
        if not isinstance(sys.exc_info()[1], ConnectionError):
            super().handle_error(request, client_address)


class Handler(BaseHTTPRequestHandler):
    """Answers GET and HEAD."""

    server: Server
    protocol_version = "HTTP/1.1"

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
        page = self.server.site.answer(path)
        if page.live:
            env = environment(self.server.site.options.templates)
            page = Answer(page.status, page.kind, live(page.body, self.server.site.version, env))
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
