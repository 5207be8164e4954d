"""The one value type that rig files produce: an SI number that knows where it came from."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Quantity:
    """A measured or stated figure in SI units.

    Why: the physics takes plain floats, but a report has to say which line of
    which file a number came from and how sure it is.

    Args:
        si: the value in the SI unit of its kind (kg, m, m3, Pa gauge, K, m/s, ...).
        kind: name of the kind, see ``cardgen.units.kinds``.
        half_width: stated ``+/-`` half width in the same SI unit, or None.
        text: the words of the file, as written.
        path: dotted field path, for example ``trailer.gvwr``.
        unit: spelling of the unit in the file, the last where there are two; empty where no file wrote it.
    """

    si: float
    kind: str
    half_width: float | None = None
    text: str = ""
    path: str = ""
    unit: str = ""


class UnitError(ValueError):
    """A quantity that cannot be read; carries a stable code and a hint.

    Args:
        code: stable diagnostic code, for example ``quantity-bare``.
        message: what is wrong, in words.
        hint: what to write instead.
    """

    def __init__(self, code: str, message: str, hint: str) -> None:
        super().__init__(f"{message}; {hint}" if hint else message)
        self.code = code
        self.message = message
        self.hint = hint
