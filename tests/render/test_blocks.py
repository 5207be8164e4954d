"""The view model: derived properties of blocks."""

from __future__ import annotations

import dataclasses
import inspect

from cardgen.present import blocks
from cardgen.present.blocks import Bar, Caution, Cautions, CheckLine, ChecklistBlock, CheckPhase, Qr, Table
from cardgen.present.levels import level_of
from tests.each import each
from tests.render import samples


@each(
    ("word", "level"),
    [
        ("within", "within"),
        ("Close", "close"),
        (" over ", "over"),
        ("not checked", "unknown"),
        ("anything else", "unknown"),
        ("", "unknown"),
    ],
)
def test_only_the_known_words_count_as_checked(word: str, level: str) -> None:
    assert level_of(word) == level


def test_bar_takes_its_hatching_from_the_word_unless_told() -> None:
    assert Bar("a", "1", "2", 0.5, "within").state == "within"
    assert Bar("a", "1", "2", 0.5, "innerhalb", "within").state == "within"
    assert Bar("a", "1", "2", 0.5, "innerhalb").state == "unknown"


def test_table_columns() -> None:
    table = Table("", ("a", "b", "c"), (("1", "2", "3"),), (2, 1, 1))
    assert table.columns == 3
    assert table.percent() == (50.0, 25.0, 25.0)
    assert table.aligned() == ("left", "right", "right")
    assert Table("", (), (("1", "2"),)).percent() == (50.0, 50.0)
    assert Table("", (), ()).columns == 1


def test_grouped_cautions_carry_the_worst_word() -> None:
    rows = (Caution("NOTICE", "a"), Caution("WARNING", "b"), Caution("CAUTION", "c"))
    assert Cautions("", rows).signal == "WARNING"
    assert Cautions("", rows).alert
    # ANSI Z535.4: the alert symbol never stands with NOTICE.
    assert not Cautions("", rows[:1]).alert
    assert Cautions("", (Caution("", "a"),)).signal == ""


def test_only_web_addresses_become_links() -> None:
    assert Qr(samples.URL, "").href == samples.URL
    assert Qr("Tongue 378 lb", "").href == ""
    assert Qr("javascript:alert(1)", "").href == ""
    assert Qr("file:///etc/hosts", "").href == ""


def test_legend_of_the_heavy_box_only_where_one_is_printed() -> None:
    light = CheckPhase("p", "", (CheckLine("a"),))
    heavy = CheckPhase("p", "", (CheckLine("a", critical=True),))
    assert not ChecklistBlock("", (light,)).has_critical
    assert ChecklistBlock("", (light, heavy)).has_critical


def test_blocks_are_frozen_and_their_kinds_differ() -> None:
    kinds = [
        item.kind
        for _, item in inspect.getmembers(blocks, inspect.isclass)
        if dataclasses.is_dataclass(item) and hasattr(item, "kind")
    ]
    assert len(kinds) == len(set(kinds)) >= 13
    for _, item in inspect.getmembers(blocks, inspect.isclass):
        if dataclasses.is_dataclass(item):
            assert item.__dataclass_params__.frozen  # type: ignore[attr-defined]  # dataclass inner
