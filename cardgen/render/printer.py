"""Print a card with what this system has: WeasyPrint, else an installed browser, else say what to install."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from cardgen.present.blocks import Block, Card, Note, Pair, Qr
from cardgen.present.measuring_sheet import MeasuringSheet
from cardgen.present.rig_view import RigView
from cardgen.render.engine import EngineMissingError
from cardgen.render.env import environment, source_of
from cardgen.render.fallback import Printed, print_by_browser
from cardgen.render.fixed import plain
from cardgen.render.html import STYLES, card_html
from cardgen.render.measuring import print_sheet
from cardgen.render.pdf import Told, render_card, tell_card
from cardgen.render.sizes import size_of
from cardgen.units import base_of


class Printer:
    """Prints cards; keeps the engine warm between them."""

    def __init__(self, templates: Path | None) -> None:
        self.templates = templates

    @property
    def styles(self) -> str:
        """The styles that all cards share."""
        return "\n".join(source_of(environment(self.templates), name) for name in STYLES)

    def page(self, card: Card, size: str, large_print: bool) -> str:
        """All that a card's print comes of, but for the styles of all cards; nothing is laid out, no code drawn."""
        card = _spelled_codes(card)
        plan = plain(card, size_of(size), large_print)
        return card_html(card, size_of(size), plan, self.templates)

    def told(self, card: Card, size: str, large_print: bool) -> Told | None:
        """What a card prints; None where only a browser is here, which cannot be asked."""
        try:
            return tell_card(card, size_of(size), large_print=large_print, workspace=self.templates)
        except EngineMissingError:
            return None

    def card(self, card: Card, size: str, large_print: bool, told: Told | None = None) -> Printed:
        """Print one card in a size; ``told`` is of the same card with another revision."""
        measured = told.measured if told else ()
        try:
            made = render_card(
                card, size_of(size), large_print=large_print, workspace=self.templates, measured=measured
            )
        except EngineMissingError as fault:
            return self._other(card, size, large_print, str(fault))
        replaced = tuple(p.message for p in made.problems if p.code == "glyph")
        problems = tuple(f"{p.where}: {p.message}" for p in made.problems if p.code != "glyph")
        return Printed(made.pdf, (*made.notes, *replaced), problems)

    def sheet(self, sheet: MeasuringSheet, rig_view: RigView, size: str | None) -> Printed:
        """Print the measuring sheet, on letter or A4; without WeasyPrint there is none."""
        us = base_of(rig_view.formatter.system) == "us"
        paper = size if size in ("letter", "a4") else "letter" if us else "a4"
        try:
            word = rig_view.say("{coupling_load}")
            made = print_sheet(sheet, rig_view.rig.market, word, paper, self.templates)
        except EngineMissingError as fault:
            return Printed(None, (f"no measuring sheet: {fault}; the measuring page asks the same",))
        return Printed(made.pdf, made.notes, tuple(f"measuring sheet: {one}" for one in made.problems))

    def _other(self, card: Card, size: str, large_print: bool, why: str) -> Printed:
        return print_by_browser(card, size, self.templates, why, large_print)


def _spelled_codes(card: Card) -> Card:
    """The card with the text of each code in its place."""

    def spelled(block: Block) -> Block:
        if isinstance(block, Pair):
            return replace(block, left=spelled(block.left), right=spelled(block.right))
        return Note(f"{block.payload} {block.caption} {block.url_text}") if isinstance(block, Qr) else block

    faces = tuple(
        replace(face, blocks=tuple(map(spelled, face.blocks)), foot=tuple(map(spelled, face.foot)))
        for face in card.faces
    )
    return replace(card, faces=faces, flow=tuple(map(spelled, card.flow)))
