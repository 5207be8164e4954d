"""What is known while a build runs."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from cardgen.bundle.claims import Claims
from cardgen.bundle.inputs import Bytes
from cardgen.bundle.manifest import Entry
from cardgen.bundle.opened import Opened
from cardgen.bundle.request import Request
from cardgen.bundle.result import RigResult


@dataclass(frozen=True, slots=True)
class Ready:
    """A rig whose files are staged; small, as a fleet has many.

    Args:
        file: rig file.
        tools: fingerprint of the tools that made it.
        revision: name of the file of its new revision, empty when there is none.
        aside: where that file waits.
    """

    file: Path
    tools: str
    revision: str = ""
    aside: Path = Path()


@dataclass(slots=True)
class Session:
    """One build under way.

    Args:
        request: what was asked for.
        place: the output folder.
        tools: fingerprint of the tools of this process.
        bytes: files that were read.
        claims: who wants which folder name.
        sources: folder name by rig file, as the manifest has it.
        elsewhere: whether workers may be on other machines.
        results: what came of each rig file.
        entries: new entries of the manifest, by folder name.
        ready: what else is needed of them at the end, by folder name.
    """

    request: Request
    place: Opened
    tools: str
    bytes: Bytes
    claims: Claims
    sources: dict[str, str]
    elsewhere: bool = False
    results: dict[Path, RigResult] = field(default_factory=dict)
    entries: dict[str, Entry] = field(default_factory=dict)
    ready: dict[str, Ready] = field(default_factory=dict)
