"""The emergency card: people first, then traffic, then the machine."""

from __future__ import annotations

from cardgen.checklist.views import for_emergency
from cardgen.present.blocks import Card, Table
from cardgen.present.cards.arrival import two_sided
from cardgen.present.rig_view import RigView


def card(rig_view: RigView) -> Card:
    """Make the emergency card: stopped, with the telephone numbers as given; behind it what is known by heart."""
    phones = contacts(rig_view)
    phases = for_emergency(rig_view.checklist, 2)
    stopped = [phase for phase in phases if phase.key == "emergency"]
    driving = [phase for phase in phases if phase.key != "emergency"]
    return two_sided(
        rig_view,
        "emergency-card",
        "Emergency card",
        ("", () if phones is None else (phones,), stopped, "", ()),
        ("Known by heart", (), driving, "e", ()),
    )


def contacts(rig_view: RigView) -> Table | None:
    """Whom to call, as given in the rig file; None when nobody is named."""
    rows = tuple((c.who, c.phone) for c in rig_view.rig.contacts)
    if not rows:
        return None
    return Table("Whom to call", (), rows, (1.0, 1.0), ("left", "right"), strong=tuple(range(len(rows))))
