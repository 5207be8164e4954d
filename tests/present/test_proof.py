"""Every published figure against ours, and what the page of proof says of figures and rules."""

from __future__ import annotations

import dataclasses
import re

import pytest

from cardgen.commands.explain import explain
from cardgen.present import proof
from cardgen.render.env import environment
from cardgen.render.site import proof_page
from cardgen.tables.law import all_rules
from cardgen.tables.lookup import read
from cardgen.tables.sources import Standing, all_sources

GROUPS = tuple(proof.figures())


def test_every_figure_is_ours_to_its_last_digit() -> None:
    assert sum(len(group.rows) for group in GROUPS) > 500  # the walk finds them
    off = [f"{group.what}: {row}" for group in GROUPS for row in group.rows if not row.agrees]
    assert off == []


def test_a_figure_that_is_off_by_more_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    """By one of the last digit, or a word; what is allowed beside it is not widened by the unit."""
    wrong = []
    for group in read("proof")["figures"]:
        first = re.split(r"[|\n]", group["rows"])[0].strip()
        given, _, printed = first.rpartition(": ")
        number = re.fullmatch(r"-?\d+(?:\.(\d+))?( .+)?", printed)
        if number is None:
            bent = "wood"
        else:
            room = float(group["within"].split(" ")[0]) if "within" in group else 0.0
            value = float(printed.split(" ")[0])
            room = room * abs(value) / 100 if group.get("within", "").endswith("%") else room
            digits = len(number[1] or "")
            bent = f"{value + 2.1 * max(room, 1 / 10**digits):.{digits + 1}f}{number[2] or ''}"
        data = {
            "figures": [dict(group, rows=f"{given}: {bent}")],
            **{k: read("proof")[k] for k in ("every", "rigs")},
        }
        monkeypatch.setattr(proof, "read", lambda _, data=data: data)
        (found,) = proof.figures()
        monkeypatch.undo()
        if found.rows[0].agrees:
            wrong.append(f"{group['what']}: {given}: {bent}")
    assert wrong == []


def test_the_file_names_what_there_is_and_says_why() -> None:
    groups = read("proof")["figures"]
    assert {group["ours"] for group in groups} == set(proof.OURS)
    assert [group["what"] for group in groups if ("within" in group) != ("why" in group)] == []
    twice = [(group["ours"], group["source"], group.get("unit"), group["rows"]) for group in groups]
    assert len(set(twice)) == len(twice)
    used = {row.given.split(", ")[0] for group in GROUPS for row in group.rows}
    assert set(read("proof")["rigs"]) <= used


def test_the_page_tells_every_figure_and_rule_and_what_rests_on_memory() -> None:
    view = proof.proof()
    assert [group for _, groups, _ in view.parts for group in groups] == sorted(
        GROUPS, key=lambda group: list(proof.TITLES).index(group.standing)
    )
    assert sum(len(rules) for _, rules in view.places) == len(all_rules())
    page = proof_page(view, environment()).decode()
    terminal = " ".join((explain("proof") or "").split())
    weak = [one for one in all_sources().values() if one.standing in (Standing.MEMORY, Standing.PRACTICE)]
    assert len(weak) > 20
    for one in weak:
        cited = dataclasses.replace(one, markets=()).words()
        assert cited.replace("'", "&#39;").replace('"', "&#34;") in page, one.key
        assert cited in terminal, one.key
    assert all(month in page and month in terminal for month in {rule.seen for rule in all_rules()})
    assert "<script" not in page
