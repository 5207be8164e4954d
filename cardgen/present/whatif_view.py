"""View model of the what-if part: controls, outputs and the data that the page evaluates."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, ClassVar


@dataclass(frozen=True, slots=True)
class Slider:
    """One control of the what-if part.

    Args:
        id: id on the page.
        kind: ``fill``, ``switch`` or ``temperature``.
        label: what it moves.
        low, high: ends of a slider, whole numbers of its unit [%, or the unit of temperature].
        start: position when the page opens.
        group: heading it stands under.
    """

    id: str
    kind: str
    label: str
    low: int
    high: int
    start: int
    group: str


@dataclass(frozen=True, slots=True)
class Output:
    """One number or limit of the what-if part, filled by the page's script.

    Args:
        id: id on the page.
        label: what it is.
        value: text before the script runs.
    """

    id: str
    label: str
    value: str


@dataclass(frozen=True, slots=True)
class WhatIf:
    """The what-if part.

    Args:
        groups: (heading, controls) in order.
        presets: names of the loading cases, in the order of the data.
        numbers: totals shown.
        checks: limits shown.
        tires: pressures shown.
        data: what the script evaluates; plain JSON values.
    """

    kind: ClassVar[str] = "whatif"
    groups: tuple[tuple[str, tuple[Slider, ...]], ...]
    presets: tuple[str, ...]
    numbers: tuple[Output, ...]
    checks: tuple[Output, ...]
    tires: tuple[Output, ...]
    data: dict[str, Any]
