"""Names that refer to something the rig does not have."""

from __future__ import annotations

import re
from collections.abc import Iterable

from cardgen.model.sense.context import Look
from cardgen.model.slug import RESERVED, plain_slug
from cardgen.model.trailer import NoTrailer
from cardgen.model.vehicle import NoVehicle
from cardgen.source.decode import is_blank
from cardgen.source.faults import Path
from cardgen.source.suggest import suggest

_WHEEL = re.compile(r"(left|right) ([1-4])")


def _unknown_keys(
    look: Look, code: str, path: Path, given: Iterable[str], known: list[str], what: str
) -> None:
    for name in given:
        if name not in known:
            hint = suggest(name, known, f"the trailer has no {what} yet")
            look.say(code, (*path, name), f"the trailer has no {what} '{name[:80]}'", hint, key=True)


def fluids(look: Look) -> None:
    """Fills of tanks and cylinders the trailer does not have."""
    tanks, cylinders = look.keys("trailer", "tanks"), look.keys("trailer", "cylinders")
    states: list[Path] = [("cases", i) for i in range(len(look.rig.cases))]
    states.append(("trailer", "empty", "includes"))
    for state in states:
        for name, known, code in (
            ("tanks", tanks, "tank-unknown"),
            ("cylinders", cylinders, "cylinder-unknown"),
        ):
            if not look.sure("trailer", name) or not look.sure(*state, name):
                continue
            _unknown_keys(look, code, (*state, name), look.keys(*state, name), known, name[:-1])


def left_home(look: Look) -> None:
    """Names under 'without' that are neither cylinder nor battery."""
    trailer = look.rig.trailer
    known = [*look.keys("trailer", "cylinders"), *(b.name for b in trailer.batteries)]
    where = "the trailer"
    if not look.sure("trailer", "cylinders") or not look.named("trailer", "batteries"):
        return
    for index, case in enumerate(look.rig.cases):
        path: Path = ("cases", index, "without")
        look.names("without-unknown", path, case.without, known, "cylinder or battery", where)
    path = ("trailer", "empty", "includes", "without")
    given = trailer.empty.includes.without
    look.names("without-unknown", path, given, known, "cylinder or battery", where)


def cargo(look: Look) -> None:
    """Cargo sets and cargo items that nothing belongs to."""
    trailer, vehicle = look.rig.trailer, look.rig.vehicle
    marked = [one.set for one in (*trailer.cargo, *trailer.batteries)] + [one.set for one in vehicle.cargo]
    sets = list(dict.fromkeys(name for name in marked if name))
    bodies = (("trailer", "cargo"), ("vehicle", "cargo"), ("trailer", "batteries"))
    if all(look.named(*where, by="set") for where in bodies):
        for index, case in enumerate(look.rig.cases):
            path: Path = ("cases", index, "cargo")
            look.names("set-unknown", path, case.cargo, sets, "cargo set", "'set' of the cargo items")
    if look.named("trailer", "cargo") and look.named("trailer", "batteries"):
        path = ("trailer", "empty", "includes", "cargo")
        items = [one.name for one in (*trailer.cargo, *trailer.batteries)]
        given = trailer.empty.includes.cargo
        look.names("item-unknown", path, given, items, "cargo item or battery", "trailer.cargo")


def people(look: Look) -> None:
    """Occupants and seats that are not described."""
    rig = look.rig
    names, seats = [one.name for one in rig.occupants], look.keys("vehicle", "seats")
    for index, case in enumerate(rig.cases if look.named("occupants") else ()):
        path: Path = ("cases", index, "occupants")
        look.names("occupant-unknown", path, case.occupants or (), names, "occupant", "occupants")
    empty = rig.alone == "trailer"
    for index, person in enumerate(rig.occupants):
        if (
            person.seat is not None
            and person.seat not in seats
            and look.sure("vehicle", "seats")
            and not empty
        ):
            hint = suggest(person.seat, seats, "add it to vehicle.seats")
            words = f"vehicle.seats has no '{person.seat[:80]}'"
            look.say("seat-unknown", ("occupants", index, "seat"), words, hint)


def halves(look: Look) -> None:
    """Neither vehicle nor trailer: one of them may be left out, not both."""
    rig = look.rig
    neither = isinstance(rig.vehicle, NoVehicle) and isinstance(rig.trailer, NoTrailer)
    if neither and look.sure("vehicle") and look.sure("trailer"):
        words = "there is neither a trailer nor a vehicle"
        hint = "add 'trailer:', 'vehicle:' or both, with the fields below them"
        look.say("key-missing", ("trailer",), words, hint, key=True)


def cases(look: Look) -> None:
    """No loading case, or a weighing of a case that is not described."""
    rig = look.rig
    if not rig.cases and look.sure("cases"):
        hint = "add '- name: leaving home' with the fills of that day"
        look.say("cases-none", ("cases",), "there is no loading case", hint, key=True)
    known = [case.name for case in rig.cases]
    for index, weighing in enumerate(rig.weighings):
        path: Path = ("weighings", index, "case")
        if weighing.case not in known and look.sure(*path) and look.named("cases"):
            words = f"there is no loading case '{weighing.case[:80]}'"
            look.say("case-unknown", path, words, suggest(weighing.case, known))
        for wheel in weighing.wheels:
            found = _WHEEL.fullmatch(wheel)
            if found is None or int(found[2]) > max(rig.trailer.axles.count, 1):
                words = f"'{wheel[:80]}' is no wheel of this trailer"
                hint = "write 'left 1', 'right 1' and so on, axles counted from the front"
                look.say("wheel-name", ("weighings", index, "wheels", wheel), words, hint, key=True)


def twice(look: Look) -> None:
    """Two things of one list with the same name, and names that are empty."""
    rig = look.rig
    lists: list[tuple[Path, list[str]]] = [
        (("occupants",), [one.name for one in rig.occupants]),
        (("cases",), [one.name for one in rig.cases]),
        (("trailer", "batteries"), [one.name for one in rig.trailer.batteries]),
        (("trailer", "cargo"), [one.name for one in rig.trailer.cargo]),
        (("vehicle", "cargo"), [one.name for one in rig.vehicle.cargo]),
    ]
    cylinders = {name.casefold() for name in rig.trailer.cylinders}
    for path, names in lists:
        seen = set(cylinders) if path[-1] == "batteries" else set[str]()
        for index, name in enumerate(names):
            where = (*path, index, "name")
            if not look.sure(*where):
                continue
            if is_blank(name):
                look.say("name-empty", where, "nothing of the name is seen", "write a name")
            elif name.strip().casefold() in seen:
                words = f"another one is already called '{name[:80]}'"
                look.say("name-twice", where, words, "give each its own name")
            seen.add(name.strip().casefold())


def nickname(look: Look) -> None:
    """A nickname that cannot name a folder."""
    name = look.rig.nickname
    if not look.sure("nickname"):
        return
    if is_blank(name):
        look.say("name-empty", ("nickname",), "nothing of the nickname is seen", "write a nickname")
    elif plain_slug(name) in RESERVED:
        words = f"'{name[:80]}' is kept for other uses in the output folder or by Windows"
        look.say("nickname-reserved", ("nickname",), words, f"try '{name[:60]} rig'")


CHECKS = (halves, fluids, left_home, cargo, people, cases, twice, nickname)
