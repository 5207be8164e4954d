"""The data itself: enough items, short texts, nothing that contradicts itself."""

from __future__ import annotations

import re
import shutil
from importlib.resources import as_file, files
from pathlib import Path

import pytest

from cardgen.checklist.catalog import CatalogError, catalog, load
from cardgen.checklist.schema import Citation, ItemDef
from tests.each import each

ITEMS = catalog().items
IDS = [item.id for item in ITEMS]
FORBIDDEN = re.compile(r"\b(you|your|please|should|must not fail|click|TODO|FIXME|simply|easy)\b", re.I)
"""An imperative speaks without these."""


def test_at_least_250_items() -> None:
    assert len(ITEMS) >= 250


@each("item", ITEMS)
def test_texts_are_short_and_plain(item: ItemDef) -> None:
    assert re.fullmatch(r"[a-z][a-z0-9]*(-[a-z0-9]+)*", item.id)
    assert 1 <= len(item.text.split()) <= 12
    assert 1 <= len(item.seen.split()) <= 4
    assert 3 <= len(item.why.split()) <= 20
    assert not item.text.endswith(".")
    assert item.why.endswith(".")
    assert not FORBIDDEN.search(item.text)
    assert "’" not in item.text + item.seen + item.why


def test_no_two_items_say_the_same_in_one_phase() -> None:
    said = [(item.phase, item.text, item.when) for item in ITEMS]
    assert len(set(said)) == len(said)


def test_every_phase_frequency_value_and_source_is_used() -> None:
    made = catalog()
    used = {name for item in ITEMS for name in item.places}
    assert used == set(made.values)
    assert {key for item in ITEMS for key in item.every} == set(made.scheme.frequencies)
    cited = {key for item in ITEMS for key in item.source}
    cited |= {k for s in made.sway.values() for k in (*s.source, *s.brake_source)}
    cited |= {k for m in made.markets.values() for k in m.triangles_source}
    cited |= {k for d in made.due for k in d.source}
    assert set(made.sources) <= cited
    assert {item.tier for item in ITEMS} == set(made.scheme.tiers)
    assert {item.severity for item in ITEMS} == set(made.scheme.severities)


def test_unhitching_begins_with_the_chocks_and_leaving_ends_with_them() -> None:
    place = {item.id: at for at, item in enumerate(ITEMS)}
    assert next(i.id for i in ITEMS if i.phase == "hitching") == "chock"
    assert [i.id for i in ITEMS if i.phase == "walk_around"][-1] == "chocks-out"
    undo = [i for i in ITEMS if i.phase == "arrival_unhitching"]
    opens = ("arrive-latch", "arrive-neck", "arrive-jaws", "arrive-chains", "arrive-unplug")
    assert all(place["arrive-chock"] < place[i.id] for i in undo if i.id in opens)
    assert place["bars-raise"] < place["bars-set"]
    assert place["last-out"] < place["steps"]


@each("item", ITEMS)
def test_after_holds_in_the_order_of_print(item: ItemDef) -> None:
    place = {other.id: at for at, other in enumerate(ITEMS)}
    assert all(place[before] < place[item.id] for before in item.after)


def test_signal_words_keep_to_their_meaning() -> None:
    """DANGER and WARNING only where death or serious injury is meant, and sparingly."""
    signals = [item.signal for item in ITEMS if item.signal]
    assert signals.count("DANGER") <= 5
    assert len(signals) <= len(ITEMS) / 5
    assert all(i.severity == "safety_critical" for i in ITEMS if i.signal in ("DANGER", "WARNING"))
    words = catalog().scheme.signal_words
    assert set(words) == {"source", "DANGER", "WARNING", "CAUTION", "NOTICE"}
    assert "ANSI Z535.4" in words["source"]


def test_source_words_never_hide_their_standing() -> None:
    made = catalog().sources
    assert made["PRACTICE"].words() == "common practice, no source"
    assert made["MEMORY"].words().endswith("(from memory)")
    assert made["NFPA1192"].words().endswith("(from memory)")
    assert made["NHTSA"].words().endswith("(read in a reprint)")
    plain = Citation(title="A", publisher="", year="2020", standing="published")
    assert plain.words() == "A, 2020"
    for source in made.values():
        assert "http" not in source.words()
        assert "www" not in source.words()


def test_safety_critical_items_resting_on_habit_say_so() -> None:
    made = catalog()
    habit = [i for i in ITEMS if i.source == ("PRACTICE",) and i.severity == "safety_critical"]
    assert habit
    for item in habit:
        assert made.source_words(item.source, "us") == ("common practice, no source",)


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    with as_file(files("cardgen.checklist")) as folder:
        for path in [*folder.glob("*.yaml"), folder / "items"]:
            if path.is_dir():
                shutil.copytree(path, tmp_path / path.name)
            else:
                shutil.copy(path, tmp_path / path.name)
    return tmp_path


def test_a_copy_loads_like_the_package(copy: Path) -> None:
    assert load(copy).items == ITEMS


FAULTS = [
    ("items/hitching.yaml", "[ALCA, NASD, CDL]", "[NOBODY]", "'NOBODY' is not a source"),
    ("items/hitching.yaml", "{stabilizers}", "{legs}", "'legs' is not a value"),
    ("items/hitching.yaml", "{stabilizers}", "{stabilizers", "stray brace"),
    ("items/hitching.yaml", "when: stabilizers", "when: legs", "'legs' is not a feature"),
    ("items/hitching.yaml", "when: stabilizers", "when: stabilizers()", "not allowed"),
    ("items/hitching.yaml", "every: [every_tow]", "every: [daily]", "'daily' is not a frequency"),
    ("items/hitching.yaml", "after: [chock]", "after: [wheel]", "which is no item"),
    ("items/hitching.yaml", "after: [chock]", "after: [chocks-out]", "stands before it"),
    ("items/hitching.yaml", "after: [chock]", "after: [locks-off]", "in a circle"),
    ("items/hitching.yaml", "[chocks-out]", "[chocks-gone]", "'undone_by' names"),
    ("items/hitching.yaml", "look: ball", "look: globe", "'globe' is not a look"),
    ("items/hitching.yaml", "seen: Tight", "seen: Tight against both of the wheels", "at most 20 fit"),
    ("items/hitching.yaml", "- id: chock\n", "- id: latch\n", "id used twice: latch"),
    ("items/hitching.yaml", "tier: 1", "tier: 4", "tier"),
    ("items/hitching.yaml", "tier: 1", "tier: 1\n  colour: red", "colour"),
    ("items/hitching.yaml", "seen: Tight", "seen: off", "string"),
    ("items/hitching.yaml", "severity: important", "severity: important\n  signal: WARNING", "safety"),
    ("items/hitching.yaml", "tier: 1", "tier: 1\n  mode: tell", "a mode belongs to handover"),
    ("items/hitching.yaml", "tier: 1", "tier: 1\n  last: true", "which closes the phase"),
    ("items/storage.yaml", None, None, "phase 'storage' has no items"),
    ("items/hitching.yaml", "source: [ALCA, NASD, CDL]", "source: []", "needs a frequency"),
    ("features.yaml", "kind: flag, left_out", "kind: colour, left_out", "kind"),
    ("values.yaml", "max_speed:", "max_pace:", "'max_speed' is not a value"),
    ("sway.yaml", "source: [NHTSA, MN-DM]", "source: [NOBODY]", "sway us: 'NOBODY'"),
    ("sway.yaml", "nz:", "xx:", "sway.yaml: needs exactly the markets"),
    ("market.yaml", "triangles_source: [HWC]", "triangles_source: [NIL]", "market uk: 'NIL'"),
    ("due.yaml", "items: [season-bearings]", "items: [nothing]", "'nothing' is no item"),
    ("due.yaml", "rule: interval, months: 12", "rule: idle, months: 12", "months belong to"),
    ("due.yaml", "frequency: first_tow_after_idle", "frequency: now", "'now' is not a frequency"),
    ("due.yaml", "when: trailer_battery", "when: battery", "due:battery: 'battery' is not"),
    ("sources.yaml", "MEMORY:", "PRACTICE:", "written twice"),
    ("scheme.yaml", "phases:", "phases: [", "scheme.yaml"),
]


@each(("name", "old", "new", "words"), FAULTS)
def test_faulty_data_is_refused(copy: Path, name: str, old: str | None, new: str | None, words: str) -> None:
    path = copy / name
    text = path.read_text("utf-8")
    try:
        if old is None or new is None:
            path.unlink()
        else:
            assert old in text
            path.write_text(text.replace(old, new, 1), "utf-8")
        with pytest.raises(CatalogError) as caught:
            load(copy)
    finally:
        path.write_text(text, "utf-8")
    assert any(words in fault for fault in caught.value.faults)


def test_cycles_over_several_items_are_found(copy: Path) -> None:
    path = copy / "items" / "hitching.yaml"
    text = path.read_text("utf-8")
    path.write_text(
        text.replace("- id: chock\n", "- id: chock\n  after: [lift-test]\n").replace(
            "after: [latch]", "after: [latch-look, locks-off]"
        ),
        "utf-8",
    )
    with pytest.raises(CatalogError, match="'after' goes round in a circle"):
        load(copy)


def test_all_faults_come_at_once(copy: Path) -> None:
    path = copy / "items" / "hitching.yaml"
    text = path.read_text("utf-8")
    path.write_text(text.replace("[ALCA, NASD, CDL]", "[NOBODY]").replace("when: stabilizers", "when: x"))
    with pytest.raises(CatalogError) as caught:
        load(copy)
    assert len(caught.value.faults) == 2
