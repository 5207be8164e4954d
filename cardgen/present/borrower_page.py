"""The borrower's page: key numbers, do and don't, the short lists, whom to call, and a yes to hand back."""

from __future__ import annotations

from collections.abc import Sequence

from cardgen.checklist.views import for_arrival, for_departure, for_emergency
from cardgen.present import report_checks
from cardgen.present.blocks import Banner, CheckLine, ChecklistBlock, CheckPhase, Note, Sign, Table
from cardgen.present.cards import must_have
from cardgen.present.cards.borrower import hand_back
from cardgen.present.cards.lists import checklist
from cardgen.present.history import Download
from cardgen.present.page import Item, Items, Page, View
from cardgen.present.report import keys, page_of, phones
from cardgen.present.report_checks import OVER
from cardgen.present.report_lists import spoken
from cardgen.present.report_wiring import LEFT
from cardgen.present.rig_view import RigView

DO = (
    "Read the departure list aloud and do each line; start again if interrupted.",
    "Load as the loading cases say: heavy things low and near the axles.",
    "Set the tires cold to the pressures above before leaving.",
    "Stop after the {first_miles}: feel hubs, look at coupling, {chains}, plug and wheel nuts.",
    "Learn by heart what to do when the trailer {sways} or a tire fails: the last list on this page.",
    "Call before you guess.",
)
DONT = (
    "Do not fit another ball: the size stamped on the {coupler} and on the ball must be the same.",
    "Do not fill water or waste tanks beyond the loading cases without asking.",
    "Do not tow faster than the law, the tires and the owner allow.",
    "Do not stand between vehicle and trailer while one of them can move.",
    "Do not tow another trailer or with another vehicle: these numbers hold for this pair only.",
)
ONLY = "Only what must never be left out; the whole list is on the page of the rig."
DONT_ALONE = (
    *DONT[:-1],
    "Do not tow with a vehicle of which not every line below is a yes, or with another trailer.",
)
SHOWN = (
    "Coupling and uncoupling, done once by myself",
    "{Chains}, plug, lights and breakaway",
    "Where tire pressures are read, and how they are set",
    "How it may be loaded, and what that does to the {coupling_load}",
    "What to do when it {sways}, when a tire fails, and whom to call",
)
"""What was shown, a tick each [-]."""
TOLD = 3
"""Lines of the verdict that a borrower is told where no limit is exceeded [-]."""


def build_borrower_page(rig_view: RigView, downloads: Sequence[Download] = ()) -> Page:
    """Lay out the borrower's page of one rig.

    Args:
        rig_view: assessment, checklist, reader and edition.
        downloads: the cards on offer.
    """
    say = rig_view.say
    told = report_checks.verdict(rig_view, owner=False)
    lines = told.lines[: OVER if told.level == "over" else TOLD]
    cases = tuple(_case(rig_view))
    found = rig_view.checklist
    parts = (
        ("leaving", "Before leaving", for_departure(found, tier=0)),
        ("arrival", "On arrival", for_arrival(found, tier=0)),
    )
    events = spoken(for_emergency(found, tier=1))
    sections = (
        View("home", "Verdict", (Banner(told.level, told.title, lines), keys(rig_view))),
        View("call", "Whom to call", (phones(rig_view),)),
        View("do", "Do", (Items(tuple(Item(say(text)) for text in DO)),)),
        View(
            "dont",
            "Do not",
            (Items(tuple(Item(say(text)) for text in (DONT_ALONE if rig_view.rig.alone else DONT))),),
        ),
        *(
            (View("must", "Which vehicle may tow it", (must_have.table(rig_view),)),)
            if rig_view.rig.alone == "trailer"
            else ()
        ),
        View("cases", "Loading cases", (Table("", (), cases),)),
        *(
            View(name, title, (checklist(rig_view, lists, "", short=True),), hint=ONLY, tool="trip")
            for name, title, lists in parts
            if lists
        ),
        View("emergency", "When something goes wrong", events),
        View("confirm", "Was shown to me", (_shown(rig_view),), tool="confirm"),
        View(
            "back",
            "Out and back",
            (
                Note("Write it down together, once when the rig leaves and once when it comes back."),
                Table(
                    "",
                    ("What", "Out", "Back"),
                    tuple((line, "", "") for line in hand_back(rig_view)),
                    align=LEFT,
                ),
                Sign("", ("Borrower, name and signature", "Owner, name and signature", "Date")),
            ),
        ),
    )
    return page_of(rig_view, "borrower", "For the borrower", sections, downloads, views=False)


def _shown(rig_view: RigView) -> ChecklistBlock:
    lines = tuple(CheckLine(rig_view.say(text), id=f"shown-{n}") for n, text in enumerate(SHOWN, 1))
    return ChecklistBlock("", (CheckPhase("", "", lines),))


def _case(rig_view: RigView) -> list[tuple[str, str]]:
    made = []
    for case in rig_view.assessment.computed.cases:
        trailer = rig_view.formatter.figure(case.figures.get("trailer_weight"))
        tongue = rig_view.formatter.figure(case.figures.get("tongue_weight"))
        made.append((case.name, rig_view.say(f"trailer {trailer}, {{coupling_load}} {tongue}")))
    return made
