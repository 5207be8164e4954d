"""``cardgen explain``: what a code means, where its limit comes from, how to find what is missing."""

from __future__ import annotations

import argparse
from collections.abc import Iterator

from cardgen.commands import common
from cardgen.commands.exits import MEANINGS, Exit

HELP = "explain a check, a fault code, an exit code, a checklist item or a field"


def add(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    parser.add_argument("code", nargs="?", metavar="CODE", help="code, or field path such as trailer.gvwr")


def run(args: argparse.Namespace) -> int:
    """Print the explanation, or list all codes."""
    if args.code is None:
        for line in _all():
            print(line)
        return Exit.FINE
    text = explain(args.code)
    if text is None:
        from cardgen.source.suggest import nearest

        close = nearest(args.code, [line.split()[0] for line in _all()])
        hint = f"; did you mean '{close}'?" if close else "; 'cardgen explain' lists all codes"
        common.say(f"nothing is called '{args.code}'{hint}")
        return Exit.USAGE
    print(text)
    return Exit.FINE


def _all() -> Iterator[str]:
    from cardgen.limits.registry import rules
    from cardgen.model.codes import FAULT_CODES

    for rule in rules():
        yield f"{rule.code:<28} check   {rule.title}"
    for code in FAULT_CODES:
        yield f"{code:<28} fault"


def explain(code: str) -> str | None:
    """Return the explanation of a code, a field path or an exit code; None when it is none."""
    return _check(code) or _fault(code) or _exit(code) or _item(code) or _field(code)


def _check(code: str) -> str | None:
    from cardgen.limits.registry import rules

    found = [r for r in rules() if code == r.code or code.startswith(f"{r.code}-")]
    if not found:
        return None
    rule = max(found, key=lambda r: len(r.code))
    return f"{rule.title}\n\n{rule.meaning}\n\nbasis: {rule.basis.value}\nsource: {rule.source}"


def _fault(code: str) -> str | None:
    from cardgen.model.codes import FAULT_CODES

    text = FAULT_CODES.get(code)
    return None if text is None else f"{code}: fault in a rig file\n\n{' '.join(text.split())}"


def _exit(code: str) -> str | None:
    words = {str(int(exit_code)): text for exit_code, text in MEANINGS.items()}
    return f"exit code {code}: {words[code]}" if code in words else None


def _item(code: str) -> str | None:
    from cardgen.checklist.catalog import catalog

    found = next((i for i in catalog().items if i.id == code), None)
    return None if found is None else f"{found.id}: {found.text}\n\n{found.why}\n\nwanted state: {found.done}"


def _field(path: str) -> str | None:
    from cardgen.physics.needs import find_doc

    doc = find_doc(path)
    if doc is None:
        return None
    where = f"\nfind it: {doc.where}" if doc.where else ""
    example = f"\nwrite it like: {doc.example}" if doc.example else ""
    return f"{path}\n\n{doc.what}{where}{example}"
