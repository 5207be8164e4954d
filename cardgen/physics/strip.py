"""Cold tire pressure against temperature and altitude: the gas law on absolute pressure.

    (P2 + Pa2) / T2 = (P1 + Pa1) / T1      P gauge, Pa air pressure, T absolute

The gauge counts from the air around it, so the air's own pressure is added before the
law is applied and taken off afterwards. The tire's volume is taken as fixed. Source:
ideal gas law; air pressure by the standard atmosphere (``cardgen.tables.atmosphere``).
"""

from __future__ import annotations

from collections.abc import Mapping

from cardgen.model.equipment import AltitudeRow, PressureStrip, StripRow
from cardgen.model.results import Computed
from cardgen.model.written import units_of
from cardgen.tables.atmosphere import standard_pressure
from cardgen.tables.exact import FOOT, KELVIN_AT_0_C, PSI
from cardgen.tables.lookup import OutOfTableError, check_range
from cardgen.tables.sources import source
from cardgen.units import System, in_us

SEA_LEVEL = standard_pressure(0.0)
"""Air pressure at sea level [Pa]; source: ``standard-atmosphere``."""
TEN_F = 10.0 / 1.8
"""Ten degrees Fahrenheit as a difference [K], exact by definition."""
REFERENCE = 20.0 + KELVIN_AT_0_C
"""Temperature of a strip when the rig names none [K], 20 C or 68 F; a project choice, no source."""
_FAHRENHEIT = (0, 20, 40, 60, 80, 100)
_CELSIUS = (-20, -10, 0, 10, 20, 30, 40)
_FEET = (1000, 3000, 5000, 7000, 10000)
_METRES = (500, 1000, 1500, 2000, 3000)
_LOW, _HIGH = 203.15, 393.15  # K, -70 to 120 C


def gauge_at(
    pressure: float,
    temperature: float,
    at: float,
    air: float = SEA_LEVEL,
    air_at: float = SEA_LEVEL,
) -> float:
    """Gauge pressure of a closed tire at another temperature or altitude [Pa gauge].

    ``P2 = (P1 + Pa1) T2/T1 - Pa2``

    Args:
        pressure: gauge pressure as set [Pa gauge], 0 or more.
        temperature: temperature when it was set [K], 203.15 to 393.15.
        at: temperature asked for [K], same range.
        air: air pressure when it was set [Pa].
        air_at: air pressure where it is read [Pa].

    Raises:
        OutOfTableError: a temperature or pressure outside the range.

    Validity: fixed volume, dry air; a warm tire on the road reads higher still.

    Source: ideal gas law.
    """
    for value in (temperature, at):
        check_range(value, _LOW, _HIGH, "temperature [K]")
    if not pressure >= 0 or not air > 0 or not air_at > 0:
        raise OutOfTableError("gauge pressure must not be negative, air pressure must be above zero")
    return (pressure + air) * at / temperature - air_at


def altitude_rise(pressure: float, altitude: float) -> float:
    """How much higher the gauge reads after a climb from sea level at equal temperature [Pa].

    It is the air pressure lost on the way, whatever the tire holds.

    Args:
        pressure: gauge pressure at sea level [Pa gauge].
        altitude: height above sea level [m], -500 to 11,000.

    Raises:
        OutOfTableError: altitude outside the standard atmosphere's layer.

    Source: ``standard-atmosphere``.
    """
    same = REFERENCE
    return gauge_at(pressure, same, same, SEA_LEVEL, standard_pressure(altitude)) - pressure


def per_ten_f(pressure: float, temperature: float) -> float:
    """Change of the gauge for 10 F (5.56 K), ``(P + Pa) dT / T`` [Pa].

    Args:
        pressure: gauge pressure [Pa gauge].
        temperature: temperature at that pressure [K].

    Source: ideal gas law, fixed volume, sea level.
    """
    return gauge_at(pressure, temperature, temperature + TEN_F) - pressure


def strip(position: str, pressure: float, reference: float, system: System) -> PressureStrip:
    """Make the strip of one set pressure.

    Args:
        position: position of the tire [-].
        pressure: cold pressure of the card [Pa gauge].
        reference: temperature at which it is meant to hold [K].
        system: the units, which pick round temperatures and heights [-].

    Returns:
        Rows for 0 to 100 F or -20 to 40 C, climbs up to 10,000 ft or 3,000 m.

    Source: ideal gas law; ``standard-atmosphere``.
    """
    if in_us("temperature", system):
        kelvin = tuple((f - 32) / 1.8 + KELVIN_AT_0_C for f in _FAHRENHEIT)
    else:
        kelvin = tuple(c + KELVIN_AT_0_C for c in _CELSIUS)
    heights = tuple(h * FOOT for h in _FEET) if in_us("length", system) else tuple(map(float, _METRES))
    rows = tuple(
        StripRow(t, gauge_at(pressure, reference, t), pressure + (t - reference) / TEN_F * PSI)
        for t in kelvin
    )
    climbs = tuple(AltitudeRow(h, altitude_rise(pressure, h)) for h in heights)
    step = per_ten_f(pressure, reference)
    return PressureStrip(
        position, pressure, reference, step, rows, climbs, note(step), source("standard-atmosphere").words()
    )


def note(step: float) -> str:
    """Say how the rule "1 psi per 10 F" compares [-].

    Args:
        step: true change for 10 F [Pa].

    Source: computed.
    """
    times = step / PSI
    if abs(times - 1.0) < 0.1:
        return "'1 psi per 10 F' is about right at this pressure"
    word = "small" if times > 1 else "large"
    return f"'1 psi per 10 F' is too {word} at this pressure: the true change is {times:.1f} times that"


def strips(computed: Computed) -> Mapping[str, PressureStrip]:
    """Strips of every position with a pressure set, by position (pressures [Pa gauge]).

    Args:
        computed: with tire plans.

    Source: see ``strip``.
    """
    rig = computed.rig
    wish = rig.preferences.morning_temperature
    reference, units = REFERENCE if wish is None else wish.si, units_of(rig)
    return {
        name: strip(name, plan.pressure, reference, units)
        for name, plan in computed.tires.items()
        if plan.pressure is not None
    }
