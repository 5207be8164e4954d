"""``cardgen new``: a commented starter rig, or a copy of a demo rig with its parts."""

from __future__ import annotations

import argparse
import sys
import typing
from pathlib import Path

from cardgen.commands import common
from cardgen.commands.exits import Exit

HELP = "write a commented starter rig"
_BODIES = ("camper", "travel_trailer", "caravan", "utility", "cargo", "boat", "horse", "car_hauler")
_CHOICES = {
    "market": ("us", "ca", "uk", "eu", "au", "nz"),
    "type": ("ball", "gooseneck", "fifth_wheel"),
    "body": _BODIES,
    "vehicle": ("pickup", "suv", "car", "van"),
}


def add(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    parser.add_argument("name", metavar="NAME", help="nickname of the rig")
    parser.add_argument(
        "--rigs-dir", type=Path, default=Path("rigs"), metavar="FOLDER", help="folder of the rigs"
    )
    parser.add_argument("--from", dest="demo", metavar="DEMO", help="copy a demo rig and its parts instead")
    for name, choices in _CHOICES.items():
        parser.add_argument(
            f"--{name}", choices=choices, help=f"(default: {choices[0]}, or asked on a terminal)"
        )


def run(args: argparse.Namespace) -> int:
    """Write the rig file and the schema beside it; never overwrite anything."""
    from cardgen.commands.schema import schema_text
    from cardgen.model.slug import slug

    stem = slug(args.name)
    target = args.rigs_dir / f"{stem}.yaml"
    if target.exists():
        common.say(f"'{target}' exists already; choose another name")
        return Exit.REFUSED
    files = _copy(args, stem) if args.demo else _fresh(args, stem)
    if files is None:
        return Exit.USAGE
    files["rig.schema.json"] = schema_text()
    for name, text in files.items():
        path = args.rigs_dir / name
        if path.exists():
            continue
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
        except OSError as fault:
            common.say(f"cannot write '{path}': {fault.strerror}")
            return Exit.REFUSED
    print(target)
    return Exit.FINE


def _fresh(args: argparse.Namespace, stem: str) -> dict[str, str] | None:
    from cardgen.model.starter import Wish, starter

    answers = {name: getattr(args, name) or _ask(name, choices) for name, choices in _CHOICES.items()}
    return {f"{stem}.yaml": starter(Wish(args.name, **answers))}


def _ask(name: str, choices: typing.Sequence[str]) -> str:
    """Ask on a terminal; elsewhere take the first choice."""
    if not (sys.stdin.isatty() and sys.stderr.isatty()):
        return choices[0]
    while True:
        print(f"{name} ({', '.join(choices)}) [{choices[0]}]: ", end="", file=sys.stderr, flush=True)
        answer = sys.stdin.readline().strip() or choices[0]
        if answer in choices:
            return answer
        common.say(f"'{answer}' is none of them")


def _copy(args: argparse.Namespace, stem: str) -> dict[str, str] | None:
    """Copy a demo rig under a new nickname together with every part it uses."""
    from cardgen.commands.demo import demo_rigs
    from cardgen.model.read import read_rig

    folder = demo_rigs()
    source = folder / f"{args.demo}.yaml"
    if not source.is_file():
        known = ", ".join(sorted(p.stem for p in folder.glob("*.yaml")))
        common.say(f"no demo rig '{args.demo}'; known: {known}")
        return None
    lines = source.read_text(encoding="utf-8").splitlines(keepends=True)
    quoted = args.name.replace("\\", "\\\\").replace('"', '\\"')
    text = "".join(f'nickname: "{quoted}"\n' if line.startswith("nickname:") else line for line in lines)
    parts = [p for p in read_rig(source).files if p != source]
    return {f"{stem}.yaml": text} | {str(p.relative_to(folder)): p.read_text(encoding="utf-8") for p in parts}
