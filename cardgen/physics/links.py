"""The chain of coupling parts in use, each with its ratings for trailer and tongue."""

from __future__ import annotations

from cardgen.model.parts import Ratings
from cardgen.model.rig import Rig
from cardgen.units import Quantity

Part = tuple[str, Quantity | None, str]
"""Words of a part, its rating [kg] or None when unknown, and the field path of the rating."""


def distributing(rig: Rig) -> bool:
    """Say whether the weight-distributing column of the ratings applies [-].

    Args:
        rig: the rig.

    Source: WAC 204-70-040(3) (two kinds of hitch, each with its own pair of ratings).
    """
    return rig.gear.weight_distribution is not None


def trailer_parts(rig: Rig) -> list[Part]:
    """List every coupling part in use with its rating for the loaded trailer [kg].

    Args:
        rig: the rig.

    Source: ratings stamped or labelled on the parts.
    """
    vehicle, gear, trailer = rig.vehicle, rig.gear, rig.trailer
    made = _links(rig, "trailer")
    if trailer.type != "fifth_wheel":
        made.append(("ball", gear.ball.rating if gear.ball else None, "gear.ball.rating"))
    made.append(("{coupler}", trailer.coupler.ratings.trailer, "trailer.coupler.ratings.trailer"))
    carrying = vehicle.tow_rating.weight_carrying
    if trailer.type == "ball" and not distributing(rig) and carrying is not None:
        words = "vehicle rating without weight distribution"
        made.append((words, carrying, "vehicle.tow_rating.weight_carrying"))
    return made


def tongue_parts(rig: Rig) -> list[Part]:
    """List every coupling part that carries the tongue with its rating for it [kg].

    A ball carries no tongue rating of its own. Where a plate of the vehicle states one by habit of the market
    (UK, EU), it is asked for when it is left out; a mount that states a rating counts wherever it is listed.

    Args:
        rig: the rig.

    Source: ratings stamped or labelled on the parts.
    """
    trailer, vehicle = rig.trailer, rig.vehicle
    made = _links(rig, "tongue")
    made.append(("{coupler}", trailer.coupler.ratings.tongue, "trailer.coupler.ratings.tongue"))
    if vehicle.tow_rating.tongue is not None or rig.market in ("uk", "eu"):
        made.append(("vehicle {tongue_rating}", vehicle.tow_rating.tongue, "vehicle.tow_rating.tongue"))
    return made


def _links(rig: Rig, what: str) -> list[Part]:
    """Parts on the vehicle's side, unknown ones included so that they are asked for."""
    vehicle, gear = rig.vehicle, rig.gear
    if rig.trailer.type != "ball":
        bed = vehicle.bed_hitch
        return [_part("bed hitch", bed.ratings if bed else None, what, "vehicle.bed_hitch.ratings")]
    column = "weight_distributing" if distributing(rig) else "weight_carrying"
    receiver = vehicle.receiver
    rated: Ratings | None = getattr(receiver, column) if receiver else None
    made = [_part("{receiver}", rated, what, f"vehicle.receiver.{column}")]
    if gear.adapter is not None:
        made.append(_part("{receiver} adapter", gear.adapter.ratings, what, "gear.adapter.ratings"))
    if gear.weight_distribution is not None:
        path = "gear.weight_distribution.ratings"
        made.append(_part("weight distribution", gear.weight_distribution.ratings, what, path))
    mount = gear.mount.ratings if gear.mount else None
    needed = gear.weight_distribution is None and not (receiver is not None and receiver.fixed_ball)
    if needed or (mount is not None and (mount.trailer is not None or mount.tongue is not None)):
        made.append(_part("{ball_mount}", mount, what, "gear.mount.ratings"))
    return made


def _part(words: str, ratings: Ratings | None, what: str, path: str) -> Part:
    rating: Quantity | None = getattr(ratings, what) if ratings else None
    return words, rating, f"{path}.{what}"
