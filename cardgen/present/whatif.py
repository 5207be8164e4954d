"""The what-if part of the report: its controls, its outputs and the data the page evaluates."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from cardgen.model.figure import COVERAGE
from cardgen.model.results import CaseResult
from cardgen.model.rig import Case, Rig
from cardgen.physics.aboard import called
from cardgen.physics.load_model import LoadModel
from cardgen.physics.loads import Aboard, Load, case_aboard
from cardgen.physics.needs import need
from cardgen.physics.number import Number
from cardgen.physics.statics import known_state
from cardgen.physics.strip import REFERENCE, SEA_LEVEL
from cardgen.physics.weighing import weigh
from cardgen.present import whatif_data
from cardgen.present.rig_view import RigView
from cardgen.present.whatif_view import Output, Slider, WhatIf
from cardgen.units import Quantity, in_us, style_of
from cardgen.units.registry import to_si
from cardgen.units.show import at_place

NUMBERS = (
    "trailer_weight",
    "tongue_weight",
    "tongue_share",
    "trailer_axle_load",
    "vehicle_weight",
    "vehicle_front_axle",
    "vehicle_rear_axle",
    "front_axle_engaged",
    "rear_axle_engaged",
    "trailer_axles_engaged",
    "combination_weight",
    "placard_used",
)
KINDS = ("mass", "fraction", "pressure", "temperature", "volume")
COLDEST, WARMEST = 243.15, 323.15
"""Ends of the outside temperature slider [K]: -30 C and 50 C."""
WORDS = {
    "unknown": "not checked",
    "set": "not checked: set the slider of",
    "within": "within",
    "close": "close",
    "over": "over",
    "left": "left",
    "past": "over",
    "outside": "outside",
    "of": "of",
    "to": "to",
    "band": "band",
    "cold": "cold",
    "reads": "reads",
    "at": "at",
    "overloaded": "overloaded: no pressure helps",
    "conflict": "no safe pressure: limits contradict",
    "unconfirmed": "not checked: placard not confirmed",
    "wheel": "heavier wheel",
    "tongue": "{load_in_brief}",
    "all_within": "Every limit checked here is kept with this setting.",
    "some_close": "Every limit checked here is kept, some only just.",
    "some_over": "Do not tow like this: a limit is exceeded.",
    "some_unknown": "No limit checked here is exceeded, but not everything could be checked.",
    "copied": "Link copied.",
    "not_copied": "Copy the address from the address bar.",
}


def what_if(rig_view: RigView) -> WhatIf | None:
    """Lay out the what-if part; None when there is nothing to move."""
    rig = rig_view.rig
    model, _ = weigh(rig)
    loads = model.loads
    controls = list(_controls(rig, rig_view))
    if not controls or rig.alone == "vehicle":
        return None
    cases = rig_view.assessment.computed.cases
    forms = whatif_data.shown(model, known_state(model))
    words = {n: cases[0].figures[n].label if n in cases[0].figures else n.replace("_", " ") for n in forms}
    checks = list(whatif_data.check_data(rig_view, model, {*forms, "tongue_share"}))
    own = ("trailer", "tongue") if rig.alone else ("",)
    numbers = [n for n in NUMBERS if (n in forms or n == "tongue_share") and n.startswith(own)]
    needed = {*numbers, *(n for c in checks for n in c["of"])}
    tires = _tires(rig_view, model, forms)
    needed |= {n for t in tires.values() for n in (*t["of"], *t["sides"], *t["lean"])}
    used = [n for n in forms if n in needed]
    judged = {"tongue_weight", "trailer_weight", *(n for c in (*checks, *tires.values()) for n in c["of"])}
    judged &= set(used)
    spread = whatif_data.spreads(model, sorted(judged))
    presets = [
        {
            "name": c.name,
            "u": {n: cases[i].figures[n].u for n in (*sorted(judged), "tongue_share")},
            "rivals": whatif_data.rivals(cases[i : i + 1], (*sorted(judged), "tongue_share")),
        }
        | whatif_data.known_case(rig_view, cases[i], (*used, "tongue_share"))
        | _preset(controls, loads, case_aboard(rig, c, i))
        for i, c in enumerate(rig.cases)
    ]
    data: dict[str, Any] = {
        "rig": f"{rig_view.slug}:{rig_view.edition.revision}",
        "loads": [_load(rig_view, x) for x in loads],
        "forms": {
            n: whatif_data.form_data(rig_view, model, n, forms[n], words[n]) | {"spread": spread.get(n)}
            for n in used
        },
        "people": [i for i, x in enumerate(loads) if x.key.startswith("person.")],
        "nobody": whatif_data.words_of(rig_view, (need("occupants"),)),
        "numbers": numbers,
        "checks": checks,
        "tires": tires,
        "rivals": whatif_data.rivals(cases, (*sorted(judged), "tongue_share")),
        "controls": [_control(c, loads) for c in controls],
        "presets": presets,
        "styles": _styles(rig_view),
        "words": {name: rig_view.say(text) for name, text in WORDS.items()},
        "air": SEA_LEVEL,
        "coverage": COVERAGE,
    }
    return WhatIf(
        _groups(controls, presets[0]),
        tuple(c.name for c in rig.cases),
        tuple(Output(f"n-{n}", _words(rig_view, words, n), "") for n in numbers),
        tuple(Output(f"k-{c['code']}", c["words"], "") for c in checks),
        tuple(Output(f"p-{p}", rig_view.say(_PLACES[p]), "") for p in tires),
        data,
    )


def _tires(rig_view: RigView, model: LoadModel, forms: Mapping[str, Number]) -> dict[str, dict[str, Any]]:
    """Data of the tires whose load the page can add up, by place."""
    places = (place for place in _PLACES if rig_view.tire(place) is not None)
    found = {place: whatif_data.tire_data(rig_view, model, place, forms) for place in places}
    return {place: data for place, data in found.items() if data["of"]}


_PLACES = {"trailer": "Trailer tires", "front": "Vehicle front tires", "rear": "Vehicle rear tires"}


def _words(rig_view: RigView, words: dict[str, str], name: str) -> str:
    if name == "tongue_share":
        return rig_view.say("{coupling_load} as a share of the trailer")
    return rig_view.say(words[name])


def _controls(rig: Rig, rig_view: RigView) -> list[dict[str, Any]]:
    """List what can be moved, in the order of the address: tanks, gas, sets, people, fuel, air."""
    made: list[dict[str, Any]] = []

    def add(kind: str, name: str, label: str, keys: Sequence[str], group: str, **more: Any) -> None:
        made.append({"kind": kind, "name": name, "label": label, "loads": keys, "group": group} | more)

    for name, tank in rig.trailer.tanks.items():
        volume = tank.capacity.si if tank.capacity is not None else None
        add("fill", name, called(name, "tank"), [f"tank.{name}"], "Tanks", volume=volume)
    for name in rig.trailer.cylinders:
        add("fill", name, f"{called(name, 'cylinder')}, gas", [f"gas.{name}"], "Gas")
    left = {n for case in rig.cases for n in case.without} | set(rig.trailer.empty.includes.without)
    for name in rig.trailer.cylinders:
        if name in left:
            keys, gates = [f"cylinder.{name}"], [f"gas.{name}"]
            add("switch", name, f"{called(name, 'cylinder')} aboard", keys, "Gas", gates=gates)
    for battery in rig.trailer.batteries:
        if battery.name in left:
            add("switch", battery.name, battery.name, [f"battery.{battery.name}"], "Cargo")
    for name in sets(rig):
        keys = [f"cargo.{c.name}" for c in rig.trailer.cargo if c.set == name]
        keys += [f"carried.{c.name}" for c in rig.vehicle.cargo if c.set == name]
        batteries = [b for b in rig.trailer.batteries if b.set == name]
        keys += [f"battery.{b.name}" for b in batteries if b.name not in left]
        gates = [f"battery.{b.name}" for b in batteries if b.name in left]
        add("switch", name, name, keys, "Cargo sets", gates=gates)
    for person in rig.occupants:
        add("switch", person.name, person.name, [f"person.{person.name}"], "People in the vehicle")
    if rig.vehicle.fuel is not None and rig.vehicle.fuel.kind != "none":
        volume = rig.vehicle.fuel.capacity.si if rig.vehicle.fuel.capacity is not None else None
        add("fill", "fuel", "vehicle fuel", ["fuel"], "Vehicle fuel", volume=volume)
    low, high = (round(rig_view.formatter.display(t, "temperature")) for t in (COLDEST, WARMEST))
    stated = rig.preferences.morning_temperature
    start = round(rig_view.formatter.display(REFERENCE if stated is None else stated.si, "temperature"))
    add(
        "temperature",
        "air",
        "outside temperature",
        [],
        "Outside temperature",
        low=low,
        high=high,
        start=start,
    )
    return [c | {"label": rig_view.say(c["label"]) if c["kind"] != "switch" else c["label"]} for c in made]


def _control(control: dict[str, Any], loads: Sequence[Load]) -> dict[str, Any]:
    """Write one control with the places of its loads in the list of all loads."""
    place = {load.key: i for i, load in enumerate(loads)}
    return control | {name: [place[k] for k in control.get(name, ())] for name in ("loads", "gates")}


def sets(rig: Rig) -> tuple[str, ...]:
    """Return the names of all cargo sets, in the order of the file."""
    inside = (*rig.trailer.cargo, *rig.trailer.batteries)
    named = [c.set for c in inside] + [c.set for c in rig.vehicle.cargo]
    return tuple(dict.fromkeys(name for name in named if name is not None))


def _load(rig_view: RigView, load: Load) -> dict[str, Any]:
    fill = whatif_data.FILL_U if load.sort in whatif_data.FILLED else 0.0
    return {"full": load.full, "label": rig_view.say(load.label), "fill": fill}


def _preset(controls: Sequence[dict[str, Any]], loads: Sequence[Load], now: Aboard) -> dict[str, Any]:
    """Return control positions of a loading case [%] and the shares of all loads [-]."""
    values: list[float | None] = []
    for control in controls:
        if control["kind"] == "temperature":
            values.append(None)
            continue
        key = control["loads"][0] if control["loads"] else ""
        share = now.shares.get(key, 0.0)
        values.append(None if share is None else share * 100.0)
    return {"at": values, "shares": [now.shares.get(x.key) for x in loads]}


def _groups(
    controls: Sequence[dict[str, Any]], preset: dict[str, Any]
) -> tuple[tuple[str, tuple[Slider, ...]], ...]:
    grouped: dict[str, list[Slider]] = {}
    for index, control in enumerate(controls):
        at = preset["at"][index]
        start = control.get("start", 0) if at is None else round(at)
        slider = Slider(
            f"w{index}",
            control["kind"],
            control["label"],
            control.get("low", 0),
            control.get("high", 100),
            start,
            control["group"],
        )
        grouped.setdefault(control["group"], []).append(slider)
    return tuple((title, tuple(rows)) for title, rows in grouped.items())


def _styles(rig_view: RigView) -> dict[str, Any]:
    """Unit, rounding and conversion of every kind the page prints, and of the pressures of every place."""
    out, system = {}, rig_view.formatter.system
    places = {f"pressure {place}": at_place(system, place) for place in _PLACES}
    for name, its in (dict.fromkeys(KINDS, system) | places).items():
        kind = name.partition(" ")[0]
        style = style_of(kind, its)
        factor, offset = to_si(style.unit, kind)
        digits = 0 if kind == "volume" and in_us(kind, its) else style.digits
        out[name] = {"unit": style.printed, "digits": digits, "factor": factor, "offset": offset}
    out["share"] = out["fraction"] | {"digits": 0}
    return out


def case_of(rig: Rig, data: dict[str, Any], positions: Sequence[float]) -> Case:
    """Write control positions as a loading case, so that the whole computation can be run on it.

    Args:
        rig: the rig.
        data: data of the what-if part.
        positions: one per control [%, or the unit of temperature].
    """

    def part(value: float) -> Quantity:
        return Quantity(value / 100.0, "fraction")

    found = list(zip(data["controls"], positions, strict=True))
    tanks = {c["name"]: part(v) for c, v in found if c["group"] == "Tanks"}
    gas = {c["name"]: part(v) for c, v in found if c["group"] == "Gas" and c["kind"] == "fill"}
    without = tuple(
        c["name"] for c, v in found if c["kind"] == "switch" and c["group"] in ("Gas", "Cargo") and not v
    )
    cargo = tuple(c["name"] for c, v in found if c["group"] == "Cargo sets" and v)
    people = tuple(c["name"] for c, v in found if c["group"] == "People in the vehicle" and v)
    fuel = next((part(v) for c, v in found if c["group"] == "Vehicle fuel"), None)
    return Case(
        name="what if",
        tanks=tanks,
        cylinders=gas,
        without=without,
        cargo=cargo,
        occupants=people,
        fuel=fuel,
    )


def rig_with(rig: Rig, case: Case) -> Rig:
    """Return the rig with one loading case only."""
    return replace(rig, cases=(case,))


__all__ = ["CaseResult", "case_of", "rig_with", "what_if"]
