"""Print the table from feature to items as Markdown: ``python -m cardgen.checklist.table``."""

from __future__ import annotations

import sys

from cardgen.checklist.catalog import catalog
from cardgen.tables.words import say


def feature_table() -> list[tuple[str, list[str]]]:
    """Every feature, in the order of its data file, with the ids of the items it switches."""
    made = catalog()
    return [
        (name, [item.id for item in made.items if name in made.conditions[item.id].names])
        for name in made.features
    ]


def markdown() -> str:
    """The table with each feature's meaning, and the count of items for every rig."""
    made = catalog()
    always = [item.id for item in made.items if not item.when]
    rows = [
        f"{len(made.items)} items in {len(made.scheme.phases)} phases; "
        f"{len(always)} of them apply to every rig.",
        "",
        "| feature | meaning | when left out | items |",
        "|---|---|---|---|",
    ]
    for name, ids in feature_table():
        define = made.features[name]
        meaning = say(define.meaning, "us")
        if define.choices:
            meaning += f" ({', '.join(define.choices)})"
        rows.append(f"| `{name}` | {meaning} | {define.left_out} | {', '.join(ids)} |")
    return "\n".join(rows) + "\n"


if __name__ == "__main__":
    sys.stdout.write(markdown())
