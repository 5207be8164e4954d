"""Readings from a public platform scale, wheel scales or a scale under the jack."""

from __future__ import annotations

from typing import Annotated

from cardgen.units.field import Doc, Length, Mass
from cardgen.units.record import field, record
from cardgen.units.scalars import Day, Flag


@record
class AxleReadings:
    """One pass over the scale."""

    front: Annotated[Mass | None, Doc("vehicle front axle", "{scale_ticket}")] = None
    rear: Annotated[Mass | None, Doc("vehicle rear axle", "{scale_ticket}")] = None
    trailer: Annotated[Mass | None, Doc("all trailer axles together", "{scale_ticket}")] = None
    axles: Annotated[tuple[Mass, ...], Doc("each trailer axle, front first", "{scale_ticket}")] = ()


@record
class BeamReading:
    """Tongue weight by a household scale and a beam."""

    reading: Annotated[Mass, Doc("scale reading with the {tongue} on the beam", "household scale")]
    beam_only: Annotated[Mass | None, Doc("scale reading with the beam alone", "household scale")] = None
    support_to_jack: Annotated[Length, Doc("fixed support to {jack}", "tape measure")]
    jack_to_scale: Annotated[Length, Doc("{jack} to scale", "tape measure")]


@record
class Weighing:
    """One visit to the scale."""

    date: Annotated[Day, Doc("day of the visit", "{scale_ticket}", "2026-04-30")]
    case: Annotated[str, Doc("loading case the rig was in, one of cases")]
    alone: Annotated[AxleReadings, Doc("vehicle alone, same people, fuel and gear")] = field(
        default_factory=AxleReadings
    )
    slack: Annotated[AxleReadings, Doc("hitched, weight distribution slack or none")] = field(
        default_factory=AxleReadings
    )
    engaged: Annotated[AxleReadings, Doc("hitched, weight distribution engaged")] = field(
        default_factory=AxleReadings
    )
    trailer_alone: Annotated[
        Mass | None, Doc("whole trailer unhitched, {jack} on the scale", "{scale_ticket}")
    ] = None
    jack: Annotated[Mass | None, Doc("scale under the {jack}, trailer level", "scale under the {jack}")] = (
        None
    )
    jack_behind_coupler: Annotated[
        Length | None, Doc("{jack} behind the coupling center", "tape measure")
    ] = None
    coupler: Annotated[
        Mass | None, Doc("scale under the {coupler} itself, trailer level", "scale under the {coupler}")
    ] = None
    beam: Annotated[BeamReading | None, Doc("household scale and beam under the {jack}")] = None
    wheels: Annotated[
        dict[str, Mass], Doc("single wheels: left 1, right 1, left 2, right 2", "wheel scales")
    ] = field(default_factory=dict)
    division: Annotated[Mass | None, Doc("smallest step of the scale", "{scale_ticket}", "20 lb")] = None
    anchor: Annotated[
        Flag, Doc("let what was weighed stand in its loading case, and reckon the others from it")
    ] = True
