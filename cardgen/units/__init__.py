"""Units: text to SI and SI to text. Only this package touches pint."""

from cardgen.units.quantity import Quantity, UnitError
from cardgen.units.show import (
    System,
    base_of,
    convert,
    feet_inches,
    in_us,
    inch_fraction,
    number,
    show,
    style_of,
)

__all__ = [
    "Quantity",
    "System",
    "UnitError",
    "base_of",
    "convert",
    "feet_inches",
    "in_us",
    "inch_fraction",
    "number",
    "show",
    "style_of",
]
