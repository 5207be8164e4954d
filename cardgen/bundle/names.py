"""Names of output files: relative, plain, the same on every system."""

from __future__ import annotations

import re

from cardgen.model.slug import RESERVED

OWN = ".cardgen"
"""Folder inside the output folder in which the manifest and unfinished work live."""

_STEP = re.compile(r"[A-Za-z0-9_][A-Za-z0-9_.-]{0,119}")
_SLUG = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


def is_safe(name: str) -> bool:
    """Whether a relative name with ``/`` stays inside its folder on every system."""
    steps = name.split("/")
    return 0 < len(steps) <= 6 and all(
        _STEP.fullmatch(step) and not step.endswith(".") and (step.partition(".")[0].lower() not in _DEVICES)
        for step in steps
    )


_DEVICES = RESERVED - {"index", "assets", "manifest", "parts", "build"}


def is_slug(name: str) -> bool:
    """Whether a text can be the folder name of a rig."""
    return bool(_SLUG.fullmatch(name)) and len(name) <= 80 and name not in RESERVED
