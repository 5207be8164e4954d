"""Which revision a described rig is: the last one, or a new one because something printed changed."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, replace

from cardgen.bundle.changes import history
from cardgen.bundle.facts import Facts
from cardgen.bundle.ledger import Ledger
from cardgen.bundle.revision import CardPrint, Revision
from cardgen.bundle.work import Described, Issue, PrintedCard, RevisionInfo


@dataclass(frozen=True, slots=True)
class Decision:
    """The revision to print, and whether it has to be entered in the ledger."""

    revision: Revision
    new: bool
    info: RevisionInfo


def decide(
    ledger: Ledger,
    rig: tuple[str, str],
    described: Described,
    facts: Facts,
    day: dt.date,
    *,
    partial: bool = False,
) -> Decision:
    """Compare what would be printed with the ledger.

    The revision is raised only when a card prints something different from its last print,
    is new, or is no longer made. Rivals in the ledger are joined by a new revision.

    Args:
        ledger: revisions so far, without faults.
        rig: folder name and nickname.
        described: what would be printed.
        facts: what the rig file says.
        day: day of this build; becomes the day of a new revision.
        partial: whether only some cards were asked for, so that the others stay current.
    """
    last = ledger.last
    if last is None:
        made = _revision(rig, 1, day, described, facts, {})
        return _decision(ledger, made, new=True)
    number = last.number + 1
    kept = {c.id: last.cards[c.id] for c in described.cards if _same(c, last, ledger.rivals)}
    changed = [card for card in described.cards if card.id not in kept]
    named = {card.id for card in described.cards}
    others = {name: card for name, card in last.cards.items() if name not in named}
    if not changed and not ledger.rivals and (partial or not others):
        return _decision(ledger, last, new=False)
    made = _revision(rig, number, day, described, facts, kept | (others if partial else {}))
    joins = tuple(sorted({one.fingerprint for one in ledger.rivals}))
    return _decision(ledger, _joined(made, joins), new=True)


def _same(card: PrintedCard, last: Revision, rivals: tuple[Revision, ...]) -> bool:
    """Whether everybody who holds the card holds this very print."""
    return all(
        card.id in one.cards and one.cards[card.id].fingerprint == card.fingerprint for one in (last, *rivals)
    )


def _revision(
    rig: tuple[str, str],
    number: int,
    day: dt.date,
    described: Described,
    facts: Facts,
    kept: dict[str, CardPrint],
) -> Revision:
    cards = dict(kept)
    for card in described.cards:
        if card.id not in cards:
            cards[card.id] = CardPrint(card.title, card.fingerprint, number, day, dict(card.values))
    return Revision(
        rig=rig[0],
        nickname=rig[1],
        number=number,
        day=day,
        key_numbers=dict(described.key_numbers),
        cards=cards,
        facts=facts,
    )


def _joined(made: Revision, joins: tuple[str, ...]) -> Revision:
    return replace(made, joins=joins) if joins else made


def _decision(ledger: Ledger, current: Revision, *, new: bool) -> Decision:
    revisions = (*ledger.revisions, current) if new else ledger.revisions
    cards = {name: Issue(card.since, card.since_day) for name, card in current.cards.items()}
    info = RevisionInfo(current.number, current.day, cards, history(revisions))
    return Decision(current, new, info)
