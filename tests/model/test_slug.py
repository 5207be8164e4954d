"""Folder names from nicknames."""

from __future__ import annotations

import re

from hypothesis import given
from hypothesis import strategies as st

from cardgen.model.slug import RESERVED, plain_slug, slug
from tests.each import each


@each(
    ("nickname", "folder"),
    [
        ("Juniper", "juniper"),
        ("Wee Bothy", "wee-bothy"),
        ("  The -- Old__Mule!  ", "the-old-mule"),
        ("Ada's rig", "adas-rig"),
        ("Größe Ø", "grosse-o"),
        ("Résumé No. 2", "resume-no-2"),
        ("../../etc", "etc"),
        ("a/b\\c:d*e?f", "a-b-c-d-e-f"),
        ("con", "rig-con"),
        ("CON", "rig-con"),
        ("nul.", "rig-nul"),
        ("Lpt1", "rig-lpt1"),
        ("index", "rig-index"),
        ("con sort", "con-sort"),
        ("x" * 200, "x" * 60),
        ("a" * 59 + " b", "a" * 59),
    ],
)
def test_examples(nickname: str, folder: str) -> None:
    assert slug(nickname) == folder


@each("nickname", ["עגלה", "🛞", "дом", "...", ""])
def test_names_without_ascii_letters_get_one_from_their_fingerprint(nickname: str) -> None:
    assert plain_slug(nickname) == ""
    assert re.fullmatch(r"rig-[0-9a-f]{8}", slug(nickname))


def test_fingerprints_differ() -> None:
    assert slug("дом") != slug("дым")


@given(st.text(max_size=300))
def test_always_safe(nickname: str) -> None:
    name = slug(nickname)
    assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", name)
    assert 1 <= len(name) <= 64
    assert name not in RESERVED
    assert slug(nickname) == name
    assert slug(name) == name


@given(st.text(st.characters(exclude_categories=["Cs"]), max_size=50))
def test_case_does_not_matter_to_ascii(nickname: str) -> None:
    if nickname.isascii():
        assert slug(nickname.upper()) == slug(nickname.lower())
