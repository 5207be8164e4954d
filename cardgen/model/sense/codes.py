"""Every code the checks of meaning can give, with what it means and what to do."""

from __future__ import annotations

from collections.abc import Mapping

WEIGHTS: Mapping[str, str] = {
    "tongue-above-weight": "The {tongue} cannot weigh as much as the whole trailer. One of the two is mistyped, or"
    " they hold for different states.",
    "side-above-weight": "Left wheels less right wheels cannot be more than the trailer weighs.",
    "gvwr-below-empty": "The empty trailer already weighs more than its {trailer_rating}. Read the {maker_label} again.",
    "capacity-above-gvwr": "The {trailer_payload} on the weight label cannot exceed the {trailer_rating}.",
    "gtm-above-gvwr": "{gtm} is what rests on the wheels of the coupled, loaded trailer; the whole trailer's rating"
    " ({trailer_rating}, in Australia {atm}) also counts what rests on the vehicle and cannot be less.",
    "gvwr-below-curb": "The vehicle's {curb} exceeds its {vehicle_rating}. Read the {maker_label} again.",
    "gcwr-below-gvwr": "{combination_rating} is the rating of vehicle and trailer together and cannot be below the vehicle's {vehicle_rating}.",
    "curb-axle": "One axle cannot carry more than the whole {curb}.",
    "curb-split": "Front and rear axle of the {curb} must add up to it within 1 %. Take all three from one"
    " weighing, or give two of them.",
    "axle-count": "Trailers described here have one to four axles.",
    "gawr-count": "One {gross_axle} per axle is needed, front axle first.",
    "braked-axles": "More axles with brakes than axles.",
    "tire-count": "An axle carries two tires, or four in dual fitment.",
}
"""Weights, ratings and counts."""

GEOMETRY: Mapping[str, str] = {
    "axle-ahead": "The axles must lie behind the coupling. Measure from the coupling centre back to the centre of"
    " the axle group, and between neighbouring axles.",
    "axle-behind": "The axle group cannot lie behind the trailer's rear end.",
    "wheelbase-short": "A wheelbase below 1 m is a slip of unit or digit (common practice, no source).",
    "overhang-sign": "Overhang is counted from the rear axle back to the coupling: positive for a {receiver},"
    " negative or nearly zero for a hitch in the bed.",
    "body-order": "The rear wall must lie behind the front wall; both are counted from the coupling.",
    "track-wide": "The track, from tire centre to tire centre, cannot exceed the trailer's width.",
    "position-outside": "Something sits more than 1 m outside the trailer or vehicle. Check the length and its"
    " sign: in the trailer positions count rearward from the coupling, in the vehicle forward from the rear axle.",
}
"""Lengths and positions."""

NAMES: Mapping[str, str] = {
    "tank-unknown": "A fill is given for a tank that trailer.tanks does not describe.",
    "cylinder-unknown": "A fill is given for a cylinder that trailer.cylinders does not describe.",
    "without-unknown": "A thing left at home is neither one of the cylinders nor one of the batteries.",
    "set-unknown": "A loading case takes a cargo set that no cargo item belongs to. An item joins a set by its"
    " line 'set:'.",
    "item-unknown": "The empty weight is said to include a cargo item that trailer.cargo does not list.",
    "occupant-unknown": "A loading case takes a person whom 'occupants' does not list.",
    "seat-unknown": "An occupant sits in a row that vehicle.seats does not list.",
    "case-unknown": "A weighing was made in a loading case that 'cases' does not list.",
    "cases-none": "At least one loading case is needed: without it there is nothing to compute.",
    "wheel-name": "Wheels are named by side and axle, counted from the front: left 1, right 1, left 2 and so on.",
    "listed-twice": "The same name stands twice in one list and would be counted twice.",
    "name-twice": "Two things of one list have the same name, so that no other line can tell them apart.",
    "name-empty": "A name is empty. Write one, as the card and other lines refer to it.",
    "nickname-reserved": "The output folder needs this name itself, or Windows keeps it for a device.",
}
"""Names."""

GEAR: Mapping[str, str] = {
    "bed-hitch": "Hitch and trailer do not go together: a fifth wheel or gooseneck trailer needs a hitch in the"
    " bed of its own kind, a ball trailer a {receiver}.",
    "ball-size": "Hitch balls come in a few sizes only (common practice, no source). 2 in is not 50 mm: write what"
    " is stamped.",
    "fill-above": "A tank cannot hold more than its capacity.",
    "fill-kind": "Gas is counted as a share of a full cylinder, not as a volume.",
    "gallon-bare": "Outside the United States a plain 'gal' may be either gallon: a US gallon is 3.785 L, an"
    " imperial gallon 4.546 L. Write 'US gal' or 'imp gal'.",
    "thousands-point": "A weight with three decimals, such as 1.500 kg, is one and a half kilograms to some and"
    " fifteen hundred to others. Write 1500 kg, 1,500 kg or 1.5 kg.",
    "date-code": "The date code is the last four digits of the tire identification number: week 01 to 53, then the"
    " year. Three digits mean a tire made before 2000.",
    "speed-symbol": "The speed symbol is the letter after the load index. I, O, X and a single Z are not used.",
    "table-rows": "Pressure and load of a load table must both rise from row to row. Copy the maker's rows as"
    " printed, lowest pressure first.",
    "dual-load": "In dual fitment a tire carries less than in single fitment, never more.",
}
"""Gear, fills and tires."""

WISHES: Mapping[str, str] = {
    "band-order": "The lower end of a band lies above its upper end.",
    "year": "A model year is four digits, 1940 to 2100.",
    "date-order": "A day lies before the trailer was made, or outside 1940 to 2100.",
    "base-url": "The address must be that of a folder on the web, starting with http:// or https://.",
    "beam-lever": "The jack stands on the fixed support of the beam, so that the scale reads nothing of it.",
}
"""The owner's wishes."""

SENSE_CODES: Mapping[str, str] = {**WEIGHTS, **GEOMETRY, **NAMES, **GEAR, **WISHES}
"""Every code of the checks of meaning and its explanation."""
