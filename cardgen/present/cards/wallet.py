"""The wallet card: ten numbers on its front; whom to call, sway and tire failure on its back."""

from __future__ import annotations

from cardgen.checklist.catalog import catalog
from cardgen.checklist.views import drills
from cardgen.model.results import Outcome
from cardgen.present.blocks import Block, Card, Face, KeyNumber, KeyNumbers, Note, Paragraph
from cardgen.present.cards import pieces
from cardgen.present.cards.front import BLANK, TABS
from cardgen.present.format import NEAR
from cardgen.present.rig_view import RigView
from cardgen.units.show import NBSP

LAST = 2
"""Numbers that go where a rig must not be towed as described [-]."""


def card(rig_view: RigView) -> Card:
    """Make the wallet card: always two faces."""
    return pieces.frame(rig_view, "wallet-card", "Wallet card", (_front(rig_view), _back(rig_view)))


def issue(rig_view: RigView) -> str:
    """Revision and day, for a card that has no room for a foot."""
    return f"Revision {rig_view.edition.number}, {rig_view.date}"


def tab(rig_view: RigView) -> str:
    """The verdict in one word or two."""
    level = pieces.banner(rig_view, 1).level
    return "DO NOT TOW" if level == "over" else TABS[level]


def _front(rig_view: RigView) -> Face:
    rows = tuple(KeyNumber(rig_view.say(label), value) for label, value in _numbers(rig_view))
    if rig_view.outcome(Outcome.OVER):
        rows = rows[:-LAST]
    told = Note(f"{_nuts(rig_view)}. {rig_view.reckoned(brief=True)} {issue(rig_view)}")
    return Face((KeyNumbers("", rows), told), rig_view.rig.nickname, tab(rig_view), spare=1)


def _numbers(rig_view: RigView) -> list[tuple[str, str]]:
    """The ten numbers, left and right in turn."""
    rig, show, known = rig_view.rig, rig_view.formatter, rig_view.texts
    size = rig.trailer.coupler.ball or (rig.gear.ball.diameter if rig.gear.ball else None)
    ball = (
        ("Type", "fifth wheel")
        if rig.trailer.type == "fifth_wheel"
        else ("Ball", show.ball(size.si) if size else BLANK)
    )
    both = [_short(rig_view, f"pressure_{end}") for end in ("front", "rear")]
    front, rear = (one if one != BLANK or both == [BLANK] * 2 else BLANK[:3] for one in both)
    return [
        ("{Coupling_load_of_papers}" if show.papers else "{Coupling_load}", _now(rig_view)),
        ball,
        ("keep", _kept(rig_view)),
        ("Plug", rig_view.plug(rig.trailer.connector, BLANK)),
        (
            "Trailer empty" if rig_view.assessment.computed.unloaded else "Trailer",
            _figure(rig_view, "trailer_weight_max"),
        ),
        ("Height", known.get("rig_height") or BLANK),
        ("at most", _figure(rig_view, "allowed_trailer")),
        ("Length", known.get("rig_length") or BLANK),
        ("Tires", _short(rig_view, "pressure_trailer")),
        ("Vehicle", f"{front.rpartition(NBSP)[0] or front}, {rear}"),
    ]


def _figure(rig_view: RigView, name: str) -> str:
    figure = rig_view.figure(name)
    return BLANK if figure is None or figure.value is None else rig_view.formatter.figure(figure)


def _short(rig_view: RigView, name: str) -> str:
    """A pressure to set, or a place to write it: what is not confirmed is left to the tire tag."""
    return _figure(rig_view, name)


def _now(rig_view: RigView) -> str:
    """Least and largest weight on the coupling over the loading cases."""
    show = rig_view.formatter
    ends = [rig_view.figure(f"tongue_weight_{end}") for end in ("min", "max")]
    values = [f.value for f in ends if f is not None and f.value is not None]
    if len(values) < len(ends):
        return BLANK
    least, most = show.bare(values[0], "mass"), show.value(values[1], "mass")
    return most if most.startswith(f"{least}{NBSP}") else f"{least}–{most}"


def _kept(rig_view: RigView) -> str:
    """Ends that hold in every loading case, rounded inward."""
    show = rig_view.formatter
    names = ("band_low", "band_high")
    low, high = (figure.value if (figure := rig_view.figure(name)) else None for name in names)
    if low is None or high is None:
        cases = rig_view.assessment.computed.cases
        own = [figure.value for c in cases for n in names if (figure := c.figures.get(n)) is not None]
        return "by case" if own and None not in own else BLANK
    unit = show.value(1.0, "mass").rpartition(NBSP)[2]
    least, most = show.ends(low, high)
    return f"{NEAR} {most}{NBSP}{unit}" if least == NEAR else f"{least}–{most}{NBSP}{unit}"


def _nuts(rig_view: RigView) -> str:
    torque = rig_view.rig.trailer.wheel_torque
    return f"Wheel nuts: {rig_view.formatter.value(torque.si, 'torque') if torque else 'trailer manual'}"


def _back(rig_view: RigView) -> Face:
    number = catalog().markets[rig_view.rig.market].emergency_number
    known = {part.key: part for part in drills(rig_view.checklist, rig_view.rig.market)}
    code = pieces.qr(rig_view, "w")
    blocks: list[Block] = [code] if code.href else []  # without an address it holds what the front says
    for key in ("sway", "blowout"):
        if key in known:
            said = ". ".join(line.say for line in known[key].items)
            blocks.append(Paragraph(f"{known[key].title}: {said}."))
    who = rig_view.rig.contacts[0] if rig_view.rig.contacts else None
    asked = f"{who.who[:1].upper()}{who.who[1:]}, say:" if who else "Say:"
    blocks.append(
        Paragraph(
            f"{asked} place, {rig_view.texts.get('rig_length') or 'length'}, {_figure(rig_view, 'trailer_weight_max')}"
        )
    )
    title = who.phone if who else rig_view.rig.nickname
    return Face(tuple(blocks), title, f"{number} first", spare=1)
