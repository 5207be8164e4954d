"""Print a card with what this system has: WeasyPrint, else an installed browser, else say what to install."""

from __future__ import annotations

from pathlib import Path

from cardgen.present.blocks import Card
from cardgen.present.measuring_sheet import MeasuringSheet
from cardgen.present.rig_view import RigView
from cardgen.render.engine import EngineMissingError
from cardgen.render.fallback import Printed, print_by_browser
from cardgen.render.measuring import print_sheet
from cardgen.render.pdf import render_card
from cardgen.render.sizes import size_of
from cardgen.units import base_of


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
