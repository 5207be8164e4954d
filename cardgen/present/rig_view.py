"""What every card and page is made from: the assessment, the checklist and who reads it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from cardgen.checklist.types import Checklist
from cardgen.model.figure import COVERAGE
from cardgen.model.results import RANK, Assessment, Figure, Finding, Outcome, TirePlan
from cardgen.model.rig import Rig
from cardgen.model.slug import slug
from cardgen.model.trailer import Trailer
from cardgen.model.vehicle import Vehicle
from cardgen.physics.heights import NO_SQUAT
from cardgen.physics.readings import older
from cardgen.present.format import LANGUAGES, NOT_CHECKED, Formatter, day_words
from cardgen.present.levels import Level
from cardgen.tables.connectors import connector
from cardgen.tables.words import kind_word
from cardgen.units.show import NBSP

LEVELS: dict[Outcome, Level] = {
    Outcome.OVER: "over",
    Outcome.CLOSE: "close",
    Outcome.NOT_CHECKED: "unknown",
    Outcome.WITHIN: "within",
}


@dataclass(frozen=True, slots=True)
class Edition:
    """Which issue of the cards this is.

    Args:
        revision: running number, from 1 [-].
        day: day from which the printed content holds.
        base_url: address under which the output folder is served, None when there is none.
        mark: the first letters of the fingerprint of what a card prints; empty where it is not known.
    """

    revision: int
    day: dt.date
    base_url: str | None = None
    mark: str = ""

    @property
    def number(self) -> str:
        """The number with the mark that tells this print from another of that number."""
        return f"{self.revision}-{self.mark}".rstrip("-")


@dataclass(frozen=True, slots=True)
class RigView:
    """Everything a presenter needs.

    Args:
        assessment: figures and findings.
        checklist: the rig's checklist.
        formatter: units and market of the reader.
        edition: revision, day and address.
        texts: the values that items of the checklist print, by name; None where unknown.
    """

    assessment: Assessment
    checklist: Checklist
    formatter: Formatter
    edition: Edition
    texts: Mapping[str, str | None]

    @property
    def rig(self) -> Rig:
        """The rig."""
        return self.assessment.rig

    @property
    def findings(self) -> tuple[Finding, ...]:
        """All findings, worst first, the least margin first within an outcome."""
        return tuple(sorted(self.assessment.findings, key=lambda f: (-RANK[f.outcome], -(f.share or 0.0))))

    def outcome(self, *outcomes: Outcome) -> tuple[Finding, ...]:
        """The findings with one of some outcomes, worst first."""
        return tuple(f for f in self.findings if f.outcome in outcomes)

    def weighty(self, outcome: Outcome) -> tuple[Finding, ...]:
        """The findings with an outcome that decide the verdict; the others are advice, or could not be looked up."""
        return tuple(f for f in self.outcome(outcome) if f.critical or outcome is Outcome.OVER)

    @property
    def near(self) -> bool:
        """Whether a limit that decides the verdict is close or over already."""
        return any(self.weighty(one) for one in (Outcome.CLOSE, Outcome.OVER))

    def say(self, text: str) -> str:
        """Put one of our own texts into the words of the reader's market and kind of trailer."""
        return self.formatter.say(text)

    def figure(self, name: str) -> Figure | None:
        """Return a rig-wide figure."""
        return self.assessment.computed.figures.get(name)

    def shown(self, name: str) -> str:
        """Write a rig-wide figure, or ``not checked``."""
        return self.formatter.figure(self.figure(name))

    @property
    def trailer(self) -> str:
        """What the trailer of a loading case is called."""
        return "Empty trailer" if self.assessment.computed.unloaded else "Loaded trailer"

    @property
    def heaviest(self) -> str:
        """What the heaviest trailer of the loading cases is called."""
        return (
            "Trailer, nothing loaded is listed"
            if self.assessment.computed.unloaded
            else f"{self.trailer}, heaviest"
        )

    def worst(self, name: str, beside: str = "") -> str:
        """Write the largest value of a figure over the cases, or another figure of that case; unknown when any is.

        Where the rig file says more than the scale, the file's value is the largest, and what stands beside it is
        the file's as well: empty where the file says of that what the scale says.

        Args:
            name: id of the figure that is largest [-].
            beside: id of the figure to write instead, of the same case [-].
        """
        cases = [c.figures for c in self.assessment.computed.cases if name in c.figures]
        if not cases or any(figures[name].value is None for figures in cases):
            return NOT_CHECKED
        top = max(cases, key=lambda figures: _most(figures[name])[0])
        shown = top[beside or name]
        if not _most(top[name])[1]:
            return self.formatter.figure(shown)
        return self.formatter.value(shown.rival[0], shown.kind) if shown.rival else ""

    def drop(self) -> tuple[str, str]:
        """Drop or rise that the mount needs, and which it is, with what was not counted; empty where unknown."""
        needed = self.figure("drop_needed")
        if needed is None or needed.value is None:
            return "", ""
        word = "drop" if needed.value >= 0 else "rise"
        squat = ", squat not counted" if needed.label.endswith(NO_SQUAT) else ""
        return self.formatter.value(abs(needed.value), "height"), f"{word}{squat}"

    def plates(self, *, brief: bool = False) -> str:
        """Where plates bind (UK, EU): what to set, least and most of the coupling load; empty elsewhere.

        Args:
            brief: only the most.
        """
        found = next((f for f in self.assessment.findings if f.code == "s-value"), None)
        if found is None:
            return ""
        shown = self.formatter.said(found.values)
        most = f"max {shown['plate']}" if "plate" in shown else NOT_CHECKED
        if brief:
            return most
        part = f" ({self.say(found.governed_by)})" if "plate" in shown else ""
        aim = [f"set {shown['set']}"] if "set" in shown else []
        least = [f"min {shown['least']}"] if "least" in shown else []
        return ", ".join((*aim, *least, most + part))

    def spread(self, name: str) -> str:
        """Write twice the standard uncertainty of the case that is worst, and whose value it is; empty when unknown."""
        cases = [c.figures[name] for c in self.assessment.computed.cases if name in c.figures]
        known = [f for f in cases if f.value is not None]
        top = max(known, key=lambda f: _most(f)[0], default=None)
        if top is None or top.u is None:
            return ""
        if top.rival is not None and _most(top)[1]:
            spread = self.formatter.value(COVERAGE * top.rival[1], top.kind)
            return f"±{NBSP}{spread}, by the rig file; by the scale {self.formatter.figure(top)}"
        shown = f"±{NBSP}{self.formatter.value(top.expanded, top.kind)}"
        return shown if top.weighed is None else f"{shown}, weighed {day_words(top.weighed)}"

    def reckoned(self, *, brief: bool = False) -> str:
        """Whether the numbers were computed alone or stand on a weighing, and on which."""
        cases = self.assessment.computed.cases
        days = {f.weighed for c in cases for f in c.figures.values() if f.weighed is not None}
        weighed = any(f.code.startswith("weighed-") for f in self.outcome(Outcome.OVER))
        if not days:
            if not weighed:
                return self._unweighed(brief)
            return "In part weighed." if brief else "Computed; what is over was weighed."
        if weighed and not brief:
            return (
                f"What is over was weighed; the rest is computed from the weighing of {day_words(max(days))}."
            )
        names = {
            "trailer": ("trailer_weight", "tongue_weight"),
            "vehicle": ("vehicle_front_axle", "vehicle_rear_axle"),
        }
        told = names.get(self.rig.alone or "", (*names["trailer"], *names["vehicle"]))
        whole = all(c.figures[name].weighed is not None for c in cases for name in told)
        if brief:
            return "Weighed." if whole else "In part weighed."
        rest = "" if whole else "; the rest is computed"
        return f"Weighed {day_words(max(days))}{rest}."

    def _unweighed(self, brief: bool) -> str:
        """Why no number stands on a scale: nobody weighed, or what the last visit found sets none."""
        last = max(self.assessment.computed.weighings, key=lambda one: one.date, default=None)
        if last is None:
            return "Computed, not weighed."
        if not last.figures:
            return (
                "Computed, not weighed."
                if brief
                else self.say("Computed; the {scale_ticket} tells no weight yet.")
            )
        if last.disagreements:
            return (
                "Computed; ticket in doubt."
                if brief
                else self.say("Computed; the {scale_ticket} contradicts itself.")
            )
        if older(self.rig, last.date):
            return "Computed; old weighing." if brief else "Computed; weighed before equipment was changed."
        return "Computed; weighed to compare." if brief else "Computed; the weighing only compares."

    def tire(self, position: str) -> TirePlan | None:
        """Return the plan of a tire position; None where the file has no such tires."""
        absent = {"trailer": ("front", "rear"), "vehicle": ("trailer", "spare")}.get(self.rig.alone or "", ())
        return None if position in absent else self.assessment.computed.tires.get(position)

    @property
    def language(self) -> str:
        """BCP 47 tag of the texts."""
        return LANGUAGES[self.rig.market]

    @property
    def slug(self) -> str:
        """Folder name of the rig."""
        return slug(self.rig.nickname)

    @property
    def date(self) -> str:
        """The edition's day in words."""
        return day_words(self.edition.day)

    @property
    def subtitle(self) -> str:
        """The rig in a few words."""
        return few_words(self.rig)

    @property
    def left_out(self) -> str:
        """That the file has no vehicle or no trailer, and how many checks wait for one; empty for a pair."""
        other = {"trailer": "vehicle", "vehicle": "trailer"}.get(self.rig.alone or "", "")
        return f"{self.assessment.unmade} not checked: no {other} in this file" if other else ""

    def plug(self, name: str | None, missing: str = NOT_CHECKED) -> str:
        """A connector in words, or what to print when none is stated."""
        return connector(name).words if name else missing

    def url(self, card: str) -> str | None:
        """Address of the full report for a card of this revision; None without a base address."""
        if self.edition.base_url is None:
            return None
        mark = f"&f={self.edition.mark}" if self.edition.mark else ""
        return f"{self.edition.base_url.rstrip('/')}/{self.slug}/?c={card}&r={self.edition.revision}{mark}"


def _most(figure: Figure) -> tuple[float, bool]:
    """The larger of what scale and rig file say of a figure [SI], and whether the file says it."""
    value = figure.value or 0.0
    by_file = figure.rival is not None and figure.rival[0] > value
    return (figure.rival[0] if figure.rival and by_file else value), by_file


def few_words(rig: Rig) -> str:
    """A rig in a few words, with unit number and registration of both, which tell it from another like it."""
    trailer, vehicle = rig.trailer, rig.vehicle
    body, kind = (kind_word(one, rig.market) for one in (trailer.body, vehicle.kind or "vehicle"))
    year = f"{trailer.year} " if trailer.year else ""
    year2 = f"{vehicle.year} " if vehicle.year else ""
    halves = {"trailer": f"{year}{body}{_marks(trailer)}", "vehicle": f"{year2}{kind}{_marks(vehicle)}"}
    return halves.get(rig.alone or "") or f"{halves['trailer']} behind {halves['vehicle']}"


def _marks(part: Trailer | Vehicle) -> str:
    """The unit number and registration of a part in brackets; empty without either."""
    marks = (part.unit and f"unit {part.unit}", part.registration)
    told = ", ".join(mark for mark in marks if mark)
    return f" ({told})" if told else ""


def unique(texts: Iterable[str]) -> tuple[str, ...]:
    """Drop repeats, keeping the order."""
    return tuple(dict.fromkeys(texts))
