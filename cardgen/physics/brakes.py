"""Electric trailer brakes: magnet current, what the wire takes, what the breakaway battery must give.

Magnets are resistances: ``I = V / R``. A lower voltage draws less current, never more.
Supply and return of the wire lie in series with them: ``I = V / (R + r)``; the shortcut
``drop = I r`` with the current of a lossless wire overstates the drop.
"""

from __future__ import annotations

from contextlib import suppress

from cardgen.model.equipment import BrakeCircuit, BreakawayHold
from cardgen.model.results import Need
from cardgen.model.rig import Rig
from cardgen.physics.needs import need
from cardgen.tables import wire
from cardgen.tables.exact import POUND
from cardgen.tables.lookup import OutOfTableError, TableError
from cardgen.tables.sources import source

SUPPLY = 13.0
"""Voltage at the vehicle's battery with the engine running, the upper end of the magnets' service
table [V]; source: ``brake-magnets``."""
PEUKERT = 1.2
"""Peukert exponent of a lead-acid battery [-]; from memory, for the estimate only."""
_RATED_HOURS = 20.0


def magnet_current(volts: float, ohms: float, count: int) -> float:
    """Current of magnets in parallel, ``I = n V / R`` [A].

    Args:
        volts: voltage at the magnets [V].
        ohms: resistance of one magnet [ohm], above zero.
        count: number of magnets [-].

    Raises:
        OutOfTableError: resistance not above zero.

    Source: Ohm's law; ``cardgen.tables.wire.magnet_resistance``.
    """
    if not ohms > 0:
        raise OutOfTableError("a magnet's resistance must be above zero")
    return count * volts / ohms


def loop_resistance(length: float, area: float, temperature: float = 293.15) -> float:
    """Resistance of supply and return together [ohm].

    Args:
        length: one-way length of the brake feed [m].
        area: copper area of each conductor [m2], above zero.
        temperature: conductor temperature [K], 233.15 to 378.15.

    Source: ``cardgen.tables.wire.conductor_resistance``, stranded copper.
    """
    return 2.0 * wire.conductor_resistance(length, area, temperature)


def through_wire(volts: float, load: float, loop: float) -> tuple[float, float]:
    """Current [A] and voltage at the magnets [V] with a wire in series, ``I = V / (R + r)``.

    Args:
        volts: voltage at the battery [V].
        load: resistance of all magnets in parallel [ohm], above zero.
        loop: resistance of supply and return [ohm].

    Raises:
        OutOfTableError: the load is not above zero or the loop is negative.

    Source: Ohm's law.
    """
    if not load > 0 or loop < 0:
        raise OutOfTableError("the magnets' resistance must be above zero, the wire's not below")
    current = volts / (load + loop)
    return current, current * load


def hold_charge(current: float, hold: float) -> float:
    """Charge that keeps a current up for a time, ``Q = I t`` [C].

    Args:
        current: current of all magnets [A].
        hold: time the brakes must stay applied [s].

    Source: definition of charge.
    """
    return current * hold


def peukert_time(charge: float, current: float, exponent: float = PEUKERT) -> float:
    """Time a lead-acid battery gives a current, ``t = 20 h (C / (20 h I))^k`` [s]: an estimate.

    Args:
        charge: 20-hour capacity of the battery [C].
        current: constant current [A], above zero.
        exponent: Peukert exponent [-].

    Raises:
        OutOfTableError: the current is not above zero.

    Validity: constant current; the real current falls with the voltage, so real times are longer.

    Source: Peukert's rule with an exponent from memory.
    """
    if not current > 0:
        raise OutOfTableError("the current must be above zero")
    hours = charge / 3600.0
    return float(_RATED_HOURS * 3600.0 * (hours / (_RATED_HOURS * current)) ** exponent)


def wire_area(rig: Rig) -> float | None:
    """Copper area of the brake feed [m2], the smallest of what area and gauge tell; None when unknown.

    Args:
        rig: with ``trailer.brakes.wiring``.

    Source: ``awg-b258``, ``j1128-area``.
    """
    given = rig.trailer.brakes.wiring
    areas = [] if given.area is None else [given.area.si]
    return min([*areas, *gauge_areas(rig)], default=None)


def gauge_areas(rig: Rig) -> tuple[float, ...]:
    """Copper areas that the stated gauge can mean, smallest first [m2]; none without a gauge in the tables.

    Automotive wire sold by the same number has less copper; where the file does not say by which
    gauge it is sold, both are possible.

    Args:
        rig: with ``trailer.brakes.wiring``.

    Source: ``awg-b258``, ``j1128-area``.
    """
    given, found = rig.trailer.brakes.wiring, []
    for kind, area in (("automotive", wire.automotive_area), ("awg", wire.awg_area)):
        if given.awg is not None and given.sold_as in (kind, None):
            with suppress(TableError):
                found.append(area(given.awg))
    return tuple(sorted(found))


def wire_contradicts(rig: Rig) -> bool:
    """Whether area and gauge of the brake feed cannot both be right [-].

    Args:
        rig: with ``trailer.brakes.wiring``.

    Source: none, 5 % for the rounding of areas.
    """
    area, gauge = rig.trailer.brakes.wiring.area, gauge_areas(rig)
    return area is not None and bool(gauge) and not 0.95 * gauge[0] <= area.si <= 1.05 * gauge[-1]


def circuit(rig: Rig) -> BrakeCircuit | None:
    """Electric brake circuit of a rig; None without electric brakes or when nothing is known of them.

    Args:
        rig: the rig.

    Returns:
        Currents [A], voltages [V], resistances [ohm]; the wire's part is None with its needs
        when length or size of the wire is unknown.

    Source: ``brake-magnets``, ``awg-b258``, ``copper-iacs``, ``stranding``.
    """
    brakes = rig.trailer.brakes
    if brakes.kind != "electric" or brakes.drum is None or not brakes.braked_axles:
        return None
    count = brakes.braked_axles * wire.magnets_per_braked_axle()
    magnet = wire.magnet_resistance(brakes.drum)
    current = magnet_current(SUPPLY, magnet.low, count)
    area, length = wire_area(rig), brakes.wiring.length
    needs: list[Need] = []
    if length is None:
        needs.append(need("trailer.brakes.wiring.length"))
    if area is None:
        needs.append(need(f"trailer.brakes.wiring.{'awg' if rig.market in ('us', 'ca') else 'area'}"))
    words = "; ".join(source(k).words() for k in (magnet.source, "awg-b258", "copper-iacs", "stranding"))
    if area is None or length is None:
        return BrakeCircuit(count, magnet.low, SUPPLY, current, source=words, needs=tuple(needs))
    loop = loop_resistance(length.si, area)
    flows, left = through_wire(SUPPLY, magnet.low / count, loop)
    return BrakeCircuit(count, magnet.low, SUPPLY, current, loop, flows, left, SUPPLY - left, words)


def breakaway_hold(rig: Rig, found: BrakeCircuit | None) -> BreakawayHold | None:
    """Charge a breakaway battery must give for the hold time; None without electric brakes.

    Args:
        rig: the rig.
        found: its brake circuit.

    Returns:
        Current [A], time [s], charges [C] and the Peukert estimate [s].

    Source: ``breakaway-15-min``; ``hold_charge``.
    """
    if found is None:
        return None
    hold = wire.breakaway_hold().value
    battery = rig.trailer.breakaway.battery
    label = None if battery is None else battery.si
    estimate = None if label is None or found.current <= 0 else peukert_time(label, found.current)
    return BreakawayHold(found.current, hold, hold_charge(found.current, hold), label, estimate)


def circuit_needs(rig: Rig) -> tuple[Need, ...]:
    """What is missing to know the current [A] of electric brakes.

    Args:
        rig: the rig.

    Source: none.
    """
    brakes = rig.trailer.brakes
    needs = []
    if brakes.drum is None:
        needs.append(need("trailer.brakes.drum"))
    if not brakes.braked_axles:
        needs.append(need("trailer.brakes.braked_axles"))
    return tuple(needs)


def surge_share(vehicle_gvwr: float, trailer_gvwr: float) -> float | None:
    """Largest trailer GVWR over vehicle GVWR that the commercial rule lets surge brakes work at [-].

    Args:
        vehicle_gvwr: vehicle's GVWR [kg], above zero.
        trailer_gvwr: trailer's GVWR [kg].

    Returns:
        1.75 up to 12,000 lb, 1.25 under 20,001 lb, None from there on.

    Raises:
        OutOfTableError: the vehicle's GVWR is not above zero.

    Source: ``law-fmcsa-surge`` (49 CFR 393.48(d)).
    """
    if not vehicle_gvwr > 0:
        raise OutOfTableError("the vehicle's rating must be above zero")
    if trailer_gvwr <= 12000 * POUND * (1 + 1e-9):
        return 1.75
    return 1.25 if trailer_gvwr < 20001 * POUND * (1 - 1e-9) else None
