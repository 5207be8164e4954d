"""Every card of a rig in every size, in usual and in large print; sizes that are refused."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from cardgen.bundle.ledger import RevisionInfo
from cardgen.bundle.maker import RigMaker
from cardgen.bundle.reading import read_rig
from cardgen.bundle.work import Options
from cardgen.cli import main
from cardgen.present.cards import KINDS
from cardgen.render.sizes import CHOICES, SIZES, WALLET
from tests.acceptance.reading import MM, pages
from tests.conftest import long_run
from tests.each import each
from tests.laws.documents import read as read_tree
from tests.laws.rigs import random_rig
from tests.source.memory import Memory

DAY = dt.date(2026, 11, 25)
ROOT = Path(__file__).parents[2]
FILES = {
    "mule": ROOT / "rigs" / "mule.yaml",  # the fewest words
    "full": ROOT / "tests" / "data" / "rigs" / "full.yaml",  # the most
}


ROUNDING = 0.05
"""Sizes are read from the finished page [pt]."""


def area(size: str) -> float:
    """Of one face [mm2]."""
    return SIZES[size].width * SIZES[size].height


EVERY = [
    ("full", size, large)
    for number, size in enumerate(CHOICES)
    for large in (False, True)
    if (number % 2 == 0 and large is (number % 4 == 2)) or long_run()
]
EVERY += [("mule", min(CHOICES, key=area), False), ("mule", max(CHOICES, key=area), True)]


@pytest.mark.parametrize(("name", "size", "large"), EVERY)
def test_every_card_in_every_size(name: str, size: str, large: bool, tmp_path: Path) -> None:
    """The card's own survey finds no fault (clipping, margins, type floors); faces are even in number, no letter under 8 pt."""
    read = read_rig(FILES[name])
    assert read.rig is not None
    turn = CHOICES.index(size) // 2 % 2 if name == "full" else 0
    kinds = tuple(KINDS) if long_run() else tuple(KINDS)[turn::2]  # every other card in every other size
    options = Options(day=DAY, cards=kinds, size=size, large_print=large)
    maker = RigMaker()
    made = maker.render(read, options, maker.describe(read, options), RevisionInfo(1, DAY, {}, ()))
    assert made.problems == ()
    assert made.missing == ()
    for kind in kinds:
        file = tmp_path / f"{kind}.pdf"
        file.write_bytes(made.files[file.name])
        paper = SIZES[WALLET if KINDS[kind].us == WALLET else size]
        faces = pages(file)
        assert len(faces) % 2 == 0 or (len(faces), kind) == (3, "departure-card")
        for face in faces:
            assert (face.width, face.height) == pytest.approx((paper.width, paper.height), abs=0.5 * MM)
            assert min((char.size for char in face.chars), default=8.0) >= 8 - ROUNDING, kind


@each("size", ["A5", "a5", "Half-Letter", "4X6"])
def test_a_size_may_be_written_in_any_case(size: str) -> None:
    text = (ROOT / "tests/data/rigs/small.yaml").read_bytes() + f"preferences: {{size: {size}}}\n".encode()
    read = read_rig(Path("r.yaml"), Memory({"r.yaml": text}))
    assert read.faults == ()
    assert read.rig is not None
    draft = RigMaker()
    described = draft.describe(read, Options(day=DAY))
    as_flag = draft.describe(read, Options(day=DAY, size=size.lower()))
    assert described.content == as_flag.content


@pytest.mark.parametrize(
    ("size", "words"),
    [
        ("wallet", "the wallet size is for the wallet card"),
        ("WALLET", "the wallet size is for the wallet card"),
        ("a55", "did you mean 'a5'?"),
    ],
)
def test_a_size_that_cannot_be_chosen(
    size: str, words: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "rigs").mkdir()
    text = (ROOT / "tests/data/rigs/small.yaml").read_text("utf-8")
    (tmp_path / "rigs/small.yaml").write_text(text, "utf-8")
    assert main(["build", "--size", size]) == 2
    assert words in capsys.readouterr().err
    (tmp_path / "rigs/small.yaml").write_text(f"{text}preferences: {{size: {size}}}\n", "utf-8")
    assert main(["build"]) == 3
    told = capsys.readouterr().err
    assert "preferences.size" in told
    assert words in told
    assert not (tmp_path / "build/small").exists()


RARE = (5342, 5315, 5174, 5266)
"""Random rigs whose cards once did not take all they had to say, or had a list that was written empty [-]."""


def test_random_rigs_print() -> None:
    """Whatever is over, unknown or long: the usual cards are made and nothing is clipped, near an edge or too small."""
    broken, maker = [], RigMaker()
    for seed in range(6_000, 6_200) if long_run() else RARE:
        found = read_tree(random_rig(seed) | {"nickname": f"R{seed}"})
        options = Options(day=DAY, cards=() if long_run() else ("glovebox-card", "wallet-card"))
        made = maker.render(found, options, maker.describe(found, options), RevisionInfo(1, DAY, {}, ()))
        broken += [(seed, one) for one in (*made.problems, *made.missing)]
    assert not broken
