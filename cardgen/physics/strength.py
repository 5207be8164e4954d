"""Strength of the coupling gear: D value, classes, chains."""

from __future__ import annotations

from typing import Literal

from cardgen.model.rig import Rig
from cardgen.tables.exact import G_N
from cardgen.tables.lookup import OutOfTableError, holds
from cardgen.units import Quantity, UnitError
from cardgen.units.parse import parse

G_D = 9.81
"""Acceleration of gravity in the D value's own definition [m/s2]; source: ``d-value`` (UN R55 2.11)."""


def required_d(vehicle: float, trailer: float) -> float:
    """D value a combination asks of its coupling, ``D = g T R / (T + R)`` [N].

    Args:
        vehicle: permissible mass of the towing vehicle T (GVWR) [kg], above zero.
        trailer: permissible mass of the whole trailer R (GVWR, MTPLM, ATM) [kg], above zero.

    Raises:
        OutOfTableError: a mass that is not above zero.

    Validity: ball couplings of light trailers; not for fifth wheels.

    Source: ``d-value`` (UN R55, 01 series, 2.11, from memory).
    """
    if not vehicle > 0 or not trailer > 0:
        raise OutOfTableError("both masses must be above zero")
    return G_D * vehicle * trailer / (vehicle + trailer)


def trailer_for_d(d_value: float, vehicle: float) -> float | None:
    """Largest trailer a D value allows behind a vehicle, ``R = D T / (g T - D)`` [kg].

    Args:
        d_value: D value of the weaker part [N], above zero.
        vehicle: permissible mass of the towing vehicle T [kg], above zero.

    Returns:
        Trailer mass; None when the D value sets no limit behind this vehicle (``g T <= D``).

    Raises:
        OutOfTableError: a value that is not above zero.

    Source: ``d-value`` solved for R.
    """
    if not d_value > 0 or not vehicle > 0:
        raise OutOfTableError("D value and mass must be above zero")
    left = G_D * vehicle - d_value
    return d_value * vehicle / left if left > 1e-9 * d_value else None


def stated_d(text: str | None) -> float | None:
    """Read a D value as the plate prints it [N]; None when there is none or it cannot be read.

    Args:
        text: for example ``8.5 kN`` [-].

    Source: ``cardgen.units``.
    """
    if text is None:
        return None
    try:
        return parse(text, "force").si
    except UnitError:
        return None


def d_plates(rig: Rig) -> tuple[tuple[str, float | None, str], ...]:
    """List (part, D value [N] or None, field path) of the parts that carry one.

    Args:
        rig: the rig.

    Source: plates on towbar and coupling head.
    """
    receiver = rig.vehicle.receiver
    return (
        ("{receiver}", stated_d(receiver.d_value if receiver else None), "vehicle.receiver.d_value"),
        ("{coupler}", stated_d(rig.trailer.coupler.d_value), "trailer.coupler.d_value"),
    )


def as_mass(strength: Quantity) -> float:
    """Breaking strength as the weight it holds [kg].

    Args:
        strength: as a weight [kg] or as a force [N].

    Source: standard gravity, exact.
    """
    return strength.si if strength.kind == "mass" else strength.si / G_N


def chains_hold(each: float, count: int, load: float, how: Literal["each", "together"]) -> bool:
    """Say whether chains hold a trailer.

    Args:
        each: breaking strength of each chain with its hook, as the weight it holds [kg].
        count: number of chains [-].
        load: weight to hold [kg].
        how: ``each`` on its own or all ``together``; places differ [-].

    Source: each: SAE J684, New Hampshire RSA 266:63; together: 49 CFR 393.70(d), FMCSA guidance.
    """
    return count > 0 and holds(each if how == "each" else each * count, ">=", load)
