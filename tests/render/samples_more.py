"""Cards that try the limits of the layout: very long names, forty rows, every kind of block."""

from __future__ import annotations

from dataclasses import replace

from cardgen.present.blocks import (
    Banner,
    Block,
    Card,
    CheckLine,
    ChecklistBlock,
    CheckPhase,
    Drawing,
    Face,
    Heading,
    KeyNumber,
    KeyNumbers,
    Note,
    Paragraph,
    Qr,
    Sign,
    Table,
)
from tests.render import figure_samples, samples

LONG = "Wandering Kingfisher of the Upper Meadow and All Its Many Tributaries " * 3
WORD = "Donaudampfschifffahrtsgesellschaft" * 6


def over() -> Banner:
    """The verdict when a limit is exceeded."""
    return Banner(
        "over",
        "Do not tow as described",
        ("Vehicle rear axle: 120\u00a0lb over its rating of 3,420\u00a0lb.", "Move 150\u00a0lb ahead."),
    )


def every_block() -> tuple[Block, ...]:
    """One block of each kind."""
    return (
        over(),
        Banner("unknown", "Not checked", ("Tire load: maximum load of the tire is missing.",)),
        Banner("within", "Within every limit that could be checked"),
        samples.key_numbers(),
        samples.bars(),
        samples.fluids(),
        replace(samples.hitch(), strong=(1,)),
        samples.cautions(),
        Heading("Loading"),
        Paragraph("Heavy things low and near the axle, nothing heavy behind it."),
        *(Drawing(figure, name, f"{name} drawing") for name, figure in figure_samples.ALL.items()),
        Sign("Signed at handover", ("Owner", "Borrower, who has shown hitching and unhitching")),
        samples.code(),
        Note("Water 8.33 lb per US gallon at 20 °C; densities of the named sources."),
        samples.checklist(1, "Departure"),
    )


def fullest() -> Card:
    """Every kind of block in the flow of one card."""
    return replace(samples.glovebox(), flow=every_block())


def barest() -> Card:
    """As little as a card can hold."""
    return Card(
        "bare",
        "Bare card",
        "Jot",
        "",
        "",
        "",
        "en",
        faces=(Face((Note("No limits known."),)),),
    )


def absurd() -> Card:
    """Very long names and words, forty cargo rows, an item longer than a line of answers."""
    rows = tuple((f"{n} {LONG[:60]}", f"{n * 3}\u00a0lb", WORD) for n in range(1, 41))
    lines = (
        CheckLine(LONG, LONG, True, True),
        CheckLine(WORD, WORD, False, False),
        CheckLine("Short", LONG[:50], True, False),
    )
    return replace(
        samples.glovebox(),
        nickname=LONG,
        subtitle=LONG,
        title=LONG[:80],
        faces=(
            Face(
                (
                    Banner("over", "Do not tow as described", (LONG, WORD)),
                    KeyNumbers(LONG, (KeyNumber(LONG, WORD[:102], LONG), KeyNumber("a", "1\u00a0lb"))),
                    Table(LONG, ("Thing", "Weight", "Where"), rows, note=LONG),
                    Qr(samples.URL, LONG, samples.URL * 3),
                )
            ),
        ),
        flow=(ChecklistBlock(LONG, (CheckPhase(LONG, LONG, lines * 5),)),),
    )


def hostile(text: str) -> Card:
    """A card in which one text stands everywhere."""
    return replace(
        samples.glovebox(),
        nickname=text,
        subtitle=text,
        title=text,
        revision=text,
        foot=text[:20],
        faces=(
            Face(
                (
                    Banner("close", text, (text,)),
                    KeyNumbers(text, (KeyNumber(text, text, text),)),
                    Table(text, (text, "b"), ((text, text),), note=text),
                    Drawing(replace(figure_samples.SIDE, note=text, items=()), text, text),
                    Note(text),
                )
            ),
        ),
        flow=(ChecklistBlock(text, (CheckPhase(text, text, (CheckLine(text, text),)),)),),
    )


def wallet() -> Card:
    """Ten numbers on the wallet card, the code on its back."""
    pairs = (
        ("Tongue", "378\u00a0lb"),
        ("Trailer", "3,124\u00a0lb"),
        ("Trailer tires", "50\u00a0psi"),
        ("Front tires", "35\u00a0psi"),
        ("Rear tires", "38\u00a0psi"),
        ("Wheel nuts", "90\u00a0lb-ft"),
        ("Ball", "2\u00a0in"),
        ("Gain", "6.0"),
        ("Height", "9\u00a0ft\u00a08\u00a0in"),
        ("Top speed", "60\u00a0mph"),
    )
    numbers = KeyNumbers("", tuple(KeyNumber(label, value) for label, value in pairs))
    return replace(
        samples.glovebox(),
        id="wallet-card",
        title="Wallet card",
        faces=(Face((numbers,), "Heron", "WITHIN"), Face((samples.code(),), "Call", "911 first")),
        flow=(),
    )
