"""Which readings would tell more about a rig on its next visit to the scale."""

from __future__ import annotations

from cardgen.model.needs import Need
from cardgen.model.rig import Rig
from cardgen.physics.needs import need


def missing(rig: Rig, index: int, known: frozenset[str]) -> tuple[Need, ...]:
    """List the readings that were not taken and what each would tell.

    Args:
        rig: the rig.
        index: number of the weighing, from 0 [-].
        known: ids of the figures that this weighing gives [-].

    Returns:
        Needs in the order of their use; few readings that complete a figure come first.

    Source: see ``ways``: which readings each way uses.
    """
    path, weighing = f"weighings[{index}]", rig.weighings[index]
    wanted: list[tuple[str, str]] = []
    slack, alone = weighing.slack, weighing.alone
    if "tongue_weight" not in known:
        if (weighing.jack is not None or weighing.beam is not None) and weighing.jack_behind_coupler is None:
            wanted.append(("jack_behind_coupler", "{coupling_load}"))
        elif slack.front is not None and slack.rear is not None:
            wanted += [(f"alone.{n}", "{coupling_load}") for n in ("front", "rear") if not getattr(alone, n)]
        elif "trailer_axle_load" in known:
            wanted.append(("trailer_alone", "{coupling_load}"))
        else:
            wanted.append(("coupler", "{coupling_load}"))
    if weighing.beam is not None and weighing.beam.beam_only is None:
        wanted.append(("beam.beam_only", "{coupling_load} by the beam"))
    if "trailer_weight" not in known:
        name = "slack.trailer" if "tongue_weight" in known else "trailer_alone"
        wanted.append((name, "weight of the trailer"))
    if "vehicle_alone" not in known:
        wanted += [
            (f"alone.{n}", "the vehicle without the trailer")
            for n in ("front", "rear")
            if not getattr(alone, n)
        ]
    if rig.gear.weight_distribution is not None and "distribution_moment" not in known:
        for state, taken in (("slack", slack), ("engaged", weighing.engaged)):
            wanted += [
                (f"{state}.{n}", "what the weight distribution moves")
                for n in ("front", "trailer")
                if getattr(taken, n) is None and not (n == "trailer" and taken.axles)
            ]
    count = rig.trailer.axles.count
    if count > 1 and not (slack.axles or weighing.engaged.axles):
        wanted.append(("slack.axles", "what each trailer axle carries"))
    if "side_difference" not in known:
        wanted.append(("wheels", "left against right"))
    if weighing.division is None:
        wanted.append(("division", "how sure the readings are"))
    unique = dict(reversed(wanted))
    ordered = [name for name, _ in wanted]
    return tuple(_need(f"{path}.{name}", unique[name]) for name in dict.fromkeys(ordered))


def _need(path: str, tells: str) -> Need:
    plain = need(path)
    return Need(path, f"{plain.what} (tells: {tells})", plain.where)
