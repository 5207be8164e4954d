"""The template environment of cards and reports.

Templates are looked up file by file: the workspace's own ``templates`` folder first, then
ours. The prefix ``cardgen/`` always means ours, so that an own file can extend the one it
replaces::

    {% extends "cardgen/cards/card.html.j2" %}
    {% block header %}...{% endblock %}

Undefined names are errors, everything is escaped, and templates run in Jinja's sandbox.
"""

from __future__ import annotations

import traceback
from collections.abc import Iterator
from contextlib import contextmanager
from functools import lru_cache
from pathlib import Path

from jinja2 import (
    BaseLoader,
    ChoiceLoader,
    FileSystemLoader,
    PrefixLoader,
    StrictUndefined,
    TemplateError,
)
from jinja2.sandbox import SandboxedEnvironment
from markupsafe import Markup

PREFIX = "cardgen"
PACKAGE = Path(__file__).resolve().parent.parent


class TemplatesMissingError(RuntimeError):
    """Neither the checkout nor the installed package holds the templates."""


def templates_dir() -> Path:
    """Return our templates folder: the checkout's, else the one inside the package.

    Raises:
        TemplatesMissingError: neither exists.
    """
    for folder in (PACKAGE.parent / "templates", PACKAGE / "_templates"):
        if (folder / "cards" / "card.html.j2").is_file():
            return folder
    raise TemplatesMissingError("the package holds no templates: install cardgen again")


class TemplateFaultError(RuntimeError):
    """A template cannot be rendered; the message names the file and the line."""


@contextmanager
def named_faults(template: str, error: type[TemplateFaultError]) -> Iterator[None]:
    """Turn what a template does wrong into an error that names its file and line.

    What fails below our own templates without Jinja having complained is a bug and stays one.

    Args:
        template: name of the template that is rendered [-].
        error: class of the error to raise.
    """
    try:
        yield
    except UnicodeDecodeError as fault:
        raise error(f"template {template}, or one that it includes, is not UTF-8: {fault.reason}") from fault
    except Exception as fault:
        place = _own_place(fault)
        if isinstance(fault, TemplateError):
            line = getattr(fault, "lineno", None)
            name = getattr(fault, "name", None) or template
            named = f"{name}:{line}" if line else place or name
            raise error(f"template {named}: {fault.message}") from fault
        if place is None:
            raise
        raise error(f"template {place}: {type(fault).__name__}: {fault}") from fault


def _own_place(fault: BaseException) -> str | None:
    """File and line of the innermost template that is not ours in a traceback; None without one."""
    ours, found = templates_dir(), None
    for frame, line in traceback.walk_tb(fault.__traceback__):
        file = Path(frame.f_code.co_filename)
        if file.suffix == ".j2" and not file.is_relative_to(ours):
            found = f"{'/'.join(file.parts[-2:])}:{line}"
    return found


def css_string(text: str) -> Markup:
    """Return the text as a CSS string in which only letters and digits stand for themselves."""
    body = "".join(c if c.isascii() and c.isalnum() else f"\\{ord(c):x} " for c in text)
    return Markup(f'"{body}"')


@lru_cache(maxsize=8)
def environment(workspace: Path | None = None) -> SandboxedEnvironment:
    """Return the environment of a workspace.

    Args:
        workspace: folder with own templates, looked up first; None for ours alone.
    """
    ours = FileSystemLoader(templates_dir())
    layers: list[BaseLoader] = [ours, PrefixLoader({PREFIX: ours})]
    if workspace is not None:
        layers.insert(0, FileSystemLoader(workspace))
    env = SandboxedEnvironment(
        loader=ChoiceLoader(layers),
        undefined=StrictUndefined,
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        cache_size=200,
    )
    env.filters["css_string"] = css_string
    return env


def source_of(env: SandboxedEnvironment, name: str) -> str:
    """Return the text of a file that is looked up like a template but not rendered [-]."""
    if env.loader is None:
        raise TemplatesMissingError("the environment has no loader")
    try:
        return env.loader.get_source(env, name)[0]
    except UnicodeDecodeError as fault:
        raise TemplateFaultError(f"template {name} is not UTF-8: {fault.reason}") from fault
