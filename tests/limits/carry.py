"""Carry a proposal out on a rig file as its sentence says, knowing nothing of how it was worked out."""

from __future__ import annotations

import re
from copy import deepcopy
from typing import Any

from cardgen.model.advice import Remedy
from cardgen.units.parse import parse

Tree = dict[str, Any]
NAME = r"'(?P<name>.+?)'"
MASS = r"\{(?P<mass>mass\d*)\}"
BAY = r"'(?P<bay>.+?)' \(\{place\d*\} behind the coupling\)"
OVER = r"(?P<over> in the trailer, on the middle line)?"
CLAUSES = {
    "move": rf"(?:move|take) {NAME} \({MASS}\) to {BAY}{OVER}",
    "slide": rf"move {NAME} \({MASS}\) (?:rearward|forward) until its middle is \{{(?P<place>place\d*)\}} (?:behind the coupling|ahead of the rear axle), where there is room",
    "shift": rf"shift {MASS} of {NAME}(?:, if it can be parted,)? to {BAY}{OVER}",
    "leave": rf"leave {NAME} \({MASS}\) at home",
    "some": rf"leave {MASS} of {NAME}(?:, if it can be parted,)? at home",
    "set": r"leave out cargo set '(?P<name>.+?)' \(\{mass\}\)",
    "tank": r"travel with the (?P<name>.+?)(?: tank)? (?:(?P<end>empty|full)|at \{share\} of its \{capacity\})",
    "less": r"carry \{mass\} less cargo in the (?P<body>trailer|vehicle), taken evenly(?:, where it can be parted)?",
    "mount": r"use the \{ball_mount\} '(?P<name>.+?)'",
    "part": r"fit a (?P<name>.+?) rated for \{mass\} or more",
    "speed": r"plan no more than \{speed\}",
    "ease": r"ease the bars until they put back no more than \{share\}",
}
FITTED = {
    "{ball_mount}": "mount",
    "weight distribution": "weight_distribution",
    "{receiver} adapter": "adapter",
}
WHERE = r"(?:, in (?:'.+?'(?: and )?)+)?"


def carried_out(tree: Tree, remedy: Remedy) -> Tree:
    """Edit the document as a person would who reads the proposal; unknown words are an error."""
    made, rest = deepcopy(tree), remedy.text
    cases = [c for c in made["cases"] if not remedy.cases or c["name"] in remedy.cases]
    while rest:
        for kind, words in CLAUSES.items():
            if found := re.match(words, rest):
                _clause(made, cases, kind, found.groupdict(), remedy)
                rest = rest[found.end() :].removeprefix(" and ")
                break
        else:
            assert re.fullmatch(WHERE, rest), remedy.text
            break
    return made


def _clause(made: Tree, cases: list[Tree], kind: str, words: dict[str, Any], remedy: Remedy) -> None:
    values, name = remedy.values, words.get("name")
    if kind == "tank":
        tank = next(n for n in made["trailer"]["tanks"] if name in (n, n.removesuffix(" tank")))
        share = {"empty": 0.0, "full": 1.0}.get(words["end"] or "", values.get("share", (0.0, ""))[0])
        for case in cases:
            case.setdefault("tanks", {})[tank] = f"{100 * share:.6f} %"
    elif kind == "set":
        for case in cases:
            case["cargo"] = [one for one in case.get("cargo", ()) if one != name]
    elif kind == "mount":
        made["gear"]["mount"] = next(m for m in made["gear"]["stock"] if m.get("name") == name)
    elif kind == "part":
        rating = f"{values['mass'][0]:.9f} kg"
        end = "tongue" if "-tongue-" in remedy.code else "trailer"
        if name == "ball":
            made["gear"]["ball"]["rating"] = rating
        else:
            made["gear"][FITTED[name or ""]]["ratings"][end] = rating
    elif kind == "speed":
        made["preferences"]["planned_speed"] = f"{values['speed'][0]:.9f} m/s"
    elif kind == "ease":
        made["gear"]["weight_distribution"].pop("moment", None)
        made["gear"]["weight_distribution"]["restoration"] = "100 %"
    elif kind == "less":
        loose = [one for one in _cargo(made, words["body"]) if _loose(one, cases)]
        whole = sum(_mass(one) for one in loose)
        for one in list(loose):
            take(made, cases, words["body"], one, _mass(one) * values["mass"][0] / whole)
    else:
        mass = values[words["mass"]][0]
        body = next(b for b in ("trailer", "vehicle") if any(o["name"] == name for o in _cargo(made, b)))
        item = next(one for one in _cargo(made, body) if one["name"] == name)
        place = made["trailer"]["bays"][words["bay"]] if words.get("bay") else None
        if kind == "slide":
            place = f"{values[words['place']][0]:.9f} m"
        assert bool(words.get("over")) == (body == "vehicle" and bool(words.get("bay"))), remedy.text
        take(made, cases, body, item, mass, place, slid=kind == "slide")


def _cargo(made: Tree, body: str) -> list[Tree]:
    cargo: list[Tree] = made[body].get("cargo") or []
    return cargo


def _mass(item: Tree) -> float:
    return parse(item["weight"], "mass").si


SAFETY = ("extinguisher", "chock", "jack", "chain")


def _loose(item: Tree, cases: list[Tree]) -> bool:
    """Whether an item may stay at home and is aboard in these cases."""
    return (
        item.get("movable") is not False
        and not any(word in item["name"] for word in SAFETY)
        and item.get("weight", "unknown") != "unknown"
        and all(
            item.get("set") in (None, "unknown") or item["set"] in case.get("cargo", ()) for case in cases
        )
    )


def take(
    made: Tree,
    cases: list[Tree],
    body: str,
    item: Tree,
    mass: float,
    place: str | None = None,
    *,
    slid: bool = False,
) -> None:
    """Take part of an item [kg] away in some cases, and put it down at a place when one is given."""
    old, number = (
        deepcopy(item),
        sum("as it was" in str(one.get("set")) for b in ("trailer", "vehicle") for one in _cargo(made, b)),
    )
    here, there = f"{item['name']} as it was {number}", f"{item['name']} there {number}"
    aboard = [
        c for c in made["cases"] if old.get("set") in (None, "unknown") or old["set"] in c.get("cargo", ())
    ]
    item["set"] = here
    for case in aboard:
        case["cargo"] = [*case.get("cargo", ()), there if case in cases else here]
    left = _mass(old) - mass
    tail = old["weight"].partition("+/-")[2]
    end = f" +/-{tail}" if tail else ""
    if left > 1e-6:
        made[body]["cargo"].append(
            old | {"name": f"{old['name']} rest {number}", "weight": f"{left:.9f} kg{end}", "set": there}
        )
    if place is None:
        return
    moved = old | {"name": f"{old['name']} moved {number}", "weight": f"{mass:.9f} kg{end}", "set": there}
    if body == "vehicle" and slid:
        made["vehicle"]["cargo"].append(moved | {"ahead_of_rear_axle": place})
        return
    if body == "vehicle":
        moved = {k: v for k, v in moved.items() if k != "ahead_of_rear_axle"} | {"y": "0 m"}
    made["trailer"].setdefault("cargo", []).append(moved | {"x": place})
