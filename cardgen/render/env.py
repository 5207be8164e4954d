"""The template environment of cards and reports.

Templates are looked up file by file: the workspace's own ``templates`` folder first, then
ours. The prefix ``cardgen/`` always means ours, so that an own file can extend the one it
replaces::

    {% extends "cardgen/cards/card.html.j2" %}
    {% block header %}...{% endblock %}

Undefined names are errors, everything is escaped, and templates run in Jinja's sandbox.
"""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from jinja2 import BaseLoader, ChoiceLoader, FileSystemLoader, PrefixLoader, StrictUndefined
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
    return env.loader.get_source(env, name)[0]
