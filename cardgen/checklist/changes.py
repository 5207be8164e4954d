"""The owner's own items, replacements and removals: what is wrong with them, what counts."""

from __future__ import annotations

from collections.abc import Iterator
from difflib import get_close_matches

from cardgen.checklist.catalog import SAY, catalog
from cardgen.checklist.schema import ItemDef
from cardgen.checklist.types import SAFETY, ChecklistProblem, Line
from cardgen.model.rig import Rig


def problems(rig: Rig) -> list[ChecklistProblem]:
    """Every fault in ``checklist`` of a rig file, with the field and what to write.

    Args:
        rig: the rig whose changes are looked at.

    Returns:
        Faults in the order of the file; an empty list when all changes count.
    """
    return [*_added(rig), *_named(rig), *_reasons(rig)]


def _added(rig: Rig) -> Iterator[ChecklistProblem]:
    keys = [phase.key for phase in catalog().scheme.phases]
    walked = [key for part in catalog().scheme.parts for key in part.phases]
    for at, own in enumerate(rig.checklist.add):
        here = ("checklist", "add", at)
        if own.phase not in keys:
            words = f"'{own.phase}' is not a phase"
            yield ChecklistProblem("checklist-phase", (*here, "phase"), words, _nearest(own.phase, keys))
        if not own.text.strip():
            yield ChecklistProblem(
                "checklist-text", (*here, "text"), "the item has no text", "write what to do"
            )
        if own.safety and own.phase in walked:
            yield from _long((*here, "text"), own.text)


def _long(steps: tuple[str | int, ...], text: str) -> Iterator[ChecklistProblem]:
    """A text of the short list that does not fit its line."""
    if (length := len(text.strip())) > SAY:
        words = f"the text has {length} characters; a line of the glovebox card holds {SAY}"
        yield ChecklistProblem("checklist-long", steps, words, "write what to look at, in few words")


def _named(rig: Rig) -> Iterator[ChecklistProblem]:
    ids = [item.id for item in catalog().items]
    for field, table in (("replace", rig.checklist.replace), ("remove", rig.checklist.remove)):
        for key in table:
            if key not in ids:
                words = f"'{key}' is not the id of an item"
                yield ChecklistProblem(
                    "checklist-item", ("checklist", field, key), words, _nearest(key, ids), at_key=True
                )
    short = {item.id for item in catalog().items if on_short_list(item)}
    for key, text in rig.checklist.replace.items():
        here = ("checklist", "replace", key)
        if key in short:
            yield from _long(here, text)
        if not text.strip():
            words = "the new wording is empty"
            yield ChecklistProblem("checklist-text", here, words, "write the text, or use remove")
        if key in rig.checklist.remove:
            words = f"'{key}' is replaced and removed"
            yield ChecklistProblem("checklist-twice", here, words, "keep one of the two", at_key=True)


def _reasons(rig: Rig) -> Iterator[ChecklistProblem]:
    severity = {item.id: item.severity for item in catalog().items}
    for key, reason in rig.checklist.remove.items():
        if not reason.strip():
            safety = severity.get(key) == SAFETY
            what = "a safety-critical item" if safety else "an item"
            yield ChecklistProblem(
                "checklist-reason",
                ("checklist", "remove", key),
                f"{what} cannot be removed without a reason",
                "write the reason; it is printed",
            )


def _nearest(word: str, known: list[str]) -> str:
    found = get_close_matches(word, known, n=1, cutoff=0.5)
    if found:
        return f"did you mean '{found[0]}'?"
    return "use one of: " + ", ".join(known) if len(known) < 30 else "'cardgen explain' lists all ids"


def on_short_list(item: ItemDef | Line) -> bool:
    """Whether an item or line may stand on the short list of the glovebox card."""
    return item.kind in ("act", "ban") and item.tier == 1 and "every_tow" in item.every


def replacements(rig: Rig) -> dict[str, str]:
    """Item id to the owner's wording, without faulty entries."""
    return {
        key: text.strip()
        for key, text in rig.checklist.replace.items()
        if text.strip() and key not in rig.checklist.remove
    }


def removals(rig: Rig) -> dict[str, str]:
    """Item id to the owner's reason; a removal without a reason does not count."""
    return {key: why.strip() for key, why in rig.checklist.remove.items() if why.strip()}
