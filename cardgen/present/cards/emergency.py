"""The emergency card: people first, then traffic, then the machine."""

from __future__ import annotations

from cardgen.checklist.views import for_emergency
from cardgen.present.blocks import Block, Card, Table
from cardgen.present.cards import pieces
from cardgen.present.cards.lists import checklist
from cardgen.present.rig_view import RigView


def card(rig_view: RigView) -> Card:
    """Make the emergency card with the telephone numbers as given."""
    flow: list[Block] = []
    phones = contacts(rig_view)
    if phones is not None:
        flow.append(phones)
    flow.append(checklist(rig_view, for_emergency(rig_view.checklist, 2), "When it happens"))
    flow.append(pieces.qr(rig_view, "e"))
    return pieces.frame(rig_view, "emergency-card", "Emergency card", (), tuple(flow))


def contacts(rig_view: RigView) -> Table | None:
    """Whom to call, as given in the rig file; None when nobody is named."""
    rows = tuple((c.who, c.phone) for c in rig_view.rig.contacts)
    if not rows:
        return None
    return Table("Whom to call", (), rows, (1.0, 1.0), ("left", "right"), strong=tuple(range(len(rows))))
