"""One revision: what was printed, when, and the text of its file."""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from cardgen.bundle.facts import Facts
from cardgen.bundle.hashing import fingerprint

FORMAT = 1


@dataclass(frozen=True, slots=True)
class CardPrint:
    """One card as a revision printed it; ``since`` is the revision that last changed it."""

    title: str
    fingerprint: str
    since: int
    since_day: dt.date
    values: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Revision:
    """One revision of one rig.

    Args:
        rig: folder name of the rig [-].
        nickname: the nickname that is printed [-].
        number: running number, from 1 [-].
        day: day of the build that made it.
        key_numbers: label and value [-].
        cards: every card that was current with this revision, by id.
        facts: what the rig file said.
        joins: fingerprints of two people's revisions of one number that this one follows [-].
    """

    rig: str
    nickname: str
    number: int
    day: dt.date
    key_numbers: Mapping[str, str]
    cards: Mapping[str, CardPrint]
    facts: Facts
    joins: tuple[str, ...] = ()
    file: str = field(default="", compare=False)

    @property
    def fingerprint(self) -> str:
        """Fingerprint of what is printed, without number and day."""
        return fingerprint({name: card.fingerprint for name, card in self.cards.items()})

    @property
    def file_name(self) -> str:
        """Name of the file of this revision."""
        return f"{self.number:04d}-{self.day.isoformat()}-{self.fingerprint[:8]}.json"


def to_text(one: Revision) -> str:
    """Write a revision as the text of its file."""
    data = {
        "format": FORMAT,
        "rig": one.rig,
        "nickname": one.nickname,
        "number": one.number,
        "date": one.day.isoformat(),
        "fingerprint": one.fingerprint,
        "joins": list(one.joins),
        "key_numbers": dict(one.key_numbers),
        "cards": {
            name: {
                "title": card.title,
                "fingerprint": card.fingerprint,
                "since": card.since,
                "since_date": card.since_day.isoformat(),
                "values": dict(card.values),
            }
            for name, card in one.cards.items()
        },
        "facts": one.facts,
    }
    return json.dumps(data, indent=1, ensure_ascii=False) + "\n"


def from_json(data: dict[str, object], file: str) -> Revision:
    """Read a revision from parsed JSON.

    Raises:
        KeyError, TypeError, ValueError, AttributeError: something is missing or of a wrong kind.
    """
    if data["format"] != FORMAT:
        raise ValueError(f"format {data['format']} is not known to this version of cardgen")
    cards = {name: _card(card) for name, card in _map(data["cards"]).items()}
    made = Revision(
        rig=_text(data["rig"]),
        nickname=_text(data["nickname"]),
        number=_number(data["number"]),
        day=dt.date.fromisoformat(_text(data["date"])),
        key_numbers={k: _text(v) for k, v in _map(data["key_numbers"]).items()},
        cards=cards,
        facts=_facts(data["facts"]),
        joins=tuple(_text(one) for one in _list(data["joins"])),
    )
    if made.fingerprint != data["fingerprint"]:
        raise ValueError("its content does not give its fingerprint")
    return replace(made, file=file)


def _card(value: object) -> CardPrint:
    data = _map(value)
    return CardPrint(
        title=_text(data["title"]),
        fingerprint=_text(data["fingerprint"]),
        since=_number(data["since"]),
        since_day=dt.date.fromisoformat(_text(data["since_date"])),
        values={k: _text(v) for k, v in _map(data["values"]).items()},
    )


def _facts(value: object) -> dict[str, str | Facts]:
    return {k: v if isinstance(v, str) else _facts(v) for k, v in _map(value).items()}


def _map(value: object) -> dict[str, object]:
    if not isinstance(value, dict):
        raise TypeError("a group is expected where something else stands")
    return value


def _list(value: object) -> list[object]:
    if not isinstance(value, list):
        raise TypeError("a list is expected where something else stands")
    return value


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise TypeError("a text is expected where something else stands")
    return value


def _number(value: object) -> int:
    if not isinstance(value, int) or isinstance(value, bool) or value < 1:
        raise TypeError("a number from 1 is expected where something else stands")
    return value
