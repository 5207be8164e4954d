"""Units: text to SI and SI to text. Only this package touches pint."""

from cardgen.units.quantity import Quantity, UnitError
from cardgen.units.show import System, convert, feet_inches, inch_fraction, number, show, style_of

__all__ = [
    "Quantity",
    "System",
    "UnitError",
    "convert",
    "feet_inches",
    "inch_fraction",
    "number",
    "show",
    "style_of",
]
