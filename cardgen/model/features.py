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

    fridge: Annotated[
        Literal["absorption", "compressor", "none"] | None,
        Doc("kind of {refrigerator}", ask="What kind of {refrigerator} is there?"),
    ] = None
    lp_appliances: Annotated[
        Flag | None,
        Doc(
            "stove, heater, water heater or {refrigerator} on gas",
            ask="Does a stove, heater, water heater or {refrigerator} burn gas?",
        ),
    ] = None
    living_space: Annotated[Flag | None, Doc("rooms people use", ask="Are there rooms that people use?")] = (
        None
    )
    windows: Annotated[Flag | None, Doc("windows that open", ask="Are there windows that open?")] = None
    roof_vents: Annotated[Count | None, Doc("roof vents", ask="How many roof vents are there?")] = None
    screen_door: Annotated[Flag | None, Doc("screen door", ask="Is there a screen door?")] = None
    converter: Annotated[
        Flag | None,
        Doc("power converter that needs free air", ask="Is there a power converter that needs free air?"),
    ] = None
    awning: Annotated[Flag | None, Doc("awning", ask="Is there an awning?")] = None
    steps: Annotated[Flag | None, Doc("entry steps", ask="Are there entry steps?")] = None
    stabilizers: Annotated[
        Count | None, Doc("{stabilizer_jacks}", ask="How many {stabilizer_jacks} are there?")
    ] = None
    slide_outs: Annotated[Count | None, Doc("slide-outs", ask="How many slide-outs are there?")] = None
    antenna: Annotated[Flag | None, Doc("raised {antenna}", ask="Is there an {antenna} that is raised?")] = (
        None
    )
    shore_power: Annotated[Flag | None, Doc("{shore_power_cord}", ask="Is there a {shore_power_cord}?")] = (
        None
    )
    generator: Annotated[Flag | None, Doc("generator", ask="Is there a generator?")] = None
    outside_hatches: Annotated[
        Count | None,
        Doc("outside hatches and cargo doors", ask="How many outside hatches and cargo doors are there?"),
    ] = None
    bike_rack: Annotated[Flag | None, Doc("bike rack on trailer or vehicle rear")] = None
    tiedowns: Annotated[
        Flag | None, Doc("cargo held by straps or chains", ask="Is cargo held by straps or chains?")
    ] = None
    open_deck: Annotated[Flag | None, Doc("open deck or box", ask="Is there an open deck or box?")] = None
    enclosed_cargo: Annotated[Flag | None, Doc("closed cargo body", ask="Is there a closed cargo body?")] = (
        None
    )
    carries_vehicle: Annotated[
        Flag | None, Doc("carries a vehicle or machine", ask="Does it carry a vehicle or machine?")
    ] = None
    ramp: Annotated[Flag | None, Doc("ramp or drop gate", ask="Is there a ramp or drop gate?")] = None
    outboard: Annotated[
        Flag | None,
        Doc("boat has an outboard or stern drive", ask="Has the boat an outboard or stern drive?"),
    ] = None
    winch: Annotated[Flag | None, Doc("boat winch", ask="Is there a winch?")] = None
    livestock: Annotated[Flag | None, Doc("carries animals", ask="Does it carry animals?")] = None
    partitions: Annotated[
        Flag | None, Doc("partitions for animals", ask="Are there partitions for animals?")
    ] = None
    sway_electronics: Annotated[Flag | None, Doc("electronic {sway_control} on the trailer")] = None
    tpms: Annotated[Flag | None, Doc("tire pressure monitor", ask="Is there a tire pressure monitor?")] = None
    chocks: Annotated[
        Count | None, Doc("wheel chocks carried", "count them", ask="How many wheel chocks do you carry?")
    ] = None
