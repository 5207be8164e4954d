"""Results about equipment: pressure strips, wiring, connectors, labels, ball mounts."""

from __future__ import annotations

from dataclasses import dataclass

from cardgen.model.needs import Need


@dataclass(frozen=True, slots=True)
class StripRow:
    """One temperature of a pressure strip.

    Args:
        temperature: air and tire temperature [K].
        reads: what the gauge shows on a tire that was set cold at the reference; the same
            figure is what to set at this temperature (in a warm garage, say) so that the
            tire shows the card's pressure at the reference [Pa gauge].
        rule: what "1 psi per 10 F" would expect instead of ``reads`` [Pa gauge].
    """

    temperature: float
    reads: float
    rule: float


@dataclass(frozen=True, slots=True)
class AltitudeRow:
    """How much higher the gauge reads after a climb at the same air temperature.

    Args:
        altitude: height above where the tire was set, taken as sea level [m].
        rise: change of the reading [Pa].
    """

    altitude: float
    rise: float


@dataclass(frozen=True, slots=True)
class PressureStrip:
    """A set pressure against temperature and altitude.

    Args:
        position: position of the tire [-].
        pressure: cold pressure of the card [Pa gauge].
        reference: temperature at which it is meant to hold [K].
        per_step: change for 10 F (5.56 K) at the reference [Pa]; the rule says 1 psi.
        rows: temperatures in rising order.
        altitudes: climbs in rising order.
        note: words about the rule of thumb [-].
        source: where the formula comes from [-].
    """

    position: str
    pressure: float
    reference: float
    per_step: float
    rows: tuple[StripRow, ...]
    altitudes: tuple[AltitudeRow, ...]
    note: str
    source: str


@dataclass(frozen=True, slots=True)
class PinUse:
    """One pin of a connector.

    Args:
        at: clock position or number [-].
        does: function [-].
        colours: usual wire colours, which prove nothing [-].
    """

    at: str
    does: str
    colours: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Plug:
    """A connector ready to be drawn.

    Args:
        side: ``trailer`` or ``vehicle`` [-].
        id: id as the rig file writes it [-].
        words: words for people [-].
        view: how to look at it [-].
        pins: pins in order; empty when no table was read, then ``unknown`` says so [-].
        unknown: why there are no pins [-].
        source: where the functions come from [-].
    """

    side: str
    id: str
    words: str
    view: str
    pins: tuple[PinUse, ...]
    unknown: str
    source: str


@dataclass(frozen=True, slots=True)
class BrakeCircuit:
    """The feed of electric brakes, as resistances.

    Args:
        magnets: number of magnets [-].
        magnet: resistance of one, the lowest published [ohm].
        supply: voltage at the vehicle's battery [V].
        current: largest current without a conductor, for the breakaway battery [A].
        loop: resistance of supply and return [ohm]; None when the conductor is unknown.
        flows: current through the conductor [A]; None likewise.
        at_magnets: voltage at the magnets [V]; None likewise.
        drop: voltage lost in the conductor [V]; None likewise.
        source: where the figures come from [-].
        needs: what is missing.
    """

    magnets: int
    magnet: float
    supply: float
    current: float
    loop: float | None = None
    flows: float | None = None
    at_magnets: float | None = None
    drop: float | None = None
    source: str = ""
    needs: tuple[Need, ...] = ()


@dataclass(frozen=True, slots=True)
class BreakawayHold:
    """Charge a breakaway battery must give.

    Args:
        current: current of all magnets [A].
        hold: time the brakes must stay applied [s].
        charge: current times time [C].
        battery: charge on the battery's label [C]; None when unknown.
        estimate: time by Peukert's rule, an estimate that leaves out the falling
            current [s]; None when unknown.
    """

    current: float
    hold: float
    charge: float
    battery: float | None = None
    estimate: float | None = None


@dataclass(frozen=True, slots=True)
class Wiring:
    """Connectors and brake feed of a rig."""

    trailer: Plug | None = None
    vehicle: Plug | None = None
    brakes: BrakeCircuit | None = None
    breakaway: BreakawayHold | None = None


@dataclass(frozen=True, slots=True)
class LabelLine:
    """One figure of the labels.

    Args:
        id: stable name [-].
        label: words [-].
        value: the figure [SI unit of ``kind``].
        kind: kind of quantity [-].
        formula: how it follows [-].
        source: where the rule comes from [-].
        copied: text exactly as such a label prints it, whatever units the card uses [-].
    """

    id: str
    label: str
    value: float
    kind: str
    formula: str
    source: str
    copied: str = ""


@dataclass(frozen=True, slots=True)
class MountOption:
    """A ball mount of the rig or of the shelf, with what it would do.

    Args:
        name: name on the shelf [-].
        fitted: whether it is the one in use [-].
        drop: its drop, negative for a rise [m]; None when unknown.
        error: ball above (positive) or below the level height [m]; None when unknown.
        pitch: trailer off level, nose-up positive [rad]; None when unknown.
        obstacles: why it cannot be used: size or rating [-]; empty when nothing speaks against it.
    """

    name: str
    fitted: bool
    drop: float | None
    error: float | None
    pitch: float | None
    obstacles: tuple[str, ...] = ()
