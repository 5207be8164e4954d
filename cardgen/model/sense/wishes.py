"""The owner's bands, dates and addresses."""

from __future__ import annotations

import datetime as dt
import math
from urllib.parse import urlsplit

from cardgen.model.sense.context import Look, si
from cardgen.source.faults import Path

_YEARS = range(1940, 2101)
_ICE, _HOT = 273.15, 333.15
"""Temperatures between which the density of water is known here [K]: 0 and 60 degrees Celsius."""


def bands(look: Look) -> None:
    """Tongue bands whose lower end is above their upper end."""
    limits = look.rig.limits
    for name, band in (("tongue_share", limits.tongue_share), ("tongue_weight", limits.tongue_weight)):
        if band and si(band.low) > si(band.high) and band.low and band.high:
            words = f"the lower end '{band.low.text}' is above the upper end '{band.high.text}'"
            look.say("band-order", ("limits", name, "low"), words, "swap the two")


def years(look: Look) -> None:
    """Model years far from any rig."""
    for name, year in (("vehicle", look.rig.vehicle.year), ("trailer", look.rig.trailer.year)):
        if year is not None and year not in _YEARS and look.sure(name, "year"):
            look.say("year", (name, "year"), f"'{year}' is no model year", "write four digits")


def dates(look: Look) -> None:
    """Days before the trailer was made, or far from now."""
    rig, made = look.rig, look.rig.trailer.year
    given: list[tuple[Path, dt.date | None, bool]] = [
        (("weighings", i, "date"), one.date, True) for i, one in enumerate(rig.weighings)
    ]
    used = ("last_tow", "bearing_service", "brake_service", "lp_check")
    for name in (
        *used,
        "battery",
        "breakaway_battery",
        "lp_hose",
        "cylinder_test",
        "registration",
        "inspection",
    ):
        given.append((("dates", name), getattr(rig.dates, name), name in used))
    given.append((("dates", "equipment_change"), rig.dates.equipment_change, False))
    for path, day, after_making in given:
        if day is None or not look.sure(*path):
            continue
        if day.year not in _YEARS:
            look.say("date-order", path, f"{day} is far from now", "check the year")
        elif after_making and made and made in _YEARS and day.year < made - 1:
            words = f"{day} is before the trailer was made (model year {made})"
            look.say("date-order", path, words, "check the two years")


def address(look: Look) -> None:
    """A base address that no phone can open."""
    url = look.rig.preferences.base_url
    if url is None or not look.sure("preferences", "base_url"):
        return
    trouble = address_trouble(url)
    if trouble is not None:
        look.say("base-url", ("preferences", "base_url"), *trouble)


def address_trouble(url: str) -> tuple[str, str] | None:
    """Tell why an address is of no use in a QR code, and what to write; None when it is good.

    Args:
        url: address under which the output folder is served [-].
    """
    hint = "write it like 'https://example.org/cards/'"
    try:
        parts = urlsplit(url)
        host, _ = parts.hostname, parts.port
    except ValueError:
        return f"'{url[:80]}' is no address", hint
    if not host or any(c.isspace() or not c.isprintable() or c in "<>\"'`\\" for c in url):
        return f"'{url[:80]}' is no address", hint
    if parts.scheme not in ("http", "https"):
        return f"'{parts.scheme[:20]}' addresses do not open on a phone", hint
    if parts.username or parts.query or parts.fragment or len(url) > 300:
        return "the address must be a plain folder: no user name, '?' or '#', at most 300 characters", hint
    return None


def water(look: Look) -> None:
    """Water in the tanks that is ice, or hotter than any tank takes."""
    given = look.rig.water_temperature
    if given is not None and not (_ICE <= given.si <= _HOT or math.isnan(given.si)):
        words = f"water of '{given.text}' is not carried in tanks"
        look.say(
            "quantity-range",
            ("water_temperature",),
            words,
            "write it between 0 C and 60 C, or 33 F and 139 F",
        )


def levers(look: Look) -> None:
    """A beam under the jack without a lever."""
    for index, weighing in enumerate(look.rig.weighings):
        beam = weighing.beam
        if beam is not None and beam.support_to_jack.si <= 0:
            path = ("weighings", index, "beam", "support_to_jack")
            look.say("beam-lever", path, "the jack stands on the support itself", "measure between them")


CHECKS = (bands, years, dates, address, water, levers)
