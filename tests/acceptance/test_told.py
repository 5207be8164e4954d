"""Leaves of the demo rigs edited: what is told to be printed again, against what is printed.

The prints are compared apart from the package's own fingerprints: operator by operator in the content of the
finished PDFs, text by its glyphs, drawings by their lengths. Equal is what differs nowhere by more than 0.1 mm.
"""

from __future__ import annotations

import datetime as dt
import random
import re
import shutil
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from io import BytesIO
from pathlib import Path
from typing import Any

import pikepdf

from cardgen.bundle.ledger import Issue, RevisionInfo
from cardgen.bundle.maker import Draft, RigMaker
from cardgen.bundle.work import Described, Options, PrintedCard
from cardgen.model.read import ReadResult
from cardgen.source.faults import Path as Field
from cardgen.source.faults import dotted
from cardgen.source.tree import Node
from tests.acceptance.shed import DAY, DEMO, RIGS
from tests.acceptance.test_mutations import loaded, node_at, outcome
from tests.conftest import long_run
from tests.model.test_mutations import changed, fields

OPTIONS = Options(day=dt.date.fromisoformat(DAY), base_url="https://cards.example.org")
MAKER = RigMaker()
EDITS = 4
"""Edits that are tried in the suite [-]."""
POINT = 72 / 25.4
SAME = 0.12 * POINT
"""Lengths that differ by less are the same [pt]: 0.1 mm, and what rounding takes."""
NUMBER = re.compile(r"\d+(\.\d+)?")


def variants(node: Node) -> Iterator[tuple[str, Node | None]]:
    """A node as another number, word or flag, and gone."""
    yield "gone", None
    said = str(node.value)
    found = NUMBER.search(said)
    if isinstance(node.value, (dict, list)) or node.value is None:
        return
    if said in ("yes", "no", "true", "false"):
        flipped = {"yes": "no", "no": "yes", "true": "false", "false": "true"}[said]
        yield "flipped", replace(node, value=flipped)
    elif found:
        for factor in (1.1, 1.001):
            more = f"{float(found[0]) * factor:g}"
            yield f"times {factor}", replace(node, value=said[: found.start()] + more + said[found.end() :])
    else:
        yield "another word", replace(node, value=f"{said} two")


@cache
def base(name: str) -> tuple[ReadResult, Described, dict[str, bytes]]:
    """A demo rig, what it prints, and its prints as far as they were made."""
    top = loaded(name).top
    assert top is not None
    read = outcome(name, top)
    return read, marked(read, {}), {}


def marked(read: ReadResult, known: dict[str, str], options: Options = OPTIONS) -> Described:
    """What is printed for a rig, with fingerprints; pages that are known are not laid out.

    What is due is left out: its line carries the day it was reckoned for, and changes with that day.
    """
    described = MAKER.describe(read, options)
    draft = described.model
    assert isinstance(draft, Draft)
    view = draft.rig_view
    undated = replace(draft, rig_view=replace(view, checklist=replace(view.checklist, due=())))
    described = replace(described, model=undated)
    return MAKER.mark(described, options, known, {card.id for card in described.cards})


def known(described: Described) -> dict[str, str]:
    """Fingerprints by page."""
    return {card.page: card.fingerprint for card in described.cards}


def prints(read: ReadResult, described: Described, names: list[str]) -> dict[str, bytes]:
    """The PDFs of some cards, all with one revision."""
    issue = Issue(1, OPTIONS.day, "abcdef")
    info = RevisionInfo(1, OPTIONS.day, {card.id: issue for card in described.cards}, ())
    kept = frozenset(card.id for card in described.cards if card.id not in names)
    made = MAKER.render(read, OPTIONS, described, info, kept)
    return {name: made.files[f"{name}.pdf"] for name in names if f"{name}.pdf" in made.files}


def operands(pdf: bytes) -> Iterator[object]:
    """Everything that is drawn on the pages of a card, in order."""
    with pikepdf.open(BytesIO(pdf)) as document:
        for page in document.pages:
            yield "page"
            forms: list[Any] = [
                one
                for one in (page.resources.get("/XObject") or {}).values()
                if one.get("/Subtype") == "/Form"
            ]
            for content in (page, *forms):
                for one in pikepdf.parse_content_stream(content):
                    if str(one.operator) not in ("BDC", "BMC", "EMC"):
                        yield from (*flat(list(one.operands)), str(one.operator))


def flat(value: Any) -> Iterator[object]:
    """Numbers and texts in nested lists."""
    if isinstance(value, (list, pikepdf.Array)):
        for one in value:
            yield from flat(one)
    elif isinstance(value, pikepdf.String):
        yield bytes(value)
    else:
        try:
            yield float(value)
        except (TypeError, ValueError):
            yield str(value)


def apart(one: bytes, other: bytes) -> float:
    """By how much two prints differ at most [pt]; endless where a text or the number of strokes does."""
    ours, theirs = list(operands(one)), list(operands(other))
    if len(ours) != len(theirs):
        return float("inf")
    worst = 0.0
    for a, b in zip(ours, theirs, strict=True):
        if isinstance(a, float) and isinstance(b, float):
            worst = max(worst, abs(a - b))
        elif a != b:
            return float("inf")
    return worst


def falsely_told(name: str, path: Field, what: str, new: Node | None) -> Iterator[str]:
    """Cards of an edited rig that are told to hold or not to, against what is printed."""
    read, before, printed = base(name)
    top = loaded(name).top
    assert top is not None
    found = outcome(name, changed(top, path, new))
    if found.rig is None:
        return
    after = marked(found, known(before))
    pairs = list(both(before, after))
    touched = [new.id for old, new in pairs if old.said != new.said]
    missing = [one for one in touched if one not in printed]
    printed.update(prints(read, before, missing) if missing else {})
    made = prints(found, after, touched) if touched else {}
    for old, now in pairs:
        same = old.fingerprint == now.fingerprint
        if now.id not in touched:
            assert same, (name, what, path, now.id)
        elif now.id in made:
            distance = apart(printed[now.id], made[now.id])
            if same and distance > SAME:
                yield f"{name}: {what} {dotted(path)}: {now.id} is told current and differs by {distance} pt"
            if not same and distance == 0:
                yield f"{name}: {what} {dotted(path)}: {now.id} is told to print again and is the same"


def both(before: Described, after: Described) -> Iterator[tuple[PrintedCard, PrintedCard]]:
    """Each card that both make."""
    old = {card.id: card for card in before.cards}
    return ((old[card.id], card) for card in after.cards if card.id in old)


def test_what_is_told_of_an_edit_is_what_is_printed() -> None:
    names = DEMO if long_run() else ("otter",)
    edits = []
    for name in names:
        top = loaded(name).top
        assert top is not None
        edits += [(name, path, *one) for path in fields(top) for one in variants(node_at(top, path))]
    if not long_run():
        random.Random(8).shuffle(edits)
        del edits[EDITS:]
    assert [words for edit in edits for words in falsely_told(*edit)] == []


def again(name: str, edits: dict[Field, str], options: Options = OPTIONS) -> set[str]:
    """Cards that print something else after some leaves were written anew."""
    _, before, _ = base(name)
    top = loaded(name).top
    assert top is not None
    for path, words in edits.items():
        top = changed(top, path, replace(node_at(top, path), value=words))
    found = outcome(name, top)
    assert found.rig is not None, found.faults
    after = marked(found, known(before), options)
    return {now.id for old, now in both(before, after) if old.fingerprint != now.fingerprint}


def test_what_prints_the_same_recalls_nothing() -> None:
    """Equal quantities spelled otherwise, names and places that are not drawn, another address, a later year."""
    alike: dict[Field, str] = {
        ("gear", "mount", "drop"): "0.5 ft",
        ("trailer", "dimensions", "width"): "94 in",
        ("trailer", "name"): "Otterly",
        ("trailer", "batteries", 0, "name"): "other battery",
    }
    assert again("otter", alike) == set()
    assert again("otter", {("trailer", "cargo", 0, "y"): "1 in"}) == set()
    assert again("otter", {}, replace(OPTIONS, base_url="https://other.example.org")) == set()
    assert again("otter", {}, replace(OPTIONS, day=OPTIONS.day + dt.timedelta(days=400))) == set()
    assert not {"wallet-card", "tire-tag"} & again("otter", {("trailer", "year"): "2015"})


def test_a_change_back_gives_the_fingerprint_of_before() -> None:
    _, before, _ = base("otter")
    path: Field = ("contacts", 0, "phone")
    typo = again("otter", {path: "555-0143"})
    assert "glovebox-card" in typo
    assert again("otter", {path: "555-0142"}) == set()
    assert len({card.fingerprint for card in before.cards}) == len(before.cards)
    assert all(re.fullmatch("[0-9a-f]{32}", card.fingerprint) for card in before.cards)


def test_an_own_template_counts_in_what_it_prints(tmp_path: Path) -> None:
    """A telephone number in a workspace's own template recalls the cards; a remark in it recalls none."""
    own = tmp_path / "cards"
    own.mkdir()
    text = (RIGS.parent / "templates" / "cards" / "header.html.j2").read_text("utf-8")
    where = '<p class="subtitle small">{{ pen.own('
    found = {}
    for key, more in {
        "none": "",
        "remark": "{# ours #}",
        "phone": "<p class='small'>Shed 555-0199</p>",
    }.items():
        (own / "header.html.j2").write_text(text.replace(where, more + where), "utf-8")
        maker, read = RigMaker(), base("otter")[0]
        options = replace(OPTIONS, cards=("arrival-card",), templates=tmp_path / key)
        shutil.copytree(own.parent / "cards", tmp_path / key / "cards")
        (card,) = maker.mark(maker.describe(read, options), options, {}, {"arrival-card"}).cards
        found[key] = card.fingerprint
    assert found["none"] == found["remark"]
    assert found["none"] != found["phone"]
    plain = {card.id: card.fingerprint for card in base("otter")[1].cards}
    assert found["none"] == plain["arrival-card"]
