"""What to measure or read: each thing once, what opens the most checks first."""

from __future__ import annotations

import re
from collections.abc import Iterable

from cardgen.limits.registry import rule_of
from cardgen.model.needs import Need
from cardgen.model.results import Finding
from cardgen.model.rig import Rig
from cardgen.model.starter import left_open
from cardgen.physics.needs import need as need_of

_SILENT = frozenset(
    {"gear", "preferences", "ratings", "table", "axles", "dimensions", "weight_carrying", "includes"}
)
"""Groups of fields whose names tell a person nothing more."""
_WORDS = {
    "coupler": "{coupler}",
    "curb": "{curb}",
    "empty": "empty weight",
    "gawr": "{axle_rating}",
    "mount": "{ball_mount}",
    "receiver": "{receiver}",
}
_TIRE = re.compile(r"tires (front|rear)")
_NUMBER = re.compile(r"\[(\d+)\]")
_INDEX = re.compile(r"\[\d*\]")
FIRST = 12
"""So many things to measure or read are told first, the rest in the report [-]."""


def whose(path: str, what: str) -> str:
    """Say what a field belongs to: ``vehicle.tires.front.size`` is the ``vehicle front tire``'s.

    Args:
        path: the field [-].
        what: the field in words, which need not be repeated [-].

    Returns:
        Words of the trade; empty for a field that needs none.
    """
    steps = [step for step in path.split(".")[:-1] if step not in _SILENT]
    counted = [_NUMBER.sub(lambda found: f" {int(found[1]) + 1}", step) for step in steps]
    words = [_WORDS.get(step, step.replace("_", " ").replace("occupants", "occupant")) for step in counted]
    kept = [word for word in words if not _says(what, word)]
    return _TIRE.sub(r"\1 tire", " ".join(kept))


def _says(what: str, word: str) -> bool:
    """Whether words name their owner: a gross vehicle weight rating can be the trailer's too."""
    if word in ("trailer", "vehicle"):
        return re.search(rf"\b(the|whole) {word}\b|\b{word}'s\b", what) is not None
    return word in what


def asked(need: Need) -> str:
    """Name what is missing and, where the name alone does not tell, what it belongs to."""
    owner = whose(need.path, need.what)
    return f"{need.what} ({owner})" if owner else need.what


def briefly(need: Need) -> str:
    """Name what is missing for a card: without the explanation that the report gives."""
    plain = re.split(r": | \(", need.what, maxsplit=1)[0]
    return asked(Need(need.path, plain))


def bare(path: str) -> str:
    """Write a field path without the numbers of items: ``trailer.axles.gawr[1]`` is ``trailer.axles.gawr``."""
    return _INDEX.sub("", path)


def waiting(findings: Iterable[Finding], rig: Rig) -> list[tuple[Need, tuple[Finding, ...]]]:
    """List what findings wait for, each once, what opens the most first.

    A check asks for one thing after another. So what its rule declares counts for it as soon as any finding asks
    for it, or the starter of such a rig would and the file does not state it.

    Args:
        findings: checks that were not made.
        rig: their rig.
    """
    waits = tuple(findings)
    named: dict[str, dict[Need, None]] = {}
    for need in (n for f in waits for n in f.needs):
        named.setdefault(bare(need.path), {})[need] = None
    for need in map(need_of, left_open(rig)):
        named.setdefault(bare(need.path), {need: None})
    opens: dict[Need, list[Finding]] = {need: [] for group in named.values() for need in group}
    for finding in waits:
        rule = rule_of(finding.code)
        declared = {bare(path) for path in rule.fields} if rule else set()
        later = [need for path in declared for need in named.get(path, ())]
        for need in dict.fromkeys((*finding.needs, *later)):
            opens[need].append(finding)
    asked_for = ((need, tuple(found)) for need, found in opens.items() if found)
    return sorted(asked_for, key=lambda pair: -len(pair[1]))


def once(listed: Iterable[tuple[Need, tuple[Finding, ...]]]) -> list[tuple[Need, tuple[Finding, ...]]]:
    """Keep the first of those that a card names in the same words; the report tells their fields apart."""
    kept: dict[str, tuple[Need, tuple[Finding, ...]]] = {}
    for need, findings in listed:
        kept.setdefault(briefly(need), (need, findings))
    return list(kept.values())
