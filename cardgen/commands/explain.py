"""``cardgen explain``: what a code means, where its limit comes from, how to find what is missing."""

from __future__ import annotations

import argparse
from collections.abc import Iterator

from cardgen.commands import common
from cardgen.commands.exits import Exit

HELP = "explain a check, fault code, exit code, card, card size, checklist item or field"
HEADS = {
    "check": "checks",
    "fault": "faults of files",
    "exit code": "exit codes",
    "card": "cards",
    "card size": "card sizes",
    "phase": "phases of the checklist",
    "item": "items of the checklist",
    "feature": "features that items depend on",
    "table": "tables",
    "field": "fields of a rig file",
}
_WIDTH = 100


def add(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    parser.description = (
        "Explain a name from a message, a card or a rig file; without a name, list all there are."
    )
    parser.add_argument("code", nargs="?", metavar="CODE", help="code, or field path such as trailer.gvwr")


def run(args: argparse.Namespace) -> int:
    """Print the explanation, or list all codes."""
    if args.code is None:
        for line in listing():
            print(line)
        return Exit.FINE
    text = explain(args.code)
    if text is None:
        from cardgen.commands.topics import topics
        from cardgen.source.suggest import nearest

        close = nearest(args.code, [topic.name for topic in topics()])
        hint = f"did you mean '{close}'?" if close else "'cardgen explain' lists all there are"
        common.say(f"nothing is called '{args.code[:80]}'; {hint}")
        return Exit.USAGE
    print(text)
    return Exit.FINE


def listing() -> Iterator[str]:
    """Every name with its title, grouped by kind."""
    import textwrap

    from cardgen.commands.topics import KINDS, topics

    every = topics()
    for kind in KINDS:
        group = [topic for topic in every if topic.kind == kind]
        wide = min(40, max(len(topic.name) for topic in group))
        yield f"{HEADS[kind]}:"
        for topic in group:
            room = _WIDTH - 4 - max(wide, len(topic.name))
            yield f"  {topic.name:<{wide}}  {textwrap.shorten(topic.title, max(room, 20), placeholder='...')}".rstrip()
        yield ""


def explain(code: str) -> str | None:
    """Return the explanation of everything that has a name; None when nothing has it.

    Args:
        code: code of a check or fault, exit code, card, size, item, feature or field path [-].
    """
    from cardgen.commands.topics import find_topics, wrapped

    found = find_topics(code)
    if not found:
        return None
    return "\n\n".join(
        f"{topic.name} ({topic.kind})\n"
        + (
            f"{wrapped(topic.title)}\n\n"
            if topic.kind not in ("fault", "exit code", "item", "field", "word")
            else "\n"
        )
        + topic.text()
        for topic in found
    )
