"""The page of all rigs in a browser: search, filters, order, what is due today, and the matrix."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect

from cardgen.present.format import day_words
from tests.site import fleet
from tests.site.watch import watch

pytestmark = pytest.mark.browser
COUNT = 60
LARGEST = 400_000
"""Most that the page of 1,000 rigs may have [B]."""


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> str:
    """A page of 60 rigs and 36 pairs."""
    file = tmp_path_factory.mktemp("fleet") / "index.html"
    file.write_bytes(fleet.page(COUNT, 6))
    return file.as_uri()


def on(page: Page, day: dt.date) -> None:
    """Set the clock of the device."""
    page.clock.set_fixed_time(dt.datetime.combine(day, dt.time(12)))


def names(page: Page) -> list[str]:
    """The rigs that are shown, those behind the button too."""
    return page.locator(".rigs tbody tr:not([hidden]) th > a").all_text_contents()


def chosen(page: Page) -> list[str]:
    """The filters that are on."""
    return page.locator("[aria-current]").all_text_contents()


def late(day: dt.date) -> set[str]:
    """Rigs with something that was due by a day."""
    return {r.nickname for r in fleet.rigs(COUNT) if any(d and d <= day.isoformat() for d in r.due.values())}


def test_search_filters_and_order_stand_in_the_address(browser: Browser, address: str) -> None:
    over = sorted(r.nickname for r in fleet.rigs(COUNT) if r.level == "over")
    with watch(browser) as seen:
        page = seen.page
        on(page, fleet.DAY)
        page.goto(address)
        assert names(page)[: len(over)] == over  # the worst first
        assert len(names(page)) == COUNT
        assert page.locator(".rigs tbody tr:visible").count() == 40
        page.get_by_role("button", name=f"Show {COUNT - 40} more", exact=True).click()
        assert page.locator(".rigs tbody tr:visible").count() == COUNT
        sheets = page.locator("a[href$='measuring-sheet.pdf']").evaluate_all(
            "(all) => all.map((a) => a.getAttribute('href'))"
        )
        unsure = [r.href for r in fleet.rigs(COUNT) if r.sheet]
        assert page.locator("a[href$='/measure.html']").count() == len(unsure)
        assert sorted(sheets) == sorted(href.replace("index.html", "measuring-sheet.pdf") for href in unsure)
        page.get_by_role("link", name=f"over {len(over)}", exact=True).click()
        expect(page.get_by_role("status").first).to_have_text(f"{len(over)} of {COUNT} rigs")
        assert page.url.endswith("#o=over")
        assert names(page) == over
        page.get_by_role("link", name="overdue").click()
        assert page.url.endswith("#o=over&d=now")
        expect(page.get_by_role("status").first).to_have_text(
            f"{len(late(fleet.DAY) & set(over))} of {COUNT} rigs"
        )
        page.go_back()
        expect(page.get_by_role("status").first).to_have_text(f"{len(over)} of {COUNT} rigs")
        page.get_by_label("Search").fill("BADGER amber")
        page.get_by_role("link", name="all ").click()
        expect(page.get_by_role("status").first).to_have_text(f"1 of {COUNT} rigs")
        page.goto(f"{address}#q=badger&s=name")
        page.reload()
        assert names(page) == sorted(f"{first} Badger" for first in fleet.FIRST)
        assert page.get_by_label("Search").input_value() == "badger"
        page.goto(f"{address}#o=no+such+outcome&d=%3Cb%3E&s=constructor")
        page.reload()
        assert [text.split()[0] for text in chosen(page)] == ["all", "any"]
        assert len(names(page)) == COUNT


def test_due_is_told_as_of_the_day_on_which_it_is_opened(browser: Browser, address: str) -> None:
    for day in (fleet.DAY, fleet.DAY + dt.timedelta(90)):
        dues = sorted(d for r in fleet.rigs(COUNT) for d in r.due.values() if d)
        soon = (day + dt.timedelta(60)).isoformat()
        with watch(browser) as seen:
            on(seen.page, day)
            seen.page.goto(f"{address}#d=now")
            assert set(names(seen.page)) == late(day)
            told = seen.page.locator("#due h3").all_text_contents()
            counts = [sum(d <= day.isoformat() for d in dues), sum(day.isoformat() < d <= soon for d in dues)]
            assert told == [
                f"Overdue {counts[0]}",
                f"In the next 60 days {counts[1]}",
                f"Later {len(dues) - sum(counts)}",
            ]
            assert seen.page.locator("#due .note").inner_text().startswith(f"As of today, {day_words(day)}")
            first = seen.page.locator("#due li").first.inner_text()
            assert first.startswith(day_words(dt.date.fromisoformat(dues[0])))
            without = sum(not d for r in fleet.rigs(COUNT) for d in r.due.values())
            expect(seen.page.locator("#due > p").last).to_have_text(f"{without} services without any date.")
            button = seen.page.locator("#due [data-k=later] button")
            button.click()
            assert seen.page.locator("#due [data-k=later] li").count() == len(dues) - sum(counts)


def test_a_pair_is_told_by_touch_pointer_and_keys(browser: Browser, address: str) -> None:
    with watch(browser, phone=True) as seen:
        page, told = seen.page, seen.page.locator("#pair")
        page.goto(f"{address}#match")
        cells = page.locator(".matrix tbody td")
        assert {
            (round(box["width"]), round(box["height"])) for one in cells.all() if (box := one.bounding_box())
        } == {(32, 32)}
        shown = fleet.matrix(6)
        cells.nth(0).click()
        expect(told).to_have_text(
            f"{shown.rows[0][0]} with {shown.trailers[0]} within: {shown.rows[0][1][0].limit}. Your rig Amber Badger 0"
        )
        page.keyboard.press("ArrowRight")
        page.keyboard.press("ArrowDown")
        page.keyboard.press("ArrowDown")
        expect(told).to_contain_text(
            f"{shown.rows[2][0]} with {shown.trailers[1]} {shown.rows[2][1][1].word}"
        )
        page.keyboard.press("End")
        expect(told).to_contain_text(f"{shown.rows[2][0]} with {shown.trailers[5]}")
        cells.nth(3).hover()
        expect(told).to_contain_text(f"{shown.rows[0][0]} with {shown.trailers[3]}")
        framed = page.locator(".matrix .own").evaluate_all(
            "(all) => all.map((c) => [c.parentNode.rowIndex, c.cellIndex])"
        )
        assert framed == [[n, n] for n in range(1, 7)]
        assert page.locator(".matrix [tabindex='0']").count() == 1


def test_without_a_script_every_rig_and_pair_stands_there(browser: Browser, address: str) -> None:
    with watch(browser, phone=True, script=False) as seen:
        seen.page.goto(address)
        text = seen.page.locator("main").inner_text()
        shown = fleet.rigs(COUNT)
        lost = [r.nickname for r in shown if r.nickname not in text or r.numbers[0][1] not in text]
        assert lost == []
        assert seen.page.locator(".subtitle").inner_text().startswith(f"{COUNT} rigs: ")
        assert seen.page.locator(".matrix td:visible").filter(has_text="Tongue weight").count() == 36
        assert not seen.page.locator("#due").is_visible()


WIDTHS = (320, 390, 768, 1280)
SMALL = """() => Array.from(document.querySelectorAll('main a, main button, main input, main select'))
  .filter((one) => one.offsetParent && !one.closest('.cells'))
  .map((one) => [one.textContent.slice(0, 30), one.getBoundingClientRect()])
  .filter(([, box]) => box.height < 43.9 || box.width < 43.9).map(([text, box]) => `${text} ${box.width} x ${box.height}`)"""


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_no_width_scrolls_sideways_and_no_target_is_small(browser: Browser, address: str, dark: bool) -> None:
    """At every width and in a wide face; axe finds nothing in light and dark."""
    found = []
    with watch(browser, dark=dark) as seen:
        page = seen.page
        page.goto(address)
        page.evaluate("document.body.style.fontFamily = 'DejaVu Sans, Verdana, sans-serif'")
        for width in () if dark else WIDTHS:
            page.set_viewport_size({"width": width, "height": 844})
            if page.evaluate("document.documentElement.scrollWidth > innerWidth"):
                found.append(f"{width} px scrolls")
            found += [f"{width} px: {one}" for one in page.evaluate(SMALL)]
        page.set_viewport_size({"width": 390 if dark else 1280, "height": 844})
        result = Axe().run(page)
    assert found == []
    assert result.violations_count == 0, result.generate_report()


def test_a_thousand_rigs_stay_small(tmp_path: Path, browser: Browser) -> None:
    file = tmp_path / "index.html"
    file.write_bytes(fleet.page(1000, 20))
    assert file.stat().st_size < LARGEST
    with watch(browser, phone=True) as seen:
        seen.page.goto(file.as_uri())
        assert seen.page.locator(".rigs tbody tr:visible").count() == 40
        assert len(names(seen.page)) == 1000
