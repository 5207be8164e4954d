"""The page of a trailer without a vehicle in a real browser, and what the borrower's page asks of a vehicle."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from cardgen.present.borrower_page import build_borrower_page
from cardgen.present.prepare import prepare
from cardgen.present.report import build_pages
from cardgen.present.rig_view import Edition
from cardgen.render.env import environment
from cardgen.render.site import rig_page
from tests.site.shed import DAY, ROOT, sound
from tests.site.watch import watch

pytestmark = pytest.mark.browser


def pages(name: str, folder: Path) -> tuple[str, str]:
    """Addresses of report and borrower's page of a rig that is described in part; each page is one file."""
    view = prepare(sound(ROOT / "tests" / "data" / "rigs" / f"{name}.yaml"), DAY, Edition(1, DAY))
    for page in (*build_pages(view), build_borrower_page(view)):
        (folder / f"{page.name}.html").write_bytes(rig_page(page, environment(None), whole=True))
    return (folder / "check.html").as_uri(), (folder / "borrower.html").as_uri()


def test_a_trailer_alone(browser: Browser, tmp_path: Path) -> None:
    report, borrower = pages("trailer_only", tmp_path)
    with watch(browser, phone=True) as seen:
        seen.page.goto(report)
        expect(seen.page.locator("h1")).to_have_text("Teasel")
        verdict = seen.page.locator(".verdict").first.inner_text()
        assert "Trailer within every limit" in verdict
        assert "27 not checked: no vehicle in this file" in verdict
        body = seen.page.locator("main").text_content() or ""
        assert [words for words in ("Vehicle front tires", "Tow vehicle with tongue") if words in body] == []
        seen.page.goto(f"{report}#what-if")
        what_if = seen.page.locator("#what-if")
        assert "Every limit checked here is kept" in what_if.inner_text()
        what_if.get_by_label("car", exact=True).last.uncheck()
        expect(what_if).to_contain_text(re.compile(r"2,140\s+lb"))
        seen.page.goto(borrower)
        asked = seen.page.locator("#must")
        expect(asked).to_contain_text("Tow rating, trailer with brakes")
        expect(asked).to_contain_text(re.compile(r"7,000\s+lb"))


def test_a_vehicle_alone(browser: Browser, tmp_path: Path) -> None:
    report, _ = pages("vehicle_only", tmp_path)
    with watch(browser, phone=True) as seen:
        seen.page.goto(report)
        expect(seen.page.locator(".verdict").first).to_contain_text("No trailer")
        assert seen.page.locator("#what-if").count() == 0
        seen.page.goto(report.replace("check.html", "use.html"))
        keys = seen.page.locator(".keys").first.inner_text()
        assert re.search(r"8,000\s+lb", keys)
        assert re.search(r"8,785\s+lb", keys)
