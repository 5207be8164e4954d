"""What can be wrong with a printed card."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Code = Literal[
    "glyph",  # a character that the font cannot print
    "clipped",  # text wider or lower than the place it has
    "margin",  # print too near the paper edge
    "small-type",  # type under the floor of its class
    "faces",  # an odd number of faces
    "qr",  # payload that does not fit a code of the allowed size
    "fetch",  # the page asked for a file or address that is not ours
    "engine",  # a complaint of the PDF engine
    "template",  # a template that cannot be rendered
]


@dataclass(frozen=True, slots=True)
class Problem:
    """One fault of a printed card.

    Args:
        code: stable code.
        message: what is wrong and what to do.
        where: card and face.
    """

    code: Code
    message: str
    where: str = ""

    def __str__(self) -> str:
        """Return the place and the message in one line."""
        return f"{self.where}: {self.message}" if self.where else self.message
