"""Every name of every registry is explained, with source and with how to find what is missing."""

from __future__ import annotations

import re

import pytest

from cardgen.checklist.catalog import catalog
from cardgen.cli import main
from cardgen.commands.exits import MEANINGS
from cardgen.commands.explain import explain, listing
from cardgen.commands.fieldpath import canonical, fields, find
from cardgen.commands.sketches import SKETCHES
from cardgen.commands.topics import KINDS, topics
from cardgen.limits.registry import Rule, rules
from cardgen.present.cards import KINDS as CARDS
from cardgen.render.sizes import SIZES
from cardgen.source.codes import ALL_CODES
from cardgen.tables import law
from cardgen.tables.words import say
from tests.each import each

TOPICS = topics()


def of(kind: str) -> set[str]:
    return {topic.name for topic in TOPICS if topic.kind == kind}


def test_every_registry_is_covered() -> None:
    assert of("check") == {rule.code for rule in rules()}
    assert of("fault") == set(ALL_CODES)
    assert of("exit code") == {str(int(code)) for code in MEANINGS}
    assert of("card") == set(CARDS)
    assert of("card size") == set(SIZES)
    assert of("phase") == {phase.key for phase in catalog().scheme.phases}
    assert of("item") == {item.id for item in catalog().items}
    assert of("feature") == set(catalog().features)
    assert of("field") == {field.path for field in fields()}
    assert {topic.kind for topic in TOPICS} == set(KINDS)


@each("kind", KINDS)
def test_every_name_is_explained(kind: str) -> None:
    for topic in TOPICS:
        if topic.kind != kind:
            continue
        text = topic.text()
        assert len(text) >= 15, topic.name
        assert topic.title, topic.name
        assert text == text.strip(), topic.name
        assert not re.search(r"is (not )?None", text), topic.name
        assert not [line for line in text.splitlines() if len(line) > 100], topic.name
        assert text in (explain(topic.name) or ""), topic.name


@each("rule", rules(), ids=lambda rule: rule.code)
def test_a_check_tells_meaning_basis_and_source(rule: Rule) -> None:
    text = " ".join((explain(rule.code) or "").split())
    for words in (rule.title, rule.meaning, f"basis: {rule.basis.value}", f"source: {rule.source}"):
        assert " ".join(say(words, "us").split()) in text


def test_an_item_tells_its_sources() -> None:
    for item in catalog().items:
        text = " ".join((explain(item.id) or "").split())
        assert say(item.why, "us") in text
        for key in item.source:
            if key in catalog().sources:
                assert " ".join(catalog().sources[key].words().split()) in text


def test_the_needs_are_printed_with_the_check() -> None:
    text = " ".join((explain("trailer-gross") or "").split())
    assert (
        "trailer.gvwr: gross vehicle weight rating - certification label, left front of the trailer" in text
    )
    assert "trailer.empty.weight: empty weight of the whole trailer - scale ticket, or weight label" in text
    assert "asks for nothing by itself" in (explain("legal-class") or "")


@each(
    ("name", "drawn"),
    [
        ("trailer.axles.ball_to_center", "<------ ball_to_center ------>"),
        ("vehicle.overhang", "overhang"),
        ("vehicle.wheelbase", "<------------ wheelbase --------->"),
        ("trailer.coupler.height", "coupler.height"),
        ("vehicle.receiver.height", "receiver.height"),
        ("gear.mount.drop", "mount.drop"),
        ("trailer.cargo[0].y", "<--->| y"),
        ("weighings[0].jack_behind_coupler", "jack_behind_coupler"),
        ("weighings[0].beam.support_to_jack", "<------->| support_to_jack"),
        ("trailer.tires.date_code", "date_code: week 23 of 2023"),
        ("trailer-axle", "ball_to_center"),
        ("mount-height", "receiver.height"),
    ],
)
def test_lengths_are_drawn(name: str, drawn: str) -> None:
    assert drawn in (explain(name) or "")


def test_drawings_are_plain_narrow_and_of_fields_that_exist() -> None:
    for sketch in SKETCHES:
        for line in (*sketch.art.splitlines(), sketch.title, sketch.note):
            assert line.isascii()
        for line in sketch.art.splitlines():
            assert len(line) <= 78
            assert line == line.rstrip()
        for path in sketch.fields:
            assert canonical(path) == path, path
            found = find(path)
            assert found is not None


def test_arrows_end_under_their_marks() -> None:
    """Each end of an arrow stands under or over another bar, or it is an edge of the drawing."""
    for sketch in SKETCHES:
        rows = sketch.art.splitlines()
        for at, row in enumerate(rows):
            for arrow in re.finditer(r"\|<[-<].*?[->]>\|", row):
                for end in (arrow.start(), arrow.end() - 1):
                    column = [r[end : end + 1] for r in (*rows[max(0, at - 4) : at], *rows[at + 1 : at + 5])]
                    assert any(mark in "|+=_o()T[]#'" and mark for mark in column), (sketch.title, row, end)


@each(
    ("path", "told"),
    [
        ("trailer.gvwr", "trailer.gvwr"),
        ("trailer.axles.gawr[0]", "trailer.axles.gawr[]"),
        ("trailer.axles.gawr[]", "trailer.axles.gawr[]"),
        ("trailer.cargo[12].x", "trailer.cargo[].x"),
        ("trailer.cargo.x", "trailer.cargo[].x"),
        ("trailer.tanks.boat fuel.x", "trailer.tanks.<name>.x"),
        ("trailer.tanks.no. 1.x", "trailer.tanks.<name>.x"),
        ("trailer.tanks.<name>.x", "trailer.tanks.<name>.x"),
        ("cases[0].tanks.fresh", "cases[].tanks.<name>"),
        ("weighings[1].wheels.left 1", "weighings[].wheels.<name>"),
        ("trailer.spare.size", "trailer.spare.size"),
    ],
)
def test_paths_with_indices_and_names(path: str, told: str) -> None:
    assert canonical(path) == told
    assert (explain(path) or "").startswith(f"{told} (field)")


@each(
    "path",
    [
        "trailer.gvrw", "trailer.gvwr.x", "trailer.gvwr[0]", "trailer[0]", "", ".", "trailer.", "gawr[0]",
        "trailer.axles.gawr[0].x", "trailer.axles.gawr[x]",
    ],
)  # fmt: skip
def test_paths_that_name_nothing(path: str) -> None:
    assert find(path) is None
    assert explain(path) is None


def test_a_name_with_several_meanings_tells_them_all() -> None:
    text = explain("ball-size") or ""
    assert [kind for kind in KINDS if f"ball-size ({kind})" in text] == ["check", "fault", "item"]


@each(
    ("code", "title"),
    [
        ("hitch-trailer-ball-mount", "(ball-mount)"),
        ("trailer-axle-2", "(2)"),
        ("law-brakes-us-va", "(us-va)"),
        ("tire-load-front", "(front)"),
    ],
)
def test_checks_of_a_part(code: str, title: str) -> None:
    text = explain(code) or ""
    assert text.startswith(f"{code} (check)")
    assert title in text


@each("name, told", [
    ("MTPLM", "noseweight included"), ("GVWR", "tongue weight included"), ("ATM", "tow ball mass included"),
    ("zulässige Achslast", "tyres meet"), ("Anhängelast", "vehicle.tow_rating.braked"), ("8.1", "trailer.axles.gawr"),
    ("Leermasse", "trailer.empty.weight"), ("G", "vehicle.curb.weight"),
])  # fmt: skip
def test_a_word_is_explained_in_the_words_of_its_market(name: str, told: str) -> None:
    assert told in " ".join((explain(name) or "").split())


def test_rules_of_places_are_told_with_their_text() -> None:
    one = explain("law-brakes-us-va") or ""
    assert [rule.text for rule in law.rules("us-va", "brakes")] != []
    for rule in law.rules("us-va", "brakes"):
        assert say(rule.text, "us") in " ".join(one.split())
    every = " ".join((explain("law-brakes") or "").split())
    for rule in law.all_rules():
        if rule.topic == "brakes":
            assert say(rule.text, "us") in every


def test_the_list_is_grouped_and_whole(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert [line for line in lines if line.endswith(":") and not line.startswith(" ")][:2] == [
        "checks:",
        "faults of files:",
    ]
    named = [line.split("  ")[1].strip() for line in lines if line.startswith("  ")]
    assert named == [topic.name for kind in KINDS for topic in TOPICS if topic.kind == kind]
    assert max(len(line) for line in listing()) <= 120


def test_the_command(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain", "trailer-gross"]) == 0
    assert capsys.readouterr().out.startswith("trailer-gross (check)\n")
    assert main(["explain", "trailer-gros"]) == 2
    assert "did you mean 'trailer-gross'?" in capsys.readouterr().err
    assert main(["explain", "zzzzzzzzz"]) == 2
    assert "lists all" in capsys.readouterr().err
