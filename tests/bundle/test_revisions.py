"""When a revision is raised, what changed in words, and which cards are printed again."""

from __future__ import annotations

import datetime as dt
import json
import shutil
from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from cardgen.bundle.inputs import fingerprint
from cardgen.bundle.ledger import Ledger, RigRevision, from_json, read_ledger, to_text
from cardgen.bundle.make import decide
from cardgen.bundle.work import Described, Options, PrintedCard
from tests.bundle.shed import DAY, Shed

NEXT = DAY + dt.timedelta(days=1)


def test_the_first_build_enters_revision_1(shed: Shed) -> None:
    shed.rig("wren", "Wren & Co")
    rig = shed.one()
    assert (rig.number, rig.day, rig.new_revision) == (1, "2026-11-25", True)
    (name,) = shed.ledger_files("wren-co")
    data = json.loads((shed.rigs / "revisions" / "wren-co" / name).read_text("utf-8"))
    assert data["nickname"] == "Wren & Co"
    assert data["key_numbers"] == {"tire pressure": "50 psi"}
    assert data["cards"]["mount-card"]["values"] == {"mount drop": "4 in"}


def test_deleting_the_output_loses_no_revision(shed: Shed) -> None:
    shed.rig("wren")
    shed.build()
    shed.rig("wren", pressure="65 psi")
    shed.build()
    before = shed.tree()
    shutil.rmtree(shed.out)
    rig = shed.one(day=NEXT)
    assert (rig.number, rig.day, rig.new_revision) == (2, "2026-11-25", False)
    assert shed.tree() == before


def test_something_not_printed_does_not_raise_it(shed: Shed) -> None:
    shed.rig("wren")
    shed.build()
    shed.rig("wren", more="water_temperature: 60 F\n")
    rig = shed.one(day=NEXT)
    assert rig.status == "built", "the report shows it"
    assert (rig.number, rig.new_revision) == (1, False)
    assert len(shed.ledger_files("wren")) == 1


def test_a_printed_change_raises_it_and_is_told(shed: Shed) -> None:
    shed.rig("wren")
    shed.build()
    shed.rig("wren", pressure="65 psi")
    rig = shed.one(day=NEXT)
    assert (rig.number, rig.day, rig.new_revision) == (2, "2026-11-26", True)
    assert rig.reprint == ("Glovebox card",)
    assert "trailer tire pressure: 50 psi -> 65 psi" in rig.changes


def test_a_card_keeps_the_revision_of_its_last_change(shed: Shed) -> None:
    shed.rig("wren")
    shed.build()
    old_mount = (shed.out / "wren" / "mount-card.pdf").read_bytes()
    shed.rig("wren", pressure="65 psi")
    shed.build(day=NEXT)
    assert b"revision 2 of 2026-11-26" in (shed.out / "wren" / "glovebox-card.pdf").read_bytes()
    assert (shed.out / "wren" / "mount-card.pdf").read_bytes() == old_mount
    assert b"revision 1 of 2026-11-25" in old_mount


def test_new_equipment_is_told_in_words(shed: Shed) -> None:
    shed.rig("wren")
    shed.build()
    cylinder = "trailer:\n  cylinders:\n    left: {size: 20 lb, tare: 17 lb}\n"
    path = shed.rig("wren", drop="6 in")
    path.write_text(path.read_text("utf-8").replace("trailer:\n", cylinder), "utf-8")
    changes = shed.one().changes
    assert "new: trailer cylinders left (size 20 lb, tare 17 lb)" in changes
    assert "gear mount drop: 4 in -> 6 in" in changes
    shed.rig("wren", drop="8 in")
    assert any(one.startswith("no longer there: trailer cylinders left") for one in shed.one().changes)


def test_spelling_of_a_number_is_no_change(shed: Shed) -> None:
    shed.rig("wren", drop="4 in")
    shed.build()
    path = shed.rig("wren", drop="6 in")
    path.write_text(path.read_text("utf-8").replace("800 lb", "800  lb"), "utf-8")
    assert not any("weight" in one for one in shed.one().changes)


def test_some_cards_leave_the_others_current(shed: Shed) -> None:
    shed.rig("wren")
    shed.build()
    shed.rig("wren", drop="6 in")
    rig = shed.one(options=Options(day=NEXT, cards=("mount-card",)))
    assert (rig.number, rig.reprint) == (2, ("Mount card",))
    rig = shed.one(day=NEXT)
    assert (rig.number, rig.new_revision) == (2, False)


def described(**values: str) -> Described:
    cards = tuple(PrintedCard(name, name, fingerprint(text), {"text": text}) for name, text in values.items())
    return Described(cards=cards, key_numbers={}, outcome="within", content=fingerprint(values))


def step(ledger: Ledger, day: dt.date, /, **values: str) -> tuple[Ledger, RigRevision]:
    return grow(ledger, day, values, partial=False)


def grow(
    ledger: Ledger, day: dt.date, values: dict[str, str], *, partial: bool
) -> tuple[Ledger, RigRevision]:
    made = decide(ledger, ("rig", "Rig"), described(**values), {}, day, partial=partial)
    grown = Ledger((*ledger.revisions, made.revision)) if made.new else ledger
    return grown, made.revision


def test_a_card_that_is_no_longer_made_is_withdrawn() -> None:
    ledger, _ = step(Ledger(), DAY, a="1", b="1")
    made = decide(ledger, ("rig", "Rig"), described(a="1"), {}, NEXT)
    assert made.new
    assert made.info.history[0].withdrawn == ("b",)
    assert made.info.history[0].reprint == ()
    assert made.info.of("a").number == 1


def test_a_new_card_does_not_age_the_others() -> None:
    ledger, _ = step(Ledger(), DAY, a="1")
    made = decide(ledger, ("rig", "Rig"), described(a="1", b="1"), {}, NEXT)
    assert made.info.history[0].reprint == ("b",)
    assert made.info.history[0].words == ("new card: b",)
    assert [made.info.of(name).number for name in "ab"] == [1, 2]


def test_going_back_is_a_new_revision() -> None:
    ledger, _ = step(Ledger(), DAY, a="1")
    ledger, _ = step(ledger, DAY, a="2")
    ledger, last = step(ledger, DAY, a="1")
    assert last.number == 3
    assert last.cards["a"].since == 3, "the card of revision 1 was replaced by that of revision 2"


texts = st.dictionaries(st.sampled_from("abc"), st.sampled_from("xyz"), min_size=1)


@given(st.lists(st.tuples(texts, st.booleans()), min_size=1, max_size=8))
def test_numbers_only_grow_and_a_held_card_is_current_only_if_it_says_the_same(
    steps: list[tuple[dict[str, str], bool]],
) -> None:
    ledger = Ledger()
    held: dict[tuple[str, int], str] = {}
    for number, (values, partial) in enumerate(steps):
        before = ledger.last.number if ledger.last else 0
        ledger, now = grow(ledger, DAY + dt.timedelta(days=number), values, partial=partial)
        assert before <= now.number <= before + 1
        for name, card in now.cards.items():
            if name in values:
                assert held.setdefault((name, card.since), values[name]) == values[name]
        assert not (set(values) - set(now.cards))
    assert [one.number for one in ledger.revisions] == list(range(1, len(ledger.revisions) + 1))


@given(st.lists(texts, min_size=1, max_size=4))
def test_a_revision_reads_back_as_it_was(steps: list[dict[str, str]]) -> None:
    ledger = Ledger()
    for values in steps:
        ledger, _ = step(ledger, DAY, **values)
    for one in ledger.revisions:
        assert from_json(json.loads(to_text(one)), "x") == one
        assert replace(one, number=9).fingerprint == one.fingerprint


def test_the_ledger_is_readable_text(shed: Shed) -> None:
    shed.rig("wren", "Señor Wren 🚐")
    shed.build()
    (name,) = shed.ledger_files("senor-wren")
    text = (shed.rigs / "revisions" / "senor-wren" / name).read_text("utf-8")
    assert "Señor Wren 🚐" in text
    assert max(len(line) for line in text.splitlines()) < 120
    assert not read_ledger(shed.rigs / "revisions" / "senor-wren").faults
