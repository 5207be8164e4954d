"""Whole rigs of our own invention for the checks, changed field by field as a rig file would."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from copy import deepcopy
from functools import cache
from typing import Any

from pydantic import TypeAdapter

from cardgen.limits.assess import assess
from cardgen.model.results import Assessment, Computed, Finding
from cardgen.model.rig import Rig
from cardgen.physics.compute import compute

DAY = dt.date(2026, 11, 25)
Changes = Mapping[str, Any]

FERN: dict[str, Any] = {
    "nickname": "Fern and Cobble",
    "market": "us",
    "places": ["us-va"],
    "occupants": [{"name": "driver", "weight": "180 lb", "seat": "front"}],
    "cases": [{"name": "out", "cargo": ["trip"], "tanks": {"fresh": "1/2"}, "cylinders": {"left": "full"}, "fuel": "full"}],
    "preferences": {"planned_speed": "60 mph"},
    "gear": {
        "weight": "20 lb",
        "ball": {"diameter": "2 in", "shank": "1 in", "height": "3 in", "rating": "6,000 lb"},
        "mount": {
            "drop": "2 in", "shank": "2 in", "hole": "1 in",
            "ratings": {"trailer": "6,000 lb", "tongue": "600 lb"},
        },
    },
    "vehicle": {
        "kind": "pickup",
        "year": 2020,
        "curb": {"weight": "5,000 lb", "front": "2,900 lb", "includes": {"fuel": "full", "driver": "0 lb"}, "source": "scale"},
        "wheelbase": "12 ft", "overhang": "4 ft", "width": "6 ft 6 in",
        "gvwr": "7,000 lb", "gawr": {"front": "3,700 lb", "rear": "4,000 lb"}, "gcwr": "14,000 lb",
        "tow_rating": {"braked": "7,000 lb", "unbraked": "2,000 lb"},
        "placard_capacity": "1,700 lb",
        "fuel": {"kind": "gasoline", "capacity": "26 gal", "ahead_of_rear_axle": "4 ft"},
        "tires": {
            "placard_size": "LT245/75R16",
            "front": {"type": "LT", "size": "LT245/75R16", "load_range": "E", "max_load": "3,042 lb", "max_load_at": "80 psi", "speed_symbol": "R", "date_code": "1024"},
            "rear": {"type": "LT", "size": "LT245/75R16", "load_range": "E", "max_load": "3,042 lb", "max_load_at": "80 psi", "speed_symbol": "R", "date_code": "1024"},
        },
        "placard": {"front": "60 psi", "rear": "65 psi"},
        "receiver": {
            "opening": "2 in", "height": "19 in", "height_hitched": "18 in",
            "weight_carrying": {"trailer": "6,000 lb", "tongue": "600 lb"},
            "weight_distributing": {"trailer": "10,000 lb", "tongue": "1,000 lb"},
        },
        "connector": "7-blade",
        "brake_controller": {"fitted": True},
        "mirrors": {"span": "8 ft", "towing": True},
        "seats": {"front": "6 ft"},
        "unladen_for_law": "5,000 lb",
    },
    "trailer": {
        "type": "ball", "body": "camper", "year": 2020,
        "empty": {
            "weight": "2,600 lb", "tongue": "320 lb", "source": "scale",
            "includes": {"tanks": {"fresh": "empty"}, "cylinders": {"left": "full"}},
        },
        "gvwr": "3,500 lb", "cargo_capacity": "850 lb",
        "axles": {"count": 1, "gawr": ["3,200 lb"], "ball_to_center": "14 ft", "track": "6 ft", "suspension": "single"},
        "tires": {"type": "ST", "size": "ST205/75R14", "load_range": "D", "max_load": "2,040 lb", "max_load_at": "65 psi", "speed_symbol": "M", "date_code": "1024"},
        "tire_pressure": "65 psi", "tire_size": "ST205/75R14",
        "spare": {"same": True, "type": "ST", "size": "ST205/75R14", "date_code": "1024"},
        "coupler": {"ball": "2 in", "height": "19 in", "height_at": "ball_top", "ratings": {"trailer": "5,000 lb", "tongue": "500 lb"}},
        "chains": {"count": 2, "strength": "5,000 lb"},
        "brakes": {"kind": "electric", "braked_axles": 1, "drum": "10 in", "wiring": {"length": "24 ft", "awg": 12}},
        "breakaway": {"fitted": True, "battery": "12 Ah", "voltage": "12.7 V"},
        "connector": "7-blade",
        "cylinders": {"left": {"size": "20 lb", "water_capacity": "47.6 lb", "tare": "17 lb", "x": "1 ft", "y": "0 in"}},
        "tanks": {"fresh": {"holds": "fresh", "capacity": "20 gal", "x": "12 ft", "y": "0 in"}},
        "cargo": [{"name": "boxes", "weight": "200 lb", "x": "12 ft", "y": "0 in", "set": "trip"}],
        "dimensions": {"length": "20 ft", "width": "6 ft 4 in", "height": "9 ft", "body_front": "4 ft", "body_rear": "19 ft"},
    },
}  # fmt: skip
"""A US camper with electric brakes behind a pickup; every check is within."""

TEAL: dict[str, Any] = {
    "nickname": "Teal and Slipper",
    "market": "uk",
    "occupants": [{"name": "driver", "weight": "80 kg", "seat": "front"}],
    "cases": [{"name": "out", "cargo": ["trip"], "fuel": "full"}],
    "preferences": {"planned_speed": "80 km/h"},
    "gear": {
        "weight": "0 kg", "sway_control": "integrated",
        "ball": {"diameter": "50 mm", "measured": "49.8 mm", "height": "8 cm", "rating": "2,000 kg"},
    },
    "vehicle": {
        "kind": "car", "year": 2022,
        "curb": {"weight": "1,600 kg", "front": "880 kg", "includes": {"fuel": "full", "driver": "0 kg"}, "source": "scale"},
        "wheelbase": "2.8 m", "overhang": "1.1 m", "width": "1.8 m",
        "gvwr": "2,500 kg", "gawr": {"front": "1,150 kg", "rear": "1,350 kg"}, "gcwr": "4,300 kg",
        "tow_rating": {"braked": "1,800 kg", "unbraked": "750 kg", "tongue": "90 kg"},
        "placard_capacity": "600 kg",
        "fuel": {"kind": "diesel", "capacity": "60 L", "ahead_of_rear_axle": "0.5 m"},
        "tires": {
            "placard_size": "225/55R17",
            "front": {"type": "EURO", "size": "225/55R17", "load_index": 101, "extra_load": True, "max_pressure": "3.4 bar", "speed_symbol": "W", "date_code": "1024"},
            "rear": {"type": "EURO", "size": "225/55R17", "load_index": 101, "extra_load": True, "max_pressure": "3.4 bar", "speed_symbol": "W", "date_code": "1024"},
        },
        "placard": {"front": "2.6 bar", "rear": "2.9 bar"},
        "receiver": {
            "fixed_ball": True, "ball_height": "41 cm", "height_hitched": "40 cm", "d_value": "11 kN",
            "weight_carrying": {"trailer": "2,000 kg", "tongue": "100 kg"},
        },
        "connector": "13-pin",
        "mirrors": {"span": "2.5 m", "towing": True},
        "seats": {"front": "1.4 m"},
        "unladen_for_law": "1,600 kg",
    },
    "trailer": {
        "type": "ball", "body": "caravan", "year": 2021,
        "empty": {"weight": "1,000 kg", "tongue": "62 kg", "source": "scale"},
        "gvwr": "1,250 kg", "cargo_capacity": "220 kg",
        "axles": {"count": 1, "gawr": ["1,250 kg"], "ball_to_center": "4 m", "track": "1.9 m", "suspension": "single"},
        "tires": {"type": "C", "size": "185R14C", "load_index": 102, "max_load_at": "4.5 bar", "speed_symbol": "P", "date_code": "1024"},
        "tire_pressure": "4.5 bar", "tire_size": "185R14C",
        "coupler": {"ball": "50 mm", "height": "43 cm", "height_at": "ball_top", "d_value": "12 kN", "ratings": {"trailer": "1,500 kg", "tongue": "100 kg"}},
        "brakes": {"kind": "surge", "braked_axles": 1, "parking": True},
        "breakaway": {"fitted": True},
        "connector": "13-pin",
        "cargo": [{"name": "boxes", "weight": "60 kg", "x": "3.8 m", "y": "0 m", "set": "trip"}],
        "dimensions": {"length": "6.8 m", "width": "2.2 m", "height": "2.6 m", "body_front": "1.3 m", "body_rear": "6.6 m"},
    },
}  # fmt: skip
"""A British caravan with surge (overrun) brakes behind an estate car."""

ELM: dict[str, Any] = deepcopy(FERN) | {"nickname": "Elm and Cobble"}
ELM["gear"] = {"weight": "150 lb"}
del ELM["vehicle"]["receiver"]
ELM["vehicle"] |= {
    "overhang": "-2 in",
    "bed_hitch": {
        "kind": "fifth_wheel",
        "height": "49 in",
        "ratings": {"trailer": "16,000 lb", "tongue": "4,000 lb"},
    },
    "front_axle_rate": "900 lb/in",
    "rear_axle_rate": "1,100 lb/in",
}
ELM["trailer"] |= {
    "type": "fifth_wheel",
    "empty": {"weight": "2,600 lb", "tongue": "470 lb", "source": "scale",
              "includes": {"tanks": {"fresh": "empty"}, "cylinders": {"left": "full"}}},
    "coupler": {"height": "48 in", "height_at": "plate", "ratings": {"trailer": "16,000 lb", "tongue": "4,000 lb"}},
}  # fmt: skip
"""A small fifth wheel behind the pickup of ``FERN``."""

BASES = {"fern": FERN, "teal": TEAL, "elm": ELM}


@cache
def _adapter() -> TypeAdapter[Rig]:
    return TypeAdapter(Rig)


def tree_of(changes: Changes | None = None, base: str = "fern") -> dict[str, Any]:
    """A rig as plain data with dotted fields replaced; a value of None deletes the field."""
    tree = deepcopy(BASES[base])
    for path, value in (changes or {}).items():
        *steps, last = path.split(".")
        node: Any = tree
        for step in steps:
            node = node[int(step)] if isinstance(node, list) else node.setdefault(step, {})
        if isinstance(node, list):
            node[int(last)] = value
        elif value is None:
            node.pop(last, None)
        else:
            node[last] = value
    return tree


def rig(changes: Changes | None = None, base: str = "fern") -> Rig:
    """A rig with dotted fields replaced; a value of None deletes the field."""
    return _adapter().validate_python(tree_of(changes, base))


def computed(changes: Changes | None = None, base: str = "fern") -> Computed:
    """Figures of a changed rig."""
    return compute(rig(changes, base))


def assessed(changes: Changes | None = None, base: str = "fern", day: dt.date = DAY) -> Assessment:
    """Findings of a changed rig."""
    return assess(computed(changes, base), day)


def finding(code: str, changes: Changes | None = None, base: str = "fern", day: dt.date = DAY) -> Finding:
    """The one finding of a code; fails when the rig has none."""
    found = [f for f in assessed(changes, base, day).findings if f.code == code]
    assert len(found) == 1, f"{code}: {len(found)} findings"
    return found[0]


def paths(found: Finding) -> set[str]:
    """Fields a finding asks for."""
    return {need.path for need in found.needs}
