"""The quick parser tells what PyYAML's own tells, event by event and place by place, or stands back."""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest
import yaml
from yaml.events import Event

from cardgen.source import syntax
from cardgen.source.faults import StopReadingError

ROOT = Path(__file__).resolve().parents[2]
SHORT = 1_500
"""A longer file is cut there [characters]: what comes later is of the same kind."""
ODD: tuple[str, ...] = (
    *"{}[]:,-#'\"|>&*!%@`\t\n\r ~?\\é",
    "\u00a0",
    "\u2028",
    "\x85",
    "\ufeff",
    "\U0001f600",
)
LINES = (
    "---", "...", "- a", "? b", "k: {a: b, c}", "k: |\n    text\n   x", "k: >-\n  a\n\n  b", "'a': \"b\\n\\u263a\"",
    "a: &x 1\nb: *x", "k: [a,\n b]", "a: 'it''s'", 'k: "a\n  b"', "# c", "k: {a: , b: 1}", "k:", "k: {}", "[]",
)  # fmt: skip


def bent(text: str, dice: Random) -> str:
    """The text with a letter or a line put in, some letters taken out, a line moved, or its ends changed."""
    at, way = dice.randrange(len(text) + 1), dice.randrange(6)
    lines = text.split("\n")
    line = dice.randrange(len(lines))
    if way == 0:
        return text[:at] + dice.choice(ODD) + text[at:]
    if way == 1:
        return text[:at] + text[at + dice.randrange(1, 6) :]
    if way == 2:
        lines[line] = dice.choice(("", " ", "  ", "\t")) + lines[line].lstrip()
    elif way == 3:
        lines.insert(line, dice.choice(LINES))
    return "\n".join(lines) if way < 4 else text.replace("\n", "\r\n") if way == 4 else text[:at] + "\n"


def told(event: Event) -> tuple[object, ...]:
    """All that readers and editors ask of an event."""
    said = [
        getattr(event, name, None) for name in ("value", "tag", "anchor", "style", "implicit", "explicit")
    ]
    said.append(bool(getattr(event, "flow_style", None)))
    marks = (event.start_mark, event.end_mark)
    return (type(event), *said, *((mark.index, mark.line, mark.column) for mark in marks if mark is not None))


def events(text: str) -> list[object]:
    """What is told of a text, the fault at its end included."""
    seen: list[object] = []
    try:
        seen += [told(one) for one in syntax.events_of(text, "a.yaml")]
    except StopReadingError as stop:
        seen.append(stop.under(()))
    return seen


def test_both_parsers_tell_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    assert yaml.__with_libyaml__
    dice, quick, wrong = Random(5), 0, []
    files = sorted([*(ROOT / "rigs").rglob("*.yaml"), *(ROOT / "tests" / "faulty").rglob("*.yaml")])
    sources = [path.read_text("utf-8", "replace")[:SHORT] for path in files]
    texts = [*sources, *(bent(bent(dice.choice(sources), dice), dice) + "\n" for _ in range(500))]
    first = []
    for text in texts:
        quick += syntax._by_libyaml(text) is not None
        first.append(events(text))
    monkeypatch.setattr(syntax, "_by_libyaml", lambda _text: None)
    for text, seen in zip(texts, first, strict=True):
        wrong += [text] if events(text) != seen else []
    assert wrong == []
    assert quick > len(texts) // 4
