"""Checks of everything between vehicle and trailer: ratings, sizes, chains, heights, plugs."""

from __future__ import annotations

from collections.abc import Iterable

from cardgen.limits.compare import at_most, demand, plain
from cardgen.limits.registry import Context, rule, unknown
from cardgen.model.results import Basis, Finding, Outcome
from cardgen.model.rig import Rig
from cardgen.physics import allowances, hitch
from cardgen.physics.needs import need
from cardgen.tables import connectors, couplings
from cardgen.units import Quantity

STAMP = "rating stamped or labelled on the part"
TONGUE_RULE = (
    "tongue weight is the static force with weight distribution slack: WAC 204-70-040(5); every hitch carries "
    "both ratings: WAC 204-70-060; "
)


@rule(
    "hitch-trailer",
    "loaded trailer against each coupling part",
    Basis.MAKER,
    STAMP,
    "Receiver, adapter, ball mount or weight-distributing hitch, ball, coupler or bed hitch: each part has a "
    "largest trailer of its own and the lowest governs.",
)
def hitch_trailer(context: Context) -> Iterable[Finding]:
    """Compare the loaded trailer [kg] with the trailer rating of each part [kg]."""
    worst = demand(context, "trailer_weight")
    for part, rating, path in trailer_parts(context.rig):
        yield at_most(
            context,
            f"hitch-trailer-{_word(part)}",
            worst,
            rating,
            path,
            title=f"loaded trailer against the {part}",
            governed_by=part,
        )


@rule(
    "hitch-tongue",
    "tongue weight against each coupling part",
    Basis.MAKER,
    TONGUE_RULE + STAMP,
    "Each part that carries the tongue has a rating for it. The static tongue weight counts, with no credit "
    "for weight distribution.",
)
def hitch_tongue(context: Context) -> Iterable[Finding]:
    """Compare the static tongue weight [kg] with the tongue rating of each part [kg]."""
    worst = demand(context, "tongue_weight")
    for part, rating, path in allowances.tongue_parts(context.rig):
        yield at_most(
            context,
            f"hitch-tongue-{_word(part)}",
            worst,
            rating,
            path,
            title=f"tongue weight against the {part}",
            governed_by=part,
        )


def _word(part: str) -> str:
    return part.replace(" ", "-")


def trailer_parts(rig: Rig) -> list[tuple[str, Quantity | None, str]]:
    """List (part, trailer rating, path) of every coupling part in use."""
    vehicle, gear, trailer = rig.vehicle, rig.gear, rig.trailer
    made: list[tuple[str, Quantity | None, str]] = []
    if trailer.type == "ball":
        column = "weight_distributing" if gear.weight_distribution is not None else "weight_carrying"
        path = f"vehicle.receiver.{column}.trailer"
        made.append(
            ("receiver", getattr(vehicle.receiver, column).trailer if vehicle.receiver else None, path)
        )
        if gear.adapter is not None:
            made.append(("receiver adapter", gear.adapter.ratings.trailer, "gear.adapter.ratings.trailer"))
        fixed = vehicle.receiver is not None and vehicle.receiver.fixed_ball
        if gear.weight_distribution is not None:
            rating = gear.weight_distribution.ratings.trailer
            made.append(("weight distribution", rating, "gear.weight_distribution.ratings.trailer"))
        elif not fixed:
            rating = gear.mount.ratings.trailer if gear.mount else None
            made.append(("ball mount", rating, "gear.mount.ratings.trailer"))
        made.append(("ball", gear.ball.rating if gear.ball else None, "gear.ball.rating"))
    else:
        rating = vehicle.bed_hitch.ratings.trailer if vehicle.bed_hitch else None
        made.append(("bed hitch", rating, "vehicle.bed_hitch.ratings.trailer"))
    made.append(("coupler", trailer.coupler.ratings.trailer, "trailer.coupler.ratings.trailer"))
    return made


@rule(
    "ball-size",
    "ball and coupler have the same size",
    Basis.PHYSICS,
    "COMAR 11.13.08.10 Table 1 (SAE J684 pattern: ball sizes by class); 50 mm is not 2 in: ISO 1103 (scope read)",
    "The size stamped on the coupler and the size stamped on the ball must be the same. A coupler on a smaller "
    "ball can latch and still jump off. 50 mm and 2 in (50.8 mm) are different sizes.",
)
def ball_size(context: Context) -> Iterable[Finding]:
    """Compare ball diameter [m] with the coupler's stamped size [m]; they must be one trade size."""
    rig = context.rig
    if rig.trailer.type == "fifth_wheel":
        return
    coupler = rig.trailer.coupler.ball
    ball = rig.gear.ball.diameter if rig.gear.ball else None
    if rig.trailer.type == "gooseneck" and ball is None:
        yield unknown("ball-size", (need("gear.ball.diameter"),))
        return
    if coupler is None or ball is None:
        needs = [
            need(p) for p, v in (("gear.ball.diameter", ball), ("trailer.coupler.ball", coupler)) if v is None
        ]
        yield unknown("ball-size", needs)
        return
    same = couplings.same_ball_size(ball.si, coupler.si)
    words = (
        "ball {ball} and coupler {coupler} match" if same else "ball {ball} does not fit coupler {coupler}"
    )
    values = {"ball": (ball.si, "ball"), "coupler": (coupler.si, "ball")}
    yield plain("ball-size", Outcome.WITHIN if same else Outcome.OVER, words, values=values)


@rule(
    "ball-wear",
    "ball worn below its size",
    Basis.GUIDANCE,
    "Reg. (EU) 44/2014 Annex V 6.5: coupling heads are tested on a 49.00 to 49.13 mm ball to stand for a worn one",
    "A worn ball lets the coupler ride up. A 50 mm ball measured at 49 mm or less is to be replaced; for other "
    "sizes the ball maker's limit counts.",
)
def ball_wear(context: Context) -> Iterable[Finding]:
    """Compare the measured ball [m] with the size that stands for a worn 50 mm ball [m]."""
    ball = context.rig.gear.ball
    if ball is None or ball.measured is None or ball.diameter is None:
        return
    if not couplings.same_ball_size(ball.diameter.si, 0.050):
        return
    worn = ball.measured.si <= couplings.worn_ball_50()
    yield plain(
        "ball-wear",
        Outcome.OVER if worn else Outcome.WITHIN,
        "the ball measures {measured}" + (": replace it" if worn else ", not worn out"),
        values={"measured": (ball.measured.si, "ball")},
    )


@rule(
    "shank-fit",
    "shank, receiver opening and ball hole fit",
    Basis.PHYSICS,
    "plain fit of the parts",
    "The mount's square shank must be the receiver's size, or an adapter must carry the difference, and then the "
    "adapter's lower rating counts. The ball's shank must be the size of the mount's hole.",
)
def shank_fit(context: Context) -> Iterable[Finding]:
    """Compare shank and opening [m], ball shank and hole [m], to half a millimetre."""
    rig = context.rig
    receiver, gear = rig.vehicle.receiver, rig.gear
    if rig.trailer.type != "ball" or (receiver is not None and receiver.fixed_ball):
        return
    opening = receiver.opening if receiver else None
    opening_path = "vehicle.receiver.opening"
    if gear.adapter is not None:
        yield from _pair(
            "adapter-fit",
            "adapter in the receiver",
            gear.adapter.outside,
            opening,
            "gear.adapter.outside",
            opening_path,
        )
        opening, opening_path = gear.adapter.inside, "gear.adapter.inside"
    mount, ball = gear.mount, gear.ball
    yield from _pair(
        "shank-fit",
        "ball mount shank in its opening",
        mount.shank if mount else None,
        opening,
        "gear.mount.shank",
        opening_path,
    )
    yield from _pair(
        "ball-hole-fit",
        "ball shank in the mount's hole",
        ball.shank if ball else None,
        mount.hole if mount else None,
        "gear.ball.shank",
        "gear.mount.hole",
    )


def _pair(
    code: str, title: str, inner: Quantity | None, outer: Quantity | None, inner_path: str, outer_path: str
) -> Iterable[Finding]:
    if inner is None or outer is None:
        needs = [need(p) for p, v in ((inner_path, inner), (outer_path, outer)) if v is None]
        made = unknown(code, needs)
        yield Finding(code, title, made.outcome, needs=made.needs)
        return
    fits = abs(inner.si - outer.si) <= 5e-4
    words = "{inner} fits {outer}" if fits else "{inner} does not fit {outer}"
    values = {"inner": (inner.si, "length"), "outer": (outer.si, "length")}
    yield plain(code, Outcome.WITHIN if fits else Outcome.OVER, words, title=title, values=values)


@rule(
    "mount-height",
    "trailer rides level on this ball mount",
    Basis.GUIDANCE,
    "plane geometry; no standard tolerance was found, 1 in (25 mm) is common practice, no source",
    "The ball should bring the coupler to the height at which the trailer is level. The check compares the "
    "mount's drop with the drop needed and prints how far off level the trailer would stand.",
)
def mount_height(context: Context) -> Iterable[Finding]:
    """Compare the mount's drop [m] with the drop needed [m]; 25.4 mm off is called close."""
    needed = context.computed.figures.get("drop_needed")
    if needed is None:
        return
    mount = context.rig.gear.mount
    if mount is None or mount.drop is None or needed.value is None:
        needs = list(needed.needs)
        if mount is None or mount.drop is None:
            needs.append(need("gear.mount.drop"))
        yield unknown("mount-height", needs, critical=False)
        return
    error = needed.value - mount.drop.si
    length = context.rig.trailer.axles.ball_to_center
    values = {"off": (abs(error), "height"), "needed": (abs(needed.value), "height")}
    words = "needs {needed} " + ("drop" if needed.value >= 0 else "rise") + "; the ball sits {off} "
    words += "high" if error > 0 else "low"
    if length is not None:
        values["pitch"] = (abs(hitch.trailer_pitch(error, length.si)), "angle")
        words += ", trailer {pitch} off level"
    outcome = Outcome.WITHIN if abs(error) <= 0.0254 + 1e-9 else Outcome.CLOSE
    yield plain("mount-height", outcome, words, critical=False, values=values)


@rule(
    "chains",
    "each safety chain is strong enough",
    Basis.STANDARD,
    "SAE J684 minimum breaking force of each chain by trailer class (secondary copy); class limits: COMAR 11.13.08.04(B)",
    "Each chain with its hook must hold the class minimum on its own; above 5,000 lb that is the trailer's GVWR. "
    "The figure is a breaking strength, never compare it with a working load.",
)
def chains(context: Context) -> Iterable[Finding]:
    """Compare each chain's breaking strength [kg] with the least for the trailer's GVWR [kg]."""
    rig = context.rig
    if rig.trailer.type == "fifth_wheel" or rig.market not in ("us", "ca"):
        return
    stated, gvwr = rig.trailer.chains, rig.trailer.gvwr
    if stated.count is None or stated.strength is None or gvwr is None:
        needs = [
            need(p)
            for p, v in (
                ("trailer.chains.count", stated.count),
                ("trailer.chains.strength", stated.strength),
                ("trailer.gvwr", gvwr),
            )
            if v is None
        ]
        yield unknown("chains", needs)
        return
    strength = stated.strength.si if stated.strength.kind == "mass" else stated.strength.si / 9.80665
    least = couplings.chain_minimum(gvwr.si)
    words = "{count} chains; each needs {least} breaking strength, has {strength}"
    values = {
        "least": (least, "mass"),
        "strength": (strength, "mass"),
        "count": (float(stated.count), "count"),
    }
    outcome = Outcome.WITHIN if strength >= least and stated.count >= 2 else Outcome.OVER
    if stated.count < 2:
        words = "{count} chain; two are needed, each of {least} breaking strength"
    yield Finding(
        "chains", "", outcome, demand=least, capacity=strength, message=words, values=values, critical=True
    )


@rule(
    "connector",
    "plug and socket match",
    Basis.PHYSICS,
    "pin functions by number or clock position: ISO 11446, ISO 1724, SAE J2863 family (secondary copies)",
    "The trailer's plug must be of the vehicle socket's kind, or an adapter must be carried. A four-way "
    "connector has no circuit for electric brakes.",
)
def connector(context: Context) -> Iterable[Finding]:
    """Compare the kinds of plug and socket [-] and whether the brakes have a circuit."""
    rig = context.rig
    plug, socket = rig.trailer.connector, rig.vehicle.connector
    if plug is None or socket is None:
        needs = [
            need(p) for p, v in (("trailer.connector", plug), ("vehicle.connector", socket)) if v is None
        ]
        yield unknown("connector", needs)
        return
    electric = rig.trailer.brakes.kind in ("electric", "electric_hydraulic")
    no_feed = electric and not (connectors.has_brake_circuit(plug) and connectors.has_brake_circuit(socket))
    if no_feed:
        yield plain(
            "connector", Outcome.OVER, f"{plug} plug, {socket} socket: no circuit for the electric brakes"
        )
    elif connectors.compatible(plug, socket):
        yield plain("connector", Outcome.WITHIN, f"{plug} plug and {socket} socket match")
    elif rig.gear.plug_adapter:
        yield plain("connector", Outcome.WITHIN, f"{plug} plug to {socket} socket with the adapter carried")
    else:
        yield plain(
            "connector",
            Outcome.OVER,
            f"{plug} plug does not fit the {socket} socket; carry an adapter",
            critical=True,
        )
