"""The match matrix of a folder of rigs: shared vehicles and trailers, and the rigs that use them."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable, Sequence
from pathlib import Path

from cardgen.model.read import read_rig
from cardgen.model.rig import Rig
from cardgen.model.shelf import read_shelf
from cardgen.model.trailer import Trailer
from cardgen.model.vehicle import Vehicle
from cardgen.present.matrix import Matrix, match

_PART = re.compile(rb"""part["']?\s*:\s*["']?(trailers/[\w./-]+)""")
ALL = 40
"""Folders of at most so many rigs are read whole; of larger ones the first rig of each trailer [-]."""


def match_of(files: Sequence[Path], day: dt.date) -> Matrix | None:
    """Check every vehicle with every trailer among the parts beside the rig files.

    Args:
        files: the rig files.
        day: the build date.

    Returns:
        The matrix; None when there are no shared vehicles or trailers.
    """
    vehicles: dict[str, Vehicle] = {}
    trailers: dict[str, Trailer] = {}
    for folder in sorted({file.parent for file in files}):
        shelf = read_shelf(folder)
        vehicles |= shelf.vehicles
        trailers |= shelf.trailers
    return match(vehicles, trailers, tuple(_rigs(files)), day)


def _rigs(files: Sequence[Path]) -> Iterable[Rig]:
    """Read the rigs that show how a trailer is loaded and coupled; those with faults are passed over."""
    seen: set[bytes] = set()
    for file in sorted(files):
        if len(files) > ALL:
            try:
                names = set(_PART.findall(file.read_bytes()))
            except OSError:
                continue
            if not names - seen:
                continue
            seen |= names
        rig = read_rig(file).rig
        if rig is not None:
            yield rig
