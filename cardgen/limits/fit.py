"""Checks of sizes and heights: shank, adapter, hole, level ride, coupling height, chains, plug."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from cardgen.limits.cite import cite
from cardgen.limits.compare import also, judge, plain
from cardgen.limits.registry import TONGUE_WEIGHT, Context, rule, unknown
from cardgen.model.equipment import MountOption
from cardgen.model.results import Basis, Figure, Finding, Outcome, Thresholds
from cardgen.model.rig import Rig
from cardgen.physics import hitch
from cardgen.physics.heights import FIT, opening
from cardgen.physics.load_model import ball_to_axles
from cardgen.physics.needs import need
from cardgen.physics.strength import as_mass, chains_hold
from cardgen.tables import connectors, couplings
from cardgen.units import Quantity

LEVEL = 0.0254
"""Height error up to which the trailer is called level [m], 1 in; common practice, no source."""


@rule(
    "shank-fit",
    "{ball_mount} shank in its opening",
    Basis.PHYSICS,
    "plain fit of the parts",
    "The mount's square shank must be the {receiver}'s size, or an adapter must carry the difference, and then the "
    "adapter's lower rating counts.",
    fields=("gear.mount.shank", "gear.adapter.inside", "vehicle.receiver.opening"),
)
def shank_fit(context: Context) -> Iterable[Finding]:
    """Compare shank and opening [m], to half a millimetre."""
    if not _has_mount(context.rig):
        return
    gear = context.rig.gear
    path = "vehicle.receiver.opening" if gear.adapter is None else "gear.adapter.inside"
    shank = gear.mount.shank if gear.mount else None
    yield _pair("shank-fit", (shank, "gear.mount.shank"), (opening(context.rig), path))


@rule(
    "adapter-fit",
    "adapter in the {receiver}",
    Basis.PHYSICS,
    "plain fit of the parts",
    "A reducer sleeve or an extension must fit the {receiver}; its lower rating counts, and an extension moves the "
    "ball rearward, so measure the overhang with it.",
    fields=("gear.adapter.outside", "vehicle.receiver.opening"),
)
def adapter_fit(context: Context) -> Iterable[Finding]:
    """Compare the adapter's outside and the receiver's opening [m], to half a millimetre."""
    adapter, receiver = context.rig.gear.adapter, context.rig.vehicle.receiver
    if adapter is None or not _has_mount(context.rig):
        return
    size = receiver.opening if receiver else None
    found = _pair(
        "adapter-fit", (adapter.outside, "gear.adapter.outside"), (size, "vehicle.receiver.opening")
    )
    if adapter.kind == "extension":
        words = "it moves the ball rearward: the overhang counts with it fitted"
        found = replace(found, message=also(found.message, words))
    yield found


@rule(
    "ball-hole-fit",
    "ball shank in the mount's hole",
    Basis.PHYSICS,
    "plain fit of the parts[us: ; lock washer or the like under the nut: WAC 204-70-050]",
    "The ball's shank must be the size of the mount's hole, with a lock washer under a nut that is torqued.",
    fields=("gear.ball.shank", "gear.mount.hole"),
)
def ball_hole_fit(context: Context) -> Iterable[Finding]:
    """Compare the ball's shank and the mount's hole [m], to half a millimetre."""
    if not _has_mount(context.rig):
        return
    gear = context.rig.gear
    hole, shank = gear.mount.hole if gear.mount else None, gear.ball.shank if gear.ball else None
    yield _pair("ball-hole-fit", (shank, "gear.ball.shank"), (hole, "gear.mount.hole"))


def _has_mount(rig: Rig) -> bool:
    if rig.alone == "trailer" and rig.gear.mount is None:
        return False  # the vehicle brings it, or has a fixed ball
    return rig.trailer.type == "ball" and not (rig.vehicle.receiver and rig.vehicle.receiver.fixed_ball)


Side = tuple[Quantity | None, str]
NAMED = (0.05, 0.0508)
"""Square tubes that go by either name, whatever they measure [m]: trade habit, from memory."""


def _pair(code: str, inner: Side, outer: Side) -> Finding:
    a, b = inner[0], outer[0]
    if a is None or b is None:
        needs = tuple(need(path) for value, path in (inner, outer) if value is None)
        return Finding(code, "", Outcome.NOT_CHECKED, needs=needs)
    fits = abs(a.si - b.si) <= FIT
    if not fits and code != "ball-hole-fit" and {round(a.si, 5), round(b.si, 5)} == {*NAMED}:
        words = "50 mm and 2 in are names of one size as well: measure both in one unit"
        return unknown(code, (need(inner[1]), need(outer[1])), words)
    words = "{inner} fits {outer}" if fits else "{inner} does not fit {outer}"
    if not fits and a.si < b.si:
        words += "; only a sleeve of the part's own maker may fill the gap"
    values = {"inner": (a.si, "ball"), "outer": (b.si, "ball")}
    return plain(code, Outcome.WITHIN if fits else Outcome.OVER, words, values=values)


@rule(
    "mount-height",
    "trailer rides level",
    Basis.GUIDANCE,
    "plane geometry; no standard tolerance was found, 1 in (25 mm) is common practice, no source",
    "The ball or bed hitch should bring the {coupler} to the height at which the trailer is level, with the "
    "trailer coupled and the vehicle's rear settled. The check needs the squat: measured, or from stated axle rates.",
    fields=(
        "vehicle.receiver.height_hitched",
        "vehicle.receiver.height",
        "trailer.coupler.height",
        "trailer.coupler.height_at",
        "gear.mount.drop",
        "vehicle.front_axle_rate",
        "vehicle.rear_axle_rate",
        "vehicle.bed_hitch.height",
        "gear.ball.height",
        "gear.ball.diameter",
        "vehicle.receiver.ball_height",
        "vehicle.wheelbase",
        "vehicle.overhang",
        "gear.weight_distribution.restoration",
        *TONGUE_WEIGHT,
    ),
)
def mount_height(context: Context) -> Iterable[Finding]:
    """Judge how far off level the trailer stands in each case [m]; more than 25.4 mm is called close."""
    drop = context.computed.figures.get("drop_needed")
    found = [(case.name, case.figures["height_error"]) for case in context.computed.cases]
    known = [(f.value, name) for name, f in found if f.value is not None]
    error, worst = max(known, key=lambda one: abs(one[0]), default=(0.0, ""))
    level, needs = abs(error) <= LEVEL + 1e-9, [n for _, figure in found for n in figure.needs]
    if level and (needs or not known):
        words, values = _without_squat(context.rig, drop)
        yield replace(unknown("mount-height", needs, words, critical=False), values=values)
        return
    values = {"off": (abs(error), "height")}
    words = "the coupling stands {off} " + ("high" if error > 0 else "low")
    if drop is not None and drop.value is not None:
        values["needed"] = (abs(drop.value), "height")
        words = "needs {needed} " + ("drop" if drop.value >= 0 else "rise") + "; " + words
    length = ball_to_axles(context.rig)
    if length is not None:
        values["pitch"] = (abs(hitch.trailer_pitch(error, length.si)), "angle")
        words += ", trailer {pitch} off level"
    other = min((value for value, _ in known), key=lambda value: value * error)
    several = abs(other - error) > FIT
    if several:
        values["other"] = (abs(other), "height")
        words += "; in another case {other} " + ("high" if other > 0 else "low")
    middle = error if drop is None else _off_middle(context.rig, drop)
    better = None if level else _better(context.computed.mounts, middle)
    if better is not None:
        words += f"; '{better.name}' on the shelf comes nearer"
    outcome = Outcome.WITHIN if level else Outcome.CLOSE
    made = plain("mount-height", outcome, words, critical=False, values=values)
    yield replace(made, case=worst if several else "")


def _off_middle(rig: Rig, drop: Figure) -> float | None:
    """How far the mount in use is off the drop that suits all cases best [m]."""
    mount = rig.gear.mount
    return None if drop.value is None or mount is None or mount.drop is None else drop.value - mount.drop.si


def _without_squat(rig: Rig, drop: Figure | None) -> tuple[str, dict[str, tuple[float, str]]]:
    """Say what can be said before the rear's squat is known."""
    off = None if drop is None else _off_middle(rig, drop)
    if drop is None or drop.value is None or off is None:
        return "", {}
    values = {"off": (abs(off), "height"), "needed": (abs(drop.value), "height")}
    words = "without the squat it needs {needed} " + ("drop" if drop.value >= 0 else "rise")
    return words + " and the ball sits {off} " + ("high" if off > 0 else "low"), values


def _better(options: tuple[MountOption, ...], error: float | None) -> MountOption | None:
    usable = [o for o in options if not o.fitted and not o.obstacles and o.error is not None]
    best = min(usable, key=lambda o: abs(o.error or 0.0), default=None)
    nearer = best is not None and error is not None and abs(best.error or 0.0) < abs(error)
    return best if nearer else None


@rule(
    "coupling-height",
    "coupling height within the published band",
    Basis.GUIDANCE,
    cite("coupling-height-eu", "ball-height-eu"),
    "In Europe the center of the {coupling_head} stands 430 mm plus or minus 35 mm above the ground with the trailer "
    "level, and the center of the ball 350 to 420 mm with the vehicle laden (not for off-road vehicles).",
    fields=(
        "trailer.coupler.height",
        "trailer.coupler.height_at",
        "gear.ball.diameter",
        "vehicle.receiver.ball_height",
    ),
)
def coupling_height(context: Context) -> Iterable[Finding]:
    """Compare the center of coupling head and ball [m] with the bands of the market [m]."""
    rig = context.rig
    if rig.trailer.type != "ball":
        return
    ball = rig.gear.ball.diameter if rig.gear.ball else rig.trailer.coupler.ball
    top = context.computed.figures["ball_height_needed"]
    head = top.value - ball.si / 2.0 if top.value is not None and ball is not None else None
    needs = [*top.needs, *([need("gear.ball.diameter")] if ball is None else [])]
    fixed = rig.vehicle.receiver.ball_height if rig.vehicle.receiver else None
    for what, centre, missing in (
        ("coupling_head", head, needs),
        ("ball_centre", fixed.si if fixed else None, [need("vehicle.receiver.ball_height")]),
    ):
        band = couplings.height_band(what, rig.market)
        is_fixed = rig.vehicle.receiver is not None and rig.vehicle.receiver.fixed_ball
        if band is None or (what == "ball_centre" and not is_fixed):
            continue
        code, title = f"coupling-height-{what.split('_')[1]}", f"height of the {what.replace('_', ' ')}"
        if centre is None:
            yield Finding(code, title, Outcome.NOT_CHECKED, needs=tuple(missing), critical=False)
            continue
        thresholds = Thresholds(close_above=band.high, close_below=band.low)  # guidance never forbids
        outcome = judge(thresholds, centre)
        yield Finding(
            code, title, outcome, "height", centre, band.high, band.low,
            source=cite(band.source), critical=False, thresholds=thresholds,
            message="" if outcome is Outcome.WITHIN else "outside the published band: measure again, ask the maker",
        )  # fmt: skip


@rule(
    "chains",
    "each safety chain is strong enough",
    Basis.STANDARD,
    cite("j684-chains", "comar-classes"),
    "Each chain with its hook must hold the class minimum on its own; above 5,000 lb that is the trailer's {trailer_rating}. "
    "Some places let the chains add up, others do not; here each counts alone. The figure is a breaking "
    "strength, never compare it with a working load.",
    fields=("trailer.chains.count", "trailer.chains.strength", "trailer.gvwr"),
)
def chains(context: Context) -> Iterable[Finding]:
    """Compare each chain's breaking strength [kg] with the least for the trailer's GVWR [kg]."""
    rig = context.rig
    if rig.trailer.type == "fifth_wheel" or rig.market not in ("us", "ca"):
        return
    stated, gvwr = rig.trailer.chains, rig.trailer.gvwr
    if stated.count is None or stated.strength is None or gvwr is None:
        given = (
            ("trailer.chains.count", stated.count),
            ("trailer.chains.strength", stated.strength),
            ("trailer.gvwr", gvwr),
        )
        yield unknown("chains", [need(p) for p, v in given if v is None])
        return
    each, least = as_mass(stated.strength), couplings.chain_minimum(gvwr.si)
    words = "{count} chains; each needs {least} breaking strength, has {strength}"
    if stated.count < 2:
        words = "{count} chain; two are needed, each of {least} breaking strength"
    values = {
        "least": (least, "mass"),
        "strength": (each, "mass"),
        "count": (float(stated.count), "count"),
    }
    strong = stated.count >= 2 and chains_hold(each, stated.count, least, "each")
    outcome = (
        Outcome.WITHIN if strong else Outcome.CLOSE
    )  # a standard never forbids; laws of places have checks
    yield Finding(
        "chains", "", outcome, demand=least, capacity=each, message=words, values=values, critical=False
    )


@rule(
    "connector",
    "plug and socket match",
    Basis.PHYSICS,
    cite("four-flat", "seven-blade", "iso-11446", "iso-1724"),
    "The trailer's plug must be of the vehicle socket's kind, or an adapter must be carried; a few sockets take a "
    "plug with fewer pins. Electric brakes need "
    "a circuit in both. An adapter passes on what both have and no more: the battery line and the wire of reverse "
    "lamps or lock-out can end there. Pin functions go by number or clock position; wire colours follow several "
    "habits.",
    fields=("trailer.connector", "vehicle.connector", "trailer.brakes.kind"),
)
def connector(context: Context) -> Iterable[Finding]:
    """Compare the kinds of plug and socket [-] and whether the brakes have a circuit."""
    rig = context.rig
    plug, socket = rig.trailer.connector, rig.vehicle.connector
    electric = rig.trailer.brakes.kind in ("electric", "electric_hydraulic")
    blind = next((n for n in (plug, socket) if n and connectors.has_brake_circuit(n) is False), None)
    stated = ((plug, "plug"), (socket, "socket"))
    ends = [f"{connectors.connector(name).words} {end}" for name, end in stated if name]
    pair = ", ".join(ends)
    if electric and blind is not None:
        yield plain("connector", Outcome.OVER, f"{pair}: no circuit for the electric brakes")
        return
    if plug is None or socket is None:
        given = (("trailer.connector", plug), ("vehicle.connector", socket))
        yield unknown("connector", [need(p) for p, v in given if v is None])
        return
    feeds = [connectors.has_brake_circuit(name) for name in (plug, socket)]
    taken = connectors.taken(plug, socket)
    if not connectors.compatible(plug, socket) and not taken and not rig.gear.plug_adapter:
        words = f"{pair}: they do not fit; carry an adapter"
        if rig.gear.plug_adapter is None:
            yield unknown("connector", (need("gear.plug_adapter"),), words)
        else:
            yield plain("connector", Outcome.OVER, words)
    elif rig.trailer.brakes.kind is None and (blind or None in feeds):
        words = f"{pair}: whether that carries the brakes depends on their kind"
        yield unknown("connector", (need("trailer.brakes.kind"),), words)
    elif electric and None in feeds:
        words = f"{pair}: whether the brakes have a circuit depends on the vehicle"
        yield unknown("connector", (need("vehicle.connector"),), words)
    elif connectors.compatible(plug, socket):
        yield plain("connector", Outcome.WITHIN, f"{' and '.join(ends)} match")
    elif taken and not rig.gear.plug_adapter:
        words = f"{pair}: as a rule such a plug goes into this socket (from memory): try it with every lamp"
        yield plain("connector", Outcome.CLOSE, words, critical=False)
    else:
        words, lost = f"{' to '.join(ends)} with the adapter carried", _lost(rig, plug, socket)
        if lost:
            words += f", which ends {' and '.join(lost)}"
        yield plain("connector", Outcome.CLOSE if lost else Outcome.WITHIN, words, critical=not lost)


def _lost(rig: Rig, plug: str, socket: str) -> list[str]:
    """Circuits that the plug has or may have and the socket has not [-]; brakes are judged before."""
    surge = rig.trailer.brakes.kind == "surge"
    reverse = (
        "the reverse wire: lock the {surge_brakes} out by hand to back up" if surge else "the reverse lamps"
    )
    told: tuple[tuple[connectors.Circuit, str], ...] = (
        ("charge", "the battery line"),
        ("reverse", reverse),
    )
    return [
        words
        for circuit, words in told
        if connectors.carries(plug, circuit) is not False and connectors.carries(socket, circuit) is False
    ]
