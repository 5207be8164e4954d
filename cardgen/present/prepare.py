"""From a checked rig to the rig_view: compute, check, choose the checklist."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from cardgen.checklist.features import features
from cardgen.checklist.select import build
from cardgen.checklist.values import values
from cardgen.limits.assess import assess
from cardgen.model.rig import Rig
from cardgen.model.written import units_of
from cardgen.physics.compute import compute
from cardgen.present.format import Formatter
from cardgen.present.rig_view import Edition, RigView
from cardgen.tables.words import papers_of
from cardgen.units.show import Base


def prepare(rig: Rig, day: dt.date, edition: Edition | None = None, units: Base | None = None) -> RigView:
    """Assess a rig and lay everything out for the presenters.

    Args:
        rig: the rig.
        day: the build date, for ages and due dates.
        edition: revision, its day and the report's address; revision 1 when None.
        units: units asked for on the command line, None for the rig's own.
    """
    assessment = assess(compute(rig), day)
    formatter = Formatter(
        units_of(rig, units), rig.market, rig.trailer.type, papers_of(rig.market, rig.places)
    )
    texts = values(assessment, formatter.system)
    checklist = build(rig, features(rig), texts, day)
    if rig.alone == "vehicle":
        checklist = replace(checklist, phases=())  # the list is that of a trailer
    base = rig.preferences.base_url
    return RigView(assessment, checklist, formatter, edition or Edition(1, day, base), texts)
