"""The template environment of cards and reports.

Templates are looked up file by file: the workspace's own ``templates`` folder first, then
ours. The prefix ``cardgen/`` always means ours, so that an own file can extend the one it
replaces::

    {% extends "cardgen/cards/card.html.j2" %}
    {% block header %}...{% endblock %}

Undefined names are errors, and everything is escaped. With own templates everything runs in Jinja's
sandbox; they may not lead out of their folder, and the turns of their loops and macros are counted.
"""

from __future__ import annotations

import hashlib
import os
import sys
import threading
import traceback
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager, suppress
from functools import lru_cache
from pathlib import Path
from typing import Any

import jinja2
from jinja2 import (
    BaseLoader,
    ChoiceLoader,
    Environment,
    FileSystemBytecodeCache,
    FileSystemLoader,
    PrefixLoader,
    StrictUndefined,
    Template,
    TemplateError,
    TemplateRuntimeError,
    nodes,
)
from jinja2.bccache import Bucket
from jinja2.loaders import split_template_path
from jinja2.sandbox import SandboxedEnvironment
from markupsafe import Markup

PREFIX = "cardgen"
STEPS = 100_000
"""Turns of loops and macros of own templates for one page [-]; a card of ours takes some hundreds in all."""
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


class OwnLoader(FileSystemLoader):
    """Looks templates up in a workspace's folder, whose links may not lead out of it."""

    def get_source(self, environment: Environment, template: str) -> tuple[str, str, Callable[[], bool]]:
        """Return text, file and whether it is still the same.

        Raises:
            TemplateFaultError: a link on the way leads out of the folder, or nowhere.
        """
        for root in self.searchpath:
            path = Path(root, *split_template_path(template))
            inside = Path(os.path.realpath(path)).is_relative_to(os.path.realpath(root))
            if os.path.lexists(path) and not (inside and path.exists()):
                raise TemplateFaultError(
                    f"template {template} is a link that leads nowhere or out of the folder of the templates; "
                    "copy the file into the folder"
                )
        return super().get_source(environment, template)


class CountedTemplate(Template):
    """A template; the turns are counted anew for each page."""

    def render(self, *args: Any, **names: Any) -> str:
        """Return the page [-]."""
        _TURNS.left = STEPS
        return super().render(*args, **names)


_TURNS = threading.local()


class Sandbox(SandboxedEnvironment):
    """Jinja's sandbox, in which own templates come to an end: each turn of a loop or macro is counted."""

    template_class = CountedTemplate

    def turn(self) -> None:
        """Count one turn.

        Raises:
            TemplateRuntimeError: there have been too many.
        """
        _TURNS.left = getattr(_TURNS, "left", STEPS) - 1
        if _TURNS.left < 0:
            raise TemplateRuntimeError(f"its loops and macros take more than {STEPS:,} turns for one page")

    def _parse(self, source: str, name: str | None, filename: str | None) -> nodes.Template:
        made = super()._parse(source, name, filename)
        if filename is None or not Path(filename).is_relative_to(templates_dir()):
            for one in made.find_all((nodes.For, nodes.Macro, nodes.CallBlock)):
                assert isinstance(one, (nodes.For, nodes.Macro, nodes.CallBlock))  # what was asked for
                count = nodes.Call(nodes.EnvironmentAttribute("turn"), [], [], None, None)
                one.body.insert(0, nodes.ExprStmt(count, lineno=one.lineno).set_environment(self))
        return made


class Compiled(FileSystemBytecodeCache):
    """Our own templates as they were compiled, beside the bytecode that Python keeps of the package; like it left out
    where the folder cannot be written. What a template says is checked before what was compiled of it is used.
    """

    def dump_bytecode(self, bucket: Bucket) -> None:
        """Keep what was compiled, if that can be."""
        with suppress(OSError):
            super().dump_bytecode(bucket)


def _compiled(settings: Mapping[str, Any]) -> Compiled | None:
    """Where compiled templates are kept for these settings, this Jinja and this Python; None for nowhere."""
    said = f"{sorted(settings.items())!r} {jinja2.__version__} {sys.implementation.cache_tag}"
    folder = PACKAGE / "__pycache__" / f"templates-{hashlib.sha256(said.encode()).hexdigest()[:16]}"
    if sys.dont_write_bytecode:
        return None
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError:
        return None
    return Compiled(str(folder))


@lru_cache(maxsize=8)
def environment(workspace: Path | None = None) -> Environment:
    """Return the environment of a workspace; ours alone need no sandbox, which looks twice at every name.

    Args:
        workspace: folder with own templates, looked up first; None for ours alone.
    """
    ours = FileSystemLoader(templates_dir())
    layers: list[BaseLoader] = [ours, PrefixLoader({PREFIX: ours})]
    if workspace is not None:
        layers.insert(0, OwnLoader(workspace))
    settings: dict[str, Any] = {
        "autoescape": True,
        "trim_blocks": True,
        "lstrip_blocks": True,
        "cache_size": 200,
    }
    env = (Environment if workspace is None else Sandbox)(
        loader=ChoiceLoader(layers),
        undefined=StrictUndefined,
        bytecode_cache=_compiled(settings) if workspace is None else None,
        **settings,
    )
    env.filters["css_string"] = css_string
    return env


def source_of(env: Environment, name: str) -> str:
    """Return the text of a file that is looked up like a template but not rendered [-]."""
    if env.loader is None:
        raise TemplatesMissingError("the environment has no loader")
    try:
        return env.loader.get_source(env, name)[0]
    except UnicodeDecodeError as fault:
        raise TemplateFaultError(f"template {name} is not UTF-8: {fault.reason}") from fault
