"""Everything ``cardgen explain`` can explain: its kind, its name, a title, and the longer text."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import cache, partial
from typing import TYPE_CHECKING

from cardgen.commands.exits import MEANINGS
from cardgen.commands.fieldpath import Field, fields, find
from cardgen.source.codes import ALL_CODES
from cardgen.tables.words import PLACES, Concept, concept, concepts, say

if TYPE_CHECKING:
    from cardgen.checklist.schema import ItemDef
    from cardgen.commands.sketches import Sketch
    from cardgen.limits.registry import Rule
    from cardgen.present.cards import CardKind
    from cardgen.render.sizes import Size

WIDTH = 88
"""Width of paragraphs [letters]."""
KINDS = ("check", "fault", "exit code", "card", "card size", "phase", "item", "feature", "table", "field")
"""Kinds of topics in the order in which they are listed."""


@dataclass(frozen=True, slots=True)
class Topic:
    """Something with a name that can be explained.

    Args:
        kind: one of ``KINDS`` [-].
        name: what to write after ``cardgen explain`` [-].
        title: one line [-].
        text: makes the explanation.
    """

    kind: str
    name: str
    title: str
    text: Callable[[], str]


@cache
def topics() -> tuple[Topic, ...]:
    """Every topic, kind by kind."""
    return tuple(_topics())


def _topics() -> Iterator[Topic]:
    from cardgen.checklist.catalog import catalog
    from cardgen.limits.registry import rules
    from cardgen.present.cards import KINDS as CARDS
    from cardgen.render.sizes import SIZES

    made = catalog()
    for rule in rules():
        yield Topic("check", rule.code, say(rule.title, "us"), partial(check_text, rule))
    for code, told in ALL_CODES.items():
        words = say(told, "us")
        yield Topic("fault", code, words.split(". ")[0].rstrip("."), partial(wrapped, words))
    for exit_code, words in MEANINGS.items():
        yield Topic("exit code", str(int(exit_code)), words, partial(wrapped, f"{words}."))
    for card in CARDS.values():
        yield Topic("card", card.id, card.title, partial(card_text, card))
    for size in SIZES.values():
        yield Topic("card size", size.id, size.label, partial(size_text, size))
    for phase in made.scheme.phases:
        yield Topic("phase", phase.key, say(phase.title, "us"), partial(phase_text, phase.key))
    for item in made.items:
        yield Topic("item", item.id, say(item.text, "us"), partial(item_text, item))
    for name, feature in made.features.items():
        yield Topic("feature", name, say(feature.meaning, "us"), partial(feature_text, name))
    yield Topic("table", "law", "every rule of a place that was read, the oldest reading first", all_law)
    yield Topic("table", "proof", "published figures beside ours, and every rule of a place", all_proof)
    for field in fields():
        doc = field.shape.doc
        yield Topic("field", field.path, doc.what if doc else "", partial(field_text, field))


def find_topics(name: str) -> list[Topic]:
    """Every topic of a name; a check also by a code with a part's name, a field also by an index.

    Args:
        name: what was asked for [-].
    """
    every = topics()
    found = [topic for topic in every if topic.name == name]
    if not found and (field := find(name)) is not None:
        found = [topic for topic in every if topic.kind == "field" and topic.name == field.path]
        if not found:  # an item of a list, or one of several free names
            doc = field.shape.doc
            found = [Topic("field", field.path, doc.what if doc else "", lambda: field_text(field))]
    found += _word_topics(name)
    if not found:
        from cardgen.limits.registry import rule_of

        rule = rule_of(name)
        if rule is not None:
            part = name.removeprefix(f"{rule.code}-")
            found = [
                Topic("check", name, f"{say(rule.title, 'us')} ({part})", lambda: check_text(rule, part))
            ]
    return found


def all_law() -> str:
    """Every rule of a place: what it asks, its text and clause, how it was seen and in which month."""
    from cardgen.tables.law import all_rules, place_words

    rows = sorted(all_rules(), key=lambda one: (one.seen, one.id))
    return "\n\n".join(
        wrapped(f"{one.seen}  {one.id} ({place_words(one.place)}): {one.text}")
        + (f"\n{wrapped(f'look it up: {one.unread}', '    ')}" if one.unread else "")
        + f"\n{wrapped(one.source.words(), '    ')}"
        for one in rows
    )


def all_proof() -> str:
    """Every published figure beside ours, documents that no figure is held against, and every rule of a place."""
    from cardgen.present.proof import proof

    blocks = []
    for title, groups, others in proof().parts:
        blocks.append(title.upper())
        for one in groups:
            rows = [f"  {row.given}: {row.printed}; ours {row.ours}, off by {row.off}" for row in one.rows]
            name = one.what + (one.unit and f" [{one.unit}]")
            head = facts([(name, f"{one.cited}; {one.note}".strip("; "))])
            blocks.append("\n".join([head, *rows]))
        blocks += [wrapped(f"Held against nothing: {text}") for text in others]
    return "\n\n".join([*blocks, "RULES OF PLACES", all_law()])


def _word_topics(name: str) -> Iterator[Topic]:
    """What the markets call by a word of the trade: every thing that it may mean."""
    for found in map(concept, concepts()):
        markets = [one for one in PLACES if _plain(name) in map(_plain, found.names(one))]
        if markets:
            yield Topic("word", name, say(found.means, markets[0]), partial(word_text, found, markets[0]))


def _plain(word: str) -> str:
    return word.casefold().removeprefix("zulässige ").replace(" ", "").replace("-", "")


def word_text(found: Concept, market: str) -> str:
    """What a word of the trade means, what each market calls it, and where its names mislead, as a market says it."""
    names = [(PLACES[market], ", ".join(found.terms[market])) for market in PLACES if market in found.terms]
    there = facts([("in the rig file", ", ".join(found.fields))])
    trap = wrapped(say(f"Note: {found.trap}.", market) if found.trap else "")
    return "\n\n".join(filter(None, (wrapped(say(found.means, market)), facts(names), there, trap)))


def wrapped(text: str, indent: str = "") -> str:
    """Wrap a paragraph."""
    return textwrap.fill(
        " ".join(say(text, "us").split()), WIDTH, initial_indent=indent, subsequent_indent=indent,
        break_on_hyphens=False, break_long_words=False,
    )  # fmt: skip


def facts(pairs: Iterable[tuple[str, str]]) -> str:
    """Lines of ``name: words``, wrapped under the words."""
    return "\n".join(
        textwrap.fill(
            f"{name}: {' '.join(say(words, 'us').split())}", WIDTH, subsequent_indent="  ",
            break_on_hyphens=False, break_long_words=False,
        )
        for name, words in pairs
        if words
    )  # fmt: skip


def check_text(rule: Rule, part: str = "") -> str:
    """Meaning, basis and source of a check, what it may ask for, and how that is measured.

    Args:
        rule: the check.
        part: what follows its code: an axle, a gear part, a place; empty for the whole check [-].
    """
    from cardgen.commands.sketches import SKETCHES
    from cardgen.physics.needs import need

    asked = {path: need(path) for path in rule.fields}
    blocks = [wrapped(rule.meaning), facts([("basis", rule.basis.value), ("source", rule.source)])]
    blocks += law_text(rule.code, part)
    if asked:
        head = "It says 'not checked' and asks for these when they are missing and matter:"
        lines = [facts([(path, " - ".join(filter(None, (n.what, n.where))))]) for path, n in asked.items()]
        blocks.append("\n".join([head, *(textwrap.indent(line, "  ") for line in lines)]))
    else:
        blocks.append("It asks for nothing by itself: it speaks up once the rig file holds what it compares.")
    best = sorted(SKETCHES, key=lambda sketch: -len(set(sketch.fields) & set(asked)))[:2]
    blocks += [sketch_text(one) for one in SKETCHES if one in best and set(one.fields) & set(asked)]
    return "\n\n".join(blocks)


def law_text(code: str, part: str) -> Iterator[str]:
    """The rules of places behind a check, each with the text it was read in."""
    from cardgen.tables import law

    topic = code.removeprefix("law-").replace("-", "_")
    if not code.startswith("law-") or topic not in law.TOPICS:
        return
    places = [part] if part in law.known_places() else list(law.known_places())
    lines = []
    for place, one in ((where, rule) for where in places for rule in law.rules(where, topic)):
        if one.place == place or part:
            words = f"{one.text} ({one.force}; {one.source.words()}, looked up {one.seen})"
            lines.append(textwrap.indent(facts([(one.place, words)]), "  "))
    yield "\n".join(["What was read, by place; check before travel:", *dict.fromkeys(lines)])


def sketch_text(sketch: Sketch) -> str:
    """A drawing with its title and note."""
    note = f"\n\n{wrapped(sketch.note, '  ')}" if sketch.note else ""
    return f"{say(sketch.title, 'us')}:\n\n{textwrap.indent(sketch.art, '  ')}{note}"


def card_text(card: CardKind) -> str:
    """What a card is and how to have it made."""
    usual = card.us if card.us == card.metric else f"{card.us}, with metric units {card.metric}"
    return facts(
        [
            ("made", card.made),
            ("usual size", usual),
            ("to have it alone", f"cardgen build RIG --cards {card.id}"),
            ("in the rig file", f"preferences: {{cards: [{card.id}]}}"),
            ("letter in its QR address", card.letter),
        ]
    )


def size_text(size: Size) -> str:
    """Measures of a card size."""
    from cardgen.render.sizes import type_size

    plain, large = (f"{type_size(size, one):g} pt" for one in (False, True))
    return facts(
        [
            ("trimmed paper", f"{size.width:.1f} x {size.height:.1f} mm"),
            ("type of critical lines", f"{plain}; in large print {large}"),
            ("QR code", f"at least {size.qr:g} mm wide with its quiet zone"),
            ("to use it", f"cardgen build RIG --size {size.id}, or preferences: {{size: {size.id}}}"),
        ]
    )


def phase_text(key: str) -> str:
    """About a phase of the checklist and its items."""
    from cardgen.checklist.catalog import catalog

    made = catalog()
    phase = next(one for one in made.scheme.phases if one.key == key)
    items = [f"  {item.id}: {say(item.text, 'us')}" for item in made.items if item.phase == key]
    return "\n".join([wrapped(phase.about), "", "its items, in order:", *items])


def item_text(item: ItemDef) -> str:
    """Everything about an item of the checklist."""
    from cardgen.checklist.catalog import MARKET_SOURCES, catalog

    made = catalog()
    own = "the rig's market: see the report of a rig of that market"
    sources = [own if key in MARKET_SOURCES else made.sources[key].words() for key in item.source]
    values = [f"{name} ({made.values[name].meaning})" for name in item.places]
    signal = f", signal word {item.signal}" if item.signal else ""
    return "\n\n".join(
        [
            wrapped(item.text),
            wrapped(item.why),
            facts(
                [
                    ("wanted state", item.seen),
                    ("phase", next(p.title for p in made.scheme.phases if p.key == item.phase)),
                    ("how often", "; ".join(made.scheme.frequencies[key] for key in item.every)),
                    ("severity", f"{made.scheme.severities[item.severity]}{signal}"),
                    ("printed", made.scheme.tiers[item.tier]),
                    ("for", _condition(item.when)),
                    ("values", ", ".join(values)),
                    ("comes after", ", ".join(item.after)),
                    ("source", "; ".join(dict.fromkeys(sources))),
                ]
            ),
            f"reword it:  checklist: {{replace: {{{item.id}: your own words}}}}\n"
            f"leave it out:  checklist: {{remove: {{{item.id}: the reason}}}}",
        ]
    )


def _condition(when: str) -> str:
    """A condition as people read it."""
    return when.replace("is not None", "is known").replace("is None", "is unknown") or "every rig"


def feature_text(name: str) -> str:
    """What a feature is and which items depend on it."""
    from cardgen.checklist.catalog import catalog

    made = catalog()
    feature = made.features[name]
    items = [item.id for item in made.items if name in made.conditions[item.id].names]
    left_out = {
        "absent": "taken as not there, except for safety-critical items, which are then marked 'if fitted'",
        "ask": "the items are kept and marked 'if fitted'",
    }
    return facts(
        [
            (
                "values",
                ", ".join(feature.choices) or {"flag": "true or false", "count": "a number"}[feature.kind],
            ),
            ("when the rig file says nothing", left_out[feature.left_out]),
            ("items", ", ".join(items)),
        ]
    )


def field_text(field: Field) -> str:
    """How a field is found, measured and written, and which checks ask for it."""
    from cardgen.commands.sketches import sketches_of
    from cardgen.limits.registry import rules

    doc, shape = field.shape.doc, field.shape
    asked = [rule.code for rule in rules() if field.path in rule.fields]
    needed = {path for rule in rules() for path in rule.fields}
    blocks = [
        wrapped(f"{doc.what[:1].upper()}{doc.what[1:]}." if doc else ""),
        facts(
            [
                ("find it", doc.where if doc else ""),
                ("write it like", doc.example if doc else ""),
                ("takes", _takes(field)),
                (
                    "when left out",
                    _left_out(field, any(f"{path}.".startswith(f"{field.path}.") for path in needed)),
                ),
                ("asked for by", ", ".join(asked)),
            ]
        ),
    ]
    inner = shape.item if shape.item is not None and shape.item.form == "record" else shape
    if inner.form == "record":
        lines = [
            facts([(f.path, f.shape.doc.what if f.shape.doc else "")])
            for f in fields(inner)
            if "." not in f.path
        ]
        blocks.append("\n".join(["its fields:", *(textwrap.indent(line, "  ") for line in lines)]))
    blocks += [sketch_text(sketch) for sketch in sketches_of(field.path)]
    return "\n\n".join(block for block in blocks if block)


def _takes(field: Field) -> str:
    """What may stand in a field, in words."""
    from cardgen.units.field import Kind
    from cardgen.units.kinds import SAMPLE, SPELLINGS
    from cardgen.units.scalars import Scalar

    shape = field.shape
    if shape.form == "record":
        return "a group of fields"
    if shape.item is not None:
        item = _takes(Field(field.path, shape.item))
        return f"a list, each {item}" if shape.form == "list" else f"names of your own, each with {item}"
    if shape.choices:
        return " or ".join(shape.choices)
    for mark in shape.extra:
        if isinstance(mark, Kind):
            words = [word for word, _ in mark.words]
            units = [unit for name in mark.names for unit in SPELLINGS[name]]
            samples = " or ".join(f"'{SAMPLE[name]}'" for name in mark.names)
            told = f"{samples}; units: {', '.join(units)}"
            return f"{', '.join(words)}, or {told}" if words else told
        if isinstance(mark, Scalar):
            return {"boolean": "true or false", "integer": "a whole number", "number": "a number"}.get(
                str(mark.schema["type"]), "a day such as 2026-04-30"
            )
    return "a text"


def _left_out(field: Field, asked: bool) -> str:
    if field.path.endswith(("[]", ">")):
        return ""
    if field.required:
        return "the file is refused: this one is needed"
    if field.shape.optional and asked:
        return "it is unknown, and what depends on it is not checked"
    if field.shape.optional:
        usual = field.path.startswith("preferences.")
        return "what is usual is taken" if usual else "nothing stands in its place; no check needs it"
    if isinstance(field.default, bool):
        return "true" if field.default else "false"
    if isinstance(field.default, (int, str)):
        return str(field.default) or "empty"
    return "nothing of it is there"
