"""What a model field accepts and says about itself, for the checker and the documentation."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated, Any

from cardgen.units.hook import read_by
from cardgen.units.kinds import RANGES, SAMPLE, Believable
from cardgen.units.parse import parse
from cardgen.units.quantity import Quantity, UnitError

if TYPE_CHECKING:
    from pydantic import GetJsonSchemaHandler
    from pydantic_core import CoreSchema


@dataclass(frozen=True, slots=True)
class Doc:
    """Meaning of a field: what it is, where a person reads or measures it, an example, and who is asked.

    Args:
        what: what it is [-].
        where: where a person reads or measures it [-].
        example: how it is written in the US [-].
        metric: how it is written elsewhere, where that differs [-].
        markets: markets in which a starter asks for it, because plates or papers there state it or a
            rule there turns on it; empty where the lists of the starter decide alone [-].
        ask: the question for it, as a person with a tape is asked; empty for ``what`` itself [-].
        stand: where one stands to answer it, a key of ``present.asking.PLACES``; empty for that of the
            group it belongs to [-].
        usual: the usual least and most, in any unit: outside them it is asked again, never refused
            (common practice, no source) [-].
    """

    what: str
    where: str = ""
    example: str = ""
    metric: str = ""
    markets: tuple[str, ...] = ()
    ask: str = ""
    stand: str = ""
    usual: tuple[str, str] | None = None

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        made: dict[str, Any] = dict(handler(schema))
        text = self.what + (f". Where: {self.where}" if self.where else "")
        if "$ref" in made:
            return {"allOf": [made], "description": text}
        made["description"] = text
        if self.example:
            made["examples"] = [self.example]
        return made


class Kind:
    """Marks a field as a quantity of one of the named kinds; the first that reads wins.

    Args:
        names: kinds, most likely first [-].
        signed: whether values below zero make sense [-].
        words: fixed words and their value as a fraction, for fills [-].
    """

    def __init__(self, *names: str, signed: bool = False, words: tuple[tuple[str, float], ...] = ()) -> None:
        self.names = names
        self.signed = signed
        self.words = words

    def read(self, value: object) -> Quantity:
        """Turn a file's text into a quantity; raises ValueError with the words for the person."""
        if isinstance(value, Quantity):
            return value
        if not isinstance(value, str):
            raise UnitError("quantity-text", "a quantity is expected here", self.hint())
        for word, share in self.words:
            if value.strip().lower() == word:
                return Quantity(share, "fraction", None, word, getattr(value, "path", ""))
        faults: list[UnitError] = []
        for name in self.names:
            limits = RANGES[name]
            if self.signed:
                limits = Believable(-limits.high, limits.high)
            try:
                return parse(value, name, limits)
            except UnitError as fault:
                faults.append(fault)
        wrong_kind = all(f.code in ("quantity-kind", "quantity-unit") for f in faults)
        if wrong_kind:
            first = next((f for f in faults if f.code == "quantity-kind"), faults[0])
            raise UnitError(first.code, first.message, self.hint())
        raise next(f for f in faults if f.code not in ("quantity-kind", "quantity-unit"))

    def hint(self) -> str:
        """Say how to write it."""
        samples = [f"'{SAMPLE[name]}'" for name in self.names]
        samples += [f"'{word}'" for word, _ in self.words]
        return "write it like " + " or ".join(samples)

    def __get_pydantic_core_schema__(self, source: object, handler: object) -> CoreSchema:
        return read_by(self.read, "quantity")

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {"type": "string", "examples": [SAMPLE[self.names[0]], *(w for w, _ in self.words)]}


Mass = Annotated[Quantity, Kind("mass")]
MassOrNone = Annotated[Quantity, Kind("mass", words=(("none", 0.0),))]
"""A rating of which the vehicle may have none; ``none`` is a quantity of the kind ``fraction``."""
SignedMass = Annotated[Quantity, Kind("mass", signed=True)]
Length = Annotated[Quantity, Kind("length")]
Position = Annotated[Quantity, Kind("length", signed=True)]
Distance = Annotated[Quantity, Kind("distance")]
Volume = Annotated[Quantity, Kind("volume")]
Pressure = Annotated[Quantity, Kind("pressure")]
Temperature = Annotated[Quantity, Kind("temperature")]
Speed = Annotated[Quantity, Kind("speed")]
Torque = Annotated[Quantity, Kind("torque")]
Force = Annotated[Quantity, Kind("force")]
Rate = Annotated[Quantity, Kind("rate")]
Fraction = Annotated[Quantity, Kind("fraction")]
Voltage = Annotated[Quantity, Kind("voltage")]
Current = Annotated[Quantity, Kind("current")]
Charge = Annotated[Quantity, Kind("charge")]
Area = Annotated[Quantity, Kind("area")]
Duration = Annotated[Quantity, Kind("duration")]
Strength = Annotated[Quantity, Kind("mass", "force")]
Fill = Annotated[
    Quantity,
    Kind(
        "fraction",
        "volume",
        words=(
            ("full", 1.0),
            ("empty", 0.0),
            ("half", 0.5),
            ("1/4", 0.25),
            ("1/2", 0.5),
            ("3/4", 0.75),
        ),
    ),
]
