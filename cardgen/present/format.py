"""Numbers and needs in the reader's units and words; the only place where figures are rounded."""

from __future__ import annotations

import datetime as dt
import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, replace

from cardgen.model.results import Figure, Finding, Need, Outcome
from cardgen.present.asking import asked
from cardgen.tables.words import say
from cardgen.units import System, convert, feet_inches, in_us, inch_fraction, show, style_of
from cardgen.units.show import NBSP, End, at_place, number

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
LANGUAGES = {"us": "en-US", "ca": "en-CA", "uk": "en-GB", "eu": "en-IE", "au": "en-AU", "nz": "en-NZ"}
NOT_CHECKED = "not checked"
NEAR = "near"
"""Stands for the least of a band that has no room below its most: as near that as possible."""
YEAR = 365.25 * 86400.0
_ROUNDED = ("mass", "fraction", "pressure", "speed", "torque", "force", "voltage", "current", "charge")
"""Kinds whose usual rounding could hide that a limit is exceeded by a hair."""
ENDS: Mapping[str, End] = {
    "allowed_trailer": "upper", "band_high": "upper", "planned_speed_limit": "upper", "band_low": "lower",
}  # fmt: skip
"""Figures that are printed as instructions, and which end of what is allowed they name [-]."""
SAID: Mapping[str, End] = {"allowed": "upper", "set": "upper", "least": "lower"}
"""Numbers of a sentence that are instructions, by their place in it, and which end of what is allowed they name [-]."""
_PLACE = re.compile(r"\{(\w+)\}")


def _count(shown: str) -> float:
    return float(shown.replace(",", ""))


def day_words(day: dt.date) -> str:
    """Write a day as ``25 Nov 2026``, whatever the locale."""
    return f"{day.day}{NBSP}{MONTHS[day.month - 1]}{NBSP}{day.year}"


@dataclass(frozen=True, slots=True)
class Formatter:
    """Writes SI values for one reader.

    Args:
        system: the units [-].
        market: whose words apply [-].
        coupling: type of the trailer; empty where none is known [-].
        papers: place whose papers the rig has; empty where ours are their words [-].
    """

    system: System
    market: str
    coupling: str = ""
    papers: str = ""

    def say(self, text: str) -> str:
        """Put one of our texts into the market's words; owners' texts are never passed through it."""
        return say(text, self.market, self.coupling, self.papers)

    def value(self, si: float, kind: str) -> str:
        """Write an SI value of a kind with its unit.

        Besides the kinds of ``cardgen.units``: ``ball`` (trade size), ``height`` (hitch
        heights, eighths of an inch), ``dimension`` (feet and inches), ``years`` [s], completed ones.
        """
        if kind == "ball":
            return self.ball(si)
        if kind == "height":
            return inch_fraction(si, 8) if in_us("length", self.system) else show(si, "length", "metric")
        if kind == "dimension":
            return feet_inches(si) if in_us("length", self.system) else f"{si:.2f}{NBSP}m"
        if kind == "years":
            years = math.floor(si / YEAR)
            return f"{years}{NBSP}year" if years == 1 else f"{years}{NBSP}years"
        if kind == "volume" and in_us(kind, self.system):
            return show(si, kind, "us", 0)
        return show(si, kind, self.system)

    def at(self, name: str) -> Formatter:
        """The formatter for what belongs to the place of the rig that a name or a code ends with: ``tire-age-rear``."""
        system = at_place(self.system, re.split(r"[-_]", name)[-1])
        return self if system is self.system else replace(self, system=system)

    def bound(self, si: float, kind: str, end: End) -> str:
        """Write one end of what is allowed, rounded so that the number as printed is allowed."""
        return show(si, kind, self.system, end=end)

    def inward(self, si: float, end: End) -> str:
        """Write one end of a weight [kg] without its unit, rounded inward to what a bathroom scale shows.

        From 100 lb or 50 kg up to tens of pounds or fives of kilograms, below to single ones: our choice.
        """
        step = (10.0, 100.0) if in_us("mass", self.system) else (5.0, 50.0)
        shown = self.display(si, "mass")
        if shown < step[1]:
            return number(si, "mass", self.system, end=end)
        round_ = math.floor if end == "upper" else math.ceil
        near = 1e-9 if end == "upper" else -1e-9
        return f"{round_(shown / step[0] + near) * step[0]:,.0f}"

    def ends(self, low: float | None, high: float | None) -> tuple[str, str]:
        """Write least and most of a weight [kg], rounded inward; ``NEAR`` for a least that is no less than the most.

        Ends that lie closer than the steps of a bathroom scale are written as they are.
        """
        least = "" if low is None else self.inward(low, "lower")
        most = "" if high is None else self.inward(high, "upper")
        if low is None or high is None or (low < high and _count(least) <= _count(most)):
            return least, most
        closer = number(low, "mass", self.system, end="lower"), number(high, "mass", self.system, end="upper")
        return closer if low < high and _count(closer[0]) <= _count(closer[1]) else (NEAR, most)

    def ball(self, si: float) -> str:
        """Write a ball size [m] as the trade does: 50 mm stays metric, the others are inches."""
        if abs(si - 0.050) < 1e-4 or (
            not in_us("length", self.system) and abs(si * 1000 - round(si * 1000)) < 0.01
        ):
            return f"{round(si * 1000, 1):g}{NBSP}mm"
        sixteenths = si / 0.0254 * 16
        if abs(sixteenths - round(sixteenths)) < 0.02:
            return inch_fraction(si, 16)
        return f"{si * 1000:.1f}{NBSP}mm"

    def bare(self, si: float, kind: str) -> str:
        """Write the number alone, rounded as ``value`` does."""
        return number(si, kind, self.system)

    def display(self, si: float, kind: str) -> float:
        """Return the value in the display unit, unrounded."""
        return convert(si, kind, self.system)

    def figure(self, figure: Figure | None) -> str:
        """Write a figure, or ``not checked`` when something is missing."""
        if figure is None or figure.value is None:
            return NOT_CHECKED
        end = ENDS.get(figure.id)
        if end is not None:
            return self.bound(figure.value, figure.kind, end)
        return self.at(figure.id).value(figure.value, figure.kind)

    def need(self, need: Need) -> str:
        """Say what to measure or read, and where."""
        what = asked(need)
        return f"measure or read: {what}, {need.where}" if need.where else f"state: {what}"

    def needs(self, needs: tuple[Need, ...]) -> str:
        """Join several needs into one sentence."""
        return "; ".join(dict.fromkeys(self.need(n) for n in needs))

    def message(self, finding: Finding) -> str:
        """Fill the numbers of a finding's sentence in the reader's units."""
        return self.at(finding.code).filled(finding.message, finding.values)

    def filled(self, text: str, values: Mapping[str, tuple[float, str]]) -> str:
        """Put numbers into a sentence of ours, in the reader's units."""
        said = self.said(values)
        # Not str.format: a name of the owner's inside the sentence may hold braces of its own.
        return _PLACE.sub(lambda place: said.get(place[1], place[0]), text)

    def said(self, values: Mapping[str, tuple[float, str]]) -> dict[str, str]:
        """Write the numbers of a sentence; weights that say what to keep are rounded to what is allowed."""
        return {
            name: self.bound(si, kind, SAID[name])
            if name in SAID and kind == "mass"
            else self.value(si, kind)
            for name, (si, kind) in values.items()
        }

    def told(self, finding: Finding) -> str:
        """Say how a finding came out, its remark included."""
        words, remark = self.verdict(finding), self.message(finding)
        if remark and remark not in words:
            words = f"{words}; {remark}" if words else remark
        return words or finding.outcome.value

    def verdict(self, finding: Finding) -> str:
        """Say how a finding came out, with demand, limit and margin."""
        if finding.outcome is Outcome.NOT_CHECKED:
            return f"{NOT_CHECKED}: {self.needs(finding.needs)}" if finding.needs else NOT_CHECKED
        if finding.demand is None or finding.capacity is None:
            return self.message(finding)
        if finding.low is not None:
            demand, low, high = (
                self.of(finding, si) for si in (finding.demand, finding.low, finding.capacity)
            )
            return f"{demand}, band {low} to {high}"
        return f"{self.of(finding, finding.demand)} of {self.most(finding)}, {self.left(finding)}"

    def most(self, finding: Finding) -> str:
        """Write the limit of a finding; of a weight that other weights have used up, that none is left."""
        capacity = finding.capacity or 0.0
        return "none left" if finding.kind == "mass" and capacity < 0.0 else self.of(finding, capacity)

    def left(self, finding: Finding) -> str:
        """Say what is left before a limit, or by how much the demand is past it; perhaps, where only what is
        assumed takes it there.
        """
        margin = finding.margin or 0.0
        unsure = finding.outcome is Outcome.CLOSE and finding.sure is not None and _past(finding)
        return f"{'perhaps ' if unsure else ''}{self.of(finding, abs(margin))} {'over' if _past(finding) else 'left'}"

    def of(self, finding: Finding, si: float) -> str:
        """Write a number [SI] of a finding, with the digits that tell its demand from its limit."""
        digits, there = self.telling(finding), self.at(finding.code)
        kind = finding.kind
        return there.value(si, kind) if digits is None else show(si, kind, there.system, digits)

    def telling(self, finding: Finding) -> int | None:
        """Decimals that tell a limit from a demand past it [-]; None when the usual ones do."""
        margin, demand = finding.margin, finding.demand
        if margin is None or demand is None or not _past(finding) or finding.kind not in _ROUNDED:
            return None
        system = self.at(finding.code).system
        usual = style_of(finding.kind, system).digits
        ends = [end for end in (finding.low, finding.capacity) if end is not None and math.isfinite(end)]
        nothing = {show(0.0, finding.kind, system, digits) for digits in range(usual, usual + 5)}
        for digits in range(usual, usual + 4):
            shown = [show(si, finding.kind, system, digits) for si in (demand, *ends)]
            if shown[0] not in shown[1:] and show(-margin, finding.kind, system, digits) not in nothing:
                return None if digits == usual else digits
        return usual + 4


def _past(finding: Finding) -> bool:
    """Whether the demand is past a limit, but for rounding."""
    margin = finding.margin or 0.0
    return margin < -1e-9 * abs(finding.demand or 0.0)
