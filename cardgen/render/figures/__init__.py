"""Drawings as SVG: pure functions from numbers to one ``<svg>`` element.

Every drawing is made at its printed size (one unit of its view box is one millimetre), so
that type sizes in it are real, and carries its alternative text as ``<title>``.
"""

from functools import lru_cache

from cardgen.present.figures import Figure, LimitBar
from cardgen.render.figures.bars import limit_bar
from cardgen.render.figures.svg import Drawn

__all__ = ["Drawn", "draw", "limit_bar"]


@lru_cache(maxsize=128)
def draw(figure: Figure, width: float, pt: float, alt: str) -> Drawn:
    """Draw any figure.

    Args:
        figure: what to draw.
        width: size on paper [mm].
        pt: type size of labels [pt].
        alt: alternative text [-].
    """
    if isinstance(figure, LimitBar):
        return limit_bar(figure, width, pt * 25.4 / 72, alt)
    raise NotImplementedError(type(figure).__name__)
