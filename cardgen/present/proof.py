"""Every published figure beside ours, and every rule of a place with its text: the page of proof.

Figures and rules stand in the data files of the tables; the tests loop over what is made here.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

from cardgen.model.read import judge
from cardgen.physics import brakes, dates, hitch, labels, strength, strip
from cardgen.physics.compute import compute
from cardgen.physics.number import exact
from cardgen.source.limits import Bounds
from cardgen.source.nodes import read_nodes
from cardgen.source.parts import Loaded
from cardgen.tables import (
    atmosphere,
    connectors,
    couplings,
    fluids,
    lamps,
    load_index,
    lp,
    placard,
    scales,
    tire_rules,
    tongue,
    wire,
)
from cardgen.tables.exact import FOOT, G_N, IMPERIAL_GALLON, INCH, KELVIN_AT_0_C, POUND, UNITS, US_GALLON
from cardgen.tables.law import all_rules, place_words, reach
from cardgen.tables.lookup import read
from cardgen.tables.sources import Source, Standing, all_sources, source
from cardgen.tables.words import PLACES, say
from cardgen.units.parse import parse

UNIT = UNITS | {
    "ohm": 1.0, "V": 1.0, "A": 1.0, "Ah": 3600.0, "mm2": 1e-6, "cmil": math.pi / 4 * (INCH / 1000) ** 2,
    "gal": US_GALLON, "kg/m3": 1.0, "lb/gal": POUND / US_GALLON, "lb/imp gal": POUND / IMPERIAL_GALLON,
    "deg": math.pi / 180, "kN of weight": 1e3 / G_N, "kN at 9.81": 1e3 / 9.81, "N at 9.81": 1 / 9.81,
}  # fmt: skip
"""Spellings of ``data/proof.yaml`` and their SI factor."""
Given = float | str


def _rig(name: str, figure: str, wheel: str = "") -> float | None:
    """A figure of the one loading case of a rig of the data file, half of it for one of two wheels."""
    value = _case(name)[figure]
    return value / 2 if wheel and value is not None else value


@cache
def _case(name: str) -> dict[str, float | None]:
    data = read("proof")
    made = read_nodes(data["every"] + data["rigs"][name], name, Bounds(), ())
    found = judge(Loaded(made.top, list(made.faults), (), made.holes), Path(name))
    if found.rig is None:
        raise ValueError(f"the rig '{name}' of data/proof.yaml has faults: {found.faults}")
    return {key: figure.value for key, figure in compute(found.rig).cases[0].figures.items()}


def _lamp(does: str) -> lamps.Lamp:
    return next(one for one in lamps.lamps_required(2.6, 10.0, "us").lamps or () if one.does == does)


def _pin(name: str, at: Given) -> connectors.Pin:
    return next(one for one in connectors.connector(name).pins if one.at == str(at))


def _wire(gauge: int, kelvin: float, kind: str) -> float:
    """Resistance of 1,000 ft [ohm]."""
    area = (wire.automotive_area if kind == "automotive" else wire.awg_area)(gauge)
    return wire.conductor_resistance(1000 * FOOT, area, kelvin, stranded=kind == "stranded")


def _loop(gauge: int, what: str) -> float:
    """45 ft of stranded wire between 13 V and four magnets: resistance, current or what is left [SI]."""
    ohms = brakes.loop_resistance(45 * FOOT, wire.awg_area(gauge))
    flows, left = brakes.through_wire(13.0, 0.8, ohms)
    return {"loop": ohms, "current": flows, "volts": left}[what]


def _sag(gained: float, lost: float) -> float:
    """Sag of a hitch with springs of 600 and 700 lb/in, wheelbase 145 and overhang 64 in [m]."""
    per_inch = POUND * G_N / INCH
    forces = (gained * G_N, lost * G_N, 600 * per_inch, 700 * per_inch, 145 * INCH, 64 * INCH)
    return hitch.hitch_sag(*map(exact, forces)).sure


def _climbed(pressure: float, height: float) -> float:
    """Gauge pressure of a tire set at sea level and 59 F, in the standard air at a height [Pa]."""
    at = 288.15 - 3.57 / 1.8 * height / (1000 * FOOT)
    return strip.gauge_at(pressure, 288.15, at, strip.SEA_LEVEL, atmosphere.standard_pressure(height))


def _spread(kind: scales.Kind, evidence: scales.Evidence, of: Given) -> float:
    """The fixed half-width, or what each whole adds to it [SI]."""
    fixed = scales.default_spread(kind, evidence, 0.0).half_width
    return scales.default_spread(kind, evidence, 1.0).half_width - fixed if of == "share" else fixed


def _tire_years(market: str, body: str) -> str:
    return " and ".join(f"{step.years:g}" for step in tire_rules.age_guidance(market, body == "caravan"))


def _surge(vehicle: float, trailer: float) -> bool:
    share = brakes.surge_share(vehicle, trailer)
    return share is not None and trailer <= share * vehicle


OURS: dict[str, Callable[..., object]] = {
    one.__name__: one
    for one in (
        atmosphere.standard_pressure, brakes.hold_charge, brakes.peukert_time,
        couplings.chain_minimum, couplings.class_for, couplings.minimum_ball, couplings.worn_ball,
        dates.tire_made, fluids.fresh_water_density, fluids.label_water_metric, fluids.liquid_density,
        hitch.needed_drop, hitch.trailer_pitch, labels.placard_left, labels.water_metric, labels.water_us,
        load_index.load_for_index, load_index.speed_for_symbol, lp.lp_fill_fraction, lp.lp_liquid_density,
        lp.usual_water_capacity, placard.dealer_added_limit, placard.is_cdl_group_a,
        placard.is_commercial_size, placard.seat_mass, scales.division_u, scales.scale_tolerance,
        strength.required_d, strength.trailer_for_d, strip.altitude_rise, strip.gauge_at, strip.per_ten_f,
        tire_rules.default_speed, tire_rules.dual_ratio_plausible, tire_rules.reserve,
        tire_rules.usual_pressure, wire.awg_area,
    )
} | {
    "bed_hitch_limit": lambda _: couplings.bed_hitch_limit(),
    "brake_loop": _loop,
    "breakaway_hold": lambda _: wire.breakaway_hold(),
    "climbed": _climbed,
    "cylinder_tare": lambda size, end: getattr(lp.usual_cylinder(size), f"tare_{end}"),
    "default_spread": _spread,
    "height_band": lambda what, market, end: getattr(couplings.height_band(what, market), end),
    "lamp": lambda does: f"{_lamp(does).count} {_lamp(does).colour}",
    "lamp_height": lambda does, end: getattr(_lamp(does), end),
    "magnet_current": lambda drum, volts, count: brakes.magnet_current(
        volts, wire.magnet_resistance(drum.removesuffix(" drum")).low, count
    ),
    "magnet_resistance": lambda drum, end: getattr(wire.magnet_resistance(drum.removesuffix(" drum")), end),
    "parse": lambda text, kind: parse(text, kind).si,
    "pin": lambda name, at: _pin(name, at).does,
    "pin_copper": lambda name, at: _pin(name, at).copper,
    "rear_overload": lambda market, what: getattr(tire_rules.rear_overload(market), what),
    "rig": _rig,
    "sag": _sag,
    "scale_division": lambda system: scales.scale_division(metric=system == "metric"),
    "share_band": lambda kind, body, market, end: getattr(tongue.share_band(kind, body, market), end),
    "stated_pressure": lambda tire, load: tire_rules.stated_pressure(tire, load == "extra"),
    "surge_allowed": _surge,
    "tire_years": _tire_years,
    "two_tires": lambda load, tire: 2 * load / tire_rules.load_divisor(tire, "trailer").value,
    "unused_age": lambda _: tire_rules.unused_age().years,
    "wire_resistance": _wire,
}  # fmt: skip
"""What the data file may ask for, by name; each takes what is given there [SI, or words]."""
AS_WRITTEN = ("parse", "tire_made")
"""Functions that read a text themselves."""


@dataclass(frozen=True, slots=True)
class ProofRow:
    """One figure: what is given, what is printed, ours to one digit more, ours less printed, whether they agree."""

    given: str
    printed: str
    ours: str
    off: str
    agrees: bool


@dataclass(frozen=True, slots=True)
class ProofGroup:
    """Figures of one table or text.

    Args:
        what: what the figures are.
        unit: unit of what is printed; empty where each row says it, or for words.
        cited: the document and how it was seen.
        note: remarks on the document, and why ours may be off by more than the last digit.
        standing: how the document was seen.
        rows: the figures.
    """

    what: str
    unit: str
    cited: str
    note: str
    standing: Standing
    rows: tuple[ProofRow, ...]


@dataclass(frozen=True, slots=True)
class ProofView:
    """Everything the page of proof prints.

    Args:
        language: BCP 47 tag of the texts.
        parts: title, figures, and documents whose figures are held against nothing, by standing.
        places: each place with its rules: text, what is not read of it, document, month.
    """

    language: str
    parts: tuple[tuple[str, tuple[ProofGroup, ...], tuple[str, ...]], ...]
    places: tuple[tuple[str, tuple[tuple[str, str, str, str], ...]], ...]


TITLES = {
    Standing.OFFICIAL: "Read in an official text",
    Standing.PART: "Read in part in an official text",
    Standing.COPY: "Read in a word-for-word copy",
    Standing.SECONDARY: "Read in a copy or a reprint",
    Standing.EXACT: "Exact by definition",
    Standing.COMPUTED: "Worked out elsewhere",
    Standing.MEMORY: "From memory",
    Standing.PRACTICE: "Common practice or our own choice, no source",
}
"""Parts of the page, the best founded first."""
_QUANTITY = re.compile(r"(-?\d+(?:\.(\d+))?)(?: (.+))?")


def proof() -> ProofView:
    """Lay out the page: the same for every rig and every day."""
    made = tuple(figures())
    parts = tuple(
        (title, tuple(one for one in made if one.standing is standing), _untried(standing))
        for standing, title in TITLES.items()
    )
    return ProofView("en-US", tuple(part for part in parts if part[1] or part[2]), tuple(_places()))


def figures() -> Iterator[ProofGroup]:
    """Every figure of ``data/proof.yaml`` beside ours.

    Raises:
        ValueError: a row of the file cannot be read.
        KeyError: the file asks for what ``OURS`` does not have.
    """
    for group in read("proof")["figures"]:
        seen = source(group["source"])
        lines = [line.strip() for line in re.split(r"[|\n]", group["rows"]) if line.strip()]
        why = f"{group['within']} allowed: {group['why']}" if "within" in group else ""
        yield ProofGroup(
            group["what"], group.get("unit", ""), _cited(seen), "; ".join(filter(None, (seen.note, why))),
            seen.standing, tuple(_row(group, line) for line in lines),
        )  # fmt: skip


def _row(group: dict[str, str], line: str) -> ProofRow:
    """Work one line out."""
    given, _, printed = line.rpartition(": ")
    parts = given.split(", ")
    name = group["ours"]
    found = OURS[name](*(parts if name in AS_WRITTEN else map(_given, parts)))
    value = getattr(found, "value", getattr(found, "half_width", found))
    number = _QUANTITY.fullmatch(printed)
    if number is None or (number[3] and number[3] not in UNIT):
        words = {True: "yes", False: "no"}.get(value, str(value)) if isinstance(value, bool) else str(value)
        fits = printed in words if name == "pin" else words == printed
        return ProofRow(given, printed, say(words, "us"), "same" if fits else "differs", fits)
    digits = len(number[2] or "")
    ours = float(str(value)) / UNIT[number[3] or group.get("unit") or "1"]
    off = ours - float(number[1])
    room, _, unit = group.get("within", "").partition(" ")
    allowed = float(room) * (abs(float(number[1])) / 100 if unit == "%" else 1) if room else 0.5 / 10**digits
    shown = f"{off:+.{digits + 1}f}"
    return ProofRow(
        given,
        printed,
        f"{ours:.{digits + 1}f}",
        shown if float(shown) else "0",
        abs(off) <= allowed + 1e-12 * abs(float(number[1])),
    )


def _given(text: str) -> Given:
    """A quantity in SI, or the words as they are."""
    found = _QUANTITY.fullmatch(text)
    if found is None or (found[3] and found[3] not in UNIT and found[3] not in ("C", "F")):
        return text
    if found[3] in ("C", "F"):
        celsius = float(found[1]) if found[3] == "C" else (float(found[1]) - 32) / 1.8
        return celsius + KELVIN_AT_0_C
    return float(found[1]) * UNIT[found[3]] if found[3] else float(found[1]) if found[2] else int(found[1])


def _cited(seen: Source) -> str:
    """A document whoever reads; the page is that of no market."""
    return replace(seen, markets=()).words()


def _untried(standing: Standing) -> tuple[str, ...]:
    """Documents of the two weakest standings that no figure is held against."""
    if standing not in (Standing.MEMORY, Standing.PRACTICE):
        return ()
    used = {group["source"] for group in read("proof")["figures"]} | {rule.source_key for rule in all_rules()}
    return tuple(
        "; ".join(filter(None, (_cited(one), one.note)))
        for key, one in all_sources().items()
        if one.standing is standing and key not in used
    )


def _places() -> Iterator[tuple[str, tuple[tuple[str, str, str, str], ...]]]:
    """Every place with its rules, in the words of its market."""
    for place in dict.fromkeys(rule.place for rule in all_rules()):
        market = next((name for one in reach(place) if (name := one.split("-")[0]) in PLACES), "us")
        yield (
            place_words(place),
            tuple(
                (
                    say(rule.text, market),
                    say(rule.unread, market),
                    "; ".join(filter(None, (f"{rule.force}: {_cited(rule.source)}", rule.source.note))),
                    rule.seen,
                )
                for rule in all_rules()
                if rule.place == place
            ),
        )
