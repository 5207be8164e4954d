"""The weakest link: the largest trailer that each rated part allows, and which part governs."""

from __future__ import annotations

from collections.abc import Sequence

from cardgen.model.results import Allowance, Computed, Figure, Term
from cardgen.model.rig import Rig
from cardgen.physics import figures
from cardgen.physics.needs import need
from cardgen.units import Quantity


def allowances(computed: Computed) -> tuple[Allowance, ...]:
    """List what each rated part allows, smallest first; unknown ratings last [kg]."""
    rig = computed.rig
    share = computed.worst("tongue_share")
    made = [
        *_trailer_ratings(rig),
        *_tongue_ratings(rig, share[1] if share else None),
        *_left_over(computed, share),
    ]
    return tuple(sorted(made, key=lambda a: (a.trailer is None, a.trailer or 0.0)))


def distributing(rig: Rig) -> bool:
    """Say whether the weight-distributing column of the ratings applies."""
    return rig.gear.weight_distribution is not None


def _trailer_ratings(rig: Rig) -> list[Allowance]:
    def part(words: str, quantity: Quantity | None, path: str) -> Allowance:
        return Allowance(words, None if quantity is None else quantity.si, "its trailer rating", path)

    vehicle, gear, trailer = rig.vehicle, rig.gear, rig.trailer
    made = [part("trailer GVWR", trailer.gvwr, "trailer.gvwr")]
    braked = trailer.brakes.kind not in (None, "none")
    which = "braked" if braked else "unbraked"
    made.append(part("vehicle tow rating", getattr(vehicle.tow_rating, which), f"vehicle.tow_rating.{which}"))
    if trailer.type == "ball":
        column = "weight_distributing" if distributing(rig) else "weight_carrying"
        if vehicle.receiver is not None:
            made.append(
                part(
                    "receiver",
                    getattr(vehicle.receiver, column).trailer,
                    f"vehicle.receiver.{column}.trailer",
                )
            )
        if gear.adapter is not None:
            made.append(
                part("receiver adapter", gear.adapter.ratings.trailer, "gear.adapter.ratings.trailer")
            )
        if gear.weight_distribution is not None:
            wd = gear.weight_distribution.ratings.trailer
            made.append(part("weight distribution", wd, "gear.weight_distribution.ratings.trailer"))
        elif gear.mount is not None:
            made.append(part("ball mount", gear.mount.ratings.trailer, "gear.mount.ratings.trailer"))
        if gear.ball is not None:
            made.append(part("ball", gear.ball.rating, "gear.ball.rating"))
    elif vehicle.bed_hitch is not None:
        made.append(part("bed hitch", vehicle.bed_hitch.ratings.trailer, "vehicle.bed_hitch.ratings.trailer"))
    made.append(part("coupler", trailer.coupler.ratings.trailer, "trailer.coupler.ratings.trailer"))
    return made


def tongue_parts(rig: Rig) -> list[tuple[str, Quantity | None, str]]:
    """List (part, tongue rating, path) of every part that carries the tongue."""
    vehicle, gear, trailer = rig.vehicle, rig.gear, rig.trailer
    made: list[tuple[str, Quantity | None, str]] = []
    if trailer.type == "ball":
        column = "weight_distributing" if distributing(rig) else "weight_carrying"
        if vehicle.receiver is not None:
            made.append(
                (
                    "receiver",
                    getattr(vehicle.receiver, column).tongue,
                    f"vehicle.receiver.{column}.tongue",
                )
            )
        if gear.adapter is not None:
            made.append(("receiver adapter", gear.adapter.ratings.tongue, "gear.adapter.ratings.tongue"))
        if gear.weight_distribution is not None:
            wd = gear.weight_distribution.ratings.tongue
            made.append(("weight distribution", wd, "gear.weight_distribution.ratings.tongue"))
        elif gear.mount is not None:
            made.append(("ball mount", gear.mount.ratings.tongue, "gear.mount.ratings.tongue"))
    elif vehicle.bed_hitch is not None:
        made.append(("bed hitch", vehicle.bed_hitch.ratings.tongue, "vehicle.bed_hitch.ratings.tongue"))
    made.append(("coupler", trailer.coupler.ratings.tongue, "trailer.coupler.ratings.tongue"))
    if vehicle.tow_rating.tongue is not None:
        made.append(("vehicle tongue rating", vehicle.tow_rating.tongue, "vehicle.tow_rating.tongue"))
    return made


def _tongue_ratings(rig: Rig, share: float | None) -> list[Allowance]:
    """Turn tongue ratings into trailers at this rig's own tongue share [kg]."""
    made = []
    for words, rating, path in tongue_parts(rig):
        value = None if rating is None or not share or share <= 0 else rating.si / share
        made.append(Allowance(f"{words}, tongue", value, "tongue rating / this rig's tongue share", path))
    return made


def _left_over(computed: Computed, share: tuple[str, float] | None) -> list[Allowance]:
    """Trailers that GCWR and placard leave with this rig's people and cargo aboard [kg]."""
    rig = computed.rig
    made = []
    alone = computed.worst("vehicle_alone")
    gcwr = rig.vehicle.gcwr
    value = None if gcwr is None or alone is None else gcwr.si - alone[1]
    made.append(Allowance("GCWR less loaded vehicle", value, "GCWR - V", "vehicle.gcwr"))
    placard = rig.vehicle.placard_capacity
    used, tongue = computed.worst("placard_used"), computed.worst("tongue_weight")
    value = None
    if placard is not None and used is not None and tongue is not None and share is not None and share[1] > 0:
        value = (placard.si - (used[1] - tongue[1])) / share[1]
    made.append(
        Allowance(
            "placard less people and cargo",
            value,
            "(placard - people - cargo - gear) / tongue share",
            "vehicle.placard_capacity",
        )
    )
    return made


def figures_of(made: Sequence[Allowance]) -> dict[str, Figure]:
    """Make the figure ``allowed_trailer`` [kg]: the smallest of what is known.

    It is unknown unless every rating is known, as the missing one could be the lowest.
    """
    known = [a for a in made if a.trailer is not None]
    needs = [need(a.path) for a in made if a.trailer is None]
    value = known[0].trailer if known and not needs else None
    terms = [
        Term(a.part, f"{a.part}: {a.formula}", a.trailer, "mass", a.path)
        for a in known
        if a.trailer is not None
    ]
    return {
        "allowed_trailer": figures.derived(
            "allowed_trailer",
            "largest trailer that every rated part allows",
            "mass",
            value,
            "smallest of the ratings",
            terms,
            "only the lowest rating counts",
            needs,
        )
    }
