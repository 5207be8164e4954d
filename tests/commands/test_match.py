"""``cardgen match`` prints what the page of all rigs shows for one rig."""

from __future__ import annotations

import datetime as dt
import re
import shutil
from pathlib import Path

from cardgen.bundle.pages import match_of, matches_of
from tests.commands.workspace import DAY, ROOT, Run, apart


def test_it_prints_the_cells_of_the_page(shed: Path) -> None:
    shutil.copytree(ROOT / "rigs", shed / "demos")
    ran = apart("match", "otter", "--rigs-dir", "demos", "--date", DAY, cwd=shed)
    assert ran.code == 0, ran.err
    whole = match_of(sorted((shed / "demos").glob("*.yaml")), dt.date.fromisoformat(DAY))
    assert whole is not None
    vehicle = next(row for row in whole.rows if row[0].startswith("Anvil"))
    column = next(i for i, name in enumerate(whole.trailers) if name.startswith("Otter"))
    told = re.sub(r"\s+", "", ran.out)
    cells = [*vehicle[1], *(cells[column] for _, cells in whole.rows)]
    assert [one.word for one in cells if re.sub(r"\s+", "", one.word) not in told] == []
    assert len(
        re.findall(r"(?m)^\S.*  (within|close|over|not checked|refused|does not couple)  ", ran.out)
    ) == len(cells)
    assert "Otter and Anvil" in ran.out
    assert [name for name in whole.trailers if "(caravan)" in name] == ["Dormouse (caravan)"]
    assert [line for line in ran.out.splitlines() if len(line) > 80] == []


def test_of_two_rigs_that_are_one_pair_each_has_its_own_verdict(tmp_path: Path) -> None:
    shutil.copytree(ROOT / "rigs" / "parts", tmp_path / "parts")
    first = (ROOT / "rigs" / "otter.yaml").read_text(encoding="utf-8")
    again = first.replace("Otter and Anvil", "Otter again").replace(
        "part: trailers/otter", "part: trailers/otter\n  gvwr: 2,600 lb\n  cargo_capacity: 1,400 lb"
    )
    files = [tmp_path / "a.yaml", tmp_path / "b.yaml"]
    for file, text in zip(files, (first, again), strict=True):
        file.write_text(text, encoding="utf-8")
    day = dt.date.fromisoformat(DAY)
    own = [
        cell
        for file in files
        for matrix in matches_of(file, files, day)
        for _, cells in matrix.rows
        for cell in cells
        if cell.own
    ]
    assert [(cell.own, cell.word) for cell in own] == [("Otter and Anvil", "within")] * 2 + [
        ("Otter again", "over")
    ] * 2


def test_a_rig_without_parts_is_told_how(run: Run) -> None:
    ran = run("match", "plover")
    assert (ran.code, ran.out) == (2, "")
    assert "parts/trailers/NAME.yaml" in ran.err
