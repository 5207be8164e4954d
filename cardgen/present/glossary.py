"""Words of the trade in the reader's market, with the nearest words used elsewhere.

Equivalents are the nearest ones, not identical: the note says where they part.
"""

from __future__ import annotations

from dataclasses import dataclass

from cardgen.present.desk import Desk
from cardgen.present.report_view import Term

COLUMNS = {"us": 0, "ca": 0, "uk": 1, "eu": 2, "au": 3, "nz": 4}
PLACES = ("North America", "UK", "EU", "Australia", "New Zealand")


@dataclass(frozen=True, slots=True)
class Entry:
    """One idea, its word in each place, what it means and where the words part."""

    words: tuple[str, str, str, str, str]
    meaning: str
    trap: str = ""


ENTRIES = (
    Entry(
        ("tongue weight", "noseweight", "static vertical load S", "tow ball mass", "towball weight"),
        "What the coupling presses down on the ball with, trailer level and standing.",
        "always static, weight distribution slack",
    ),
    Entry(
        (
            "GVWR of the trailer",
            "MTPLM",
            "technically permissible maximum laden mass",
            "ATM",
            "maximum laden mass",
        ),
        "The most the whole loaded trailer may weigh, tongue weight included.",
        "the Australian GTM is another figure: the axle load while coupled",
    ),
    Entry(
        ("GAWR", "axle load limit", "maximum mass on the axle", "axle group rating", "axle rating"),
        "The most one axle may carry, measured where the tires meet the ground.",
    ),
    Entry(
        ("unloaded weight", "MIRO", "mass in running order", "tare mass", "tare"),
        "What the empty trailer weighs.",
        "which fluids, gas and options are included differs; the report states what was in it",
    ),
    Entry(
        ("cargo capacity (CCC)", "user payload", "payload mass", "payload", "payload"),
        "What may still be put into the trailer.",
        "on US labels since June 2008 water counts as cargo, full LP cylinders do not",
    ),
    Entry(
        ("GVWR of the vehicle", "GVW or MAM", "technically permissible maximum laden mass", "GVM", "GVM"),
        "The most the loaded tow vehicle may weigh, tongue weight included.",
    ),
    Entry(
        ("curb weight", "kerbweight", "mass in running order", "kerb mass", "unladen weight"),
        "What the empty tow vehicle weighs.",
        "driver and fuel are counted differently from place to place",
    ),
    Entry(
        ("GCWR", "gross train weight", "maximum laden mass of the combination", "GCM", "GCM"),
        "The most that vehicle and trailer may weigh together.",
    ),
    Entry(
        (
            "tow rating",
            "maximum towing weight",
            "technically permissible towable mass",
            "braked towing capacity",
            "tow rating",
        ),
        "The heaviest trailer the vehicle's maker allows.",
    ),
    Entry(
        ("placard capacity", "vehicle payload", "vehicle payload", "vehicle payload", "vehicle payload"),
        "The most that people, cargo, coupling gear and tongue weight may weigh together in the vehicle.",
    ),
    Entry(
        ("coupler", "coupling head", "coupling head (class B50)", "coupling", "coupling"),
        "The part of the trailer that closes around the ball.",
    ),
    Entry(
        ("receiver and ball mount", "towbar", "towbar (class A)", "towbar and tongue", "towbar"),
        "What carries the ball on the vehicle.",
        "“hitch” means the trailer's part in the UK",
    ),
    Entry(
        ("hitch ball", "50 mm ball", "50 mm ball", "50 mm or 70 mm ball", "1 7/8 in or 50 mm ball"),
        "What the coupler closes around.",
        "2 in is 50.8 mm and no 50 mm ball",
    ),
    Entry(
        ("surge brakes", "overrun brakes", "inertia braking", "override brakes", "override brakes"),
        "Trailer brakes worked by the trailer pushing on the coupling.",
    ),
    Entry(
        (
            "breakaway switch",
            "breakaway cable",
            "automatic braking on separation",
            "breakaway system",
            "breakaway brake",
        ),
        "What sets the trailer's brakes when it comes loose.",
    ),
    Entry(
        ("safety chains", "secondary coupling", "secondary coupling", "safety chains", "safety chains"),
        "What holds the trailer when the coupling lets go.",
    ),
    Entry(
        ("tongue jack", "jockey wheel", "jockey wheel", "jockey wheel", "jockey wheel"),
        "What carries the front of the standing trailer.",
    ),
    Entry(
        (
            "weight distribution",
            "weight distribution",
            "weight distribution",
            "weight distribution",
            "weight distribution",
        ),
        "Spring bars that move load from the rear axle to the front axle and the trailer's axles.",
    ),
    Entry(
        ("sway", "snaking", "yaw oscillation", "sway or snaking", "sway"),
        "The trailer swinging from side to side behind the vehicle.",
    ),
    Entry(
        ("cold pressure", "cold pressure", "cold pressure", "cold pressure", "cold pressure"),
        "Tire pressure by the gauge before driving, with the tire at the outside temperature.",
    ),
    Entry(
        ("overhang", "overhang", "coupling overhang", "tow ball overhang", "overhang"),
        "Distance from the rear axle to the ball; the lever by which tongue weight loads the rear axle.",
    ),
)


def glossary(desk: Desk) -> tuple[Term, ...]:
    """Write every entry in the words of the rig's market, in the order of the alphabet."""
    column = COLUMNS[desk.rig.market]
    made = []
    for entry in ENTRIES:
        own = entry.words[column]
        others: dict[str, list[str]] = {}
        for place, word in zip(PLACES, entry.words, strict=True):
            if word != own:
                others.setdefault(word, []).append(place)
        elsewhere = "; ".join(f"{word} ({', '.join(places)})" for word, places in others.items())
        note = f"{elsewhere}. Note: {entry.trap}." if entry.trap else elsewhere
        made.append(Term(own, desk.say(entry.meaning), note))
    return tuple(sorted(made, key=lambda term: term.word.casefold()))
