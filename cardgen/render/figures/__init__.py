"""Drawings as SVG: pure functions from numbers to one ``<svg>`` element.

Every drawing is made at its printed size (one unit of its view box is one millimetre), so
that type sizes in it are real, and carries its alternative text as ``<title>``.
"""

from cardgen.present.figures import Figure
from cardgen.render.figures.bars import limit_bar

__all__ = ["draw", "limit_bar"]


def draw(figure: Figure, width: float, pt: float, alt: str) -> str:
    """Draw any figure.

    Args:
        figure: what to draw.
        width: size on paper [mm].
        pt: type size of labels [pt].
        alt: alternative text [-].
    """
    raise NotImplementedError
