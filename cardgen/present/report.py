"""From the desk to the report page."""

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
from cardgen.present.desk import Desk
from cardgen.present.glossary import glossary
from cardgen.present.history import Download, Revision, currency, rows
from cardgen.present.report_view import Key, ReportView
from cardgen.present.whatif import what_if

FIRST = "Local law, the makers' manuals and licensed practice come first."


def build_report(
    desk: Desk,
    history: Sequence[Revision] = (),
    downloads: Sequence[Download] = (),
    borrower: str = "borrower.html",
) -> ReportView:
    """Lay out the full report of one rig.

    Args:
        desk: assessment, checklist, reader and edition.
        history: all revisions so far, the current one included; only the edition's when empty.
        downloads: the cards on offer.
        borrower: address of the borrower page relative to the report, empty for none.

    Returns:
        The view; a part whose data cannot exist for this rig is None, an unknown one says
        what to measure.
    """
    edition = desk.edition
    phases, sources = report_lists.checklist(desk)
    known = tuple(history) or (Revision(edition.revision, edition.day),)
    return ReportView(
        language=desk.language,
        nickname=desk.rig.nickname,
        slug=desk.slug,
        subtitle=desk.subtitle,
        note=desk.rig.note or "",
        revision=f"Revision {edition.revision}",
        date=desk.date,
        verdict=report_checks.verdict(desk),
        keys=keys(desk),
        governs=report_checks.governs(desk),
        allowed=report_checks.allowed(desk),
        cases=report_cases.cases(desk),
        checks=report_checks.groups(desk),
        tires=report_gear.tires(desk),
        hitch=report_gear.hitch(desk),
        brakes=report_wiring.brakes(desk),
        checklist=phases,
        downloads=tuple(downloads),
        cautions=report_lists.cautions(desk),
        glossary=glossary(desk),
        revisions=rows(known, downloads),
        currency=currency(desk.slug, edition.revision, edition.day, known, downloads),
        foot=(desk.reckoned(), FIRST),
        borrower=borrower,
        sources=sources,
        words={"tires": desk.say("Tires")},
        **_where_it_applies(desk),
    )


def _where_it_applies(desk: Desk) -> dict[str, Any]:
    """Make the parts that not every rig has."""
    return {
        "missing": report_checks.missing(desk),
        "due": report_cases.due(desk),
        "removed": report_lists.removed(desk),
        "drawings": report_drawings.rig_drawings(desk),
        "envelope": report_scale.envelope(desk),
        "weighings": report_scale.weighings(desk),
        "remedies": report_scale.remedies(desk),
        "sway": report_scale.sway(desk),
        "labels": report_wiring.labels(desk),
        "whatif": what_if(desk),
        "contacts": tuple((c.who, c.phone) for c in desk.rig.contacts),
    }


def keys(desk: Desk) -> tuple[Key, ...]:
    """Pick the numbers people look for first."""
    tongue = desk.say("{coupling_load}").capitalize()
    share = next((f for f in desk.findings if f.code == "tongue-share"), None)
    note = desk.worst("tongue_weight", "tongue_share")
    if share is not None and share.low is not None and share.capacity is not None:
        band = f"{desk.shower.bare(share.low, 'fraction')} to {desk.shower.value(share.capacity, 'fraction')}"
        note = f"{note} of the trailer; band {band}".replace(".0", "")
    made = [
        Key(f"{tongue}, largest", desk.shown("tongue_weight_max"), note),
        Key(
            desk.heaviest,
            desk.shown("trailer_weight_max"),
            f"allowed {desk.shown('allowed_trailer')}",
        ),
        Key(desk.say("Trailer tires, cold"), desk.shown("pressure_trailer")),
        Key(desk.say("Vehicle tires, cold"), _vehicle_pressures(desk), "front / rear"),
    ]
    drop = desk.figure("drop_needed")
    if drop is not None and drop.value is not None:
        word = "drop" if drop.value >= 0 else "rise"
        made.append(Key(desk.say("{Ball_mount} needed"), desk.shower.value(abs(drop.value), "height"), word))
    coupler = desk.rig.trailer.coupler.ball
    if coupler is not None:
        made.append(Key("Ball size", desk.shower.ball(coupler.si), desk.say("stamped on the {coupler}")))
    return tuple(made)


def _vehicle_pressures(desk: Desk) -> str:
    front, rear = desk.shown("pressure_front"), desk.shown("pressure_rear")
    return front if front == rear else f"{front} / {rear}"
