"""Checks of trailer brakes and their wiring that hold wherever the rig goes."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from cardgen.limits.cite import cite
from cardgen.limits.compare import judge, plain, up_to
from cardgen.limits.facts import places
from cardgen.limits.registry import Context, rule, unknown
from cardgen.model.results import Basis, Finding, Outcome
from cardgen.physics import brakes as physics
from cardgen.physics.needs import need
from cardgen.tables import law
from cardgen.tables.exact import FOOT
from cardgen.tables.facts import Facts
from cardgen.tables.lookup import holds
from cardgen.tables.wire import automotive_area

ELECTRIC = ("electric", "electric_hydraulic")
RESTED = 12.6
"""Rested voltage of a full 12 V lead-acid battery [V]; common practice, no source."""
THIN = 12
"""Thinnest brake feed that is advised, American wire gauge; common practice, no source."""
THIN_LONG = 10
"""The same for long feeds or three axles; common practice, no source."""
LOSS = 0.15
"""Share of the supply's voltage that a feed may take before it is called too thin; a project choice, no source."""
LONG = 25 * FOOT
"""One-way length from which a feed counts as long [m], 25 ft; common practice, no source."""


TEXTS = {
    "us": ("breakaway-15-min", "law-ca-us-breakaway"),
    "uk": ("law-uk-secondary",),
    "eu": ("law-eu-categories",),
    "au": ("law-au-brakes",),
    "nz": ("law-nz-brakes",),
}
"""Texts that speak of breakaway devices, by market."""


@rule(
    "brakes-known",
    "the kind of brakes is known",
    Basis.GUIDANCE,
    "needed by the rules of the places travelled",
    "Whether brakes are required depends on the place and on the loaded trailer; the file must say what is fitted.",
    fields=("trailer.brakes.kind",),
)
def brakes_known(context: Context) -> Iterable[Finding]:
    """Ask for the kind of brakes when the file does not say it [-]."""
    if context.rig.trailer.brakes.kind is None:
        yield unknown("brakes-known", (need("trailer.brakes.kind"),))


@rule(
    "brake-controller",
    "electric brakes have a controller",
    Basis.PHYSICS,
    "electric brakes do nothing without one",
    "Electric trailer brakes are worked from the vehicle by a brake controller. It is set by a test on the road "
    "for the load of the day.",
    fields=("vehicle.brake_controller.fitted",),
)
def brake_controller(context: Context) -> Iterable[Finding]:
    """Say whether a controller is fitted when the trailer has electric brakes [-]."""
    if context.rig.trailer.brakes.kind not in ELECTRIC:
        return
    has = context.rig.vehicle.brake_controller.fitted
    if has is None:
        yield unknown("brake-controller", (need("vehicle.brake_controller.fitted"),))
        return
    words = "a brake controller is fitted"
    if not has:
        words = "electric brakes, but no brake controller in the vehicle: the trailer's brakes will not work"
    yield plain("brake-controller", Outcome.WITHIN if has else Outcome.CLOSE, words, critical=False)


@rule(
    "breakaway",
    "a braked trailer has a breakaway device",
    Basis.GUIDANCE,
    cite("breakaway-15-min", "law-ca-us-breakaway"),
    "If the coupling fails, a switch or cable pulled by the vehicle sets the trailer's brakes. Many places demand "
    "it; where one of the places travelled does, that check says so and counts. Hook it to the vehicle, not to "
    "the {ball_mount} or the chains.",
    fields=("trailer.breakaway.fitted",),
)
def breakaway(context: Context) -> Iterable[Finding]:
    """Say whether a breakaway device is fitted to a trailer with brakes [-]."""
    trailer = context.rig.trailer
    if trailer.brakes.kind in (None, "none"):
        return
    fitted, words = trailer.breakaway.fitted, cite(*TEXTS.get(context.rig.market, ("breakaway-15-min",)))
    if fitted is None:
        yield unknown("breakaway", (need("trailer.breakaway.fitted"),), critical=False)
        return
    told, outcome = "fitted", Outcome.WITHIN
    if not fitted and _held(context):
        told = "a {safety_chains} instead, as the rule here allows"
    elif not fitted:
        told, outcome = "brakes without a breakaway device: have one fitted", Outcome.CLOSE
    yield plain("breakaway", outcome, told, critical=False, source=words)


def _held(context: Context) -> bool:
    """Whether the market's own rule takes a secondary coupling for a breakaway device on such a trailer."""
    trailer = context.rig.trailer
    weight = None if trailer.gvwr is None else trailer.gvwr.si
    facts = Facts(gvwr=weight, breakaway=False, secondary_coupling=trailer.secondary_coupling)
    found = [c for c in law.rules(context.rig.market, "breakaway") if law.evaluate(c, facts) is True]
    return bool(found) and all(law.satisfied(c, facts) is True for c in found)


@rule(
    "breakaway-battery",
    "breakaway battery holds the brakes long enough",
    Basis.PHYSICS,
    cite("breakaway-15-min", "brake-magnets")
    + "; [uk eu au nz: 15 minutes from the one text that was read, of the US; ]charge is current times time",
    "Brakes set by the {breakaway} must hold 15 minutes. The battery must hold at least the magnets' current "
    "times that time. Capacity sinks at large currents; an estimate of that (Peukert's rule, exponent from memory) "
    "only ever warns. Test it: pull the pin, the wheels lock; the rested battery reads 12.6 V or more. An over "
    "forbids towing where a place travelled demands the device by a law text that was read.",
    fields=("trailer.brakes.drum", "trailer.brakes.braked_axles", "trailer.breakaway.battery"),
)
def breakaway_battery(context: Context) -> Iterable[Finding]:
    """Compare magnet current times 15 minutes [C] with the battery's charge [C]."""
    rig, code = context.rig, "breakaway-battery"
    if rig.trailer.brakes.kind not in ELECTRIC or rig.trailer.breakaway.fitted is False:
        return
    circuit = context.computed.wiring.breakaway
    if rig.trailer.brakes.kind != "electric":
        yield unknown(code, (), "ask the maker of the brake pump for its current", critical=False)
        return
    if circuit is None or circuit.battery is None:
        needs = list(physics.circuit_needs(rig))
        needs += [need("trailer.breakaway.battery")] if rig.trailer.breakaway.battery is None else []
        yield unknown(code, needs, critical=False)
        return
    forced = any(r.force == "law" for place in places(rig) for r in law.rules(place, "breakaway"))
    thresholds = up_to(circuit.battery, context.close)
    if not forced:
        thresholds = replace(
            thresholds, over_above=None
        )  # it forbids only where a law text demands the device
    outcome = judge(thresholds, circuit.charge)
    words = "{current} for {hold} minutes"
    values = {"current": (circuit.current, "current"), "hold": (circuit.hold / 60.0, "count")}
    rested = rig.trailer.breakaway.voltage
    if outcome is not Outcome.OVER and circuit.estimate is not None and circuit.estimate < circuit.hold:
        outcome = Outcome.CLOSE
        words += "; at this current the battery may last only about {minutes} minutes (estimate)"
        values["minutes"] = (circuit.estimate / 60.0, "count")
    if rested is not None and rested.si < RESTED:
        outcome = Outcome.CLOSE if outcome is Outcome.WITHIN else outcome
        words += "; it reads {rested}, charge it to 12.6 V or more"
        values["rested"] = (rested.si, "voltage")
    yield Finding(
        code,
        "",
        outcome,
        "charge",
        circuit.charge,
        circuit.battery,
        message=words,
        values=values,
        critical=forced,
        basis=Basis.LAW if forced else Basis.PHYSICS,
        thresholds=thresholds,
    )


@rule(
    "brake-wire",
    "brake feed thick enough",
    Basis.PRACTICE,
    "[us: 12 gauge, 10 gauge over 25 ft][ca: 12 gauge, 10 gauge over 7.6 m][uk eu au nz: 2.9 mm², 4.7 mm² over 7.6 m] or with three axles: common "
    "practice, no source; at most 15 % lost: a choice of this project; " + cite("awg-b258", "j1128-area"),
    "[us ca: Automotive gauge has less copper than American wire gauge; where the file does not say by which the wire "
    "is sold, the smaller counts. ]The wire to the magnets lies in series with them and takes part of the voltage; weak "
    "brakes at the end of a long thin wire are the result.",
    fields=(
        "trailer.brakes.drum",
        "trailer.brakes.braked_axles",
        "trailer.brakes.wiring.length",
        "trailer.brakes.wiring.awg",
        "trailer.brakes.wiring.area",
    ),
)
def brake_wire(context: Context) -> Iterable[Finding]:
    """Compare gauge or copper area of the brake feed [m2] with the advised one, and what it takes [V] with the supply."""
    rig, code = context.rig, "brake-wire"
    if rig.trailer.brakes.kind != "electric":
        return
    circuit = context.computed.wiring.brakes
    length, area = rig.trailer.brakes.wiring.length, physics.wire_area(rig)
    if circuit is None or circuit.drop is None or length is None or area is None:
        needs = circuit.needs if circuit else physics.circuit_needs(rig)
        yield unknown(code, needs, critical=False)
        return
    long = length.si > LONG * (1 + 1e-9) or rig.trailer.axles.count >= 3
    gauge, stated, lost = (
        THIN_LONG if long else THIN,
        rig.trailer.brakes.wiring,
        circuit.drop / circuit.supply,
    )
    thin = area < automotive_area(gauge) * (1 - 1e-3) if stated.awg is None else stated.awg > gauge
    values = {
        "drop": (circuit.drop, "voltage"),
        "share": (lost, "fraction"),
        "left": (circuit.at_magnets or 0.0, "voltage"),
        "flows": (circuit.flows or 0.0, "current"),
        "least": (automotive_area(gauge), "area"),
    }
    words = "{flows} flows, the wire takes {drop} ({share}), {left} is left at the magnets"
    if thin:
        words += f"; {f'{gauge} gauge' if stated.awg else '{least}'} or thicker is advised"
    elif holds(lost, ">", LOSS):
        words += f"; more than {LOSS:.0%} is lost: a thicker wire is advised"
        thin = True
    if len(physics.gauge_areas(rig)) > 1:
        words += "; taken as automotive wire, the file does not say by which gauge it is sold"
    if physics.wire_contradicts(rig) and not thin:
        words += "; area and gauge contradict each other, the smaller is taken"
        either = [need(f"trailer.brakes.wiring.{name}") for name in ("area", "awg")]
        missing = [replace(one, what=f"read it again: {one.what}") for one in either]
        yield plain(code, Outcome.NOT_CHECKED, words, critical=False, values=values, needs=missing)
        return
    yield plain(code, Outcome.CLOSE if thin else Outcome.WITHIN, words, critical=False, values=values)


@rule(
    "surge-ratio",
    "{surge_brakes} against the vehicle's weight",
    Basis.COMMERCIAL_LAW,
    cite("law-fmcsa-surge"),
    "In US commercial use a trailer with {surge_brakes} may have a {trailer_rating} of at most 1.75 times the vehicle's up to "
    "12,000 lb, 1.25 times under 20,001 lb, none above. For private use it is information.",
)
def surge_ratio(context: Context) -> Iterable[Finding]:
    """Compare the trailer's GVWR [kg] with the multiple of the vehicle's [kg]; binding in commercial use only."""
    rig, code = context.rig, "surge-ratio"
    if rig.trailer.brakes.kind != "surge" or rig.market != "us" or "us-fmcsa" in places(rig):
        return  # in commercial use the rules of that place say it
    vehicle, trailer = rig.vehicle.gvwr, rig.trailer.gvwr
    if vehicle is None or trailer is None or not vehicle.si > 0:
        given = (("vehicle.gvwr", vehicle), ("trailer.gvwr", trailer))
        yield unknown(code, [need(p) for p, v in given if v is None], critical=False)
        return
    share = physics.surge_share(vehicle.si, trailer.si)
    words = "commercial rule, not binding on private use"
    if share is None:
        yield plain(
            code, Outcome.CLOSE, f"{{surge_brakes}} are not allowed from 20,001 lb: {words}", critical=False
        )
        return
    thresholds = replace(up_to(share * vehicle.si, context.close), over_above=None)  # it never forbids
    yield Finding(
        code, "", judge(thresholds, trailer.si), demand=trailer.si, capacity=share * vehicle.si,
        critical=False, thresholds=thresholds,
        message=f"{share:g} times the vehicle's {{vehicle_rating}}: {words}",
    )  # fmt: skip
