"""The pages in a real browser: where they load from, ticks, cards, keyboard, sizes of screens."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from cardgen.render.env import environment
from cardgen.render.site import moved_page
from tests.site.shed import DEMOS, HOSTILE, Site
from tests.site.watch import Watched, watch

PAGES = (
    "index.html",
    "heron/index.html",
    "heron/borrower.html",
    "over/index.html",
    "hostile/index.html",
    "proof.html",
)
pytestmark = pytest.mark.browser


@pytest.mark.parametrize("page", PAGES)
@pytest.mark.parametrize("phone", [True, False], ids=["phone", "desktop"])
def test_from_disk_and_from_a_server(
    browser: Browser, site: Site, served: str, page: str, phone: bool
) -> None:
    for address in (site.file(page), f"{served}/{page}"):
        with watch(browser, phone=phone) as seen:
            seen.page.goto(address)
            expect(seen.page.locator("h1")).to_be_visible()
            origin = address.rsplit("/", page.count("/") + 1)[0]
            assert [a for a in seen.asked if not a.startswith((origin, "data:"))] == []
            documents = [a for a in seen.asked if not a.startswith("data:")]
            assert documents == [address]  # nothing but the page itself


@pytest.mark.parametrize("page", PAGES)
@pytest.mark.parametrize("phone", [True, False], ids=["phone", "desktop"])
def test_nothing_sticks_out_sideways(browser: Browser, site: Site, page: str, phone: bool) -> None:
    with watch(browser, phone=phone) as seen:
        seen.page.goto(site.file(page))
        wide = seen.page.evaluate(
            "document.documentElement.scrollWidth - document.documentElement.clientWidth"
        )
        assert wide == 0


def test_names_are_text_and_nothing_else(browser: Browser, site: Site) -> None:
    with watch(browser) as seen:
        seen.page.goto(site.file("hostile/index.html"))
        assert seen.page.locator("h1").inner_text() == HOSTILE
        assert seen.page.locator("script:not([type])").count() == 1
        assert HOSTILE in seen.page.locator("#what-if").inner_text()
        assert seen.page.locator("#revisions b").all_inner_texts() == [
            "Revision 3",
            "Revision 2",
            "Revision 1",
        ]


def test_without_script_the_report_is_whole(browser: Browser, site: Site) -> None:
    with watch(browser, script=False) as seen:
        seen.page.goto(site.file("heron/index.html") + "?c=g&r=1")
        text = seen.page.locator("body").inner_text()
        assert "Revision 3" in text
        assert "current from revision 2 on" in text  # the card's own revision is there to compare with
        assert "The sliders need JavaScript" in text
        expect(seen.page.locator("#w-form")).to_be_hidden()
        seen.page.locator("#check-trailer-gross summary").click()
        expect(seen.page.locator("#check-trailer-gross .working").first).to_be_visible()


def ticks(page: Page) -> list[str]:
    """Ids of the ticked lines."""
    found: list[str] = page.evaluate(
        "[...document.querySelectorAll('[data-tick]:checked')].map((b) => b.dataset.tick)"
    )
    return found


@pytest.mark.parametrize("where", ["disk", "server"])
def test_ticks_survive_a_reload_and_can_be_cleared(
    browser: Browser, site: Site, served: str, where: str
) -> None:
    address = site.file("heron/index.html") if where == "disk" else f"{served}/heron/index.html"
    with watch(browser, phone=True) as seen:
        page = seen.page
        page.goto(address)
        expect(page.locator("#t-reset")).to_be_hidden()
        boxes = page.locator("details.phase[open] [data-tick]")
        boxes.nth(0).check()
        boxes.nth(2).check()
        kept = ticks(page)
        assert len(kept) == 2
        page.reload()
        assert ticks(page) == kept
        expect(page.locator("#t-count")).to_contain_text("2 of ")
        other = address.replace("heron", "wren")
        page.goto(other)
        assert ticks(page) == []  # another rig has its own ticks
        page.goto(address)
        page.locator("#t-reset").click()
        assert ticks(page) == []
        page.reload()
        assert ticks(page) == []


def told(seen: Watched, address: str) -> str:
    """What the page says about the card that led to it."""
    seen.page.goto(address)
    box = seen.page.locator("#currency")
    return box.inner_text() if box.is_visible() else ""


@pytest.mark.parametrize("where", ["disk", "server"])
def test_is_my_card_current(browser: Browser, site: Site, served: str, where: str) -> None:
    base = site.file("heron/index.html") if where == "disk" else f"{served}/heron/"
    with watch(browser, phone=True) as seen:
        assert told(seen, base) == ""
        for card in ("g&r=3&f=abc123", "g&r=2&f=abc123", "g&r=9&f=abc123", "g&r=3", "g&r=2", "t&r=3"):
            assert "this card is current" in told(seen, f"{base}?c={card}"), card
        for card in ("g&r=1", "g&r=1&f=000000", "g&r=2&f=000000", "g&r=3&f=000000", "t&r=1"):
            assert "is out of date" in told(seen, f"{base}?c={card}"), card
        old = told(seen, f"{base}?c=g&r=1")
        assert "Ball mount drop: your card says 2 in, now 4 in." in old
        assert "New: <b>spare</b>." in old  # as text
        assert "gear mount drop: 2 in -> 4 in" in old
        link = seen.page.locator("#currency a")
        assert link.inner_text() == "Open the current glovebox card"
        assert link.get_attribute("href") == "glovebox-card.pdf"
        assert "not recorded" in told(seen, f"{base}?c=t&r=1")
        assert "older than your card" in told(seen, f"{base}?c=g&r=9")
        assert "no longer made" in told(seen, f"{base}?c=x&r=1")
        assert "cannot be read" in told(seen, f"{base}?c=g&r=abc")
        assert "no longer made" in told(seen, f"{base}?c=__proto__&r=1")


def test_a_current_card_of_a_rig_that_is_over_says_both(browser: Browser, site: Site) -> None:
    with watch(browser, phone=True) as seen:
        said = told(seen, f"{site.file('over/index.html')}?c=g&r=3&f=abc123")
        assert "this card is current" in said
        assert "Do not tow" in said
        assert seen.page.locator("#currency").get_attribute("data-state") == "over"


def test_keyboard_reaches_everything_in_order(browser: Browser, site: Site) -> None:
    with watch(browser) as seen:
        page = seen.page
        page.goto(site.file("wren/index.html"))
        page.keyboard.press("Tab")
        assert page.evaluate("document.activeElement.className") == "skip"
        page.keyboard.press("Enter")
        assert page.evaluate("location.hash") == "#main"
        visited = []
        for _ in range(600):
            page.keyboard.press("Tab")
            visited.append(page.evaluate("document.activeElement.id || document.activeElement.tagName"))
            if visited[-1] == "BODY":
                break
        for wanted in ("w0", "w-link"):
            assert wanted in visited
        assert visited.index("w-link") < visited.index("w0")
        page.locator("#check-trailer-gross summary").focus()
        page.keyboard.press("Enter")
        assert page.evaluate("document.querySelector('#check-trailer-gross').open")
        page.locator("#w0").focus()
        before = page.locator("#n-tongue_weight").inner_text()
        page.keyboard.press("Home")
        assert page.locator("#w0").input_value() == "0"
        assert page.locator("#n-tongue_weight").inner_text() != before


def test_a_link_to_a_check_opens_it(browser: Browser, site: Site) -> None:
    with watch(browser) as seen:
        seen.page.goto(site.file("over/index.html"))
        seen.page.locator("#governs a").first.click()
        target = seen.page.evaluate("location.hash.slice(1)")
        assert seen.page.evaluate("(id) => document.getElementById(id).open", target)


def test_over_is_said_in_words_and_first(browser: Browser, site: Site) -> None:
    with watch(browser, phone=True) as seen:
        seen.page.goto(site.file("over/index.html"))
        first = seen.page.locator("main > section").first
        assert first.get_attribute("id") == "verdict"
        expect(first).to_be_in_viewport()
        assert "Do not tow as described" in first.inner_text()
        assert "GVWR" in first.inner_text()


def test_the_page_of_all_rigs_leads_to_every_report(browser: Browser, site: Site) -> None:
    with watch(browser) as seen:
        seen.page.goto(site.file("index.html"))
        links = seen.page.locator(".rigs th a").evaluate_all(
            "(all) => all.map((a) => a.getAttribute('href'))"
        )
        assert len(links) > len(DEMOS)
        for link in links:
            assert (site.folder / link).is_file()


def test_print_shows_what_was_closed(browser: Browser, site: Site) -> None:
    with watch(browser) as seen:
        seen.page.goto(site.file("wren/index.html"))
        seen.page.emulate_media(media="print")
        seen.page.evaluate("window.dispatchEvent(new Event('beforeprint'))")
        assert seen.page.locator("details:not([open])").count() == 0
        expect(seen.page.locator(".contents")).to_be_hidden()
        expect(seen.page.locator("#what-if")).to_be_hidden()
        seen.page.evaluate("window.dispatchEvent(new Event('afterprint'))")
        assert seen.page.locator("details:not([open])").count() > 0


def test_an_old_address_says_what_the_rig_is_called_now(browser: Browser, tmp_path: Path) -> None:
    page = tmp_path / "index.html"
    page.write_bytes(moved_page("Old <b>", "New & Co", "../new-co/index.html", environment()))
    with watch(browser) as seen:
        seen.page.goto(f"{page.as_uri()}?c=g&r=3&f=abc123")
        assert "Old <b> is now called New & Co." in seen.page.locator("main").inner_text()
        link = seen.page.locator("#moved").get_attribute("href")
        assert link is not None
        assert link.endswith("/new-co/index.html?c=g&r=3&f=abc123")
