"""Folder names from nicknames: plain ASCII, safe on every system."""

from __future__ import annotations

import hashlib
import re
import unicodedata

RESERVED = frozenset(
    ["con", "prn", "aux", "nul", "conin", "conout"]
    + [f"{port}{digit}" for port in ("com", "lpt") for digit in range(10)]
    + ["index", "assets", "manifest", "parts", "build"]
)
"""Names that Windows keeps for devices, or that the output folder needs itself."""

_LONGEST = 60
_LETTERS = str.maketrans(
    {"ß": "ss", "æ": "ae", "œ": "oe", "ø": "o", "đ": "d", "ð": "d", "þ": "th", "ł": "l", "ı": "i"}
)


def plain_slug(nickname: str) -> str:
    """Lower-case ASCII letters and digits joined by single dashes; empty if none are left."""
    low = unicodedata.normalize("NFKD", nickname.casefold().translate(_LETTERS))
    ascii_only = low.encode("ascii", "ignore").decode("ascii")
    joined = re.sub(r"[^a-z0-9]+", "-", re.sub(r"['`]", "", ascii_only)).strip("-")
    return joined[:_LONGEST].rstrip("-")


def slug(nickname: str) -> str:
    """Make the folder name of a rig, for example ``Wee Bothy`` -> ``wee-bothy``.

    Why: the folder name ends up in addresses and on sticks that any system must read.
    A nickname without a single ASCII letter gets a name from its fingerprint; reserved
    names get ``rig-`` in front. Two nicknames may give the same name: the caller sees to it.

    Args:
        nickname: the rig's nickname [-].
    """
    name = plain_slug(nickname)
    if not name:
        return "rig-" + hashlib.sha256(nickname.encode("utf-8", "replace")).hexdigest()[:8]
    return f"rig-{name}" if name in RESERVED else name
