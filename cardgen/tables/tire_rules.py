"""Rules that hold for a class of tires: pressure of the maximum load, divisor, speed, age."""

from __future__ import annotations

from dataclasses import dataclass

from cardgen.tables.exact import si
from cardgen.tables.lookup import NotInTableError, read
from cardgen.tables.sources import Stated


@dataclass(frozen=True, slots=True)
class AgeStep:
    """One step of the age guidance.

    Args:
        years: age from the date code [calendar years].
        advice: what to do from then on [-].
        source: source key [-].

    Source: the key it carries; guidance, never law.
    """

    years: int
    advice: str
    source: str


@dataclass(frozen=True, slots=True)
class RearOverload:
    """How far the coupling load may overload the rear axle and tires of a car.

    Args:
        share: of the permitted load [-].
        speed: highest speed while it is used [m/s].
        pressure: extra cold pressure the rear tires need [Pa].
        source: source key [-].

    Source: the key it carries.
    """

    share: float
    speed: float
    pressure: float
    source: str


def stated_pressure(tire_type: str, extra_load: bool) -> Stated:
    """Pressure at which a passenger tire reaches its maximum load, with source.

    The sidewall of such a tire may print a higher permitted pressure (44 or 51 psi),
    which adds no load. Of the two nominal figures (psi and kPa) the higher is used.

    Args:
        tire_type: ``P`` or ``EURO`` [-].
        extra_load: marked XL, extra load or reinforced [-].

    Returns:
        Cold pressure [Pa, gauge], in words by market.

    Raises:
        NotInTableError: other classes print this pressure on the sidewall.

    Source: ``tra-max-load-pressure``, ``etrto-max-load-pressure``.
    """
    row = read("tire_rules")["max_load_pressure"].get(tire_type)
    if row is None:
        raise NotInTableError(f"{tire_type} tires: read the pressure beside the maximum load on the sidewall")
    pair = row["extra" if extra_load else "standard"]
    psi, kpa = pair
    words = f"[us nz: {psi} / {kpa}][ca au: {kpa}][uk: {psi} / {si(kpa) / 1e5:.1f} bar][eu: {si(kpa) / 1e5:.1f} bar]"
    return Stated(max(map(si, pair)), row["source"], words)


def usual_pressure(tire_type: str, load_range: str) -> Stated:
    """Usual pressure of the maximum load for a load range letter: plausibility only.

    Never a pressure to set: wide LT tires and small trailer sizes differ, and the
    same size and letter differ between makers.

    Args:
        tire_type: ``LT`` or ``ST`` (rims of 13 in and more) [-].
        load_range: letter [-].

    Returns:
        Cold pressure [Pa, gauge].

    Raises:
        NotInTableError: no row, as for ST load ranges F and G, where copies disagree.

    Source: ``tra-max-load-pressure``.
    """
    rows = read("tire_rules")["usual_pressure"].get(tire_type, {})
    letter = load_range.strip().upper()
    if len(letter) != 1 or letter not in rows:
        raise NotInTableError(f"no usual pressure for {tire_type} load range {load_range}")
    return Stated(max(map(si, rows[letter])), rows["source"], " / ".join(rows[letter]))


def load_divisor(tire_type: str, runs_on: str, market: str = "us") -> Stated:
    """Divisor of a tire's rated load: 1.10 for passenger tires off passenger cars.

    Applied once, to the rating; a maker's table that is already divided needs none.

    Args:
        tire_type: ``P``, ``EURO``, ``ST``, ``LT``, ``C`` or ``BIAS`` [-].
        runs_on: ``trailer``, ``car``, ``suv``, ``pickup``, ``van``, ``mpv``, ``truck``,
            ``motorhome`` or ``bus`` [-].
        market: market of the rig [-]; the rule is North American.

    Returns:
        Divisor [-].

    Raises:
        NotInTableError: unknown kind of vehicle.

    Source: ``fmvss-120-110``, ``fmvss-110-st``.
    """
    rule = read("tire_rules")["divisor"]
    if runs_on != "car" and runs_on not in rule["runs_on"]:
        raise NotInTableError(f"no divisor rule for a tire on '{runs_on}'")
    if tire_type == "ST":
        return Stated(1.0, rule["st_source"])
    if tire_type not in rule["tires"] or runs_on == "car":
        return Stated(1.0, rule["otherwise_source"])
    if market not in rule["markets"]:
        return Stated(1.0, rule["other_market_source"])
    return Stated(float(rule["value"]), rule["source"])


def reserve(market: str, axles: int = 1) -> Stated | None:
    """Largest share of its rating a trade body wants a tire to carry; advice only.

    Args:
        market: market of the rig [-].
        axles: number of trailer axles [-]; from two on the stricter advice for
            multi-axle trailers counts.

    Returns:
        Load over rating [-], or None when no advice was found for the market.

    Source: ``tire-reserve-us``, ``tire-reserve-uk``, ``tire-reserve-tandem``.
    """
    data = read("tire_rules")
    row = data["reserve"].get(market)
    if row is None:
        return None
    if axles > 1:
        row = data["reserve_multi_axle"]
    return Stated(float(row["share"]), row["source"], row["words"])


def default_speed(tire_type: str) -> Stated | None:
    """Speed a tire without a speed symbol is good for at its table load and pressure.

    A symbol supersedes it. No uplift for extra pressure is given: copies disagree.

    Args:
        tire_type: class of the tire [-].

    Returns:
        Speed [m/s], 65 mph for ST and LT, or None when nothing was published.

    Source: ``tra-st-speed``, ``tra-lt-speed``.
    """
    row = read("tire_rules")["default_speed"].get(tire_type)
    return Stated(si(row["speed"]), row["source"], row["speed"]) if row else None


def age_guidance(market: str, caravan: bool) -> tuple[AgeStep, AgeStep]:
    """Age from which to look harder and age by which to replace a tire; guidance, never law.

    Args:
        market: market of the rig [-].
        caravan: whether the tire is on a trailer that people live in [-]; British leaflets ask for more there,
            which is applied in the UK and the EU.

    Returns:
        Both steps, ages [calendar years].

    Source: ``tire-age-us``, ``tire-age-uk``.
    """
    rules = read("tire_rules")
    strict = caravan and market in rules["caravan_markets"]
    first, last = rules["age"]["caravan" if strict else "any"]
    made = [AgeStep(row["years"], row["advice"], row["source"]) for row in (first, last)]
    return made[0], made[1]


def unused_age() -> AgeStep:
    """Age from which an unused tire, such as a spare, should not be put into service.

    Returns:
        The step, age [calendar years].

    Source: ``tire-age-unused``.
    """
    row = read("tire_rules")["unused"]
    return AgeStep(row["years"], row["advice"], row["source"])


def dual_ratio_plausible(tire_type: str, single: float, dual: float) -> bool | None:
    """Say whether a dual rating looks right beside the single one; plausibility only.

    The printed dual rating counts; some tables print it per pair. The ratio says
    nothing about tandem axles.

    Args:
        tire_type: ``LT`` or ``BIAS`` [-].
        single: rated load in single fitment [kg].
        dual: rated load of one tire in dual fitment [kg].

    Returns:
        True or False [-], or None for classes without published rows.

    Source: ``dual-ratio``.
    """
    row = read("tire_rules")["dual_ratio"].get(tire_type)
    return None if row is None else row["low"] <= dual / single <= row["high"]


def rear_overload(market: str) -> RearOverload | None:
    """How far the coupling load may overload the car's rear axle while towing.

    Args:
        market: market of the rig [-].

    Returns:
        The allowance with share [-], speed [m/s] and pressure [Pa]; None where no
        such rule was found.

    Source: ``eu-rear-overload``.
    """
    row = read("tire_rules")["rear_overload"].get(market)
    if row is None:
        return None
    return RearOverload(row["share"], si(row["speed"]), si(row["pressure"]), row["source"])
