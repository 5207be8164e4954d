"""The reference parts of README and rigs/REFERENCE.md, made from the model and the registries, never typed.

``python -m cardgen.commands.reference`` in the checkout writes them anew; a test keeps both files
equal to what is made here.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from cardgen.commands.fieldpath import Field
from cardgen.commands.fieldpath import fields as all_fields
from cardgen.tables.words import say


def fields() -> Iterator[tuple[str, str, str]]:
    """Yield (path, how to write it, meaning) of every field, depth first."""
    for field in all_fields():
        doc = field.shape.doc
        meaning = doc.what + (f"; find it: {doc.where}" if doc.where else "") if doc else ""
        path, form = _written(field)
        yield path, form, meaning


def _written(field: Field) -> tuple[str, str]:
    """Path of a field down to its values, and how such a value is written."""
    from cardgen.units.field import Kind
    from cardgen.units.kinds import SAMPLE
    from cardgen.units.scalars import Scalar

    path, shape = field.path, field.shape
    while shape.item is not None:
        path += "[]" if shape.form == "list" else ".<name>"
        shape = shape.item
    if shape.form == "record":
        return path, ""
    if shape.choices:
        return path, " or ".join(f"`{word}`" for word in shape.choices)
    for mark in shape.extra:
        if isinstance(mark, Kind):
            samples = [SAMPLE[name] for name in mark.names] + [word for word, _ in mark.words]
            own = field.shape.doc.example.strip("'") if field.shape.doc else ""
            return path, ", ".join(f"`{one}`" for one in ([own] if own else samples[:4]))
        if isinstance(mark, Scalar):
            plain = {"boolean": "`true` or `false`", "integer": "whole number", "number": "number"}
            return path, plain.get(str(mark.schema["type"]), "`2026-04-30`")
    return path, "text"


def fields_markdown() -> str:
    """The table of all fields."""
    return table(
        ("field", "write it like", "meaning"), ((f"`{path}`", form, what) for path, form, what in fields())
    )


def checks_markdown() -> str:
    """The table of all checks."""
    from cardgen.limits.registry import rules

    rows = (
        (f"`{rule.code}`", say(rule.title, "us"), rule.basis.value, say(rule.source, "us"))
        for rule in rules()
    )
    return table(("check", "what is compared", "basis", "source"), rows)


def faults_markdown() -> str:
    """The table of all fault codes."""
    from cardgen.source.codes import ALL_CODES

    rows = ((f"`{code}`", " ".join(say(text, "us").split())) for code, text in sorted(ALL_CODES.items()))
    return table(("code", "meaning"), rows)


def exits_markdown() -> str:
    """The table of exit codes."""
    from cardgen.commands.exits import MEANINGS

    return table(("exit code", "meaning"), ((str(int(code)), words) for code, words in MEANINGS.items()))


def cards_markdown() -> str:
    """The tables of cards and of card sizes."""
    from cardgen.present.cards import KINDS
    from cardgen.render.sizes import SIZES, type_size

    cards = table(
        ("card", "what it is", "usual size (US, metric)", "made"),
        (
            (
                f"`{card.id}`",
                card.title,
                f"{card.us}, {card.metric}",
                card.made,
            )
            for card in KINDS.values()
        ),
    )
    sizes = table(
        ("size", "trimmed paper", "critical lines, large print"),
        (
            (
                f"`{size.id}`",
                size.label,
                f"{type_size(size, False):g} pt, {type_size(size, True):g} pt",
            )
            for size in SIZES.values()
        ),
    )
    return f"{cards}\n\n{sizes}"


def places_markdown() -> str:
    """The table of places whose rules were read, and on what."""
    from cardgen.tables.law import TOPICS, known_places, place_words, rules

    rows = []
    for place in known_places():
        topics = [topic.replace("_", " ") for topic in TOPICS if rules(place, topic)]
        rows.append((f"`{place}`", place_words(place), ", ".join(topics)))
    return table(("place", "name", "rules read on"), rows)


def units_markdown() -> str:
    """The table of quantities and the units each may be written in."""
    from cardgen.units.kinds import SAMPLE, SPELLINGS

    rows = (
        (kind, f"`{SAMPLE[kind]}`", ", ".join(f"`{unit}`" for unit in spellings))
        for kind, spellings in SPELLINGS.items()
    )
    return table(("quantity", "write it like", "units"), rows)


def features_markdown() -> str:
    """The table from feature to the checklist items it switches, and the count of items for every rig."""
    from cardgen.checklist.catalog import catalog

    made = catalog()
    always = sum(not item.when for item in made.items)
    rows = (
        (
            f"`{name}`",
            say(define.meaning, "us") + (f" ({', '.join(define.choices)})" if define.choices else ""),
            define.left_out,
            ", ".join(item.id for item in made.items if name in made.conditions[item.id].names),
        )
        for name, define in made.features.items()
    )
    head = (
        f"{len(made.items)} items in {len(made.scheme.phases)} phases; {always} of them apply to every rig."
    )
    return f"{head}\n\n" + table(("feature", "meaning", "when left out", "items"), rows)


def table(head: Iterable[str], rows: Iterable[Iterable[str]]) -> str:
    """Write a Markdown table.

    Args:
        head: headings [-].
        rows: cells, which may hold any text [-].
    """
    heads = list(head)
    lines = [heads, ["---"] * len(heads), *([_cell(text) for text in row] for row in rows)]
    return "\n".join(f"| {' | '.join(line)} |" for line in lines)


def _cell(text: str) -> str:
    return " ".join(text.split()).replace("|", "\\|")


SECTIONS = {
    "exits": exits_markdown,
    "fields": fields_markdown,
    "units": units_markdown,
    "cards": cards_markdown,
    "places": places_markdown,
    "checks": checks_markdown,
    "faults": faults_markdown,
    "features": features_markdown,
}
"""Generated sections by the name in their markers ``<!-- made: name -->``."""


def fill(text: str) -> str:
    """Put the generated sections of a document between their markers.

    Args:
        text: the document [-].
    """
    for name, make in SECTIONS.items():
        start, end = f"<!-- made: {name} -->", f"<!-- end: {name} -->"
        if start in text:
            head, rest = text.split(start, 1)
            _, tail = rest.split(end, 1)
            text = f"{head}{start}\n{make()}\n{end}{tail}"
    return text


if __name__ == "__main__":
    from pathlib import Path

    for file in (Path("README.md"), Path("rigs/REFERENCE.md")):
        file.write_text(fill(file.read_text("utf-8")), "utf-8")
