"""Sample cards for the printing tests: invented rigs, invented numbers."""

from __future__ import annotations

from cardgen.present.blocks import (
    Banner,
    Bar,
    Bars,
    Card,
    Caution,
    Cautions,
    CheckLine,
    ChecklistBlock,
    CheckPhase,
    Face,
    KeyNumber,
    KeyNumbers,
    Pair,
    Qr,
    Table,
)

URL = "https://rigs.example.org/r/juniper/"
LB = "\u00a0lb"


def key_numbers() -> KeyNumbers:
    """The numbers a driver looks for."""
    return KeyNumbers(
        "",
        (
            KeyNumber("Tongue weight, leaving home", f"378{LB}", "12.1 % of the trailer"),
            KeyNumber("Trailer as loaded", f"3,124{LB}", f"of 3,500{LB} allowed"),
            KeyNumber("Trailer tires, cold", "50\u00a0psi", "spare the same"),
            KeyNumber("Vehicle tires, cold", "35 / 38\u00a0psi", "front / rear, towing"),
            KeyNumber("Wheel nuts, trailer", "90\u00a0lb-ft", "check after 25 and 50 miles"),
            KeyNumber("Ball", "2\u00a0in", f"rated 6,000{LB}"),
        ),
    )


def bars() -> Bars:
    """Limits with every outcome but over."""
    return Bars(
        "Limits",
        (
            Bar("Vehicle rear axle", f"3,310{LB}", f"3,420{LB}", 0.968, "close"),
            Bar("Trailer gross weight", f"3,124{LB}", f"3,500{LB}", 0.893, "within"),
            Bar("Trailer axle", f"2,746{LB}", f"3,500{LB}", 0.785, "within"),
            Bar("Tongue on receiver", f"378{LB}", f"500{LB}", 0.756, "within"),
            Bar("Combined weight", f"8,240{LB}", f"10,400{LB}", 0.792, "within"),
            Bar("Tow rating", f"3,124{LB}", f"5,000{LB}", 0.625, "within"),
            Bar("Ball mount", "", "not stated", None, "not checked"),
        ),
    )


def fluids() -> Table:
    """Fluid weights per tank."""
    return Table(
        "Fluids and tongue",
        ("Tank", "Full", "Weight", "On tongue"),
        (
            ("Fresh water", "20.0\u00a0US\u00a0gal", f"167{LB}", f"+31{LB}"),
            ("Grey water", "24.0\u00a0US\u00a0gal", f"200{LB}", f"−12{LB}"),
            ("Black water", "10.0\u00a0US\u00a0gal", f"83{LB}", f"−9{LB}"),
            ("Propane, 2 cylinders", "9.4\u00a0US\u00a0gal", f"40{LB}", f"+36{LB}"),
        ),
        (3.2, 2, 1.6, 1.8),
        note="Water 8.33 lb per US gallon at 20 °C. Computed is not weighed.",
    )


def hitch() -> Table:
    """Hitch specs."""
    return Table(
        "Hitch",
        ("Part", "Needed", "Fitted"),
        (
            ("Ball", "2\u00a0in", "2\u00a0in, 6,000\u00a0lb"),
            ("Ball mount", "3\u00a01/4\u00a0in drop", "3\u00a0in drop"),
            ("Shank", "1\u00a0in hole", "1\u00a0in, 3/4\u00a0in nut"),
            ("Plug", "7-way blade", "7-way blade"),
        ),
        (1, 1.4, 1.8),
        ("left", "left", "left"),
    )


def cautions() -> Cautions:
    """Grouped cautions."""
    return Cautions(
        "",
        (
            Caution(
                "WARNING",
                "Trailer sways: off the accelerator, wheel straight, no vehicle brakes, "
                "trailer brake alone by hand. Then stop and find the cause.",
            ),
            Caution("", "Computed is not weighed: weigh the loaded rig once, axle by axle."),
            Caution("", "Local law, makers' manuals and licensed practice come first."),
        ),
    )


PHASES: tuple[tuple[str, str, tuple[tuple[str, str, bool], ...]], ...] = (
    (
        "Before hitching",
        "Do, then confirm.",
        (
            ("Tires: trailer cold pressure 50 psi, all four and spare", "50 psi", True),
            ("Look at tread, sidewalls and date codes", "sound", False),
            ("Cargo heavy low and near the axle, tied", "tied", True),
            ("Fresh tank at the level of the loading case", "half", False),
            ("Grey and black tanks emptied", "empty", False),
        ),
    ),
    (
        "Hitching",
        "Read, then do. If interrupted, start again at the first line.",
        (
            ("Chock both sides of the trailer", "chocked", True),
            ("Clear people from between and behind", "clear", True),
            ("Ball is 2 in and tight, coupler clean and greased", "2 in", True),
            ("Back up, stop short, Park, brake, get out", "Park", False),
            ("Lower the coupler on the ball, close the latch", "latched", True),
            ("Fit the latch pin", "pinned", True),
            ("Raise the jack: the vehicle rises with it", "held", True),
            ("Cross the chains under the tongue, hooks closed", "crossed", True),
            ("Clip the breakaway cable to the vehicle", "clipped", True),
            ("Plug in, cable clear of the ground", "plugged", False),
        ),
    ),
    (
        "Electrical and brakes",
        "Read, then do.",
        (
            ("Running, brake and turn lamps, both sides", "all lit", True),
            ("Brake controller shows the trailer, gain 6.0", "6.0", False),
            ("Roll at walking pace, squeeze the lever", "holds", True),
        ),
    ),
    (
        "Walk-around",
        "One loop, same direction each time.",
        (
            ("Jack up and pinned", "stowed", False),
            ("Cylinder valves shut", "shut", True),
            ("Steps, awning, vents and door", "closed", False),
            ("Wheel nuts by torque wrench, 90 lb-ft", "90 lb-ft", True),
            ("Second touch: latch, pin, chains, cable, plug, jack", "six", True),
            ("Chocks out and stowed", "stowed", False),
        ),
    ),
    (
        "Driver's seat",
        "Say it aloud.",
        (
            ("Mirrors show both sides of the trailer", "set", False),
            ("Height of the rig known: 9 ft 8 in", "9 ft 8 in", False),
            ("Planned top speed 60 mph", "60 mph", False),
        ),
    ),
)


def checklist(times: int = 1, title: str = "") -> ChecklistBlock:
    """The sample checklist, ``times`` over."""
    phases = tuple(
        CheckPhase(name, reading, tuple(CheckLine(t, a, c) for t, a, c in lines))
        for _ in range(times)
        for name, reading, lines in PHASES
    )
    return ChecklistBlock(title, phases)


def code() -> Qr:
    """The QR code of the sample."""
    return Qr(URL, "Full report: every number with its formula and source.", "rigs.example.org/r/juniper")


def glovebox(times: int = 1) -> Card:
    """A two-faced card."""
    return Card(
        "glovebox-card",
        "Glovebox card",
        "Juniper",
        "SUV with camper of the neighbourhood shed",
        "Revision 3",
        "25 Nov 2026",
        "en-US",
        faces=(
            Face(
                (
                    Banner("close", "Within limits, one is close", ("Vehicle rear axle: 110 lb left.",)),
                    key_numbers(),
                    bars(),
                    fluids(),
                    Pair(cautions(), code(), 0.66),
                )
            ),
        ),
        flow=(checklist(times),),
        foot="Computed is not weighed. Makers' manuals and local law come first.",
        day="2026-11-25",
    )
