"""Every character is printed by our own font, or replaced visibly and reported.

A system font that steps in silently would change the look, the widths and the bytes.
"""

from __future__ import annotations

import dataclasses
import unicodedata
from dataclasses import dataclass, field
from typing import Any, TypeVar

from cardgen.present.blocks import Card, Qr
from cardgen.render.problems import Problem
from cardgen.tables.letters import letters

SUBSTITUTE = "?"
NAMED = 6  # letters that are named one by one
# Written differently, read the same: kept out of the reports.
ALIKE = {
    "\u2011": "-",  # no-break hyphen
    "\u2010": "-",  # hyphen
    "\u202f": "\u00a0",  # narrow no-break space
    "\u2007": "\u00a0",  # figure space
    "\u2009": " ",  # thin space
    "\u2002": " ",  # en space
    "\u2003": " ",  # em space
    "\u2126": "ohm",  # ohm sign
    "\u03a9": "ohm",  # capital omega, used for ohm
    "\t": " ",
    "\n": " ",
    "\r": " ",
    "\u00ad": "",  # soft hyphen
    "\u200b": "",  # zero-width space
    "\u200d": "",  # zero-width joiner
    "\ufe0f": "",  # emoji presentation
    "\ufeff": "",  # byte order mark
}
T = TypeVar("T")


@dataclass(slots=True)
class Cleaner:
    """Replaces what the font cannot print and remembers it.

    Args:
        missing: characters that were replaced, with the first text each was seen in.
    """

    missing: dict[str, str] = field(default_factory=dict)

    def text(self, text: str) -> str:
        """Return the text with every character printable."""
        if text.isascii() and text.isprintable():
            return text
        known = letters()
        out: list[str] = []
        for char in unicodedata.normalize("NFC", text):
            if (ord(char) in known and char.isprintable()) or char == "\u00a0":
                out.append(char)
            elif char in ALIKE:
                out.append(ALIKE[char])
            else:
                self.missing.setdefault(char, text)
                out.append(SUBSTITUTE)
        cleaned = "".join(out)
        return text if cleaned == text else cleaned

    def clean(self, value: T) -> T:
        """Return a view model with every text cleaned; what a QR code holds stays as it is."""
        return self._clean(value)  # type: ignore[no-any-return]  # same type as given

    def _clean(self, value: Any) -> Any:
        if isinstance(value, str):
            return self.text(value)
        if isinstance(value, tuple):
            new = tuple(self._clean(part) for part in value)
            return value if all(a is b for a, b in zip(new, value, strict=True)) else new
        if dataclasses.is_dataclass(value) and not isinstance(value, type):
            changes = {}
            for item in dataclasses.fields(value):
                if isinstance(value, Qr) and item.name == "payload":
                    continue
                old = getattr(value, item.name)
                new = self._clean(old)
                if new is not old:
                    changes[item.name] = new
            return dataclasses.replace(value, **changes) if changes else value
        return value


def _named(char: str) -> str:
    """Name a character for people: itself if it can be seen, code point and name."""
    name = unicodedata.name(char, "")
    seen = f"'{char}' " if char.isprintable() else ""
    return f"{seen}(U+{ord(char):04X}{' ' + name if name else ''})"


def clean_card(card: Card) -> tuple[Card, tuple[Problem, ...]]:
    """Return the card as our font can print it, and one problem that names what was replaced."""
    return cleaned(card, card.id)


def cleaned(value: T, where: str) -> tuple[T, tuple[Problem, ...]]:
    """Return a view model as our font can print it, and one problem that names what was replaced.

    It can be handed out all the same: every substitute is seen, and nothing but
    names and words of the owner's own can hold such letters.

    Args:
        value: card or sheet.
        where: its name in the problem [-].
    """
    cleaner = Cleaner()
    made = cleaner.clean(value)
    if not cleaner.missing:
        return made, ()
    letters = [_named(char) for char in cleaner.missing]
    more = f" and {len(letters) - NAMED} more" if len(letters) > NAMED else ""
    text = next(iter(cleaner.missing.values()))
    message = (
        f"the card font has no {', '.join(letters[:NAMED])}{more}: printed as '{SUBSTITUTE}' "
        f"in '{text[:60]}'; write it in other letters"
    )
    return made, (Problem("glyph", message, where),)
