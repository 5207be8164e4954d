"""What a build did, rig by rig, for people and for programs."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from cardgen.bundle.unit import Delivery
from cardgen.source.faults import Fault

Status = Literal["built", "unchanged", "failed"]


@dataclass(frozen=True, slots=True, kw_only=True)
class RigResult:
    """What came of one rig.

    Args:
        file: rig file.
        status: built, unchanged, or failed (an earlier output is kept).
        slug, nickname, outcome, over, number, day: as described; empty when failed.
        new_revision: whether this build raised the revision.
        reprint: titles of the cards that must be printed again.
        changes: what changed, in words.
        faults: faults of the rig file or of its ledger.
        problems: why the cards must not be handed out.
        missing: what the system lacks.
        bug: traceback, for what should never happen.
        notes: what else the person should know.
        kept: folder name and revision of the earlier output that stays, when it failed.
    """

    file: str
    status: Status
    slug: str = ""
    nickname: str = ""
    outcome: str = ""
    over: tuple[str, ...] = ()
    number: int = 0
    day: str = ""
    new_revision: bool = False
    reprint: tuple[str, ...] = ()
    changes: tuple[str, ...] = ()
    faults: tuple[Fault, ...] = ()
    problems: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    bug: str = ""
    notes: tuple[str, ...] = ()
    kept: str = ""


@dataclass(slots=True)
class Result:
    """What a build did.

    Args:
        rigs: in the order of the rig files.
        removed: folder names of rigs whose output was removed.
        finished: whether an earlier, interrupted build was finished first.
        written: output files that were written [-].
    """

    rigs: list[RigResult] = field(default_factory=list)
    removed: list[str] = field(default_factory=list)
    finished: bool = False
    written: int = 0


def failed(delivery: Delivery) -> RigResult:
    """Tell of a rig that could not be made."""
    return RigResult(
        file=delivery.file,
        status="failed",
        slug=delivery.slug,
        nickname=delivery.nickname,
        faults=delivery.faults,
        problems=delivery.made.problems if delivery.made else (),
        missing=(delivery.missing,) if delivery.missing else (),
        bug=delivery.bug,
    )


def built(delivery: Delivery, notes: tuple[str, ...]) -> RigResult:
    """Tell of a rig that was described, and rendered unless nothing changed.

    Args:
        delivery: without faults.
        notes: of its cards and files, also of those that are kept.
    """
    described, info, made = delivery.described, delivery.info, delivery.made
    assert described is not None  # by make(): a delivery without faults is complete
    assert info is not None
    newest = info.history[0]
    titles = {card.id: card.title for card in described.cards}
    new = delivery.new_revision
    return RigResult(
        file=delivery.file,
        status="built" if made else "unchanged",
        slug=delivery.slug,
        nickname=delivery.nickname,
        outcome=described.outcome,
        over=described.over,
        number=info.number,
        day=info.day.isoformat(),
        new_revision=new,
        reprint=tuple(titles.get(name, name) for name in newest.reprint) if new else (),
        changes=newest.words if new else (),
        missing=made.missing if made else (),
        notes=notes,
    )
