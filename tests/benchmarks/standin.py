"""A maker that hands over files as many and as large as the real ones, without printing them.

With it the cost of everything around printing is measured: reading, describing, hashing,
writing, swapping, and looking whether anything changed.
"""

from __future__ import annotations

from collections.abc import Container, Mapping, Sequence

from cardgen.bundle.inputs import fingerprint
from cardgen.bundle.ledger import RevisionInfo
from cardgen.bundle.work import Described, Options, PrintedCard, Rendered, RigBuild
from cardgen.model.read import ReadResult

NAME = "tests.benchmarks.standin:StandIn"
CARDS = 8
CARD_SIZE = 45_000  # bytes
PAGES = {
    "index.html": 4_300,
    "use.html": 69_000,
    "check.html": 95_000,
    "workings.html": 130_000,
    "borrower.html": 48_000,
}  # bytes


class StandIn:
    """Makes files of the right size."""

    def describe(self, read: ReadResult, options: Options) -> Described:
        """Describe some cards that print the name and the weights."""
        rig = read.rig
        assert rig is not None
        weight = rig.trailer.empty.weight
        said = {"name": rig.nickname, "weight": weight.text if weight else ""}
        mark = fingerprint(said)
        cards = tuple(PrintedCard(f"card-{n}", f"Card {n}", mark, said) for n in range(CARDS))
        return Described(
            cards=cards, key_numbers=said, outcome="within", content=mark, same_until=options.day.max
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
        """Fill files with something that differs from rig to rig."""
        mark = described.content.encode()
        files = {
            f"{card.id}.pdf": b"%PDF-1.7\n" + mark * (CARD_SIZE // len(mark)) + b"\n%%EOF\n"
            for card in described.cards
            if card.id not in kept
        }
        files |= {name: b"<html>" + mark * (size // len(mark)) + b"</html>" for name, size in PAGES.items()}
        return Rendered(files=files)

    def index(self, rigs: Sequence[RigBuild], options: Options, kept: frozenset[str]) -> Mapping[str, bytes]:
        """List the rigs."""
        return {"index.html": f"<html>{' '.join(one.slug for one in rigs)}</html>".encode()}
