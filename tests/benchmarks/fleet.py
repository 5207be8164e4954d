"""Many varied, valid rigs to measure with: ``python -m tests.benchmarks.fleet N --out FOLDER``.

Made from the demo rigs with other names, weights, loads, people, equipment and dates. All
numbers are invented. The same count and seed give the same files.
"""

from __future__ import annotations

import argparse
import datetime as dt
import re
from collections.abc import Iterator, Sequence
from pathlib import Path
from random import Random
from typing import Any

import yaml

from cardgen.commands.demo import demo_rigs

_FIRST = [
    "Amber",
    "Brisk",
    "Cedar",
    "Dusty",
    "Early",
    "Fern",
    "Gentle",
    "Hazel",
    "Ivory",
    "Jolly",
    "Kindly",
    "Lucky",
    "Mellow",
    "Nimble",
    "Olive",
    "Placid",
    "Quiet",
    "Rusty",
    "Sandy",
    "Tidy",
    "Umber",
    "Velvet",
    "Windy",
    "Yonder",
    "Zesty",
    "Birch",
    "Clover",
    "Drizzle",
    "Ember",
    "Frosty",
]
_SECOND = [
    "Badger",
    "Bittern",
    "Curlew",
    "Dipper",
    "Egret",
    "Finch",
    "Gannet",
    "Hare",
    "Ibis",
    "Jackdaw",
    "Kestrel",
    "Lapwing",
    "Marten",
    "Newt",
    "Osprey",
    "Pipit",
    "Quail",
    "Robin",
    "Snipe",
    "Teal",
    "Vole",
    "Whimbrel",
    "Yaffle",
    "Shrew",
    "Plover",
    "Linnet",
    "Godwit",
    "Dunlin",
    "Crake",
    "Beaver",
]
_PLACES = ("us-va", "us-md", "us-wv", "us-nc", "us-pa", "us-tn")
_AMOUNT = re.compile(r"([\d,]+(?:\.\d+)?) (lb|kg|gal|L)")
_TOGGLES = ("screen_door", "awning", "steps", "antenna", "tpms")
_FILLS = ("empty", "1/4", "1/2", "3/4", "full")
_START = dt.date(2026, 1, 5)
Tree = dict[str, Any]


def fleet(count: int, seed: int, base: Path) -> Iterator[tuple[str, str]]:
    """Yield names, relative to a rigs folder, and texts of files.

    Args:
        count: number of rigs [-].
        seed: of the random numbers [-].
        base: folder of the demo rigs, which are varied.
    """
    for path in sorted((base / "parts").rglob("*.yaml")):
        yield path.relative_to(base).as_posix(), path.read_text("utf-8")
    demos = sorted(base.glob("*.yaml"))
    width = len(str(count))
    for number in range(count):
        random = Random(f"{seed} {number}")
        rig = _load(random.choice(demos))
        _vary(rig, random, base, number)
        text = yaml.safe_dump(rig, sort_keys=False, allow_unicode=True, width=100)
        yield f"rig-{number + 1:0{width}}.yaml", "# A rig of an invented fleet.\n" + text


def _load(path: Path) -> Tree:
    """Read a file with every value as text."""
    data: Tree = yaml.load(path.read_text("utf-8"), Loader=yaml.BaseLoader)  # texts only
    return data


def nickname(number: int) -> str:
    """The nickname of a rig of the fleet; no two are alike."""
    first = _FIRST[number % len(_FIRST)]
    second = _SECOND[number // len(_FIRST) % len(_SECOND)]
    lap = number // (len(_FIRST) * len(_SECOND))
    return f"{first} {second}" + (f" {lap + 1}" if lap else "")


def _vary(rig: Tree, random: Random, base: Path, number: int) -> None:
    rig["nickname"] = nickname(number)
    trailer = rig["trailer"]
    part = _load(base / "parts" / f"{trailer['part']}.yaml")
    trailer.update(_trailer(part, random))
    for person in rig.get("occupants", ()):
        person["weight"] = _scaled(person["weight"], random.uniform(0.75, 1.15))
    for case in rig["cases"]:
        case["fuel"] = random.choice(_FILLS[1:])
        for name in case.get("cylinders", {}):
            case["cylinders"][name] = random.choice(_FILLS)
        fresh = case.get("tanks", {}).get("fresh")
        if fresh is not None:
            case["tanks"]["fresh"] = random.choice(_FILLS)
    if rig["market"] == "us":
        rig["places"] = sorted(random.sample(_PLACES, random.randint(1, 3)))
        rig.setdefault("preferences", {})["units"] = "metric" if random.random() < 0.1 else "us"
    rig["dates"] = {
        "last_tow": _day(random, 290),
        "bearing_service": _day(random, 120),
    }


def _trailer(part: Tree, random: Random) -> Tree:
    """Lines of the rig's own that override its trailer."""
    share = random.uniform(0.95, 1.02)
    own: Tree = {
        "name": random.choice(_SECOND),
        "year": str(random.randint(2009, 2025)),
        "empty": {name: _scaled(part["empty"][name], share) for name in ("weight", "tongue")},
        "cargo": _cargo(part["cargo"], random),
        "features": {
            name: random.choice(("true", "false")) for name in _TOGGLES if name in part.get("features", {})
        },
    }
    if "tanks" in part:
        own["tanks"] = {
            name: {"capacity": _scaled(tank["capacity"], random.uniform(0.9, 1.05))}
            for name, tank in part["tanks"].items()
            if "fill" not in tank and _AMOUNT.fullmatch(str(tank.get("capacity")))
        }
    return own


def _cargo(items: list[Tree], random: Random) -> list[Tree]:
    """The cargo with other weights; now and then one thing is left at home for good."""
    made = [{**item, "weight": _scaled(item["weight"], random.uniform(0.6, 1.05))} for item in items]
    spare = [item for item in made if "set" not in item]
    if len(spare) > 1 and random.random() < 0.3:
        made.remove(random.choice(spare))
    return made


def _scaled(text: str, factor: float) -> str:
    """Multiply a quantity and keep its unit: ``1,245 lb`` and 0.5 give ``622 lb``."""
    found = _AMOUNT.fullmatch(text)
    if found is None:
        return text
    value = float(found[1].replace(",", "")) * factor
    return f"{value:,.0f} {found[2]}" if value >= 40 else f"{value:.1f} {found[2]}"


def _day(random: Random, within: int) -> str:
    return (_START + dt.timedelta(days=random.randrange(within))).isoformat()


def write(out: Path, count: int, seed: int = 1) -> None:
    """Write a fleet into a folder.

    Args:
        out: rigs folder, new or empty.
        count: number of rigs [-].
        seed: of the random numbers [-].
    """
    if out.exists() and any(out.iterdir()):
        raise SystemExit(f"'{out}' is not empty; choose a new folder with --out")
    for name, text in fleet(count, seed, demo_rigs()):
        path = out / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")


def _count(text: str) -> int:
    if not text.isdigit() or not 1 <= int(text) <= 100_000:
        raise argparse.ArgumentTypeError(f"'{text}' is not a number from 1 to 100000")
    return int(text)


def main(words: Sequence[str] | None = None) -> None:
    """Write the rigs that the command line asks for."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.fleet", description=__doc__)
    parser.add_argument("count", type=_count, metavar="N", help="number of rigs, 1 to 100000")
    parser.add_argument("--out", type=Path, required=True, metavar="FOLDER", help="new or empty folder")
    parser.add_argument(
        "--seed", type=int, default=1, metavar="N", help="other seed, other rigs (default: 1)"
    )
    args = parser.parse_args(words)
    write(args.out, args.count, args.seed)


if __name__ == "__main__":
    main()
