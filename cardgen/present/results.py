"""The stable, documented shape of ``cardgen results --json``: every value, finding and item.

Format 1. Every figure has ``si`` (a number or null) in the SI unit ``unit``, and ``shown``
as it is printed. Additions keep the format number; a change of meaning raises it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import asdict
from typing import Any

from cardgen import __version__
from cardgen.checklist.types import Checklist
from cardgen.model.results import Allowance, Figure, Finding, Need, Term, TirePlan
from cardgen.present.format import Formatter
from cardgen.present.results_more import more
from cardgen.present.rig_view import RigView
from cardgen.units import base_of

FORMAT = 1
UNITS = {
    "mass": "kg", "length": "m", "height": "m", "ball": "m", "dimension": "m", "distance": "m",
    "volume": "m3", "pressure": "Pa gauge", "temperature": "K", "speed": "m/s", "torque": "N m",
    "force": "N", "rate": "N/m", "fraction": "1", "voltage": "V", "current": "A", "charge": "C",
    "resistance": "ohm", "area": "m2", "duration": "s", "years": "s", "angle": "rad", "factor": "1",
    "count": "1",
}  # fmt: skip
"""SI unit of every kind that can appear in the results."""


def results(rig_view: RigView) -> dict[str, Any]:
    """Return everything computed for a rig as plain data, ready for JSON."""
    assessment, show = rig_view.assessment, rig_view.formatter
    computed = assessment.computed
    return {
        "format": FORMAT,
        "cardgen": __version__,
        "nickname": rig_view.rig.nickname,
        "slug": rig_view.slug,
        "market": rig_view.rig.market,
        "units": base_of(show.system),
        "day": assessment.day.isoformat(),
        "revision": rig_view.edition.revision,
        "outcome": assessment.outcome().value,
        "cases": [{"name": c.name, "figures": _figures(show, c.figures.values())} for c in computed.cases],
        "figures": _figures(show, computed.figures.values()),
        "tires": {name: _tire(show.at(name), plan) for name, plan in computed.tires.items()},
        "allowances": [_allowance(show, a) for a in computed.allowances],
        "findings": [_finding(show, f) for f in assessment.findings],
        "checklist": _checklist(rig_view.checklist),
        **more(assessment, show),
    }


def value(show: Formatter, si: float | None, kind: str) -> dict[str, Any]:
    """Return one value: SI number, SI unit, and the text as printed."""
    return {"si": si, "unit": UNITS[kind], "shown": None if si is None else plain(show.value(si, kind))}


def plain(text: str) -> str:
    """Replace no-break spaces, so that programs can search the text."""
    return text.replace("\u00a0", " ")


def _figures(show: Formatter, figures: Iterable[Figure]) -> dict[str, Any]:
    return {f.id: _figure(show, f) for f in figures}


def _figure(show: Formatter, figure: Figure) -> dict[str, Any]:
    shown = None if figure.value is None else plain(show.figure(figure))
    return {
        **value(show, figure.value, figure.kind),
        "shown": shown,
        "label": show.say(figure.label),
        "kind": figure.kind,
        "u": figure.u,
        "formula": show.say(figure.formula),
        "terms": [_term(show, t) for t in figure.terms],
        "source": show.say(figure.source),
        "needs": _needs(show, figure.needs),
    }


def _term(show: Formatter, term: Term) -> dict[str, Any]:
    return {
        "symbol": show.say(term.symbol),
        "label": show.say(term.label),
        "path": term.path,
        **value(show, term.value, term.kind),
    }


def _needs(show: Formatter, needs: Iterable[Need]) -> list[dict[str, str]]:
    return [
        {
            "path": n.path,
            "what": show.say(n.what),
            "where": show.say(n.where),
            "say": show.say(plain(show.need(n))),
        }
        for n in needs
    ]


def _tire(show: Formatter, plan: TirePlan) -> dict[str, Any]:
    return {
        "status": plan.status,
        "pressure": value(show, plan.pressure, "pressure"),
        "minimum": value(show, plan.minimum, "pressure"),
        "wheel_load": value(show, plan.wheel_load, "mass"),
        "even_load": value(show, plan.even_load, "mass"),
        "capacity": value(show, plan.capacity, "mass"),
        "ceiling": value(show, plan.ceiling, "pressure"),
        "divisor": plan.divisor,
        "case": plan.case,
        "reasons": [show.say(reason) for reason in plan.reasons],
        "needs": _needs(show, plan.needs),
    }


def _allowance(show: Formatter, allowance: Allowance) -> dict[str, Any]:
    return {
        "part": show.say(allowance.part),
        "trailer": value(show, allowance.trailer, "mass"),
        "formula": show.say(allowance.formula),
        "path": allowance.path,
    }


def _finding(show: Formatter, finding: Finding) -> dict[str, Any]:
    show = show.at(finding.code)
    return {
        "code": finding.code,
        "title": show.say(finding.title),
        "outcome": finding.outcome.value,
        "critical": finding.critical,
        "demand": value(show, finding.demand, finding.kind),
        "low": value(show, finding.low, finding.kind),
        "capacity": value(show, finding.capacity, finding.kind),
        "margin": value(show, finding.margin, finding.kind),
        "case": finding.case,
        "governed_by": show.say(finding.governed_by),
        "basis": finding.basis.value,
        "source": show.say(finding.source),
        "say": show.say(plain(show.verdict(finding))),
        "message": show.say(plain(show.message(finding))),
        "can_become": show.say(plain(show.filled(finding.can_become, finding.values))),
        "u": finding.u,
        "interval": finding.interval,
        "sure": finding.sure,
        "thresholds": asdict(finding.thresholds),
        "figures": list(finding.figures),
        "values": {
            name: value(show, si, kind) | {"shown": plain(show.filled(f"{{{name}}}", {name: (si, kind)}))}
            for name, (si, kind) in finding.values.items()
        },
        "needs": _needs(show, finding.needs),
    }


def _checklist(checklist: Checklist) -> Mapping[str, Any]:
    return {
        "phases": [
            {
                "key": p.key,
                "title": p.title,
                "items": [
                    {
                        "id": line.id, "text": plain(line.text), "seen": plain(line.seen), "why": plain(line.why),
                        "severity": line.severity, "tier": line.tier, "every": list(line.every),
                        "if_fitted": line.if_fitted, "own": line.own, "sources": list(line.source_words),
                    }
                    for line in p.items
                ],
            }
            for p in checklist.phases
        ],
        "removed": [{"id": r.id, "text": r.text, "reason": r.reason, "severity": r.severity} for r in checklist.removed],
        "due": [
            {
                "key": d.key, "title": d.title, "state": d.state, "interval": d.interval, "path": d.path,
                "last": d.last.isoformat() if d.last else None,
                "since": d.since.isoformat() if d.since else None,
                "until": d.until.isoformat() if d.until else None,
            }
            for d in checklist.due
        ],
    }  # fmt: skip
