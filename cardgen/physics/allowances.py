"""The weakest link: the largest trailer that each rated part allows, and which part governs."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from cardgen.model.results import Allowance, CaseResult, Computed, Figure, Term
from cardgen.model.rig import Rig
from cardgen.physics import figures, strength
from cardgen.physics.links import Part, trailer_parts
from cardgen.physics.links import tongue_parts as tongue_parts  # handed on to the cards
from cardgen.physics.needs import need
from cardgen.physics.tires import rated_load
from cardgen.tables.tire_rules import load_divisor


def allowances(computed: Computed) -> tuple[Allowance, ...]:
    """List what each rated part allows, smallest first; unknown ratings last [kg].

    Args:
        computed: with figures of the cases [kg]; people, cargo and tongue share of this
            rig are kept as they are.

    Source: only the lowest rating counts.
    """
    rig = computed.rig
    share, least = _extreme(computed, "tongue_share", max), _extreme(computed, "tongue_share", min)
    made = [
        *(_plain(part) for part in _own_ratings(rig)),
        *_d_values(rig),
        *(_by_tongue(part, share) for part in tongue_parts(rig)),
        *_on_axles(rig, least),
        *_left_over(computed, share),
    ]
    return tuple(sorted(made, key=lambda a: (a.trailer is None, a.trailer or 0.0)))


def _extreme(computed: Computed, name: str, pick: Callable[[list[float]], float]) -> float | None:
    """Largest or smallest value of a figure; None as soon as one case does not know it."""
    values = [case.figures[name].value for case in computed.cases]
    known = [v for v in values if v is not None]
    return pick(known) if known and len(known) == len(values) else None


def _own_ratings(rig: Rig) -> list[Part]:
    rating, brakes = rig.vehicle.tow_rating, rig.trailer.brakes.works
    made: list[Part] = [("trailer {trailer_rating}", rig.trailer.gvwr, "trailer.gvwr")]
    if brakes is None:
        made.append(("vehicle {tow_rating}", None, "trailer.brakes.kind"))
    else:
        which = "unbraked" if brakes == "none" else "braked"
        made.append(("vehicle {tow_rating}", getattr(rating, which), f"vehicle.tow_rating.{which}"))
    above = rating.needs_distribution_above
    if above is not None and rig.trailer.type == "ball" and rig.gear.weight_distribution is None:
        words = "vehicle rating without weight distribution"
        made.append((words, above, "vehicle.tow_rating.needs_distribution_above"))
    return [*made, *trailer_parts(rig)]


def _plain(part: Part) -> Allowance:
    words, rating, path = part
    return Allowance(words, None if rating is None else rating.si, "its trailer rating", path)


def _by_tongue(part: Part, share: float | None) -> Allowance:
    """Turn a tongue rating into a trailer at this rig's own tongue share [kg]."""
    words, rating, path = part
    value = None if rating is None or not share or share <= 0 else rating.si / share
    return Allowance(f"{words}, {{tongue_load}}", value, "{tongue_rating} / this rig's {tongue_share}", path)


def asks_d(rig: Rig) -> bool:
    """Say whether D values belong to this rig: a ball in the UK or EU, or plates that state one [-].

    Args:
        rig: the rig.

    Source: ``d-value`` (UN R55).
    """
    stated = any(value is not None for _, value, _ in strength.d_plates(rig))
    return rig.trailer.type == "ball" and (rig.market in ("uk", "eu") or stated)


def _d_values(rig: Rig) -> list[Allowance]:
    """Trailer that each D value allows behind this vehicle [kg]."""
    if not asks_d(rig):
        return []
    vehicle = rig.vehicle.gvwr
    made = []
    for part, value, path in strength.d_plates(rig):
        if value is None and rig.market not in ("uk", "eu"):
            continue
        if value is None or vehicle is None:
            made.append(
                Allowance(
                    f"{part}, D value", None, "D T / (g T - D)", path if value is None else "vehicle.gvwr"
                )
            )
            continue
        allowed = strength.trailer_for_d(value, vehicle.si)
        if allowed is not None:
            made.append(Allowance(f"{part}, D value", allowed, "D T / (g T - D)", path))
    return made


def _on_axles(rig: Rig, share: float | None) -> list[Allowance]:
    """Trailer that its own axles and tires carry at this rig's tongue share [kg]."""
    axles, fitted = rig.trailer.axles, rig.trailer.tires
    carried = 1.0 - share if share is not None and share < 1.0 else None
    made = []
    whole = sum(q.si for q in axles.gawr) if len(axles.gawr) == axles.count else None
    value = whole / carried if whole is not None and carried else None
    made.append(
        Allowance("trailer axles", value, "sum of {axle_rating} / (1 - {tongue_share})", "trailer.axles.gawr")
    )
    load = rated_load(fitted, axles.tires_per_axle == 4) if fitted else None
    value = None
    if fitted is not None and fitted.type is not None and load is not None and carried:
        one = load / load_divisor(fitted.type, "trailer", rig.market).value
        value = one * axles.tires_per_axle * axles.count / carried
    made.append(
        Allowance(
            "trailer tires", value, "sum of tire ratings / (1 - {tongue_share})", "trailer.tires.max_load"
        )
    )
    gtm = rig.trailer.gtm
    if gtm is not None:
        value = gtm.si / carried if carried else None
        made.append(Allowance("trailer {gtm}", value, "{gtm} / (1 - {tongue_share})", "trailer.gtm"))
    return made


def _left_over(computed: Computed, share: float | None) -> list[Allowance]:
    """Trailers that the vehicle's own ratings leave with this rig's people and cargo aboard [kg]."""
    vehicle = computed.rig.vehicle
    alone = _extreme(computed, "vehicle_alone", max)
    value = None if vehicle.gcwr is None or alone is None else max(0.0, vehicle.gcwr.si - alone)
    made = [
        Allowance(
            "{combination_rating} less loaded vehicle", value, "{combination_rating} - V", "vehicle.gcwr"
        )
    ]
    value = None
    if vehicle.gvwr is not None and alone is not None and share is not None and share > 0:
        value = max(0.0, vehicle.gvwr.si - alone) / share
    made.append(
        Allowance(
            "vehicle {vehicle_rating} less loaded vehicle",
            value,
            "({vehicle_rating} - V) / {tongue_share}",
            "vehicle.gvwr",
        )
    )
    others = [_without_tongue(case) for case in computed.cases]
    known = [v for v in others if v is not None]
    placard, value = vehicle.placard_capacity, None
    if placard is not None and len(known) == len(others) and known and share is not None and share > 0:
        value = max(0.0, placard.si - max(known)) / share
    words, formula = "placard less people and cargo", "(placard - people - cargo - gear) / {tongue_share}"
    return [*made, Allowance(words, value, formula, "vehicle.placard_capacity")]


def _without_tongue(case: CaseResult) -> float | None:
    used, tongue = case.figures["placard_used"].value, case.figures["tongue_weight"].value
    return None if used is None or tongue is None else used - tongue


def figures_of(made: Sequence[Allowance]) -> dict[str, Figure]:
    """Make the figure ``allowed_trailer`` [kg]: the smallest of what is known.

    It is unknown unless every rating is known, as the missing one could be the lowest.

    Args:
        made: allowances, smallest first [kg].

    Source: only the lowest rating counts.
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
