"""From the rig_view to the pages of a rig: use, check, workings, and the borrower's."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from functools import partial
from typing import Any

from cardgen.checklist.catalog import catalog
from cardgen.checklist.types import PhaseList
from cardgen.checklist.views import for_arrival, for_departure, for_emergency, for_road, for_season
from cardgen.model.results import Outcome
from cardgen.present import (
    report_cases,
    report_checks,
    report_drawings,
    report_gear,
    report_lists,
    report_scale,
    report_wiring,
)
from cardgen.present.blocks import Banner, KeyNumber, KeyNumbers, Note, NumberedLine, Paragraph, Steps
from cardgen.present.cards import may_tow, must_have, pieces
from cardgen.present.cards.front import gauges, little_known, pump
from cardgen.present.cards.lists import checklist, removed
from cardgen.present.format import NOT_CHECKED
from cardgen.present.glossary import glossary
from cardgen.present.history import Download, Revision, rows
from cardgen.present.notice import currency, reckoned
from cardgen.present.page import Fold, Item, Items, Page, PageBlock, View
from cardgen.present.rig_view import RigView
from cardgen.present.whatif import what_if

FIRST = "Local law, the makers' manuals and licensed practice come first."
LANDS = {"d": "departure", "a": "arrival", "t": "tires", "l": "loading", "h": "hitch", "e": "emergency"}
"""View in which a card's code opens, by the card's letter; every other card's opens the first [-]."""
HEAVY = "A heavy box: left out, it can by itself kill or lose the trailer."
NOW = ("departure", "tires", "hitch", "loading", "stops", "arrival", "emergency", "call")
"""Views of the first menu, in the order in which a tow needs them [-]."""
PRINTS = 4_500
"""Room for what holders of earlier prints are told, so that a page stays small enough to be kept [B]."""
PHONE = re.compile(r"\+?[\d(][\d\s().\-/\u00a0]{2,28}")


def build_pages(
    rig_view: RigView,
    history: Sequence[Revision] = (),
    downloads: Sequence[Download] = (),
    measure: str = "",
) -> tuple[Page, ...]:
    """Lay out use, check and workings of one rig.

    Args:
        rig_view: assessment, checklist, reader and edition.
        history: all revisions so far, the current one included; only the edition's when empty.
        downloads: the cards on offer.
        measure: address of the measuring page; empty without one [-].

    Returns:
        The pages; what cannot exist for this rig has no section, what is not known says what to measure.
    """
    return tuple(make() for make in page_makers(rig_view, history, downloads, measure).values())


def page_makers(
    rig_view: RigView,
    history: Sequence[Revision] = (),
    downloads: Sequence[Download] = (),
    measure: str = "",
) -> dict[str, Callable[[], Page]]:
    """What lays out each page of one rig, by its name, for whoever needs one page before the others.

    Args:
        rig_view, history, downloads, measure: as for ``build_pages``.
    """
    known = tuple(history) or (Revision(rig_view.edition.revision, rig_view.edition.day),)
    page = partial(page_of, rig_view, downloads=downloads)

    def used() -> Page:
        lend = Item("Lend it", "a page for the borrower, and a yes to hand back", href="borrower.html")
        more = (Item(s.title, s.about, href="check.html#season") for s in season(rig_view)[:1])
        return _with_menus(page("use", "Use", use(rig_view, downloads)), NOW, (lend, *more))

    return {
        "use": used,
        "check": lambda: _with_menus(page("check", "Check", check(rig_view, measure)), ()),
        "workings": lambda: page("workings", "Workings", workings(rig_view, known, downloads), views=False),
    }


def page_of(
    rig_view: RigView,
    name: str,
    what: str,
    sections: Iterable[View],
    downloads: Sequence[Download],
    *,
    views: bool = True,
) -> Page:
    """Put sections into a page with the rig's name and what the script reads.

    Args:
        rig_view: the rig.
        name: name of the file without the ending [-].
        what: what the page is [-].
        sections: the first is what opens.
        downloads: the cards on offer.
        views: whether one section is shown at a time.
    """
    edition = rig_view.edition
    data: dict[str, Any] = currency(rig_view, downloads)
    _shorten(list(data["cards"].values()))
    data |= {"page": name, "day": edition.day.isoformat(), "nickname": rig_view.rig.nickname}
    data |= {"lands": LANDS if name == "use" else {}, "base": (rig_view.url("") or "").partition("?")[0]}
    return Page(
        name, what, rig_view.rig.nickname, rig_view.subtitle, rig_view.rig.note or "", rig_view.language,
        f"Revision {edition.revision}", rig_view.date, tuple(sections),
        (rig_view.reckoned(), reckoned(rig_view), rig_view.say(FIRST)), data, views,
    )  # fmt: skip


def _shorten(cards: Sequence[dict[str, Any]]) -> None:
    """Drop the oldest prints where all together are too long; of those the page says that nothing is recorded."""
    left = PRINTS
    ranked = sorted(
        (-one["n"], at, i) for at, card in enumerate(cards) for i, one in enumerate(card["prints"])
    )
    kept: list[list[Any]] = [[] for _ in cards]
    for _, at, i in ranked:
        one = cards[at]["prints"][i]
        left -= len(json.dumps(one, ensure_ascii=False, default=list).encode())
        if left < 0:
            break
        kept[at].append(one)
    for card, prints in zip(cards, kept, strict=True):
        card["prints"] = prints


def _with_menus(page: Page, now: Sequence[str], more: Sequence[Item] = ()) -> Page:
    """Lead from the first section to every other one that belongs under it, and to more on other pages."""
    first, *rest = page.sections
    entries = [one for one in rest if one.up == "home"]
    chosen = menu([one for one in entries if one.id in now], "What now?")
    others = menu([one for one in entries if one.id not in now], "Also" if now else "")
    menus = (*((chosen,) if now else ()), replace(others, rows=(*others.rows, *more)))
    return replace(page, sections=(replace(first, blocks=(*first.blocks, *menus)), *rest))


def stop(rig_view: RigView) -> tuple[Banner, ...]:
    """The words of an exceeded limit above a view; nothing when none is."""
    return (Banner("over", pieces.STOP),) if rig_view.outcome(Outcome.OVER) else ()


def menu(sections: Iterable[View], title: str = "") -> Items:
    """Big lines that lead to sections."""
    return Items(tuple(Item(s.title, s.about, href=f"#{s.id}") for s in sections), title, "menu")


def use(rig_view: RigView, downloads: Sequence[Download]) -> tuple[View, ...]:
    """What a person who tows needs: verdict, numbers, and a view for each thing to do."""
    home = View("home", "Verdict", (report_checks.verdict(rig_view), keys(rig_view)))
    return (
        home,
        *departure(rig_view),
        tires(rig_view),
        hitch(rig_view),
        aboard(rig_view),
        stops(rig_view),
        *_listed(rig_view, "arrival", "On arrival", for_arrival(rig_view.checklist)),
        emergency(rig_view),
        call(rig_view),
        driving(rig_view),
        *_due(rig_view),
        keep(rig_view),
        cards(downloads),
        View("cautions", "Cautions", (report_lists.cautions(rig_view),), "read them once"),
    )


def check(rig_view: RigView, measure: str = "") -> tuple[View, ...]:
    """What a person who loads needs: what governs, what if, cases, fillings, what is not checked."""
    bars = report_checks.governs(rig_view)
    governs: tuple[PageBlock, ...] = (*((bars,) if bars else ()), *report_checks.allowed(rig_view))
    least = f"least left: {bars.rows[0].demand}" if bars else ""
    what = what_if(rig_view)
    laws = tuple(map(Item, pieces.not_covered(rig_view)))
    found = (
        View("home", "Verdict", (report_checks.verdict(rig_view, owner=False),)),
        report_scale.remedies(rig_view),
        View("governs", "What governs", governs, least) if governs else None,
        View("what-if", "What if", (what,), "move water, gas, cargo and people") if what else None,
        report_cases.cases(rig_view),
        report_scale.envelope(rig_view),
        report_checks.open_ends(rig_view, measure),
        View("places", "Road rules not covered", (Items(laws),), "ask the authority") if laws else None,
        View("why-tires", rig_view.say("Tires"), report_gear.tires(rig_view), "load, rating and reasons"),
        View(
            "brakes", "Brakes and lamps", report_wiring.brakes(rig_view), "what is fitted, what the law asks"
        ),
        report_scale.weighings(rig_view),
        report_scale.sway(rig_view),
        report_drawings.rig_drawings(rig_view),
        *season(rig_view),
    )
    return tuple(one for one in found if one is not None)


def season(rig_view: RigView) -> tuple[View, ...]:
    """What is done a few times a year."""
    return _listed(rig_view, "season", "Laying up, first tow, season", for_season(rig_view.checklist))


def workings(
    rig_view: RigView, history: Sequence[Revision], downloads: Sequence[Download]
) -> tuple[View, ...]:
    """Every number with formula, terms and source; every line with its reason; the words of the trade."""
    labels = report_wiring.labels(rig_view)
    return (
        View("checks", "Every check, opened to its numbers", report_checks.groups(rig_view), tool="find"),
        *((View("labels", labels.title, (replace(labels, title=""),)),) if labels else ()),
        View("intervals", "Dates and intervals", (report_cases.due(rig_view),)),
        View("reasons", "Why each line is on the list", report_lists.reasons(rig_view)),
        View("revisions", "Revision history", (Items(rows(history, downloads)),)),
        View("glossary", "Words of the trade", (Items(glossary(rig_view), style="words"),)),
    )


def keys(rig_view: RigView) -> KeyNumbers:
    """Pick the numbers people look for first; of a vehicle alone what it may tow."""
    if rig_view.rig.alone == "vehicle":
        told = [(what, limit) for what, limit, _ in may_tow.ratings(rig_view) if limit != must_have.BLANK]
        return KeyNumbers("", tuple(KeyNumber(rig_view.say(what), limit) for what, limit in told))
    tongue = rig_view.say("{Coupling_load_in_full}")
    share = next((f for f in rig_view.findings if f.code == "tongue-share"), None)
    part = rig_view.worst("tongue_weight", "tongue_share")
    note = f"{part} of the trailer" if part not in ("", NOT_CHECKED) else ""
    band = ""
    if share is not None and share.low is not None and share.capacity is not None:
        band = f"band {rig_view.formatter.bare(share.low, 'fraction')} to {rig_view.formatter.value(share.capacity, 'fraction')}"
    note = "; ".join(filter(None, (note.replace(".0", ""), band.replace(".0", ""), rig_view.plates())))
    allowed, vehicle = rig_view.shown("allowed_trailer"), _vehicle_pressures(rig_view)
    made = [
        KeyNumber(f"{tongue}, largest", rig_view.shown("tongue_weight_max"), note),
        KeyNumber(
            rig_view.heaviest,
            rig_view.shown("trailer_weight_max"),
            f"allowed: {allowed}" if allowed == NOT_CHECKED else f"allowed {allowed}",
        ),
        KeyNumber(rig_view.say("Trailer tires, cold"), rig_view.shown("pressure_trailer")),
        KeyNumber(
            rig_view.say("Vehicle tires, cold"), vehicle, "" if vehicle == NOT_CHECKED else "front / rear"
        ),
    ]
    if rig_view.rig.alone:
        needed = must_have.needs(rig_view)[:2]
        made[-1:] = [KeyNumber(one.what, one.needed, "needed of the vehicle") for one in needed]
    height, word = rig_view.drop()
    if height:
        made.append(KeyNumber(rig_view.say("{Ball_mount} needed"), height, word))
    coupler = rig_view.rig.trailer.coupler.ball
    if coupler is not None:
        size = rig_view.formatter.ball(coupler.si)
        made.append(KeyNumber("Ball size", size, rig_view.say("stamped on the {coupler}")))
    return KeyNumbers("", tuple(made))


def _vehicle_pressures(rig_view: RigView) -> str:
    front, rear = rig_view.shown("pressure_front"), rig_view.shown("pressure_rear")
    return front if front == rear else f"{front} / {rear}"


def _listed(
    rig_view: RigView, name: str, title: str, phases: Sequence[PhaseList], above: tuple[PageBlock, ...] = ()
) -> tuple[View, ...]:
    """A view that leads to a view for each list."""
    made = report_lists.lists(rig_view, phases, name)
    if not made:
        return ()
    count = sum(len(phase.items) - len(phase.of("ban")) for phase in phases)
    about = f"{len(made)} list{'s' if len(made) > 1 else ''}, {count} lines"
    first = View(name, title, (*above, menu(made)), about, f"In this order. {HEAVY}", tool="trip")
    return (first, *made)


def departure(rig_view: RigView) -> tuple[View, ...]:
    """Everything before the wheels roll, with what the owner left out."""
    left_out = tuple(Note(text) for text in removed(rig_view))
    above: tuple[PageBlock, ...] = (*stop(rig_view), *left_out)
    return _listed(rig_view, "departure", "Before you drive off", for_departure(rig_view.checklist), above)


def tires(rig_view: RigView) -> View:
    """Pressures to set, and behind each what it carries and how it reads in heat and cold."""
    about = f"trailer {rig_view.shown('pressure_trailer')} · vehicle {_vehicle_pressures(rig_view)}"
    strip = report_gear.strip(rig_view, "trailer")
    more = Item("Why these pressures", "load, rating and reasons", href="check.html#why-tires")
    blocks = (
        *stop(rig_view),
        pump(rig_view),
        *((strip,) if strip else ()),
        Items((more,), style="menu"),
    )
    return View("tires", rig_view.say("Tires"), blocks, about)


def hitch(rig_view: RigView) -> View:
    """Ball, mount, heights, chains; the plug behind a line."""
    plugs = report_wiring.plugs(rig_view)
    wiring = (Fold("Which pin does what", plugs, "plug"),) if plugs else ()
    coupler = rig_view.rig.trailer.coupler.ball
    about = (
        f"ball {rig_view.formatter.ball(coupler.si)}, heights, plug" if coupler else "heights, ratings, plug"
    )
    return View("hitch", "Hitch up", (*stop(rig_view), *report_gear.hitch(rig_view), *wiring), about)


def aboard(rig_view: RigView) -> View:
    """The ends to keep the tongue weight between, what would spoil it, room left."""
    become = tuple(map(Item, map(rig_view.say, pieces.becoming(rig_view))))
    blocks: list[PageBlock] = [*stop(rig_view)]
    blocks += [] if little_known(rig_view) else [gauges(rig_view)]
    blocks += [Items(become, "What would spoil it")] if become else []
    blocks.append(report_cases.room(rig_view))
    more = Item("Try another filling", "what if", href="check.html#what-if")
    return View("loading", "Loading", (*blocks, Items((more,), style="menu")), "how much more may go where")


def stops(rig_view: RigView) -> View:
    """What is looked at on the way."""
    phases = [phase for phase in for_road(rig_view.checklist) if phase.key != "on_the_road"]
    first = rig_view.texts.get("first_stop")
    about = rig_view.say(f"the first after {first}") if first else "first stop, fuel stop"
    return View(
        "stops", "At every stop", (checklist(rig_view, phases, "", short=True),), about, HEAVY, tool="trip"
    )


def emergency(rig_view: RigView) -> View:
    """Whom to call, then what to do, life in danger first; read, not ticked."""
    drills = report_lists.spoken(for_emergency(rig_view.checklist))
    return View(
        "emergency", "When something goes wrong", (phones(rig_view), *drills), "also to learn by heart"
    )


def driving(rig_view: RigView) -> View:
    """How to drive with it, what to do when it happens left to ``emergency``."""
    known = {line.id for phase in for_emergency(rig_view.checklist) for line in phase.items}
    phases = [
        replace(phase, items=tuple(line for line in phase.items if line.id not in known))
        for phase in for_road(rig_view.checklist)
        if phase.key == "on_the_road"
    ]
    return View("driving", "While driving", report_lists.spoken(phases), "read it before you leave")


def phones(rig_view: RigView) -> Items:
    """The emergency number, and whom the rig file names; numbers that can be dialed are links."""
    number = catalog().markets[rig_view.rig.market].emergency_number
    rows = [Item(number, "life in danger", href=f"tel:{number}")]
    for one in rig_view.rig.contacts:
        dialed = re.sub(r"[^\d+]", "", one.phone) if PHONE.fullmatch(one.phone) else ""
        rows.append(Item(one.phone, one.who, href=f"tel:{dialed}" if dialed else ""))
    return Items(tuple(rows), style="menu")


def call(rig_view: RigView) -> View:
    """Whom to call."""
    names = ", ".join(one.who for one in rig_view.rig.contacts)
    return View("call", "Whom to call", (phones(rig_view),), names or "nobody is named in the rig file")


def _due(rig_view: RigView) -> tuple[View, ...]:
    found = report_cases.due(rig_view)
    found = replace(found, rows=tuple(replace(row, note="") for row in found.rows))
    count = sum(row.level == "close" for row in found.rows)
    hint = "As of the day this page was made; with its script, as of today on this phone."
    about = f"{count} due" if count else "nothing due"
    return (View("due", "What is due", (found,), about, hint),) if found.rows else ()


def keep(rig_view: RigView) -> View:
    """How to have this page where there is no network."""
    proof = rig_view.shown("tongue_weight_max")
    seen = f"If you see {proof}" if proof != NOT_CHECKED else f"If you see {rig_view.rig.nickname}"
    steps = (
        NumberedLine("1", "Press the button below. The phone keeps a file.", "Save this page."),
        NumberedLine("2", "Open it from the phone's downloads or files, and put it on the first screen if you like.", "Find it again."),
        NumberedLine("3", f"Switch to flight mode and open the kept file. {seen}, you are done.", "Try it."),
    )  # fmt: skip
    more = "The kept page knows that it is a copy and says how old it is. Ticks stay where they were made."
    return View("keep", "Keep it on this phone", (Steps("", steps), Paragraph(more)), "for where there is no network", tool="keep")  # fmt: skip


def cards(downloads: Sequence[Download]) -> View:
    """The cards on offer."""
    made = tuple(
        Item(
            d.title,
            f"{f'{d.note}; ' if d.note else ''}{'' if d.href else 'no file beside this page; '}current from revision {d.revision} on{f', or with the mark {d.mark}' if d.mark else ''}",
            href=d.href,
        )
        for d in downloads
    )
    about = f"{len(made)} card{'s' if len(made) != 1 else ''}"
    hint = "A printed card is current when it has the mark named here behind its revision; one without a mark, when its revision is at least the one named here."
    if not made:
        return View("cards", "Cards to print", (Paragraph("No cards lie beside this page."),), about)
    return View("cards", "Cards to print", (Items(made),), about, hint)
