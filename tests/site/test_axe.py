"""Nothing that axe-core knows of keeps anybody out: light, dark, phone, desktop, opened."""

from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser

from tests.conftest import long_run
from tests.site.shed import Site
from tests.site.watch import watch

pytestmark = pytest.mark.browser
PAGES = (
    "index.html",
    "heron/use.html?c=g&r=1",
    "heron/use.html",
    "heron/check.html",
    "mule/workings.html",
    "heron/borrower.html",
    "over/use.html",
    "gaps/check.html",
    "dormouse/borrower.html",
    "proof.html",
)


LOOKS = {"phone-light": (True, False), "desktop-dark": (False, True)} | (
    {"phone-dark": (True, True), "desktop-light": (False, False)} if long_run() else {}
)
"""Width and colours; each of both once, in the long run every pair [-]."""


@pytest.mark.parametrize("look", LOOKS)
def test_no_violation(browser: Browser, site: Site, look: str) -> None:
    """Every page with every view and fold open: what is not shown is not looked at. Every other page in one look,
    the rest in the other; in the long run all in all."""
    phone, dark = LOOKS[look]
    wrong = []
    with watch(browser, phone=phone, dark=dark) as seen:
        for page in PAGES if long_run() else PAGES[dark::2]:
            name, _, query = page.partition("?")
            seen.page.goto(site.file(name) + (f"?{query}" if query else ""))
            seen.page.evaluate(
                "document.querySelectorAll('details').forEach((d) => { d.open = true });"
                "document.documentElement.classList.remove('apart')"
            )
            found = Axe().run(seen.page, options={"preload": False})  # it would fetch style sheets anew
            wrong += [f"{page}: {found.generate_report()}"] if found.violations_count else []
    assert wrong == []
