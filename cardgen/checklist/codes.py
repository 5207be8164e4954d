"""Every code of a fault in the owner's changes to the checklist, with what it means."""

from __future__ import annotations

from collections.abc import Mapping

CHECKLIST_CODES: Mapping[str, str] = {
    "checklist-phase": "An own item names a phase that the checklist does not have, so it could not be printed"
    " anywhere. The nearest phase is suggested.",
    "checklist-text": "An own item, or the new wording of an item, has no text and would print as an empty line.",
    "checklist-item": "No item has this id, so the change would be lost without a word. The nearest id is suggested.",
    "checklist-twice": "One item is both reworded and removed. Keep one of the two.",
    "checklist-reason": "An item is removed without a reason. The reason is printed with the removal, so that"
    " whoever borrows the rig can see what was left out and why.",
}
"""Code and explanation."""
