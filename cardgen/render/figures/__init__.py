"""Drawings as SVG: pure functions from numbers to one ``<svg>`` element.

Every drawing is made at its printed size (one unit of its view box is one millimetre), so
that type sizes in it are real, and carries its alternative text as ``<title>``.
"""

from functools import lru_cache

from cardgen.present.figures import (
    BandGauge,
    Figure,
    FillingChart,
    HitchGeometry,
    LimitBar,
    SideView,
    TopView,
)
from cardgen.render.figures.bars import limit_bar
from cardgen.render.figures.chart import filling_chart
from cardgen.render.figures.gauge import band_gauge, small_gauge
from cardgen.render.figures.hitch import hitch_geometry
from cardgen.render.figures.side import side_view
from cardgen.render.figures.svg import Drawn
from cardgen.render.figures.top import top_view
from cardgen.render.wrap import PT

__all__ = ["Drawn", "draw", "limit_bar", "small_gauge"]


@lru_cache(maxsize=128)
def draw(figure: Figure, width: float, pt: float, alt: str) -> Drawn:
    """Draw any figure.

    Args:
        figure: what to draw.
        width: size on paper [mm].
        pt: type size of labels [pt].
        alt: alternative text [-].
    """
    match figure:
        case LimitBar():
            return limit_bar(figure, width, pt * PT, alt)
        case BandGauge():
            return band_gauge(figure, width, pt, alt)
        case SideView():
            return side_view(figure, width, pt, alt)
        case TopView():
            return top_view(figure, width, pt, alt)
        case HitchGeometry():
            return hitch_geometry(figure, width, pt, alt)
        case FillingChart():
            return filling_chart(figure, width, pt, alt)
