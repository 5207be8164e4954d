"""Trailer connectors: what each pin does, by its place and never by its colour alone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal

from cardgen.tables.lookup import NotInTableError, read

Circuit = Literal["brake", "charge", "reverse"]


@dataclass(frozen=True, slots=True)
class Pin:
    """One pin.

    Args:
        at: clock position or number, in the view of its connector [-].
        does: function in words [-].
        colours: usual wire colours [-]; more than one means conventions differ.
        copper: usual copper area [m2], None when not published.

    Source: the key of its connector.
    """

    at: str
    does: str
    colours: tuple[str, ...]
    copper: float | None

    @property
    def ambiguous(self) -> bool:
        """Whether its colour differs between conventions [-]; source: the connector's key."""
        return len(self.colours) > 1


@dataclass(frozen=True, slots=True)
class ConnectorType:
    """One kind of connector.

    Args:
        id: id as rig files write it [-].
        words: words for people [-].
        family: ``na``, ``iso`` or ``au`` [-].
        view: how to look at it, so that clock positions or numbers mean something [-].
        pins: pins in order [-]; empty when no table was read, then ``unknown`` says so.
        unknown: why there are no pins and what to read instead [-].
        source: source key [-].

    Source: the key it carries.
    """

    id: str
    words: str
    family: str
    view: str
    pins: tuple[Pin, ...]
    unknown: str
    source: str


FAMILIES = {"us": ("na",), "ca": ("na",), "uk": ("iso",), "eu": ("iso",)}
"""Families of connectors that a market uses, all of the others where it is not named; common practice, no source."""


def usual(choices: Sequence[str], market: str) -> tuple[str, ...]:
    """Of words to choose from, the connectors that a market uses; all of them where they are no connectors [-].

    Args:
        choices: words that a field takes [-].
        market: ``us``, ``ca``, ``uk``, ``eu``, ``au`` or ``nz`` [-].

    Source: the keys of the connectors.
    """
    rows, families = read("connectors")["connectors"], FAMILIES.get(market, ("iso", "au"))
    return tuple(one for one in choices if one not in rows or rows[one]["family"] in families)


@cache
def connector(name: str) -> ConnectorType:
    """Find a kind of connector.

    Args:
        name: id as rig files write it, for example ``7-blade`` [-].

    Returns:
        The connector with its pins, copper areas [m2].

    Raises:
        NotInTableError: unknown id.

    Source: ``four-flat``, ``seven-blade``, ``iso-11446``, ``iso-1724``, ``j560``,
    ``connector-memory``.
    """
    row = _row(name)
    pins = tuple(
        Pin(p["at"], p["does"], tuple(p["colours"]), p["mm2"] * 1e-6 if "mm2" in p else None)
        for p in row.get("pins", ())
    )
    return ConnectorType(
        name, row["words"], row["family"], row.get("view", ""), pins, row.get("unknown", ""), row["source"]
    )


def carries(name: str, circuit: Circuit) -> bool | None:
    """Say whether a connector has a circuit.

    Args:
        name: connector id [-].
        circuit: ``brake`` (feed of electric trailer brakes), ``charge`` (battery line)
            or ``reverse`` (reverse lamps or reverse lock-out) [-].

    Returns:
        True, False [-], or None when the pin's use differs between vehicles.

    Raises:
        NotInTableError: unknown connector or circuit.

    Source: as ``connector``.
    """
    circuits = _row(name)["circuits"]
    if circuit not in circuits:
        raise NotInTableError(f"no circuit '{circuit}'")
    found: bool | None = circuits[circuit]
    return found


def has_brake_circuit(name: str) -> bool | None:
    """Say whether a connector feeds electric trailer brakes.

    Args:
        name: connector id [-].

    Returns:
        True, False [-], or None when it cannot be told from the kind of connector.

    Raises:
        NotInTableError: unknown connector.

    Source: as ``connector``.
    """
    return carries(name, "brake")


def compatible(plug: str, socket: str) -> bool:
    """Say whether a plug fits a socket without an adapter.

    Args:
        plug: connector id on the trailer [-].
        socket: connector id on the vehicle [-].

    Returns:
        True only for the same kind [-]; an adapter is the caller's matter.

    Raises:
        NotInTableError: unknown connector.

    Source: as ``connector``; pin layouts differ between kinds.
    """
    _row(plug)
    _row(socket)
    return plug == socket


def taken(plug: str, socket: str) -> bool:
    """Say whether a plug of another kind goes into a socket without an adapter as a rule.

    Args:
        plug: connector id on the trailer [-].
        socket: connector id on the vehicle [-].

    Returns:
        True where the socket has the plug's pins in the same places [-]; to be tried, never passed.

    Raises:
        NotInTableError: unknown connector.

    Source: ``connector-memory``.
    """
    _row(plug)
    return plug in _row(socket).get("takes", ())


def _row(name: str) -> Any:
    row = read("connectors")["connectors"].get(name)
    if row is None:
        raise NotInTableError(f"no connector '{name}' in the table")
    return row
