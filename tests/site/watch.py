"""Open a page and note everything it must not do: errors, warnings, requests elsewhere."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Literal

from playwright.sync_api import Browser, Page

from tests.conftest import PATIENCE

PHONE = {"width": 390, "height": 844}
DESKTOP = {"width": 1280, "height": 900}


@dataclass
class Watched:
    """A page with what it said and asked for."""

    page: Page
    said: list[str] = field(default_factory=list)
    asked: list[str] = field(default_factory=list)


@contextmanager
def watch(
    browser: Browser,
    *,
    phone: bool = False,
    dark: bool = False,
    script: bool = True,
) -> Iterator[Watched]:
    """Give a page in a fresh profile; at the end it must have said nothing."""
    scheme: Literal["dark", "light"] = "dark" if dark else "light"
    context = browser.new_context(
        viewport=PHONE if phone else DESKTOP,  # type: ignore[arg-type]  # a plain dictionary of two numbers
        color_scheme=scheme,
        java_script_enabled=script,
        reduced_motion="reduce",
    )
    context.set_default_timeout(PATIENCE * 1000)
    page = context.new_page()
    made = Watched(page)
    page.on("console", lambda message: made.said.append(f"{message.type}: {message.text}"))
    page.on("pageerror", lambda fault: made.said.append(f"error: {fault}"))
    page.on("request", lambda request: made.asked.append(request.url))
    yield made
    context.close()
    assert made.said == []
