"""Bytes to text: UTF-8 without byte order mark and without control characters."""

from __future__ import annotations

import re
import unicodedata

from cardgen.source.faults import Place, StopReadingError, fault
from cardgen.source.limits import Bounds

_SAVE = "save the file as UTF-8 without byte order mark"
FOREIGN = (
    "[^\t\n\r\x20-\x7e\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]"
    "|[\xad\u200b\u2028\u2029\u2060-\u206f\ufeff\u202a-\u202e\ufff9-\ufffb\U000e0000-\U000e007f]"
)
"""Control characters, foreign line ends, blanks without width, byte order marks, direction
overrides, marks of annotations and tags, which carry whole texts unseen; joiners and direction
marks, which some scripts need, may stay."""
_FOREIGN = re.compile(FOREIGN)
_BLANK = frozenset("\u115f\u1160\u2800\u3164\uffa0")
"""Letters and signs that are drawn as nothing: fillers of Hangul, the empty pattern of Braille."""


def foreign(text: str, *, value: bool = False) -> re.Match[str] | None:
    """Find the first character that has no business in a rig file.

    Args:
        text: a whole file, or a value.
        value: whether it is a value, in which a carriage return ends no line but hides what stands before it.
    """
    return _FOREIGN.search(text) or (_RETURN.search(text) if value else None)


_RETURN = re.compile("\r")


def is_blank(text: str) -> bool:
    """Whether nothing of a text is seen: blanks, marks without a letter, joiners, fillers."""
    return all(one in _BLANK or unicodedata.category(one)[0] in "CMZ" for one in text)


def name_of(character: str) -> str:
    """Name a character that cannot be shown."""
    return f"U+{ord(character):04X}"


def decode(raw: bytes, file: str, bounds: Bounds) -> str:
    """Turn the bytes of a file into text, or stop with a located fault."""
    if len(raw) > bounds.size:
        raise StopReadingError(
            fault(
                "file-size",
                Place(file),
                (),
                f"the file is larger than {bounds.size:,} bytes",
                "a rig takes a few kilobytes; check that this is the right file",
            )
        )
    _refuse_marks(raw, file)
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as found:
        before = raw[: found.start]
        place = _place_of(before.decode("utf-8", "replace"), file)
        raise StopReadingError(
            fault(
                "file-encoding",
                place,
                (),
                f"byte 0x{raw[found.start]:02X} is not UTF-8, the file has another encoding",
                _SAVE,
            )
        ) from found
    odd = foreign(text)
    if odd:
        raise StopReadingError(
            fault(
                "file-control",
                _place_of(text[: odd.start()], file),
                (),
                f"the invisible character {name_of(odd.group())} does not belong in a rig file",
                "delete it and type the text again",
            )
        )
    return text


def _refuse_marks(raw: bytes, file: str) -> None:
    if raw.startswith(b"\xef\xbb\xbf"):
        message = "the file starts with a byte order mark"
        raise StopReadingError(fault("file-bom", Place(file), (), message, _SAVE))
    wide = raw.startswith((b"\xff\xfe", b"\xfe\xff"))
    if wide or (len(raw) >= 4 and raw[:4].count(0) >= 2):
        message = "the file is UTF-16 or UTF-32"
        raise StopReadingError(fault("file-encoding", Place(file), (), message, _SAVE))


def _place_of(before: str, file: str) -> Place:
    """Place of the character that follows the given text."""
    lines = re.split("\r\n|\r|\n", before)
    return Place(file, len(lines), len(lines[-1]) + 1)
