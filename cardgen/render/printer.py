"""Print a card with what this system has: WeasyPrint, else an installed browser, else say what to install."""

from __future__ import annotations

from pathlib import Path

from cardgen.present.blocks import Card
from cardgen.render.engine import EngineMissingError
from cardgen.render.fallback import Printed, print_by_browser
from cardgen.render.pdf import render_card
from cardgen.render.sizes import size_of


class Printer:
    """Prints cards; keeps the engine warm between them."""

    def __init__(self, templates: Path | None) -> None:
        self.templates = templates

    def card(self, card: Card, size: str, large_print: bool) -> Printed:
        """Print one card in a size."""
        try:
            made = render_card(card, size_of(size), large_print=large_print, workspace=self.templates)
        except EngineMissingError as fault:
            return self._other(card, size, large_print, str(fault))
        replaced = tuple(p.message for p in made.problems if p.code == "glyph")
        problems = tuple(f"{p.where}: {p.message}" for p in made.problems if p.code != "glyph")
        return Printed(made.pdf, (*made.notes, *replaced), problems)

    def _other(self, card: Card, size: str, large_print: bool, why: str) -> Printed:
        return print_by_browser(card, size, self.templates, why, large_print)
