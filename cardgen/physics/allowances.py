"""The weakest link: the largest trailer that each rated part allows, and which part governs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from cardgen.model.results import Allowance, CaseResult, Computed, Figure, Need, Term
from cardgen.model.rig import Rig
from cardgen.physics import figures, labels, strength, wheels
from cardgen.physics.links import Part, trailer_parts
from cardgen.physics.links import tongue_parts as tongue_parts  # handed on to the cards
from cardgen.physics.load_model import ball_to_axles
from cardgen.physics.needs import need
from cardgen.physics.weighing import weigh
from cardgen.units import Quantity

SLACK = 1e-9
OWN_RATING = "its trailer rating"
"""How a rating for the whole trailer becomes an allowance [-]."""
AS_LOADED = (
    "{tongue_rating} / this rig's {tongue_share}: where it is full as loaded now; no rating of the trailer"
)
"""How a rating of the tongue tells where it is full; loads moved, a heavier trailer is inside it too [-]."""


@dataclass(frozen=True, slots=True)
class Bound:
    """One rated limit of a loading case: ``base + by_weight W + by_tongue T <= limit``.

    Args:
        part: label of the part [-].
        limit: its rating [kg]; None when unknown.
        path: field path of the rating [-].
        base: what rests on it beside trailer and tongue [kg]; None when unknown.
        by_weight, by_tongue: what each unit of trailer weight W and tongue T adds [-].
        formula: how a trailer follows from it [-].
        needs: what is missing.

    Source: ``statics``, linear in both.
    """

    part: str
    limit: float | None
    path: str
    base: float | None
    by_weight: float
    by_tongue: float
    formula: str
    needs: tuple[Need, ...] = ()

    def trailer(self, share: float, most: float = float("inf")) -> float | None:
        """Largest trailer at a tongue share [kg]; infinite where a heavier one does no harm, None if unknown.

        Args:
            share: tongue over trailer [-].
            most: the tongue that its own ratings allow [kg]; a heavier trailer is loaded to keep to it.

        Source: the bound solved for W with T a share of it, but no more than ``most``.
        """
        if self.limit is None or self.base is None:
            return None
        left, slope = self.limit - self.base, self.by_weight + self.by_tongue * share
        at_share = max(0.0, left / slope) if slope > SLACK else float("inf")
        if share <= 0.0 or at_share * share <= most:
            return at_share
        if self.by_weight > SLACK:
            return (left - self.by_tongue * most) / self.by_weight
        return float("inf")

    def exceeded(self, weight: float, tongue: float) -> bool:
        """Whether a trailer of a weight [kg] and its tongue [kg] is more than the limit.

        Args:
            weight: the trailer [kg].
            tongue: its tongue weight [kg].

        Source: the bound.
        """
        if self.limit is None or self.base is None:
            return False
        return self.base + self.by_weight * weight + self.by_tongue * tongue > self.limit * (1.0 + SLACK)

    def tongue(self, weight: float) -> float | None:
        """Tongue at which the limit is reached with a trailer of a weight [kg]; None when unknown or never.

        Args:
            weight: the trailer [kg].

        Source: the bound solved for T.
        """
        if self.limit is None or self.base is None or abs(self.by_tongue) <= SLACK:
            return None
        return (self.limit - self.base - self.by_weight * weight) / self.by_tongue


def allowances(
    computed: Computed, limits: Mapping[str, Sequence[Bound]], least: float
) -> tuple[Allowance, ...]:
    """List what each rated part allows, smallest first; unknown ratings last [kg].

    What is rated for the tongue alone is kept by its own instruction and is no rating of the trailer: it tells where
    it is full as loaded now (``AS_LOADED``), and no trailer may ask for less than ``least`` on it.

    Args:
        computed: with figures of the cases [kg]; people, cargo and tongue share of each
            case are kept as they are, and the case that allows least counts.
        limits: the bounds of each case, by its name.
        least: tongue share below which a check is over [-].

    Source: only the lowest rating counts.
    """
    rig = computed.rig
    made = [*(_plain(part) for part in _own_ratings(rig)), *_d_values(rig), *_by_cases(computed, limits)]
    plates = [(q.si, path) for _, q, path in tongue_parts(rig) if q is not None]
    if plates and least > 0:
        plate, path = min(plates)
        words = "lowest {tongue_rating} / least {tongue_share} that is not over"
        made.append(Allowance("{tongue_load} at its least share", plate / least, words, path))
    return _in_order(made)


def _in_order(made: Sequence[Allowance]) -> tuple[Allowance, ...]:
    return tuple(sorted(made, key=lambda a: (a.trailer is None, round(a.trailer or 0.0, 6))))


def with_more(computed: Computed, more: Sequence[Allowance]) -> Computed:
    """Put allowances among those of the rated parts, and make ``allowed_trailer`` anew [kg].

    Args:
        computed: with allowances and figures [kg].
        more: what else allows no heavier trailer [kg].

    Source: only the lowest counts.
    """
    made = _in_order([*computed.allowances, *more])
    words = "largest trailer that every rated part and every rule read allows"
    return replace(computed, allowances=made, figures={**computed.figures, **figures_of(made, words)})


def _by_cases(computed: Computed, limits: Mapping[str, Sequence[Bound]]) -> list[Allowance]:
    """The trailer that each bound allows in the case that allows least [kg]."""
    least: dict[str, Allowance] = {}
    for case in computed.cases:
        made, share = limits[case.name], case.figures["tongue_share"]
        rated = [b.limit for b in made if b.formula == AS_LOADED and b.limit is not None]
        most = min(rated, default=float("inf"))
        tops = [_top(b, share, float("inf") if b.formula == AS_LOADED else most) for b in made]
        top = min(
            (t for t, b in zip(tops, made, strict=True) if t is not None and b.formula != AS_LOADED),
            default=0.0,
        )
        for bound, value in zip(made, tops, strict=True):
            if value == float("inf"):
                if share.value is None or not bound.exceeded(top, min(top * (_worst(share) or 0.0), most)):
                    continue
                value = 0.0  # no trailer at this share brings the part inside
            missing = next((n.path for n in (*bound.needs, *share.needs)), bound.path)
            path = bound.path if value is not None or bound.limit is None else missing
            one, known = Allowance(bound.part, value, bound.formula, path), least.get(bound.part)
            if known is None or (known.trailer is not None and (value is None or value < known.trailer)):
                least[bound.part] = one
    return list(least.values())


def _top(bound: Bound, share: Figure, most: float) -> float | None:
    if share.value is None:
        return bound.trailer(0.0) if not bound.by_tongue else None
    return bound.trailer(_worst(share, -1.0 if bound.by_tongue < 0 else 1.0) or 0.0, most)


def _worst(figure: Figure, sign: float = 1.0) -> float | None:
    """The value, or that by the file alone where it differs from a weighing and is worse: the most, or with -1 the least."""
    if figure.value is None or figure.rival is None:
        return figure.value
    return max((figure.value, figure.rival[0]), key=lambda v: sign * v)


def bounds(computed: Computed, case: CaseResult) -> list[Bound]:
    """List every rated limit that tongue or trailer weight bears on in a loading case.

    Args:
        computed: the rig; of its figures only those of the case are used [kg].
        case: the loading case.

    Source: ``statics`` (how trailer and tongue rest on each axle).
    """
    rig, vehicle = computed.rig, computed.rig.vehicle
    made = [
        Bound(f"{words}, {{tongue_load}}", _si(rating), path, 0.0, 0.0, 1.0, AS_LOADED)
        for words, rating, path in (*tongue_parts(rig), *_own_tongue(rig))
    ]
    alone = case.figures["vehicle_alone"]
    made += [
        Bound(
            "{combination_rating} less loaded vehicle", _si(vehicle.gcwr), "vehicle.gcwr", _worst(alone), 1.0, 0.0,
            "{combination_rating} - V", alone.needs,
        ),
        Bound(
            "vehicle {vehicle_rating} less loaded vehicle", _si(vehicle.gvwr), "vehicle.gvwr", _worst(alone), 0.0, 1.0,
            "({vehicle_rating} - V) / {tongue_share}", alone.needs,
        ),
    ]  # fmt: skip
    placard = vehicle.placard_capacity
    has_one = placard.kind == "mass" if placard is not None else rig.market in ("us", "ca")
    if has_one:
        used, tongue = case.figures["placard_used"], case.figures["tongue_weight"]
        most = _worst(used)
        base = None if most is None or tongue.value is None else most - tongue.value
        made.append(
            Bound(
                "placard less people and cargo", _si(placard), "vehicle.placard_capacity", base,
                0.0, 1.0, "(placard - people - cargo - gear) / {tongue_share}", used.needs,
            )
        )  # fmt: skip
    return [*made, *_on_plate(rig, case), *_on_axles(computed, case)]


def _on_plate(rig: Rig, case: CaseResult) -> Iterator[Bound]:
    """What label or papers leave for cargo, and the rating of all trailer axles together, bars slack and engaged."""
    cargo, weight = labels.load_of_label(rig, case), case.figures["trailer_weight"].value
    if cargo is not None:
        limit, used = cargo
        yield Bound(
            "trailer {cargo_label}", limit, "trailer.cargo_capacity",
            None if used.value is None or weight is None else used.value - weight,
            1.0, 0.0, "today's weight + what the {cargo_label} leaves", used.needs,
        )  # fmt: skip
    for name in ("trailer_axle_load", "trailer_axles_engaged"):
        if rig.trailer.gtm is not None and name in case.figures:
            by_weight, by_tongue = _levers(rig, case, name)
            words = "{axle_group} / (1 - {tongue_share})"
            words += ", with what the bars move" if name.endswith("engaged") else ""
            yield Bound(
                "trailer {axle_group}", _si(rig.trailer.gtm), "trailer.gtm", _base(case, name, by_weight, by_tongue),
                by_weight, by_tongue, words, case.figures[name].needs,
            )  # fmt: skip


def _own_tongue(rig: Rig) -> list[Part]:
    own = rig.limits.tongue_weight
    path = "limits.tongue_weight.high"
    return [] if own is None or own.high is None else [("owner's limit", own.high, path)]


def _si(rating: Quantity | None) -> float | None:
    return None if rating is None else rating.si


def _on_axles(computed: Computed, case: CaseResult) -> Iterator[Bound]:
    """Every axle and its tires, bars slack and engaged."""
    rig = computed.rig
    axles, gawr = rig.trailer.axles, rig.vehicle.gawr
    alone = replace(computed, cases=(case,))
    tires = wheels.plans(alone)
    for position, words in (("trailer", "trailer"), ("front", "vehicle front"), ("rear", "vehicle rear")):
        plan, top = tires[position], wheels.most_at_limits(alone, position)
        names = [n for n in wheels.axle_figures(rig, position) if n in case.figures]
        heaviest = max((v for n in names if (v := _worst(case.figures[n])) is not None), default=None)
        count = {"trailer": axles.tires_per_axle, "rear": rig.vehicle.tires.rear_count}.get(position) or 2
        carries = [(f"{words} tires", plan.capacity, plan.sure_load, plan.needs)]
        if top is not None:
            even = (heaviest or 0.0) / count  # an uneven load grows with the load
            most = top * even / plan.wheel_load if plan.wheel_load else None
            carries.append((f"{words} tires, at the limit of rim and valve", most, even, ()))
        for name in names:
            by_weight, by_tongue = _levers(rig, case, name)
            figure, base = case.figures[name], _base(case, name, by_weight, by_tongue)
            path, rating = f"vehicle.gawr.{position}", _si(getattr(gawr, position, None))
            if position == "trailer":
                number = int(name.split("_")[1]) - 1
                path, rating = "trailer.axles.gawr", None
                rating = axles.gawr[number].si if number < len(axles.gawr) else None
            together = (
                position == "trailer" and rating is None and rig.trailer.gtm is not None
            )  # it bounds them
            if not together and not (position == "rear" and name.endswith("engaged")):
                formula = "load that is left on each axle, with what the bars move"
                yield Bound(
                    f"{words} axles" if position == "trailer" else f"{words} axle",
                    rating, path, base, by_weight, by_tongue, formula, figure.needs,
                )  # fmt: skip
            tire = "trailer.tires" if position == "trailer" else f"vehicle.tires.{position}"
            for label, most, load, needs in carries:
                more = None if load is None or heaviest is None else max(0.0, load * count - heaviest)
                yield Bound(
                    label, None if most is None else most * count,
                    needs[0].path if most is None and needs else f"{tire}.max_load",
                    None if base is None or more is None else base + more,
                    by_weight, by_tongue, "what all tires of an axle carry, as the axle does", (*needs, *figure.needs),
                )  # fmt: skip


def _base(case: CaseResult, name: str, by_weight: float, by_tongue: float) -> float | None:
    value = _worst(case.figures[name])
    weight, tongue = case.figures["trailer_weight"].value, case.figures["tongue_weight"].value
    if value is None or (by_weight and weight is None) or (by_tongue and tongue is None):
        return None
    return value - by_weight * (weight or 0.0) - by_tongue * (tongue or 0.0)


def _levers(rig: Rig, case: CaseResult, name: str) -> tuple[float, float]:
    """What trailer and tongue weight add to an axle [-], with the share that the bars put back.

    Bars whose moment is stated move the same load whatever the trailer weighs.
    """
    wheelbase, overhang, length = rig.vehicle.wheelbase, rig.vehicle.overhang, ball_to_axles(rig)
    back = overhang.si / wheelbase.si if overhang and wheelbase and wheelbase.si > 0 else 0.0
    moved, bars, restored = 0.0, rig.gear.weight_distribution, case.figures.get("restoration")
    engaged = name.endswith("engaged") and bars is not None and bars.moment is None
    if engaged and restored and overhang and length and length.si > 0:
        moved = (restored.value or 0.0) * overhang.si / (length.si + overhang.si)
    put_back = (restored.value or 0.0) * back if engaged and restored else 0.0
    if name.startswith("trailer_axle"):
        return 1.0, moved - 1.0
    if name.startswith("axle_"):
        return 1.0 / rig.trailer.axles.count, (moved - 1.0) / rig.trailer.axles.count - _eased(rig, name)
    if name.endswith("_alone"):
        return 0.0, 0.0
    return (
        (0.0, put_back - back)
        if name.startswith(("front", "vehicle_front"))
        else (0.0, 1.0 + back - put_back - moved)
    )


def _eased(rig: Rig, name: str) -> float:
    """What an axle that no link joins loses per kg of tongue weight, as the coupling sinks under it [-]."""
    if rig.trailer.axles.suspension != "independent":
        return 0.0
    model, _ = weigh(rig)
    if not model.split.gains or model.ride.half or not model.ride.give.value:
        return 0.0
    return (model.split.gains[int(name.split("_")[1]) - 1].value or 0.0) * model.ride.give.value


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
    return Allowance(words, None if rating is None else rating.si, OWN_RATING, path)


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


def lowest(made: Sequence[Allowance], as_loaded: bool = False) -> Allowance | None:
    """The known allowance that governs, or the tongue's rating that is full first as loaded now.

    Args:
        made: allowances, smallest first [kg].
        as_loaded: whether ratings of the tongue alone are asked for, instead of all others [-].

    Source: only the lowest rating counts.
    """
    return next((a for a in made if a.trailer is not None and (a.formula == AS_LOADED) == as_loaded), None)


def figures_of(
    made: Sequence[Allowance], words: str = "largest trailer that every rated part allows"
) -> dict[str, Figure]:
    """Make the figure ``allowed_trailer`` [kg]: the smallest of what is known.

    It is unknown unless every rating is known, as the missing one could be the lowest. The ratings of the tongue are
    kept by the tongue weight beside it.

    Args:
        made: allowances, smallest first [kg].
        words: what the figure is [-].

    Source: only the lowest rating counts.
    """
    known = [a for a in made if a.trailer is not None and a.formula != AS_LOADED]
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
            words,
            "mass",
            value,
            "smallest of the ratings",
            terms,
            "only the lowest rating counts",
            needs,
        )
    }
