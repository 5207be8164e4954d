"""From the rig_view to the report page."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from cardgen.present import (
    report_cases,
    report_checks,
    report_drawings,
    report_gear,
    report_lists,
    report_scale,
    report_wiring,
)
from cardgen.present.cards import may_tow, must_have
from cardgen.present.glossary import glossary
from cardgen.present.history import Download, Revision, rows
from cardgen.present.notice import currency, reckoned
from cardgen.present.report_view import Key, ReportView
from cardgen.present.rig_view import RigView
from cardgen.present.whatif import what_if

FIRST = "Local law, the makers' manuals and licensed practice come first."


def build_report(
    rig_view: RigView,
    history: Sequence[Revision] = (),
    downloads: Sequence[Download] = (),
    borrower: str = "borrower.html",
    measure: str = "",
) -> ReportView:
    """Lay out the full report of one rig.

    Args:
        rig_view: assessment, checklist, reader and edition.
        history: all revisions so far, the current one included; only the edition's when empty.
        downloads: the cards on offer.
        borrower: address of the borrower page relative to the report, empty for none.
        measure: address of the measuring page; empty without one [-].

    Returns:
        The view; a part whose data cannot exist for this rig is None, an unknown one says
        what to measure.
    """
    edition = rig_view.edition
    phases, sources = report_lists.checklist(rig_view)
    known = tuple(history) or (Revision(edition.revision, edition.day),)
    return ReportView(
        language=rig_view.language,
        nickname=rig_view.rig.nickname,
        slug=rig_view.slug,
        subtitle=rig_view.subtitle,
        note=rig_view.rig.note or "",
        revision=f"Revision {edition.revision}",
        date=rig_view.date,
        verdict=report_checks.verdict(rig_view),
        keys=keys(rig_view),
        governs=report_checks.governs(rig_view),
        allowed=report_checks.allowed(rig_view),
        cases=report_cases.cases(rig_view),
        checks=report_checks.groups(rig_view),
        tires=report_gear.tires(rig_view),
        hitch=report_gear.hitch(rig_view),
        brakes=report_wiring.brakes(rig_view),
        checklist=phases,
        downloads=tuple(downloads),
        cautions=report_lists.cautions(rig_view),
        glossary=glossary(rig_view),
        revisions=rows(known, downloads),
        currency=currency(rig_view, downloads),
        foot=(rig_view.reckoned(), reckoned(rig_view), FIRST),
        borrower=borrower,
        measure=measure,
        sources=sources,
        words={"tires": rig_view.say("Tires")},
        **_where_it_applies(rig_view),
    )


def _where_it_applies(rig_view: RigView) -> dict[str, Any]:
    """Make the parts that not every rig has."""
    return {
        "missing": report_checks.missing(rig_view),
        "due": report_cases.due(rig_view),
        "removed": report_lists.removed(rig_view),
        "drawings": report_drawings.rig_drawings(rig_view),
        "envelope": report_scale.envelope(rig_view),
        "weighings": report_scale.weighings(rig_view),
        "remedies": report_scale.remedies(rig_view),
        "sway": report_scale.sway(rig_view),
        "labels": report_wiring.labels(rig_view),
        "whatif": what_if(rig_view),
        "contacts": tuple((c.who, c.phone) for c in rig_view.rig.contacts),
    }


def keys(rig_view: RigView) -> tuple[Key, ...]:
    """Pick the numbers people look for first; of a vehicle alone what it may tow."""
    if rig_view.rig.alone == "vehicle":
        rows = [(what, limit) for what, limit, _ in may_tow.ratings(rig_view) if limit != must_have.BLANK]
        return tuple(Key(rig_view.say(what), limit) for what, limit in rows)
    tongue = rig_view.say("{coupling_load}").capitalize()
    share = next((f for f in rig_view.findings if f.code == "tongue-share"), None)
    note = rig_view.worst("tongue_weight", "tongue_share")
    if share is not None and share.low is not None and share.capacity is not None:
        band = f"{rig_view.formatter.bare(share.low, 'fraction')} to {rig_view.formatter.value(share.capacity, 'fraction')}"
        note = f"{note} of the trailer; band {band}".replace(".0", "")
    note = "; ".join(filter(None, (note, rig_view.plates())))
    made = [
        Key(f"{tongue}, largest", rig_view.shown("tongue_weight_max"), note),
        Key(
            rig_view.heaviest,
            rig_view.shown("trailer_weight_max"),
            f"allowed {rig_view.shown('allowed_trailer')}",
        ),
        Key(rig_view.say("Trailer tires, cold"), rig_view.shown("pressure_trailer")),
        Key(rig_view.say("Vehicle tires, cold"), _vehicle_pressures(rig_view), "front / rear"),
    ]
    if rig_view.rig.alone:
        needed = must_have.needs(rig_view)[:2]
        made[-1:] = [Key(one.what, one.needed, "needed of the vehicle") for one in needed]
    drop = rig_view.figure("drop_needed")
    if drop is not None and drop.value is not None:
        word = "drop" if drop.value >= 0 else "rise"
        made.append(
            Key(
                rig_view.say("{Ball_mount} needed"), rig_view.formatter.value(abs(drop.value), "height"), word
            )
        )
    coupler = rig_view.rig.trailer.coupler.ball
    if coupler is not None:
        made.append(
            Key("Ball size", rig_view.formatter.ball(coupler.si), rig_view.say("stamped on the {coupler}"))
        )
    return tuple(made)


def _vehicle_pressures(rig_view: RigView) -> str:
    front, rear = rig_view.shown("pressure_front"), rig_view.shown("pressure_rear")
    return front if front == rear else f"{front} / {rear}"
