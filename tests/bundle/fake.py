"""A maker that prints a few numbers quickly, for tests of everything around the real one."""

from __future__ import annotations

import os
import signal
import time
from collections.abc import Container, Mapping, Sequence
from pathlib import Path

from cardgen.bundle.errors import MissingError
from cardgen.bundle.inputs import fingerprint
from cardgen.bundle.ledger import RevisionInfo
from cardgen.bundle.work import Described, Options, PrintedCard, Rendered, RigBuild
from cardgen.model.read import ReadResult
from cardgen.model.rig import Rig
from cardgen.units.quantity import Quantity

NAME = "tests.bundle.fake:FakeMaker"


def written(value: Quantity | None) -> str:
    """Text of a quantity."""
    return value.text if value else "not checked"


def card_values(rig: Rig) -> dict[str, dict[str, str]]:
    """What the two fake cards print."""
    pressure = written(rig.trailer.tire_pressure)
    return {
        "glovebox-card": {"name": rig.nickname, "tire pressure": pressure, "note": rig.note or ""},
        "mount-card": {"mount drop": written(rig.gear.mount.drop if rig.gear.mount else None)},
    }


class FakeMaker:
    """Behaves as notes in the rig file tell it: over, bug, missing, problem, death."""

    def describe(self, read: ReadResult, options: Options) -> Described:
        """Describe two cards."""
        rig = read.rig
        assert rig is not None
        note = rig.note or ""
        if "make a bug" in note:
            raise ZeroDivisionError("made for a test")
        if "system lacks" in note:
            raise MissingError("the system lacks something; install it")
        values = card_values(rig)
        cards = tuple(
            PrintedCard(name, name.replace("-", " ").capitalize(), fingerprint(said), said)
            for name, said in values.items()
            if not options.cards or name in options.cards
        )
        over = ("tongue weight 900 lb of 800 lb",) if "too heavy" in note else ()
        return Described(
            cards=cards,
            key_numbers={"tire pressure": values["glovebox-card"]["tire pressure"]},
            outcome="over" if over else "within",
            over=over,
            content=fingerprint((values, note, rig.water_temperature)),
            same_until=rig.dates.registration,
            model=values,
        )

    def mark(
        self, described: Described, options: Options, known: Mapping[str, str], look: Container[str]
    ) -> Described:
        """Every fingerprint is already there."""
        return described

    def render(
        self,
        read: ReadResult,
        options: Options,
        described: Described,
        revision: RevisionInfo,
        kept: frozenset[str],
    ) -> Rendered:
        """Make small files."""
        rig = read.rig
        assert rig is not None
        note = rig.note or ""
        if "dies" in note:
            die(note)
        if note.startswith("sleep "):
            time.sleep(float(note.split()[1]))
        files = {"index.html": page(rig.nickname, revision)}
        for card in described.cards:
            if card.id in kept:
                continue
            issue = revision.of(card.id)
            text = f"{card.title} revision {issue.number} of {issue.day}: {dict(card.values)}"
            files[f"{card.id}.pdf"] = b"%PDF-1.7\n" + text.encode() + b"\n%%EOF\n"
        if "bad file" in note:
            files["zz.pdf"] = b"%PDF-1.7 cut"
        problems = ("text leaves its box by 3 mm",) if "does not fit" in note else ()
        missing = ("no print engine, so no PDF",) if "no engine" in note else ()
        made = [card.id for card in described.cards if card.id not in kept]
        return Rendered(
            files=files,
            problems=problems,
            missing=missing,
            notes=("made by a fake",),
            card_notes={name: (f"{name} has {len(note)} letters",) for name in made if "note" in note},
        )

    def index(self, rigs: Sequence[RigBuild], options: Options, kept: frozenset[str]) -> Mapping[str, bytes]:
        """List the rigs."""
        lines = "".join(
            f"<li>{one.slug} {one.number} {one.status == 'failed'} {one.behind}</li>" for one in rigs
        )
        return {
            "index.html": f"<html><ul>{lines}</ul></html>".encode(),
            "assets/style.css": b"body { color: black }\n",
        }


def page(nickname: str, revision: RevisionInfo) -> bytes:
    """A small report with the history."""
    lines = "".join(f"<li>{one.number}: {'; '.join(one.words)}</li>" for one in revision.history)
    return f'<html><link href="../assets/style.css"><main id="main"><h1>{nickname}</h1><ul>{lines}</ul></html>'.encode()


def die(note: str) -> None:
    """End this process hard; with ``dies once`` only while the file that ``DIED`` names is not there."""
    marker = Path(os.environ.get("DIED", ""))
    if "dies once" in note:
        try:
            marker.touch(exist_ok=False)
        except FileExistsError:
            return
    os.kill(os.getpid(), signal.SIGKILL)
