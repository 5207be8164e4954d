"""Fields that hold one another: comparisons as data, for faults, for doubts and for the measuring page."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from cardgen.units.quantity import Quantity

if TYPE_CHECKING:
    from cardgen.model.rig import Rig

BEHIND = 1.0
"""How far behind the trailer's rear end an axle may be measured to lie [m]; a project choice, no source."""
SLACK = 1.10
"""How far a placard may go beyond what the ratings leave, as a share of it [-]; a project choice, no source."""
AXLES_SLACK = 1.005
"""How far a gross rating may go beyond both axle ratings together, as they are rounded [-]; a project choice."""
ON_AXLES = 0.6
"""Least share of a trailer's gross rating for which its axles are built [-]: no coupling is meant to carry more than
the rest; a project choice, no source."""
SEATED = 75.0
"""Driver counted in a curb weight of which nobody says [kg]; common practice, no source."""
BUMPER = (-0.5, 1.0)
"""How far the coupling may stand behind the rear end of the vehicle [m]; a project choice, no source."""
FRONT = 0.5
"""Least that a vehicle reaches ahead of its front axle [m]; a project choice, no source."""
_VEHICLE_AXLES = ("vehicle_front_axle", "vehicle_rear_axle", "front_a", "rear_a")


@dataclass(frozen=True, slots=True)
class Contradiction:
    """What cannot be: that the terms come to more than ``most``.

    Args:
        terms: fields with the factor of each; a list counts as its sum [-].
        words: what is told, with ``{a}``, ``{b}`` ... for what is written in the fields, in their order [-].
        fields: fields that are blamed; the first is that of a fault [-].
        code: of the fault; empty where it is a doubt only [-].
        hint: what to write instead [-].
        most: what the terms may come to [SI].
        strict: whether they must stay below it.
        unless: a field that, where it is known, makes another comparison count [-].
        ball: whether it holds for a ball behind the vehicle only.
        market: the one market in which it holds; empty for all [-].
        figures: beginnings of the ids of figures that the doubted field decides [-].
    """

    terms: tuple[tuple[str, float], ...]
    words: str
    fields: tuple[str, ...]
    code: str = ""
    hint: str = ""
    most: float = 0.0
    strict: bool = False
    unless: str = ""
    ball: bool = False
    market: str = ""
    figures: tuple[str, ...] = ()

    def bears(self, rig: Rig) -> bool:
        """Whether it is asked of such a rig at all: its market and its coupling."""
        return self.market in ("", rig.market) and not (self.ball and rig.trailer.type != "ball")

    def told(self, rig: Rig) -> str:
        """Say what contradicts in a rig, in its own writing; empty where nothing does or something is unknown.

        Args:
            rig: the rig; not-a-number stands for what could not be read.
        """
        if not self.bears(rig) or (self.unless and stated(rig, self.unless)):
            return ""
        found = [stated(rig, path) for path, _ in self.terms]
        total = sum(one.si * by for each, (_, by) in zip(found, self.terms, strict=True) for one in each)
        if not all(found) or not (total >= self.most if self.strict else total > self.most):
            return ""
        if not self.code and all(
            one.half_width is not None for path in self.fields for one in stated(rig, path)
        ):
            return ""  # written with its +/-: looked at, and believed
        words = self.words
        for letter, each in zip("abcd", found, strict=False):
            words = words.replace(f"{{{letter}}}", ", ".join(one.text for one in each))
        return words


def stated(rig: Rig, path: str) -> tuple[Quantity, ...]:
    """Return what a rig states at a field [SI], all of it for a list; nothing where that is unknown or no quantity.

    Args:
        rig: the rig.
        path: the field [-].
    """
    found: object = rig
    for step in path.split("."):
        found = getattr(found, step, None)
    listed = found if isinstance(found, tuple) else (found,)
    return tuple(one for one in listed if isinstance(one, Quantity) and one.kind in ("mass", "length"))


def _above(code: str, field: str, low: str, high: str, words: str, hint: str) -> Contradiction:
    """A fault at a field when one field is above another."""
    return Contradiction(((low, 1.0), (high, -1.0)), words, (field,), code, hint)


_LABELS = "check the {maker_label} and the {scale_ticket}"
_MISTYPED = "check which of the two is mistyped"
_SIZE, _CURB, _RATING = "trailer.dimensions", "vehicle.curb", "vehicle.tow_rating"
_REACH = "'{a}' does not go with a length of '{b}' and a wheelbase of '{c}'"
_OF_REACH = (("vehicle.overhang", 1.0), ("vehicle.length", -1.0), ("vehicle.wheelbase", 1.0))
_PLACARD = (("vehicle.placard_capacity", 1.0), ("vehicle.gvwr", -SLACK), ("vehicle.curb.weight", SLACK))
_PLACARD_WORDS = "'{a}' is more than '{b}' less '{c}' leaves"
CONTRADICTIONS = (
    Contradiction(
        (("trailer.empty.tongue", 1.0), ("trailer.empty.weight", -1.0)),
        "'{a}' {on_tongue} is not less than the empty weight '{b}'",
        ("trailer.empty.tongue",), "tongue-above-weight", _MISTYPED, strict=True,
    ),
    _above(
        "gvwr-below-empty", "trailer.gvwr", "trailer.empty.weight", "trailer.gvwr",
        "the {trailer_rating} '{b}' is less than the empty weight '{a}'", _LABELS,
    ),
    _above(
        "capacity-above-gvwr", "trailer.cargo_capacity", "trailer.cargo_capacity", "trailer.gvwr",
        "the {trailer_payload} '{a}' is more than the {trailer_rating} '{b}'", _LABELS,
    ),
    Contradiction(
        (("trailer.gtm", 1.0), ("trailer.gvwr", -1.0)),
        "the {gtm} '{a}' is more than the {trailer_rating} ({atm}) '{b}'", ("trailer.gtm",), "gtm-above-gvwr",
        "{gtm} leaves out what rests on the vehicle, so it cannot be the larger one",
        market="au",  # elsewhere axles may be rated for more than the whole
    ),
    _above(
        "gvwr-below-curb", "vehicle.gvwr", f"{_CURB}.weight", "vehicle.gvwr",
        "the {vehicle_rating} '{b}' is less than the {curb} '{a}'", _LABELS,
    ),
    _above(
        "gcwr-below-gvwr", "vehicle.gcwr", "vehicle.gvwr", "vehicle.gcwr",
        "the {combination_rating} '{b}' is less than the vehicle's own {vehicle_rating} '{a}'",
        "{combination_rating} counts vehicle and trailer together; see the owner's manual",
    ),
    *(
        _above(
            "curb-axle", f"{_CURB}.{axle}", f"{_CURB}.{axle}", f"{_CURB}.weight",
            "'{a}' on one axle is more than the {curb} '{b}'", _MISTYPED,
        )
        for axle in ("front", "rear")
    ),
    Contradiction(
        ((f"{_SIZE}.body_front", 1.0), (f"{_SIZE}.body_rear", -1.0)),
        "the rear wall at '{b}' is not behind the front wall", (f"{_SIZE}.body_rear",), "body-order",
        "count the places of both walls from the coupling", strict=True,
    ),
    _above(
        "track-wide", "trailer.axles.track", "trailer.axles.track", f"{_SIZE}.width",
        "'{a}' from tire to tire is wider than the trailer, '{b}'", "measure center to center",
    ),
    *(
        Contradiction(
            (("trailer.axles.ball_to_center", 1.0), (f"{_SIZE}.{end}", -1.0)),
            "'{a}' is behind the trailer's rear end at '{b}'", ("trailer.axles.ball_to_center",), "axle-behind",
            "check both lengths", BEHIND,
        )
        for end in ("body_rear", "length")
    ),
    Contradiction(
        ((f"{_RATING}.unbraked", 1.0), (f"{_RATING}.braked", -1.0)), "unbraked '{a}' is more than braked '{b}'",
        (f"{_RATING}.braked", f"{_RATING}.unbraked"),
    ),
    Contradiction(
        (*_PLACARD, (f"{_CURB}.includes.driver", -SLACK)), _PLACARD_WORDS, ("vehicle.placard_capacity",),
    ),
    Contradiction(
        _PLACARD, _PLACARD_WORDS, ("vehicle.placard_capacity",), most=SLACK * SEATED,
        unless=f"{_CURB}.includes.driver",
    ),
    Contradiction(
        (*_PLACARD[:2], (f"{_CURB}.front", SLACK), (f"{_CURB}.rear", SLACK)),
        "'{a}' is more than '{b}' less '{c}' and '{d}' leaves", ("vehicle.placard_capacity",), most=SLACK * SEATED,
        unless=f"{_CURB}.weight",
    ),
    Contradiction(
        (("vehicle.gvwr", 1.0), ("vehicle.gawr.front", -AXLES_SLACK), ("vehicle.gawr.rear", -AXLES_SLACK)),
        "'{a}' is more than both axle ratings together, '{b}' and '{c}'", ("vehicle.gvwr",),
    ),
    Contradiction(
        (("trailer.gvwr", ON_AXLES), ("trailer.axles.gawr", -1.0)),
        "the axles, '{b}', are rated for far less than '{a}'", ("trailer.axles.gawr", "trailer.gvwr"),
    ),
    Contradiction(
        (*_OF_REACH, ("vehicle.front_overhang", 1.0)), _REACH, ("vehicle.overhang",), most=BUMPER[1], ball=True,
        figures=_VEHICLE_AXLES,
    ),
    Contradiction(
        (*((path, -by) for path, by in _OF_REACH), ("vehicle.front_overhang", -1.0)), _REACH,
        ("vehicle.overhang",), most=-BUMPER[0], ball=True, figures=_VEHICLE_AXLES,
    ),
    Contradiction(
        _OF_REACH, _REACH, ("vehicle.overhang",), most=BUMPER[1] - FRONT, unless="vehicle.front_overhang",
        ball=True, figures=_VEHICLE_AXLES,
    ),
)  # fmt: skip
