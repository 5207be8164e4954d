"""The manifest: what the output folder holds that is ours, and what it was made from."""

from __future__ import annotations

import datetime as dt
import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import asdict, dataclass, field, replace
from pathlib import Path
from typing import Any

from cardgen.bundle.errors import OutputRefusedError
from cardgen.model.slug import RESERVED
from cardgen.source.disk import Disk

OWN = ".cardgen"
"""Folder inside the output folder in which the manifest and unfinished work live."""
MEASURE = "measure.html"
"""The page of a rig that names other rigs, those that take in the same parts."""

_STEP = re.compile(r"[A-Za-z0-9_][A-Za-z0-9_.-]{0,119}")
_SLUG = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


def is_safe(name: str) -> bool:
    """Whether a relative name with ``/`` stays inside its folder on every system."""
    steps = name.split("/")
    return 0 < len(steps) <= 6 and all(
        _STEP.fullmatch(step) and not step.endswith(".") and (step.partition(".")[0].lower() not in _DEVICES)
        for step in steps
    )


_DEVICES = RESERVED - {"index", "assets", "manifest", "parts", "build"}


def is_slug(name: str) -> bool:
    """Whether a text can be the folder name of a rig."""
    return bool(_SLUG.fullmatch(name)) and len(name) <= 80 and name not in RESERVED


MANIFEST = f"{OWN}/manifest.json"
FORMAT = 4
BEFORE = (2, 3)
"""Formats of earlier cardgens, without prints of cards or days of what is due; of others only the names of our files are read."""


@dataclass(frozen=True, slots=True)
class OutputFile:
    """Size [bytes] and SHA-256 of an output file."""

    size: int
    sha256: str


@dataclass(frozen=True, slots=True)
class CardOutput:
    """One card of a rig.

    Args:
        title: what the card is [-].
        number, day: revision in which its print last changed.
        key: fingerprint of what its file was rendered from.
        print: fingerprint of what it prints; empty when it is not known.
        page: fingerprint of what the print came of.
        notes: what was said when it was rendered.
    """

    title: str
    number: int
    day: str
    key: str
    notes: tuple[str, ...] = ()
    print: str = ""
    page: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class RigOutput:
    """One rig in the output folder.

    Args:
        nickname: the rig's nickname.
        source: rig file, relative to the output folder.
        inputs: path relative to the output folder, and fingerprint, of every file read.
        key: fingerprint of inputs, tools, options and ledger.
        day: day it was described for.
        same_until: first day on which another day may change it, None when every day may.
        render_key: fingerprint of what was rendered.
        files: output files relative to the rig's folder.
        outcome, over, key_numbers, due, about: of the checks and dates, as described.
        number, revision_day: newest revision; 0 when only the names of the files are known.
        cards: by id, in their order.
        notes, missing: what was said when it was rendered.
        wishes: options it was built with, by name, without the day and those left to the rig.
        address: where its cards lead, empty when nowhere.
        formerly: nickname by folder name, of names that it had before.
    """

    nickname: str
    source: str
    inputs: Mapping[str, str]
    key: str
    day: str
    same_until: str | None
    render_key: str
    files: Mapping[str, OutputFile]
    outcome: str
    over: tuple[str, ...]
    key_numbers: Mapping[str, str]
    number: int
    revision_day: str
    cards: Mapping[str, CardOutput]
    notes: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    due: Mapping[str, str] = field(default_factory=dict)
    about: str = ""
    wishes: Mapping[str, Any] = field(default_factory=dict)
    address: str = ""
    formerly: Mapping[str, str] = field(default_factory=dict)

    @property
    def all_notes(self) -> tuple[str, ...]:
        """Notes of the cards and of the rig, each once."""
        return tuple(dict.fromkeys([*(n for card in self.cards.values() for n in card.notes), *self.notes]))

    def holds_on(self, day: dt.date) -> bool:
        """Whether what was described still holds on a day."""
        if self.day == day.isoformat():
            return True
        return self.same_until is not None and self.day < day.isoformat() < self.same_until


@dataclass(frozen=True, slots=True, kw_only=True)
class Manifest:
    """Everything in the output folder that is ours.

    Args:
        rigs: by folder name.
        shared: files of the page of all rigs, relative to the output folder.
        index_key: fingerprint of what that page was made from.
    """

    rigs: Mapping[str, RigOutput] = field(default_factory=dict)
    shared: Mapping[str, OutputFile] = field(default_factory=dict)
    index_key: str = ""

    def all_files(self) -> Iterator[tuple[str, OutputFile]]:
        """Every file of ours, relative to the output folder."""
        yield from self.shared.items()
        for slug, entry in self.rigs.items():
            for name, file in entry.files.items():
                yield f"{slug}/{name}", file


def without_keys(entry: RigOutput) -> RigOutput:
    """The entry of a rig that has to be made anew as a whole."""
    cards = {name: replace(card, key="") for name, card in entry.cards.items()}
    return replace(entry, key="", render_key="", cards=cards)


def to_bytes(manifest: Manifest) -> bytes:
    """Write the manifest."""
    data = {"format": FORMAT, **asdict(manifest)}
    # A file name need not be UTF-8; what it holds else becomes the escape that JSON has for it.
    return (json.dumps(data, ensure_ascii=False, indent=0) + "\n").encode("utf-8", "backslashreplace")


def read_manifest(out: Path) -> Manifest:
    """Read the manifest of an output folder; an empty one when there is none.

    Raises:
        OutputRefusedError: it cannot be read, or names files outside the output folder.
    """
    path = out / MANIFEST
    try:
        text = Disk().read_bytes(path)
    except FileNotFoundError:
        return Manifest()
    except OSError as problem:
        raise OutputRefusedError(f"'{path}' cannot be read: {problem.strerror}") from problem
    try:
        return _from(json.loads(text))
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError) as problem:
        raise OutputRefusedError(
            f"'{path}' is damaged ({problem}); "
            f"delete the folder '{path.parent}' and build with --force to write over the earlier output"
        ) from problem


def _from(data: dict[str, Any]) -> Manifest:
    known = data["format"] in (FORMAT, *BEFORE)
    if data["format"] in BEFORE:
        cards = [card for entry in data["rigs"].values() for card in entry["cards"].values()]
        for card in cards:
            card["print"] = ""
    rigs = {slug: (_entry if known else _names_only)(entry) for slug, entry in data["rigs"].items()}
    manifest = Manifest(rigs=rigs, shared=_files(data["shared"]), index_key=str(data["index_key"]))
    for slug in manifest.rigs:
        if not is_slug(slug):
            raise ValueError(f"'{slug[:80]}' is no folder name of a rig")
    return manifest


def _files(data: dict[str, Any]) -> dict[str, OutputFile]:
    for name in data:
        if not is_safe(name):
            raise ValueError(f"'{name[:80]}' is no name of an output file")
    return {name: OutputFile(int(one["size"]), str(one["sha256"])) for name, one in data.items()}


def _names_only(data: dict[str, Any]) -> RigOutput:
    """What is ours, from a manifest of another version; the rig is made anew."""
    return RigOutput(
        nickname="",
        source=str(data["source"]),
        inputs={},
        key="",
        day="",
        same_until=None,
        render_key="",
        files=_files(data["files"]),
        outcome="",
        over=(),
        key_numbers={},
        number=0,
        revision_day="",
        cards={},
    )


def _entry(data: dict[str, Any]) -> RigOutput:
    cards = {name: CardOutput(**{**one, "notes": tuple(one["notes"])}) for name, one in data["cards"].items()}
    lists = {name: tuple(map(str, data[name])) for name in ("over", "notes", "missing")}
    due = (
        data["due"] if isinstance(data["due"], dict) else dict.fromkeys(data["due"], data["day"])
    )  # of earlier
    due = {str(name): str(day) for name, day in due.items()}
    return RigOutput(**{**data, **lists, "due": due, "files": _files(data["files"]), "cards": cards})
