"""A page of all rigs with as many rigs as asked for; every figure is invented, the same at every call."""

from __future__ import annotations

import datetime as dt
from random import Random

from cardgen.present.index import IndexRig, build_index
from cardgen.present.levels import Level
from cardgen.present.matrix import Cell, Matrix
from cardgen.render.env import environment
from cardgen.render.site import index_page

DAY = dt.date(2026, 11, 28)
SERVICES = (
    "First tow after standing idle",
    "Wheel bearing service",
    "Brake inspection and adjustment",
    "LP hose to be replaced",
    "Leak test of the gas system",
    "Cylinder test",
    "Registration runs out",
    "Load test of the trailer battery",
)
TIRES = ("Trailer tires", "Spare tire", "Vehicle front tires", "Vehicle rear tires")
OUTCOMES: tuple[tuple[str, Level], ...] = (
    ("within", "within"), ("within", "within"), ("close", "close"), ("not checked", "unknown"), ("over", "over"),
)  # fmt: skip
FIRST = ["Amber", "Brisk", "Cedar", "Dusty", "Early", "Fern", "Gentle", "Hazel", "Ivory", "Jolly"]
SECOND = ["Badger", "Curlew", "Dipper", "Egret", "Finch", "Gannet", "Heron", "Ibis", "Jackdaw", "Kestrel"]


def rigs(count: int) -> list[IndexRig]:
    """Rigs with three dated services and tires, as a lender who fills some of it in has."""
    chance = Random(count)
    made = []
    for n in range(count):
        name = f"{FIRST[n % 10]} {SECOND[n // 10 % 10]}" + (f" {n // 100 + 1}" if n >= 100 else "")
        word, level = chance.choice(OUTCOMES)
        due = dict.fromkeys(SERVICES, "")
        days = (dt.timedelta(chance.randrange(-200, 400)) for _ in range(3))
        due |= dict(zip(chance.sample(SERVICES, 3), ((DAY + day).isoformat() for day in days), strict=True))
        due |= {tire: f"{2031 + i // 2}-{n % 12 + 1:02d}-11" for i, tire in enumerate(TIRES)}
        tongue, weight = chance.randrange(300, 900), chance.randrange(2000, 6400)
        made.append(
            IndexRig(
                name, f"{name.lower().replace(' ', '-')}/index.html", word, level,
                ("Tongue weight against the receiver: 540 lb of 500 lb, 40 lb over",) if level == "over" else (),
                (("Tongue weight", f"{tongue}\u2013{tongue + 60} lb"), ("Trailer", f"{weight:,} of 6,400 lb"), ("Tires", "65 psi")),
                "2018 travel trailer behind 2020 pickup", due, cards=True, measure=level == "unknown", sheet=level == "unknown",
            )
        )  # fmt: skip
    return made


def matrix(side: int) -> Matrix:
    """As many vehicles as trailers; the pairs of the diagonal are rigs."""
    words: tuple[tuple[str, Level], ...] = (*OUTCOMES, ("does not couple", "over"))
    rows = tuple(
        (
            f"{FIRST[y % 10]} {y} (pickup)",
            tuple(
                Cell(*words[(x * 3 + y) % 6], "Tongue weight against the receiver: 40 lb over", f"Amber Badger {x}" if x == y else "")
                for x in range(side)
            ),
        )
        for y in range(side)
    )  # fmt: skip
    return Matrix(tuple(f"{SECOND[x % 10]} {x} (travel trailer)" for x in range(side)), rows, ("A note.",))


def page(count: int, side: int = 4) -> bytes:
    """The page of so many rigs and of so many vehicles and trailers."""
    return index_page(build_index(rigs(count), matrix(side), "28 Nov 2026"), environment())
