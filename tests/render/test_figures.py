"""Drawings: true to scale, readable type, nothing lost, well-formed, with alternative text."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cardgen.present.figures import (
    Arrow,
    BandGauge,
    Body,
    DrawnLoad,
    Figure,
    HitchGeometry,
    LimitBar,
    SideView,
    Wheelset,
)
from cardgen.present.levels import Level
from cardgen.render.figures import draw
from cardgen.render.figures.bars import FULL
from cardgen.render.figures.svg import hatch
from cardgen.render.wrap import PT, width
from tests.each import each
from tests.render import figure_samples as figures

NS = {"s": "http://www.w3.org/2000/svg"}
WIDTHS = [55.0, 87.6, 123.7, 182.0]


def tree(figure: Figure, room: float = 123.7, pt: float = 9.0) -> ET.Element:
    """The parsed drawing."""
    return ET.fromstring(draw(figure, room, pt, "alternative <text> & more").svg)


def texts(figure: Figure, room: float = 123.7, pt: float = 9.0) -> list[str]:
    """All labels of a drawing."""
    return [node.text or "" for node in tree(figure, room, pt).findall(".//s:text", NS)]


@each("name", list(figures.ALL))
@each("room", WIDTHS)
@each("pt", [9.0, 10.6, 14.1])
def test_type_is_real_and_inside_the_drawing(name: str, room: float, pt: float) -> None:
    drawn = draw(figures.ALL[name], room, pt, "alt")
    root = ET.fromstring(drawn.svg)
    assert root.get("width") == f"{drawn.width:g}mm"
    assert [float(v) for v in root.get("viewBox", "").split()[2:]] == pytest.approx(
        [drawn.width, drawn.height], abs=1e-3
    )
    for node in root.findall(".//s:text", NS):
        size = float(node.get("font-size", "0"))
        assert size == pytest.approx(pt * PT, abs=1e-3)
        bold = node.get("font-weight") == "700"
        wide = width(node.text or "", pt, "bold" if bold else "regular")
        x = float(node.get("x", "0"))
        start = {"start": x, "middle": x - wide / 2, "end": x - wide}[node.get("text-anchor", "")]
        assert start >= -0.3, node.text
        assert start + wide <= room + 0.3, node.text
        y = float(node.get("y", "0"))
        assert size * 0.7 <= y + 0.3
        assert y <= drawn.height + 0.05


@each("name", list(figures.ALL))
@each("room", WIDTHS)
def test_no_label_is_printed_over_another(name: str, room: float) -> None:
    pt = 9.0
    boxes = []
    for node in tree(figures.ALL[name], room, pt).findall(".//s:text", NS):
        bold = node.get("font-weight") == "700"
        wide = width(node.text or "", pt, "bold" if bold else "regular")
        x, y = float(node.get("x", "0")), float(node.get("y", "0"))
        left = {"start": x, "middle": x - wide / 2, "end": x - wide}[node.get("text-anchor", "")]
        boxes.append((left, y - 0.72 * pt * PT, left + wide, y + 0.18 * pt * PT, node.text))
    for n, a in enumerate(boxes):
        for b in boxes[n + 1 :]:
            apart = a[2] <= b[0] + 0.2 or b[2] <= a[0] + 0.2 or a[3] <= b[1] + 0.1 or b[3] <= a[1] + 0.1
            assert apart, (a[4], b[4])


@each("name", list(figures.ALL))
def test_alternative_text_comes_first_and_is_escaped(name: str) -> None:
    first = tree(figures.ALL[name])[0]
    assert first.tag == "{http://www.w3.org/2000/svg}title"
    assert first.text == "alternative <text> & more"
    assert "font-family" in tree(figures.ALL[name]).attrib


@each("room", WIDTHS)
def test_every_number_of_the_side_view_is_printed(room: float) -> None:
    said = "".join(" ".join(texts(figures.SIDE, room)).split())
    for label in ("2,410 lb", "3,310 lb", "Tongue 378 lb", "2,746 lb", "Grey 200 lb", "1 m"):
        assert label.replace(" ", "") in said


@each("figure", [figures.HITCH, figures.RISE])
@each("room", WIDTHS)
def test_heights_of_the_hitch_are_never_cut(figure: HitchGeometry, room: float) -> None:
    said = "".join("".join(texts(figure, room)).split())
    for label in (figure.receiver_label, figure.ball_label, figure.drop_label, figure.ball_name):
        assert "".join(label.split()) in said


def circles(figure: Figure, room: float) -> list[tuple[float, float, float]]:
    """Centre and radius of all circles [mm]."""
    return [
        (float(c.get("cx", "0")), float(c.get("cy", "0")), float(c.get("r", "0")))
        for c in tree(figure, room).findall(".//s:circle", NS)
    ]


@each("room", [87.6, 123.7])
def test_side_view_is_to_scale(room: float) -> None:
    # Wheels: same radius on paper over same radius in metres; distances between axles likewise.
    found = circles(replace(figures.SIDE, centre=None), room)
    wheels = sorted({(x, r) for x, _, r in found if r > 2})
    scale = (wheels[-1][0] - wheels[0][0]) / (3.75 - -4.7)
    assert wheels[1][0] - wheels[0][0] == pytest.approx((-1.85 - -4.7) * scale, abs=0.01)
    assert wheels[0][1] == pytest.approx(0.37 * scale, abs=0.01)
    assert wheels[-1][1] == pytest.approx(0.33 * scale, abs=0.01)


def test_items_beyond_the_body_stay_on_the_drawing() -> None:
    rack = DrawnLoad(6.3, 1.0, "bicycles", "cargo")
    root = tree(replace(figures.SIDE, items=(*figures.SIDE.items, rack)))
    for node in root.findall(".//s:rect", NS):
        x, wide = float(node.get("x", "0")), float(node.get("width", "0"))
        assert x >= -0.1
        assert x + wide <= 123.7 + 0.1


def test_signs_in_one_place_are_stacked_and_numbered_from_left_to_right() -> None:
    items = tuple(DrawnLoad(3.0 + 0.01 * (7 - n), None, f"crate {n} 40 lb", "cargo") for n in range(7))
    root = tree(replace(figures.SIDE, items=items, centre=None, loads=()))
    boxes = [
        (float(r.get("x", "0")), float(r.get("y", "0")), float(r.get("width", "0")))
        for r in root.findall(".//s:rect", NS)
    ]
    for n, a in enumerate(boxes):
        for b in boxes[n + 1 :]:
            assert abs(a[0] - b[0]) >= a[2] or abs(a[1] - b[1]) >= a[2], (a, b)
    said = texts(replace(figures.SIDE, items=items, centre=None, loads=()))
    crates = [words for words in said if words.startswith("crate")]
    assert crates == [f"crate {n} 40 lb" for n in range(6, -1, -1)]


def test_scale_bar_is_as_long_as_it_says() -> None:
    found = circles(replace(figures.SIDE, centre=None), 123.7)
    wheels = sorted({(x, r) for x, _, r in found if r > 2})
    scale = (wheels[-1][0] - wheels[0][0]) / (3.75 - -4.7)
    paths = [p.get("d", "") for p in tree(figures.SIDE).findall(".//s:path", NS)]
    level = [re.fullmatch(r"M([\d.]+) ([\d.]+)L([\d.]+) \2", data) for data in paths]
    lengths = [float(m[3]) - float(m[1]) for m in level if m]
    assert any(length == pytest.approx(scale, abs=0.01) for length in lengths)


@settings(deadline=None, max_examples=60)
@given(
    st.floats(0.3, 3.0),
    st.floats(2.0, 12.0),
    st.floats(1.0, 4.0),
    st.lists(st.tuples(st.floats(-1, 12), st.text("abc 12", max_size=40)), max_size=40),
    st.sampled_from(WIDTHS),
)
def test_any_rig_can_be_drawn(
    nose: float, length: float, high: float, cargo: list[tuple[float, str]], room: float
) -> None:
    view = SideView(
        trailer=Body(nose, nose + length, 0.4, 0.4 + high, "box"),
        trailer_axles=(Wheelset(nose + length / 2, 0.3),),
        ball_height=0.45,
        items=tuple(DrawnLoad(x, None, label, "cargo") for x, label in cargo),
        loads=tuple(Arrow(x, label) for x, label in cargo[:4]),
    )
    drawn = draw(view, room, 9.0, "alt")
    ET.fromstring(drawn.svg)
    assert drawn.width == room
    assert 10 < drawn.height < 400


LEVELS: tuple[Level, ...] = ("within", "close", "over")


@given(st.floats(0, 2), st.sampled_from(LEVELS))
def test_bar_is_as_long_as_its_share(share: float, level: Level) -> None:
    bar = LimitBar(share, level)
    root = tree(bar, 65.0)
    rects = root.findall(".//s:rect", NS)
    lengths = [float(r.get("width", "0")) + float(r.get("stroke-width", "0")) for r in rects]
    assert lengths[0] == pytest.approx(65.0 / FULL, abs=0.01)
    wanted = min(share, FULL) * 65.0 / FULL
    if wanted > 0.3:
        assert lengths[1] == pytest.approx(wanted, abs=0.01)


def test_unchecked_bar_has_no_filling() -> None:
    assert tree(LimitBar(None, "unknown")).findall(".//s:rect", NS) == []


@each(
    ("gauge", "said"),
    [
        (figures.GAUGE, "12.1 %"),
        (replace(figures.GAUGE, value=None, value_label="not checked"), "not checked"),
        (replace(figures.GAUGE, value=90.0, value_label="90 %"), "90 %"),
        (replace(figures.GAUGE, low=None, low_label=""), "15 %"),
        (BandGauge(5.0, 5.0, 5.0, 5.0, 5.0, "5", "5", "5", "within"), "5"),
    ],
)
def test_gauge_shows_its_value_whatever_it_is(gauge: BandGauge, said: str) -> None:
    assert said in texts(gauge)


@given(st.floats(1, 60), st.floats(1, 20), st.floats(0.5, 4))
def test_hatching_stays_inside(wide: float, tall: float, gap: float) -> None:
    numbers = [float(v) for v in re.findall(r"-?[\d.]+(?:e-?\d+)?", hatch(0, 0, wide, tall, gap))]
    xs, ys = numbers[0::2], numbers[1::2]
    assert all(-1e-3 <= x <= wide + 1e-3 for x in xs)
    assert all(-1e-3 <= y <= tall + 1e-3 for y in ys)
