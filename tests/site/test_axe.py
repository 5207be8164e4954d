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
    "heron/index.html?c=g&r=1",
    "gaps/index.html",
    "over/index.html",
    "dormouse/borrower.html",
    "proof.html",
)


LOOKS = {"phone-light": (True, False), "desktop-dark": (False, True)} | (
    {"phone-dark": (True, True), "desktop-light": (False, False)} if long_run() else {}
)
"""Width and colours; each of both once, in the long run every pair [-]."""


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("page", PAGES)
def test_no_violation(browser: Browser, site: Site, page: str, look: str) -> None:
    phone, dark = LOOKS[look]
    name, _, query = page.partition("?")
    address = site.file(name) + (f"?{query}" if query else "")
    with watch(browser, phone=phone, dark=dark) as seen:
        seen.page.goto(address)
        seen.page.evaluate("document.querySelectorAll('details').forEach((d) => { d.open = true })")
        found = Axe().run(seen.page)
        assert found.violations_count == 0, found.generate_report()
