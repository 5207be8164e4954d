"""The pages in a real browser: where cards land, one view at a time, ticks, days, copies, keyboard, screens."""

from __future__ import annotations

import datetime as dt
import re
from pathlib import Path

import pikepdf
import pytest
from playwright.sync_api import Browser, Page, expect

from cardgen.present.cards import KINDS
from cardgen.present.report import LANDS
from cardgen.render.env import environment
from cardgen.render.site import asset_files, moved_page
from tests.site.shed import DEMOS, HOSTILE, Site, rig_view
from tests.site.watch import Watched, watch

NAMES = ("use.html", "check.html", "workings.html", "borrower.html")
PAGES = (
    "index.html",
    *(f"heron/{name}" for name in NAMES),
    "over/use.html",
    "gaps/use.html",
    "hostile/use.html",
    "proof.html",
)
pytestmark = pytest.mark.browser
WIDE_FONT = "*{font-family:'DejaVu Sans',Verdana,sans-serif!important}"
NARROW = {"width": 320, "height": 640}
SIDEWAYS = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
EACH_VIEW = """() => {
  const seen = [];
  const all = [...document.querySelectorAll('.view')];
  for (const view of all) {
    all.forEach((one) => one.classList.toggle('open', one === view));
    view.querySelectorAll('details').forEach((one) => { one.open = true; });
    const wide = document.documentElement.scrollWidth - document.documentElement.clientWidth;
    if (wide > 0) seen.push(view.id + ' ' + wide);
  }
  return seen;
}"""
SMALL = """() => {
  const seen = [];
  const all = [...document.querySelectorAll('.view')];
  for (const view of all) {
    all.forEach((one) => one.classList.toggle('open', one === view));
    for (const one of document.querySelectorAll('a, button, summary, label:has(input), input, textarea')) {
      const box = one.getBoundingClientRect();
      if (!box.width || one.closest('.skip') || (one.matches('input') && one.closest('label'))) continue;
      const inside = one.matches('p a, dd a, .note a');
      if (box.height < (inside ? 24 : 44) - 0.5) seen.push(view.id + ' ' + one.textContent.trim().slice(0, 30) + ' ' + Math.round(box.height));
    }
  }
  return [...new Set(seen)];
}"""


def test_from_disk_and_from_a_server(browser: Browser, site: Site, served: str) -> None:
    with watch(browser, phone=True) as seen:
        for page in PAGES:
            for address in (site.file(page), f"{served}/{page}"):
                seen.asked.clear()
                seen.page.goto(address)
                expect(seen.page.locator("h1")).to_be_visible()
                asked = [a for a in seen.asked if not a.startswith("data:")]
                beside = tuple(f"{address.removesuffix(page)}{name}" for name in asset_files(environment()))
                assert asked[0] == address
                assert len(asked) == (3 if page.endswith(("/check.html", "/workings.html")) else 1)
                assert set(asked[1:]) <= set(beside)  # nothing else is fetched
                assert (
                    seen.page.evaluate("getComputedStyle(document.body).margin") == "0px"
                )  # it has its style


def test_nothing_sticks_out_sideways_and_everything_can_be_pressed(browser: Browser, site: Site) -> None:
    """At 320 px with a wide font every view of every page; targets of 44 px, links in a sentence 24."""
    wrong = []
    with watch(browser, phone=True) as seen:
        for page in PAGES:
            seen.page.set_viewport_size(NARROW)  # type: ignore[arg-type]  # a plain dictionary of two numbers
            seen.page.goto(site.file(page))
            seen.page.evaluate(
                "(css) => { const sheet = new CSSStyleSheet(); sheet.replaceSync(css); document.adoptedStyleSheets = [sheet]; }",
                WIDE_FONT,
            )
            wrong += (
                [f"{page} sideways {seen.page.evaluate(SIDEWAYS)}"] if seen.page.evaluate(SIDEWAYS) else []
            )
            if "/" in page:
                wrong += [f"{page} sideways {one}" for one in seen.page.evaluate(EACH_VIEW)]
                wrong += [f"{page} small {one}" for one in seen.page.evaluate(SMALL)]
            seen.page.set_viewport_size({"width": 1280, "height": 900})
            wrong += [f"{page} at 1280"] if seen.page.evaluate(SIDEWAYS) else []
    assert wrong == []


def test_names_are_text_and_nothing_else(browser: Browser, site: Site) -> None:
    with watch(browser) as seen:
        seen.page.goto(site.file("hostile/use.html"))
        assert seen.page.locator("h1").inner_text() == HOSTILE
        assert seen.page.locator("script:not([type])").count() == 1
        seen.page.goto(site.file("hostile/workings.html"))
        told = seen.page.locator("#revisions .what").all_text_contents()
        assert [text.split(",")[0] for text in told] == ["Revision 3", "Revision 2", "Revision 1"]
        seen.page.goto(site.file("hostile/check.html") + "#what-if")
        assert HOSTILE in seen.page.locator("#what-if").inner_text()


def test_without_script_everything_stands_there_in_order(browser: Browser, site: Site) -> None:
    with watch(browser, script=False) as seen:
        seen.page.goto(site.file("heron/index.html") + "?c=g&r=1")
        assert "Within every limit" in seen.page.locator("main").inner_text()
        seen.page.get_by_role("link", name="Use").first.click()
        text = seen.page.locator("body").inner_text()
        assert "Revision 3" in text
        assert "current from revision 2 on" in text  # the card's own revision is there to compare with
        order = [
            "Within every limit",
            "What now?",
            "Nobody in the gap",
            "At the pump",
            "Room left here",
            "Save this page.",
        ]
        places = [text.index(part) for part in order]
        assert places == sorted(places)
        expect(seen.page.locator("#bar")).to_be_hidden()
        assert seen.page.locator(".view:not(:visible)").count() == 0
        seen.page.goto(site.file("heron/check.html"))
        assert "The sliders need JavaScript" in seen.page.locator("body").inner_text()
        expect(seen.page.locator("#w-form")).to_be_hidden()
        seen.page.goto(site.file("heron/workings.html"))
        seen.page.locator("#check-trailer-gross summary").click()
        expect(seen.page.locator("#check-trailer-gross .working").first).to_be_visible()


def open_views(page: Page) -> list[str]:
    """Ids of the views that are shown, once the page has heard of its new address and drawn itself."""
    found: list[str] = page.evaluate(
        """async () => {
            for (let turn = 0; turn < 3; turn += 1) await new Promise((go) => requestAnimationFrame(() => setTimeout(go)));
            return [...document.querySelectorAll('.view')].filter((v) => v.checkVisibility()).map((v) => v.id);
        }"""
    )
    return found


def test_a_verdict_and_an_action_within_three_screens(browser: Browser, site: Site) -> None:
    with watch(browser, phone=True) as seen:
        for name in ("heron", "over", "gaps", "full"):
            seen.page.goto(site.file(f"{name}/use.html"))
            assert open_views(seen.page) == ["home"]
            expect(seen.page.locator("#verdict")).to_be_in_viewport()
            low = seen.page.evaluate("document.querySelector('.menu').getBoundingClientRect().bottom")
            assert low <= 3 * 844, name
            assert all(link.bounding_box() for link in seen.page.locator("#verdict li a").all())
        seen.page.goto(site.file("over/use.html"))
        assert "Do not tow as described" in seen.page.locator("#verdict").inner_text()
        assert "GVWR" in seen.page.locator("#verdict li").first.inner_text()


def test_one_view_at_a_time_and_the_way_back(browser: Browser, site: Site) -> None:
    with watch(browser, phone=True) as seen:
        page = seen.page
        page.goto(site.file("heron/use.html"))
        page.get_by_role("link", name="Before you drive off").click()
        assert open_views(page) == ["departure"]
        page.locator("a[href='#departure-hitching']").click()
        assert open_views(page) == ["departure-hitching"]
        assert page.evaluate("document.activeElement.textContent") == "Hitching"
        page.locator("#b-back").click()
        assert open_views(page) == ["departure"]
        page.locator("#b-back").click()
        assert open_views(page) == ["home"]
        page.go_back()
        assert open_views(page) == ["departure"]
        page.goto(site.file("heron/use.html") + "#no-such-place")
        assert open_views(page) == ["home"]


def test_every_card_lands_where_it_belongs(browser: Browser, site: Site, served: str) -> None:
    """All ten codes, from the disk and from a server; old names of the one page of old as well."""
    assert {kind.letter for kind in KINDS.values()} >= set(LANDS) | set("gwbi")
    with watch(browser, phone=True) as seen:
        for base in (site.file("heron/index.html"), f"{served}/heron/"):
            for kind in KINDS.values():
                seen.page.goto(f"{base}?c={kind.letter}&r=3", wait_until="commit")
                page = "borrower" if kind.letter in "bi" else "use"
                seen.page.wait_for_url(re.compile(rf"/{page}\.html\?c={kind.letter}&r=3"))
                expect(seen.page.locator("#currency")).to_contain_text("this card is current")
                if page == "use":
                    assert open_views(seen.page) == [LANDS.get(kind.letter, "home")]
        for name, (page, view) in {
            "#tires": ("use", "tires"), "#checklist": ("use", "departure"), "#what-if": ("check", "what-if"),
            "#check-trailer-gross": ("workings", "checks"), "#missing": ("check", "missing"), "#w=c1,60": ("check", "what-if"),
            "#revision-2": ("workings", "revisions"), "#verdict": ("use", "home"), "": ("use", "home"),
        }.items():  # fmt: skip
            seen.page.goto(site.file("heron/index.html") + name)
            seen.page.wait_for_url(re.compile(rf"/{page}\.html"))
            assert view in open_views(seen.page), name


def test_an_old_card_is_told_and_does_not_land(browser: Browser, site: Site) -> None:
    with watch(browser, phone=True) as seen:
        for query in ("?c=t&r=1", "?c=t&r=9", "?c=d&r=x", "?c=x&r=1", "?c=g&r=3&f=000000"):
            seen.page.goto(site.file("heron/use.html") + query)
            assert open_views(seen.page) == ["home"], query
            expect(seen.page.locator("#currency")).to_be_in_viewport()
        seen.page.goto(site.file("heron/borrower.html") + "?c=b&r=0")
        assert "out of date" in seen.page.locator("#currency").inner_text()


def told(seen: Watched, address: str) -> str:
    """What the page says about the card that led to it."""
    seen.page.goto(address)
    box = seen.page.locator("#currency")
    return box.inner_text() if box.is_visible() else ""


@pytest.mark.parametrize("where", ["disk", "server"])
def test_is_my_card_current(browser: Browser, site: Site, served: str, where: str) -> None:
    base = site.file("heron/use.html") if where == "disk" else f"{served}/heron/use.html"
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
        said = told(seen, f"{site.file('over/use.html')}?c=g&r=3&f=abc123")
        assert "this card is current" in said
        assert "Do not tow" in said
        assert seen.page.locator("#currency").get_attribute("data-state") == "over"


def test_an_old_address_says_what_the_rig_is_called_now(browser: Browser, tmp_path: Path) -> None:
    page = tmp_path / "index.html"
    page.write_bytes(moved_page("Old <b>", "New & Co", "../new-co/index.html", environment()))
    with watch(browser) as seen:
        seen.page.goto(f"{page.as_uri()}?c=g&r=3&f=abc123")
        assert "Old <b> is now called New & Co." in seen.page.locator("main").inner_text()
        link = seen.page.locator("#moved").get_attribute("href")
        assert link is not None
        assert link.endswith("/new-co/index.html?c=g&r=3&f=abc123")


# ticks


HOUR = 3_600_000
FORGE = """([key, change]) => {
  const kept = JSON.parse(localStorage.getItem(key));
  if (change.older) for (const name of Object.keys(kept.t)) kept.t[name] -= change.older;
  if (change.older && kept.kept) kept.kept -= change.older;
  if (change.r) kept.r = change.r;
  localStorage.setItem(key, JSON.stringify(kept));
}"""


def ticks(page: Page) -> list[str]:
    """Ids of the lines that show as ticked."""
    found: list[str] = page.evaluate(
        "[...document.querySelectorAll('[data-tick]:checked')].map((b) => b.dataset.tick)"
    )
    return found


def key_of(page: Page) -> str:
    """Name under which the page keeps its ticks."""
    rig = page.evaluate("JSON.parse(document.getElementById('card-data').textContent).rig")
    return f"cardgen-ticks:{rig}"


@pytest.mark.parametrize("where", ["disk", "server"])
def test_ticks_are_kept_counted_cleared_and_brought_back(
    browser: Browser, site: Site, served: str, where: str
) -> None:
    base = site.file("heron/use.html") if where == "disk" else f"{served}/heron/use.html"
    with watch(browser, phone=True) as seen:
        page = seen.page
        page.goto(f"{base}#departure-lamps")
        boxes = page.locator("#departure-lamps [data-tick]")
        boxes.nth(0).check()
        boxes.nth(2).check()
        kept = ticks(page)
        assert len(kept) == 2
        expect(page.locator("#b-count")).to_have_text(f"2 of {boxes.count()}")
        page.reload()
        assert ticks(page) == kept
        expect(page.locator("#t-said")).to_contain_text("Started today")
        page.goto(base.replace("heron", "wren") + "#departure-lamps")
        assert ticks(page) == []  # another rig has its own ticks
        page.goto(f"{base}#departure")
        expect(page.locator("#t-said")).to_contain_text("2 done")
        expect(page.locator("a[href='#departure-lamps'] .note")).to_contain_text("2 done")
        page.locator("#t-clear").click()
        assert ticks(page) == []
        page.reload()
        assert ticks(page) == []
        page.locator("#t-undo").click()
        assert ticks(page) == kept
        page.reload()
        assert ticks(page) == kept


def test_old_ticks_show_as_nothing_and_the_page_asks(browser: Browser, site: Site) -> None:
    """After twelve hours, and with another revision, no line shows as ticked until a person has said so."""
    with watch(browser, phone=True) as seen:
        page = seen.page
        page.goto(site.file("heron/use.html") + "#departure-lamps")
        page.locator("#departure-lamps [data-tick]").first.check()
        kept = ticks(page)
        for change, said in (
            ({"older": 13 * HOUR}, "These ticks are from"),
            ({"r": 2}, "from revision 2, this page is revision 3"),
        ):
            page.evaluate(FORGE, [key_of(page), {"older": 11 * HOUR}])
            page.reload()
            assert ticks(page) == kept
            page.evaluate(FORGE, [key_of(page), change])
            page.evaluate("window.dispatchEvent(new Event('pageshow'))")  # the phone wakes
            assert ticks(page) == []
            expect(page.locator("#t-said")).to_contain_text(said)
            expect(page.locator("#t-said")).to_contain_text("Same trip, or start again?")
            expect(page.locator("#b-count")).to_contain_text("0 of ")
            page.locator("#t-same").click()
            assert ticks(page) == kept
        page.evaluate(FORGE, [key_of(page), {"older": 30 * HOUR}])
        page.reload()
        page.locator("#t-clear").click()
        page.reload()
        assert ticks(page) == []
        page.evaluate(
            "(key) => localStorage.setItem(key, '[\"chock\"]')", key_of(page)
        )  # as pages of old kept them
        page.reload()
        assert ticks(page) == []


def test_nothing_that_kills_is_passed_over_silently(browser: Browser, site: Site) -> None:
    with watch(browser, phone=True) as seen:
        page = seen.page
        page.goto(site.file("heron/use.html") + "#departure-hitching")
        heavy = page.locator("#departure-hitching .c").count()
        assert heavy > 3
        page.locator("#b-next").click()
        assert open_views(page) == ["departure-hitching"]
        expect(page.locator("#ask")).to_contain_text(f"{heavy}\u00a0heavy boxes still open")
        assert page.locator("#ask li").count() == heavy
        page.locator("#a-back").click()
        for box in page.locator("#departure-hitching .c [data-tick]").all()[1:]:
            box.check()
        page.locator("#b-next").click()
        expect(page.locator("#ask")).to_contain_text("1\u00a0heavy box still open")
        page.locator("#a-on").click()
        assert open_views(page) == ["departure-chains-wiring"]
        page.locator("#b-back").click()
        row = page.locator("a[href='#departure-hitching']")
        expect(row).to_contain_text(f"{heavy - 1} done, 0 left")
        expect(row).to_contain_text("skipped (1\u00a0heavy box)")
        expect(page.locator("#t-said")).to_contain_text("skipped")


# days, copies, the borrower's yes


def test_days_are_those_of_the_phone(browser: Browser, site: Site) -> None:
    with watch(browser, phone=True) as seen:
        page = seen.page
        page.clock.set_fixed_time(dt.datetime(2027, 5, 27, 9, 0))
        page.goto(site.file("heron/use.html"))
        expect(page.locator("#age")).to_have_text(", made 183\u00a0days ago")
        expect(page.locator("#verdict a[href='#due']")).to_contain_text("Overdue: ")
        page.goto(site.file("heron/use.html") + "#due")
        text = page.locator("#due").inner_text().replace("\u00a0", " ")
        assert "Compared with today, 27 May 2027" in text
        leak = page.locator("#due li", has_text="Leak test of the gas system")
        until = next(d.until for d in rig_view("heron").checklist.due if d.title.startswith("Leak test"))
        assert until is not None
        late = (dt.date(2027, 5, 27) - until).days
        assert 0 < late <= 60  # it was good when the page was made
        expect(leak.locator(".chip")).to_have_text(f"overdue by {late} days")
        expect(leak.locator(".chip")).to_have_class("chip close")
        page.clock.set_fixed_time(dt.datetime(2026, 1, 1, 9, 0))
        page.reload()
        assert "clock stands before" in page.locator("#due").inner_text()


def test_a_kept_copy_works_without_a_network_and_knows_what_it_is(
    browser: Browser, site: Site, served: str, tmp_path: Path
) -> None:
    copy = tmp_path / "kept.html"
    with watch(browser, phone=True) as seen:
        seen.page.goto(f"{served}/heron/use.html#keep")
        with seen.page.expect_download() as saved:
            seen.page.locator("#k-save").click()
        saved.value.save_as(copy)
        assert saved.value.suggested_filename.endswith(".html")
    with watch(browser, phone=True) as seen:
        page = seen.page
        page.context.set_offline(True)
        page.clock.set_fixed_time(dt.datetime.now() + dt.timedelta(days=75))
        page.goto(copy.as_uri())
        expect(page.locator("#kept")).to_contain_text("This is a copy, kept on")
        expect(page.locator("#kept")).to_contain_text("75\u00a0days ago. Look for a newer one.")
        assert seen.asked == [copy.as_uri()]
        page.get_by_role("link", name="Before you drive off").click()
        page.locator("a[href='#departure-lamps']").click()
        page.locator("#departure-lamps [data-tick]").first.check()
        page.reload()
        assert len(ticks(page)) == 1
        assert page.locator("a[href]:not([href^='#']):not([href^='tel:']):not([href^='http'])").count() == 0


def test_a_borrower_says_yes_and_nothing_is_sent_by_itself(browser: Browser, site: Site) -> None:
    with watch(browser, phone=True) as seen:
        page = seen.page
        page.add_init_script(
            "navigator.share = (given) => { window.given = given.text; return Promise.resolve(); }"
        )
        page.goto(site.file("heron/borrower.html"))
        expect(page.locator("#c-tell")).to_be_disabled()
        for box in page.locator("#confirm [data-tick]").all():
            box.check()
        expect(page.locator("#c-tell")).to_be_disabled()
        page.locator("#c-name").fill("A. Person")
        page.locator("#c-seen").fill("scratch at the door")
        page.locator("#c-keep").click()
        page.reload()
        expect(page.locator("#c-name")).to_have_value("A. Person")
        expect(page.locator("#c-tell")).to_be_enabled()
        assert page.evaluate("window.given") is None
        page.locator("#c-tell").click()
        expect(page.locator("#c-said")).to_have_text("Handed on.")
        given = page.evaluate("window.given")
        assert "Heron and Anvil, revision 3" in given
        assert "scratch at the door" in given
        assert "A. Person" in given


# keyboard, links, print


def test_keyboard_reaches_everything_in_order(browser: Browser, site: Site) -> None:
    with watch(browser) as seen:
        page = seen.page
        page.goto(site.file("wren/check.html"))
        page.locator("a[href='#what-if']").focus()
        page.goto(site.file("wren/check.html") + "#what-if")
        page.reload()
        page.evaluate("document.querySelector('.skip').focus()")
        assert page.evaluate("document.activeElement.className") == "skip"
        page.keyboard.press("Enter")
        assert page.evaluate("location.hash") == "#main"
        assert open_views(page) == ["what-if"]
        visited = []
        for _ in range(200):
            page.keyboard.press("Tab")
            visited.append(page.evaluate("document.activeElement.id || document.activeElement.tagName"))
            if visited[-1] == "BODY":
                break
        for wanted in ("w0", "w-link", "b-back"):
            assert wanted in visited
        assert visited.index("w-link") < visited.index("w0") < visited.index("b-back")
        page.locator("#w0").focus()
        before = page.locator("#n-tongue_weight").inner_text()
        page.keyboard.press("Home")
        assert page.locator("#w0").input_value() == "0"
        assert page.locator("#n-tongue_weight").inner_text() != before


def test_a_link_to_a_check_opens_it_and_a_word_finds_it(browser: Browser, site: Site) -> None:
    with watch(browser) as seen:
        page = seen.page
        page.goto(site.file("over/check.html") + "#governs")
        page.locator("#governs a").first.click()
        page.wait_for_url(re.compile("workings.html#check-"))
        target = page.evaluate("location.hash.slice(1)")
        assert page.evaluate("(id) => document.getElementById(id).open", target)
        every = page.locator("#checks .fold:visible").count()
        page.locator("#f-box").fill("tongue")
        assert 0 < page.locator("#checks .fold:visible").count() < every
        expect(page.locator("#f-said")).to_contain_text(" of ")


def test_the_page_of_all_rigs_leads_to_every_report(browser: Browser, site: Site) -> None:
    with watch(browser) as seen:
        seen.page.goto(site.file("index.html"))
        links = seen.page.locator(".rigs th a").evaluate_all(
            "(all) => all.map((a) => a.getAttribute('href'))"
        )
        assert len(links) > len(DEMOS)
        for link in links:
            assert (site.folder / link).is_file()


def test_print_shows_the_open_view_and_few_pages(browser: Browser, site: Site, tmp_path: Path) -> None:
    with watch(browser) as seen:
        page = seen.page
        for name in ("heron", "full", "over"):
            for file, most in (("use.html", 2), ("borrower.html", 2)):
                page.goto(site.file(f"{name}/{file}"))
                made = tmp_path / "print.pdf"
                page.pdf(path=made, format="Letter", prefer_css_page_size=False)
                with pikepdf.open(made) as printed:
                    assert len(printed.pages) <= most, (name, file)
        page.goto(site.file("wren/use.html") + "#tires")
        page.emulate_media(media="print")
        page.evaluate("window.dispatchEvent(new Event('beforeprint'))")
        assert open_views(page) == ["tires"]
        expect(page.locator(".tabs")).to_be_hidden()
        expect(page.locator("#bar")).to_be_hidden()
        page.goto(site.file("wren/workings.html"))
        page.evaluate("window.dispatchEvent(new Event('beforeprint'))")
        assert page.locator("details[open]").count() == 0  # only when asked for
        page.emulate_media(media="screen")
        page.evaluate("window.print = () => {}")
        page.locator("#f-print").click()
        assert page.locator("details:not([open])").count() == 0
