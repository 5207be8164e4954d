"""Equipment that adds lines to the checklist and moves no number."""

from __future__ import annotations

from typing import Annotated, Literal

from cardgen.units.field import Doc
from cardgen.units.record import record
from cardgen.units.scalars import Count, Flag


@record
class Features:
    """What the trailer has; write false, 0 or none for what it has not.

    What is left out or unknown keeps its safety-critical lines on the checklist, marked
    "if fitted", wherever such a trailer may have it.
    """

    fridge: Annotated[Literal["absorption", "compressor", "none"] | None, Doc("kind of {refrigerator}")] = (
        None
    )
    lp_appliances: Annotated[Flag | None, Doc("stove, heater, water heater or {refrigerator} on gas")] = None
    living_space: Annotated[Flag | None, Doc("rooms people use")] = None
    windows: Annotated[Flag | None, Doc("windows that open")] = None
    roof_vents: Annotated[Count | None, Doc("roof vents")] = None
    screen_door: Annotated[Flag | None, Doc("screen door")] = None
    converter: Annotated[Flag | None, Doc("power converter that needs free air")] = None
    awning: Annotated[Flag | None, Doc("awning")] = None
    steps: Annotated[Flag | None, Doc("entry steps")] = None
    stabilizers: Annotated[Count | None, Doc("{stabilizer_jacks}")] = None
    slide_outs: Annotated[Count | None, Doc("slide-outs")] = None
    antenna: Annotated[Flag | None, Doc("raised {antenna}")] = None
    shore_power: Annotated[Flag | None, Doc("{shore_power_cord}")] = None
    generator: Annotated[Flag | None, Doc("generator")] = None
    outside_hatches: Annotated[Count | None, Doc("outside hatches and cargo doors")] = None
    bike_rack: Annotated[Flag | None, Doc("bike rack on trailer or vehicle rear")] = None
    tiedowns: Annotated[Flag | None, Doc("cargo held by straps or chains")] = None
    open_deck: Annotated[Flag | None, Doc("open deck or box")] = None
    enclosed_cargo: Annotated[Flag | None, Doc("closed cargo body")] = None
    carries_vehicle: Annotated[Flag | None, Doc("carries a vehicle or machine")] = None
    ramp: Annotated[Flag | None, Doc("ramp or drop gate")] = None
    outboard: Annotated[Flag | None, Doc("boat has an outboard or stern drive")] = None
    winch: Annotated[Flag | None, Doc("boat winch")] = None
    livestock: Annotated[Flag | None, Doc("carries animals")] = None
    partitions: Annotated[Flag | None, Doc("partitions for animals")] = None
    sway_electronics: Annotated[Flag | None, Doc("electronic {sway_control} on the trailer")] = None
    tpms: Annotated[Flag | None, Doc("tire pressure monitor")] = None
    chocks: Annotated[Count | None, Doc("wheel chocks carried", "count them")] = None
