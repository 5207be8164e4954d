"""The reference part of README, made from the model and the registries, never typed.

``python -m cardgen.commands.reference`` prints it; a test keeps README equal to it.
"""

from __future__ import annotations

import types
import typing
from collections.abc import Iterator
from typing import Any

from cardgen.model.rig import Rig
from cardgen.units.field import Doc, Kind
from cardgen.units.kinds import SAMPLE
from cardgen.units.scalars import Scalar


def fields(shape: type = Rig, path: str = "") -> Iterator[tuple[str, str, str]]:
    """Yield (path, how to write it, meaning) of every field, depth first."""
    for name, hint in typing.get_type_hints(shape, include_extras=True).items():
        if name not in getattr(shape, "__dataclass_fields__", {}):
            continue
        doc = next((m for m in getattr(hint, "__metadata__", ()) if isinstance(m, Doc)), None)
        where = f"{path}.{name}" if path else name
        inner, suffix, form = _unwrap(hint)
        if hasattr(inner, "__dataclass_fields__") and form is None:
            yield where + suffix, "", _meaning(doc)
            yield from fields(inner, where + suffix)
        else:
            yield where + suffix, form or _form(inner), _meaning(doc)


def _meaning(doc: Doc | None) -> str:
    if doc is None:
        return ""
    return doc.what + (f"; find it: {doc.where}" if doc.where else "")


def _unwrap(hint: Any) -> tuple[Any, str, str | None]:
    """Strip a type down to its inside; return it, a path suffix and how to write it."""
    suffix = ""
    while True:
        if hasattr(hint, "__metadata__"):
            for mark in hint.__metadata__:
                if isinstance(mark, Kind):
                    return hint.__origin__, suffix, _kind(mark)
                if isinstance(mark, Scalar):
                    return hint.__origin__, suffix, str(mark.schema.get("format", mark.schema["type"]))
            hint = hint.__origin__
        origin = typing.get_origin(hint)
        if origin in (typing.Union, types.UnionType):
            hint = next(a for a in typing.get_args(hint) if a is not type(None))
        elif origin is dict:
            hint, suffix = typing.get_args(hint)[1], suffix + ".<name>"
        elif origin is tuple:
            hint, suffix = typing.get_args(hint)[0], suffix + "[]"
        elif origin is typing.Literal:
            return hint, suffix, " or ".join(f"`{a}`" for a in typing.get_args(hint))
        else:
            return hint, suffix, None


def _kind(mark: Kind) -> str:
    samples = [SAMPLE[name] for name in mark.names] + [word for word, _ in mark.words]
    return ", ".join(f"`{s}`" for s in samples[:4])


def _form(inner: Any) -> str:
    return {str: "text", bool: "true or false", int: "whole number", float: "number"}.get(inner, "")


def fields_markdown() -> str:
    """The table of all fields."""
    rows = ["| field | write it like | meaning |", "|---|---|---|"]
    rows += [f"| `{path}` | {form} | {_cell(what)} |" for path, form, what in fields()]
    return "\n".join(rows)


def checks_markdown() -> str:
    """The table of all checks."""
    from cardgen.limits.registry import rules

    rows = ["| check | what is compared | basis | source |", "|---|---|---|---|"]
    rows += [f"| `{r.code}` | {_cell(r.title)} | {r.basis.value} | {_cell(r.source)} |" for r in rules()]
    return "\n".join(rows)


def faults_markdown() -> str:
    """The table of all fault codes of rig files."""
    from cardgen.model.codes import FAULT_CODES

    rows = ["| code | meaning |", "|---|---|"]
    rows += [f"| `{code}` | {_cell(' '.join(text.split()))} |" for code, text in sorted(FAULT_CODES.items())]
    return "\n".join(rows)


def exits_markdown() -> str:
    """The table of exit codes."""
    from cardgen.commands.exits import MEANINGS

    rows = ["| exit code | meaning |", "|---|---|"]
    rows += [f"| {int(code)} | {_cell(words)} |" for code, words in MEANINGS.items()]
    return "\n".join(rows)


def _cell(text: str) -> str:
    return text.replace("|", "\\|").replace("\n", " ")


SECTIONS = {
    "fields": fields_markdown,
    "checks": checks_markdown,
    "faults": faults_markdown,
    "exits": exits_markdown,
}
"""Generated sections by the name in their markers ``<!-- made: name -->``."""


def fill(text: str) -> str:
    """Put the generated sections between their markers."""
    for name, make in SECTIONS.items():
        start, end = f"<!-- made: {name} -->", f"<!-- end: {name} -->"
        if start in text:
            head, rest = text.split(start, 1)
            _, tail = rest.split(end, 1)
            text = f"{head}{start}\n{make()}\n{end}{tail}"
    return text


if __name__ == "__main__":
    for section in SECTIONS.values():
        print(section(), end="\n\n")
