"""The measuring sheet: three pages at most, the page's numbers, drawings that explain fields of the model."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from cardgen.bundle.reading import read_rig
from cardgen.model.rig import Rig
from cardgen.model.starter import Wish, starter
from cardgen.present.measure import FileText, MeasureView, build_measure
from cardgen.present.measuring_sheet import NOT_ON_PAPER, build_sheet
from cardgen.present.prepare import prepare
from cardgen.render.figures.measuring import SKETCHES, sketch_for
from cardgen.render.measuring import PAGES, _page, print_sheet
from cardgen.source.shapes import shape_of, spot_at
from tests.site.shed import DAY


@pytest.fixture
def view(tmp_path: Path) -> MeasureView:
    """The measuring page of the rig for which most is asked: a home with bars, of which nothing is known."""
    return asked(tmp_path, Wish("Finch", body="travel_trailer", axles=3, brakes="electric", bars=True))


def asked(folder: Path, wish: Wish) -> MeasureView:
    file, text = folder / "finch.yaml", starter(wish)
    file.write_text(text)
    read = read_rig(file)
    assert read.rig is not None
    assert read.tree is not None
    return build_measure(prepare(read.rig, DAY), read.tree, [FileText("finch.yaml", str(file), text)])


def test_the_fullest_sheet_keeps_to_its_pages_with_every_number(view: MeasureView) -> None:
    sheet = build_sheet(view, ["leaving home"])
    assert sheet.worth
    for size in ("letter", "a4"):
        printed = print_sheet(sheet, "us", "tongue weight", size, None)
        assert (printed.problems, printed.pages) == ((), PAGES)
    lines = [line.number for place in sheet.places for _, rows in place.things for line in rows]
    tires = [number for _, numbers in sheet.tires for number in numbers if number]
    asked = {one.number: one.field for one in view.questions}
    on_paper = sorted([*lines, *tires, *(number for number, _ in sheet.lists)])
    assert on_paper == [number for number, field in asked.items() if field not in NOT_ON_PAPER]
    assert lines == sorted(lines)


def test_a_sheet_and_its_drawings_are_in_the_markets_words(tmp_path: Path) -> None:
    for market, sidewall in (
        ("us", "LOAD RANGE"),
        ("ca", "LOAD RANGE"),
        ("uk", "XL"),
        ("eu", "XL"),
        ("au", "XL"),
    ):
        drawn = sketch_for("trailer.tires.extra_load", market)
        assert drawn is not None
        assert sidewall in drawn.svg
        assert (sketch_for("trailer.tires.load_range", market) is None) is (sidewall == "XL")
        if market not in ("us", "uk"):
            continue
        view = asked(tmp_path, Wish("Finch", market, body="caravan", axles=2, brakes="surge"))
        sheet = build_sheet(view, ["leaving home"])
        page = re.sub(r"<[^>]+>", " ", _page(sheet, market, "load", "a4", None, 60, 10))
        lost = [word for word in ("scale ticket", "Public scale", "jack", "tire ") if word in page]
        assert lost == [] or market in ("us", "ca"), (market, lost)
        assert ("bars" in page) is (market not in ("uk", "eu"))


def test_drawings_explain_fields_of_the_model() -> None:
    top = shape_of(Rig)
    lost = []
    for sketch in SKETCHES:
        for field in sketch.fields:
            steps: list[str | int] = []
            for step in field.split("."):
                if (found := spot_at(top, tuple(steps))) and found.shape.form == "list":
                    steps.append(0)
                steps.append(step)
            if spot_at(top, tuple(steps)) is None:
                lost.append(field)
    assert lost == []
