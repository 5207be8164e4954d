"""The borrower's page: key numbers, do and don't, the short lists, whom to call."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from cardgen.checklist.types import PhaseList
from cardgen.checklist.views import for_arrival, for_departure, for_emergency
from cardgen.present import report_checks
from cardgen.present.blocks import Table
from cardgen.present.cards import must_have
from cardgen.present.cards.borrower import hand_back
from cardgen.present.report import keys
from cardgen.present.report_view import Key, Verdict
from cardgen.present.rig_view import RigView

DO = (
    "Read the departure list aloud and do each line; start again if interrupted.",
    "Load as the loading cases say: heavy things low and near the axles.",
    "Set the tires cold to the pressures above before leaving.",
    "Stop after the first miles: feel hubs, look at coupling, chains, plug and wheel nuts.",
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
DONT_ALONE = (
    *DONT[:-1],
    "Do not tow with a vehicle of which not every line below is a yes, or with another trailer.",
)


@dataclass(frozen=True, slots=True)
class BorrowerLine:
    """One line to do: text, state when done, whether it is critical."""

    text: str
    seen: str
    critical: bool


@dataclass(frozen=True, slots=True)
class ShortList:
    """Lines of one phase."""

    title: str
    items: tuple[BorrowerLine, ...]


@dataclass(frozen=True, slots=True)
class BorrowerView:
    """Everything the borrower's page prints."""

    language: str
    nickname: str
    subtitle: str
    note: str
    revision: str
    date: str
    verdict: Verdict
    keys: tuple[Key, ...]
    do: tuple[str, ...]
    dont: tuple[str, ...]
    departure: tuple[ShortList, ...]
    arrival: tuple[ShortList, ...]
    emergency: tuple[ShortList, ...]
    contacts: tuple[tuple[str, str], ...]
    cases: tuple[tuple[str, str], ...]
    hand_back: tuple[str, ...]
    foot: tuple[str, ...]
    must: Table | None


def build_borrower_page(rig_view: RigView) -> BorrowerView:
    """Lay out the borrower's page of one rig."""
    verdict = report_checks.verdict(rig_view)
    critical = (
        verdict if verdict.level == "over" else Verdict(verdict.level, verdict.title, verdict.lines[:3])
    )
    return BorrowerView(
        rig_view.language,
        rig_view.rig.nickname,
        rig_view.subtitle,
        rig_view.rig.note or "",
        f"Revision {rig_view.edition.revision}",
        rig_view.date,
        critical,
        keys(rig_view),
        tuple(map(rig_view.say, DO)),
        tuple(map(rig_view.say, DONT_ALONE if rig_view.rig.alone else DONT)),
        _lists(for_departure(rig_view.checklist, tier=0)),
        _lists(for_arrival(rig_view.checklist, tier=0)),
        _lists(for_emergency(rig_view.checklist, tier=1)),
        tuple((c.who, c.phone) for c in rig_view.rig.contacts),
        tuple(_case(rig_view)),
        hand_back(rig_view),
        (
            rig_view.reckoned(),
            rig_view.say("Local law, the makers' manuals and licensed practice come first."),
        ),
        must_have.table(rig_view) if rig_view.rig.alone == "trailer" else None,
    )


def _lists(phases: Iterable[PhaseList]) -> tuple[ShortList, ...]:
    return tuple(
        ShortList(
            phase.title,
            tuple(
                BorrowerLine(line.text + (" (if fitted)" if line.if_fitted else ""), line.seen, line.safety)
                for line in phase.items
            ),
        )
        for phase in phases
        if phase.items
    )


def _case(rig_view: RigView) -> Iterable[tuple[str, str]]:
    for case in rig_view.assessment.computed.cases:
        trailer = rig_view.formatter.figure(case.figures.get("trailer_weight"))
        tongue = rig_view.formatter.figure(case.figures.get("tongue_weight"))
        yield case.name, rig_view.say(f"trailer {trailer}, {{coupling_load}} {tongue}")
