"""Read a quantity as people write it: ``3,500 lb``, ``6 ft 2 in``, ``65 psi +/- 2 psi``."""

from __future__ import annotations

import math
import re
from functools import cache

from cardgen.units.kinds import ABSOLUTE, GAUGE, RANGES, SAMPLE, SPELLINGS, Believable
from cardgen.units.quantity import Quantity, UnitError
from cardgen.units.registry import to_si

_NUMBER = r"(?:\d{1,3}(?:,\d{3})+|\d+)?(?:\.\d+)?"
_VALUE = re.compile(
    rf"\s*(?P<sign>[-+−]?)\s*(?:(?P<whole>\d+)[ -])?(?P<top>\d+)/(?P<bottom>\d+)(?![\d/])"
    rf"|\s*(?P<sign2>[-+−]?)\s*(?P<plain>{_NUMBER})(?![\d.,]*\d)"
)
_UNIT = re.compile(r"\s*(?P<unit>mm2|[^\d\s±+−-][^\d±]*?)(?=\s*(?:$|[-−]?[\d.]|\+/-|±))")
_TOLERANCE = re.compile(r"\s*(?:±|\+/-|\+-)\s*(?P<rest>.+)$")
_GROUPED = re.compile(r"\s*[-+−]?(?P<digits>\d{1,3}(?:[\s'’]\d{3})+)(?P<rest>(?:\.\d+)?\s*[^\d\s/.,].*)")
"""Thousands with a gap or an apostrophe between them, as some write them."""
_MAX_TEXT = 80
_COMPOUND = {"length", "mass", "distance"}


def parse(text: str, kind: str, limits: Believable | None = None) -> Quantity:
    """Turn the words of a rig file into an SI value.

    Why: a bare number on a card is how pounds become kilograms; only a number
    with its unit is accepted.

    Args:
        text: what the file says, for example ``3,500 lb`` [-].
        kind: one of the names in ``SPELLINGS`` [-].
        limits: believable range [SI unit of the kind]; the kind's own when None.

    Returns:
        The quantity in the SI unit of its kind, with its stated half width if any.

    Raises:
        UnitError: with code, message and the spelling to write.
    """
    if len(text) > _MAX_TEXT:
        raise UnitError("quantity-number", "the text is too long for a quantity", _write(kind))
    body, half = text.strip(), None
    tolerance = _TOLERANCE.search(body)
    if tolerance:
        body = body[: tolerance.start()].strip()
    value, unit = _sum(body, kind)
    if tolerance:
        half = _half_width(tolerance["rest"], kind, value, unit)
    _check_range(text, kind, value, limits or RANGES[kind])
    return Quantity(value, kind, half, text.strip(), getattr(text, "path", ""), unit)


def _write(kind: str) -> str:
    return f"write it like '{SAMPLE[kind]}'"


def _sum(body: str, kind: str) -> tuple[float, str]:
    """Add up ``6 ft 2 in``; return SI value and the last unit spelling."""
    grouped = _GROUPED.fullmatch(body)
    if grouped and not (kind == "length" and "'" in body):
        plain = "".join(re.findall(r"\d", grouped["digits"])) + grouped["rest"]
        hint = f"only a comma groups thousands; write '{plain}'"
        raise UnitError("quantity-number", f"'{body}' has a gap inside the number", hint)
    position, total, unit, parts = 0, 0.0, "", 0
    sign = 1.0
    while position < len(body):
        number, position = _number(body, position, kind)
        unit, position = _unit(body, position, kind)
        factor, offset = to_si(_expression(unit, kind), kind)
        if parts == 0 and math.copysign(1.0, number) < 0 and kind in _COMPOUND:  # -0 ft 7 in is negative
            sign, number = -1.0, -number
        elif parts and number < 0:
            raise UnitError("quantity-number", f"'{body}' has a sign in the middle", _write(kind))
        total += number * factor + offset
        parts += 1
    if parts == 0:
        raise UnitError("quantity-number", "the value is empty", _write(kind))
    if parts > 1 and kind not in _COMPOUND:
        raise UnitError("quantity-number", f"'{body}' holds more than one number", _write(kind))
    return sign * total, unit


def _number(body: str, position: int, kind: str) -> tuple[float, int]:
    found = _VALUE.match(body, position)
    if found and found["top"]:
        bottom = int(found["bottom"])
        if bottom == 0:
            raise UnitError("quantity-number", f"'{body}' divides by zero", _write(kind))
        value = int(found["whole"] or 0) + int(found["top"]) / bottom
        return (-value if found["sign"] in ("-", "−") else value), found.end()
    if found and found["plain"]:
        if re.match(r"0+,", found["plain"]):
            hint = "a comma only groups thousands, so none follows a zero; use a point for decimals"
            raise UnitError("quantity-number", f"'{body}' begins with a zero before a comma", hint)
        value = float(found["plain"].replace(",", ""))
        return (-value if found["sign2"] in ("-", "−") else value), found.end()
    hint = _write(kind)
    if re.search(r"\d,\d", body):
        hint = f"a comma only groups thousands; use a point for decimals, and {hint}"
    raise UnitError("quantity-number", f"'{body}' does not start with a readable number", hint)


def _unit(body: str, position: int, kind: str) -> tuple[str, int]:
    found = _UNIT.match(body, position)
    if not found:
        number = body[:position].strip()
        if kind == "length" and body[position:].strip():
            raise UnitError("quantity-number", f"'{body}' cannot be read", _write(kind))
        raise UnitError(
            "quantity-bare",
            f"'{body}' is a number without a unit",
            f"write it with its unit, like '{number or body} {_common(kind)}'",
        )
    return found["unit"].strip(), found.end()


def _common(kind: str) -> str:
    return SAMPLE[kind].split()[-1]


@cache
def _expression(unit: str, kind: str) -> str:
    """Return the pint expression for a spelling, or say what is wrong with it."""
    plain = GAUGE.get(unit, unit) if kind == "pressure" else unit
    known = SPELLINGS[kind].get(plain)
    if known:
        return known
    if kind == "pressure" and unit in ABSOLUTE:
        raise UnitError(
            "quantity-absolute",
            f"'{unit}' counts from vacuum, tires are set by gauge pressure",
            _write(kind),
        )
    other = [name for name, units in SPELLINGS.items() if unit in units]
    if other:
        raise UnitError("quantity-kind", f"'{unit}' is a unit of {other[0]}, not of {kind}", _write(kind))
    units = ", ".join(SPELLINGS[kind])
    raise UnitError("quantity-unit", f"'{unit}' is not a unit of {kind} known here", f"use one of: {units}")


def _half_width(rest: str, kind: str, value: float, unit: str) -> float:
    number, position = _number(rest, 0, kind)
    own = rest[position:].strip()
    if own == "%" and kind != "fraction":
        half = abs(value) * number / 100.0
    else:
        factor, _ = to_si(_expression(own or unit, kind), kind)
        half = number * factor
    if half < 0 or not math.isfinite(half):
        raise UnitError("quantity-number", "the +/- part must not be negative", _write(kind))
    return half


def _check_range(text: str, kind: str, value: float, limits: Believable) -> None:
    if not math.isfinite(value):
        raise UnitError("quantity-number", f"'{text}' is not a finite number", _write(kind))
    if value < 0 <= limits.low:
        raise UnitError("quantity-negative", f"'{text}' is negative", "write a value of zero or more")
    if not limits.low <= value <= limits.high:
        raise UnitError(
            "quantity-range",
            f"'{text}' is outside what a rig can have",
            "check the number and its unit",
        )
