"""Blocks that several cards share."""

from __future__ import annotations

from collections.abc import Sequence

from cardgen.checklist.catalog import catalog
from cardgen.limits.legal import about, joined, on_route
from cardgen.model.results import Finding, Outcome
from cardgen.physics.allowances import OWN_RATING
from cardgen.physics.wheels import spare_as_marked
from cardgen.present.blocks import (
    Banner,
    Block,
    Card,
    Face,
    Heading,
    KeyNumber,
    KeyNumbers,
    Pair,
    Paragraph,
    Qr,
    Table,
)
from cardgen.present.cards.short import short
from cardgen.present.format import NOT_CHECKED
from cardgen.present.rig_view import RigView
from cardgen.tables.law import place_words
from cardgen.tables.law import rules as clauses
from cardgen.units.show import NBSP

QR_BYTES, LEAST_NAME = 150, 12
"""Bytes in a QR code of plain text, and those kept for a name: up to 152 the code is under 29 mm wide (version 8,
level M, ISO/IEC 18004)."""
STOP = "Do not tow as described"
LIGHT = "Move load before you tow"
NO_LOAD = "Nothing loaded is listed: this is the empty trailer"
FIRST = "Local law and makers' manuals come first."


def banner(rig_view: RigView, lines: int = 4) -> Banner:
    """The verdict in words: over, not checked, close or within.

    Checks that forbid towing when they fail speak first. Advice and rules that could not
    be looked up are counted in the last line.
    """
    over = rig_view.outcome(Outcome.OVER)
    unknown = rig_view.outcome(Outcome.NOT_CHECKED)
    if over:
        reasons = [_why(rig_view, f) for f in over[:lines]]
        if len(over) > lines:
            reasons.append(f"and {len(over) - lines} more over their limits, all in the report")
        return Banner("over", STOP, tuple(reasons))
    if rig_view.rig.alone == "vehicle":
        return Banner(
            "unknown", "No trailer: compare it with what this vehicle may tow", (rig_view.left_out,)
        )
    weighty = rig_view.weighty(Outcome.NOT_CHECKED)
    if weighty:
        count = f"{len(weighty)} checks" if len(weighty) > 1 else "1 check"
        title = f"Not enough data: {count} could not be made"
        return Banner("unknown", title, tuple(rig_view.say(f.title) for f in weighty[:lines]))
    close = rig_view.weighty(Outcome.CLOSE)
    advice = [f for f in rig_view.outcome(Outcome.CLOSE) if f not in close and not aging(f)]
    rest = _rest(rig_view, unknown, advice)
    whose = "Trailer within" if rig_view.rig.alone else "Within"
    empty = NO_LOAD if rig_view.assessment.computed.unloaded else ""
    rest = tuple(filter(None, (empty, rig_view.left_out, *rest)))
    if close:
        tickets = [f for f in close if f.code.startswith("weighing-self-")]
        light = any(f.code == "tongue-share" and f.margin is not None and f.margin < 0 for f in close)
        title = (
            LIGHT
            if light
            else f"{whose} every limit; {len(close)} {'is' if len(close) == 1 else 'are'} close"
        )
        if len(tickets) == len(close):
            title = rig_view.say(f"{whose} every limit; {{scale_ticket}} in doubt")
        return Banner("close", title, (*(_why(rig_view, f) for f in close[: min(lines, 3)]), *rest))
    return Banner("within", f"{whose} every limit that was checked", rest)


def stop_line(rig_view: RigView) -> tuple[Heading, ...]:
    """The words of an exceeded limit in one line, above lists; nothing when none is."""
    return (Heading(f"{STOP}: see the glovebox card"),) if rig_view.outcome(Outcome.OVER) else ()


def _rest(rig_view: RigView, unknown: Sequence[Finding], advice: Sequence[Finding]) -> tuple[str, ...]:
    """One line each for advice and for what could not be looked up."""
    routes = [f for f in advice if on_route(f)]
    uncovered = [f for f in unknown if about(f) is not None]
    made = [rig_view.say(f"Not allowed on this route: {f.title}") for f in routes]
    advice = [f for f in advice if f not in routes]
    unknown = [f for f in unknown if f not in uncovered]
    for words, found in (("See the report", advice), ("Not checked", unknown)):
        if found:
            titles = "; ".join(rig_view.say(f.title) for f in found[:3])
            more = f" and {len(found) - 3} more" if len(found) > 3 else ""
            made.append(f"{words}: {titles}{more}")
    return (*made, *not_covered(rig_view))


def not_covered(rig_view: RigView) -> tuple[str, ...]:
    """One line for each place whose rules were not all read [-]."""
    topics: dict[str, tuple[list[str], list[str]]] = {}
    for finding in rig_view.outcome(Outcome.NOT_CHECKED):
        found = about(finding)
        if found is not None:
            in_part = [one for one in found[1] if any(r.asks for r in clauses(found[0], one))]
            none, some = topics.setdefault(found[0], ([], []))
            none.extend(one for one in found[1] if one not in in_part)
            some.extend(in_part)
    lines = []
    for place, (none, some) in topics.items():
        parts = [f"{joined(none)} rules are not covered here"] if none else []
        parts += [f"{joined(some)} rules {'only ' if none else 'are covered only '}in part"] if some else []
        lines.append(rig_view.say(f"{place_words(place)}: {', '.join(parts)}; ask the transport authority"))
    return tuple(lines)


def aging(finding: Finding) -> bool:
    """Whether a finding only tells an age, which a laminated card would soon tell wrongly."""
    return finding.code.startswith("tire-age") and finding.outcome is not Outcome.OVER


def _why(rig_view: RigView, finding: Finding) -> str:
    case = f" ({finding.case})" if finding.case else ""
    return rig_view.say(f"{finding.title}: {rig_view.formatter.told(finding)}") + case


def qr(rig_view: RigView, letter: str, caption: str = "Full report") -> Qr:
    """The QR code: the report's address, or the key numbers as text when there is none."""
    url = rig_view.url(letter)
    if url is not None:
        return Qr(url, caption, url.removeprefix("https://").removeprefix("http://"))
    return Qr(key_text(rig_view), "Key numbers as text", "no report address set")


def coded(rig_view: RigView, letter: str, told: str = "Full report, with ticks that stay") -> Pair:
    """The code with what it holds and its address beside it."""
    code = qr(rig_view, letter)
    words = f"{told}: {code.url_text}" if code.href else f"{code.caption}: {code.url_text}"
    return Pair(Paragraph(words, passing=True), code, 0.775)


def key_text(rig_view: RigView) -> str:
    """Verdict, date, key numbers and whom to call as plain text for a code without an address; the call goes
    first where it is too long.
    """
    verdict: str = "DO NOT TOW" if rig_view.outcome(Outcome.OVER) else banner(rig_view, 0).level
    verdict = NOT_CHECKED if verdict == "unknown" else verdict
    issue = f"r{rig_view.edition.number} {rig_view.edition.day.isoformat()} {verdict}"
    rows: dict[str, list[str]] = {}
    names = {
        "tongue_weight_max": "{load_in_brief}", "trailer_weight_max": "trailer", "allowed_trailer": "allowed",
        "pressure_trailer": "tires", "pressure_front": "front", "pressure_rear": "rear",
    }  # fmt: skip
    for name, label in names.items():
        rows.setdefault(rig_view.shown(name), []).append(rig_view.say(label))
    unknown = rows.pop(NOT_CHECKED, [])
    parts = [f"{'+'.join(labels)} {value}" for value, labels in rows.items()]
    parts += [f"{NOT_CHECKED}: {', '.join(unknown)}"] if unknown else []
    text = "; ".join([issue, *parts]).replace(NBSP, " ")
    called = "".join(f"; call {one.phone}" for one in rig_view.rig.contacts[:1])
    if len(f"{text}{called}".encode()) + LEAST_NAME <= QR_BYTES:
        text += called
    return f"{_cut(rig_view.rig.nickname, max(LEAST_NAME, QR_BYTES - len(text.encode())))}: {text}"


def _cut(name: str, room: int) -> str:
    """Shorten a name to a number of bytes in UTF-8 [-]."""
    if len(name.encode()) <= room:
        return name
    return name.encode()[: room - 3].decode("utf-8", "ignore").rstrip() + "..."


def key_numbers(rig_view: RigView) -> KeyNumbers:
    """Tongue weight, loaded trailer and trailer pressure, the worst of the declared cases."""
    tongue = rig_view.say("{Coupling_load_in_full}")
    return KeyNumbers(
        "",
        (
            KeyNumber(f"{tongue}, largest", rig_view.shown("tongue_weight_max"), _share_note(rig_view)),
            KeyNumber(rig_view.heaviest, rig_view.shown("trailer_weight_max"), _limit_note(rig_view)),
            KeyNumber(rig_view.say("Trailer tires, cold"), rig_view.shown("pressure_trailer"), ""),
        ),
    )


def _share_note(rig_view: RigView) -> str:
    finding = next((f for f in rig_view.findings if f.code == "tongue-share"), None)
    if finding is None or finding.low is None or finding.capacity is None:
        return ""
    low, high = (
        rig_view.formatter.bare(finding.low, "fraction"),
        rig_view.formatter.value(finding.capacity, "fraction"),
    )
    spread, part = rig_view.spread("tongue_weight"), rig_view.worst("tongue_weight", "tongue_share")
    part = "" if part == NOT_CHECKED else part
    return "; ".join(filter(None, (spread, part, f"band {low} to {high}"))).replace(".0", "")


def _limit_note(rig_view: RigView) -> str:
    allowed = rig_view.figure("allowed_trailer")
    if allowed is None or allowed.value is None:
        return "allowed: " + NOT_CHECKED
    spread = rig_view.spread("trailer_weight")
    return "; ".join(filter(None, (spread, f"allowed {rig_view.formatter.figure(allowed)}")))


def cases(rig_view: RigView) -> Table:
    """Weights of every loading case side by side."""
    results = rig_view.assessment.computed.cases
    rows = []
    for name, words in (
        ("trailer_weight", rig_view.trailer),
        ("tongue_weight", "{Coupling_load_in_full}"),
        ("tongue_share", "as a share of the trailer"),
        ("water_weight", "Fresh water aboard"),
        ("waste_weight", "Waste aboard"),
        ("gas_weight", "{Lp_gas} aboard"),
        ("cargo_weight", "Cargo aboard"),
    ):
        shown = [rig_view.formatter.figure(c.figures.get(name)) for c in results]
        if all(text.startswith("0\u00a0") for text in shown):
            continue
        rows.append((rig_view.say(words), *shown))
    head = ("Loading case", *(c.name for c in results))
    widths = (1.5, *(1.0 for _ in results))
    return Table("Weights", head, tuple(rows), widths, strong=(1,))


def tires(rig_view: RigView) -> Table:
    """Cold pressures of every position, the spare and the wheel nuts."""
    rows = []
    names = {
        "trailer": "Trailer tires", "front": "Vehicle front", "rear": "Vehicle rear", "spare": "Trailer spare",
    }  # fmt: skip
    for position, words in names.items():
        plan = rig_view.tire(position)
        if plan is None:
            continue
        size = size_of(rig_view, position)
        show = rig_view.formatter.at(position)
        shown = show.value(plan.pressure, "pressure") if plan.pressure is not None else NOT_CHECKED
        rows.append((rig_view.say(words), size, shown))
    torque = rig_view.rig.trailer.wheel_torque
    stated = rig_view.formatter.value(torque.si, "torque") if torque else "manual"
    rows.append(("Wheel nuts", "", stated))
    return Table(
        rig_view.say("Tires, set cold"), (), tuple(rows), (0.85, 1.15, 0.85), ("left", "left", "right")
    )


def again(rig_view: RigView) -> str:
    """After which distances wheel nuts are checked again, as short as a number's remark; empty when not stated."""
    return (rig_view.texts.get("retorque") or "").replace(" and ", ", ").replace("miles", "mi")


def size_of(rig_view: RigView, position: str) -> str:
    """Size and load range of a position's tire as marked."""
    rig = rig_view.rig
    tire = {
        "trailer": rig.trailer.tires,
        "front": rig.vehicle.tires.front,
        "rear": rig.vehicle.tires.rear,
        "spare": rig.trailer.spare,
    }[position]
    if position == "spare" and rig.trailer.spare is not None:
        tire = spare_as_marked(rig.trailer.spare, rig.trailer.tires)[0]
    if tire is None or tire.size is None:
        return "size not stated"
    return f"{tire.size} {tire.load_range or ''}".strip()


def hitch(rig_view: RigView) -> Table:
    """Ball, mount, coupler height, chains and connector."""
    rig, show = rig_view.rig, rig_view.formatter
    rows: list[tuple[str, str]] = []
    ball, mount, coupler = rig.gear.ball, rig.gear.mount, rig.trailer.coupler
    if rig.trailer.type != "fifth_wheel":
        stamped = show.ball(ball.diameter.si) if ball and ball.diameter else NOT_CHECKED
        wanted = show.ball(coupler.ball.si) if coupler.ball else NOT_CHECKED
        if stamped == wanted:
            rows.append(("Ball, {coupler}", stamped))
        else:
            rows += [("Ball", stamped), ("{Coupler}", wanted)]
        needed, word = rig_view.drop()
        if needed:
            rows.append(("Mount needed", f"{needed} {word}"))
        if mount is not None and mount.drop is not None:
            word = "drop" if mount.drop.si >= 0 else "rise"
            rows.append(("Mount fitted", f"{show.value(abs(mount.drop.si), 'height')} {word}"))
    plates = rig_view.plates()
    if plates:
        rows.append(("{Coupling_load_in_full}", plates))
    if coupler.height is not None:
        rows.append(("{Coupler}, level", show.value(coupler.height.si, "height")))
    rows.append(("Connector", rig_view.plug(rig.trailer.connector)))
    allowed = rig_view.assessment.computed.allowances
    rated = [a for a in allowed if a.formula == OWN_RATING]
    known = [a for a in rated if a.trailer is not None]
    if known and known[0].trailer is not None:
        words = "Lowest rating" if len(known) == len(rated) else "Lowest that was read"
        rows.append((words, f"{show.bound(known[0].trailer, 'mass', 'upper')}, {known[0].part}"))
    said = tuple((rig_view.say(a), rig_view.say(b)) for a, b in rows)
    return Table(rig_view.say("{Hitch}"), (), said, (1.1, 1.3), ("left", "right"))


def becoming(rig_view: RigView) -> tuple[str, ...]:
    """What a check could become with another filling, a sentence each."""
    made = []
    for finding in rig_view.findings:
        if finding.can_become and finding.critical:
            title = short(finding.code, finding.title)
            told = rig_view.formatter.filled(finding.can_become, finding.values)
            made.append(f"{title[0].upper()}{title[1:]}: {told}.")
    return tuple(made)


def signals(rig_view: RigView) -> Table:
    """Hand signals for two people while backing up to the trailer."""
    rows = tuple((one.meaning, f"{one.sign}, palms {one.palms}") for one in catalog().hand_signals)
    said = tuple((rig_view.say(meaning.capitalize()), rig_view.say(sign)) for meaning, sign in rows)
    note = "Agree on them first; what is not understood means stop. Common practice, no source."
    return Table("Hand signals for backing up", (), said, (1.0, 4.2), ("left", "left"), rig_view.say(note))


def frame(
    rig_view: RigView,
    name: str,
    title: str,
    faces: tuple[Face, ...],
    flow: tuple[Block, ...] = (),
) -> Card:
    """Put blocks into a card with the rig's name, revision, date and the usual foot line."""
    return Card(
        id=name,
        title=title,
        nickname=rig_view.rig.nickname,
        subtitle=rig_view.subtitle,
        revision=f"Revision {rig_view.edition.number}",
        date=rig_view.date,
        language=rig_view.language,
        faces=faces,
        flow=flow,
        foot=f"{rig_view.reckoned(brief=True)} {FIRST}",
        day=rig_view.edition.day.isoformat(),
    )
