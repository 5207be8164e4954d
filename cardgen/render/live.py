"""Pages for the preview server: reloading by themselves, and faults in place of a rig."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from jinja2 import Environment

from cardgen.render.env import source_of
from cardgen.render.site import MORE, PageError, asset, guarded, policy, styled


@dataclass(frozen=True, slots=True)
class FaultLine:
    """One fault: what is wrong, where, which field, what to write, code."""

    message: str
    place: str
    field: str = ""
    hint: str = ""
    code: str = ""


def live(page: bytes, version: int, env: Environment) -> bytes:
    """Add the script that loads a page anew to one of our pages, and name it in the page's policy.

    Args:
        page: one of our pages.
        version: version of what is served [-].
        env: template environment.

    Raises:
        PageError: the page is none of ours.
    """
    code = asset(source_of(env, "scripts/live.js"))
    text = page.decode()
    if text.count("script-src ") != 1 or text.count("</body>") < 1 or "<html " not in text:
        raise PageError("only pages of ours can be served live")
    rules, rest = text.split("script-src ", 1)
    current, tail = rest.split(";", 1)
    allowed = code.token if current == "'none'" else f"{current} {code.token}"
    text = f"{rules}script-src {allowed}; connect-src 'self';{tail}"
    text = text.replace("<html ", f'<html data-version="{version}" ', 1)
    before, after = text.rsplit("</body>", 1)
    return f"{before}<script>{code.text}</script>\n</body>{after}".encode()


def faults_page(heading: str, rigs: Sequence[tuple[str, Sequence[FaultLine]]], env: Environment) -> bytes:
    """Write the page that tells the faults of rigs, everything escaped."""
    says = "Nothing is made from a rig file with faults. This page loads anew as soon as a file changes."
    return _told(heading, says, rigs, (), env)


def gone_page(what: str, there: Sequence[tuple[str, str]], env: Environment) -> bytes:
    """Write the page in place of one that does not exist, or does no more.

    Args:
        what: page or card [-].
        there: name and address of each rig that there is.
        env: template environment.
    """
    says = "A rig may have another name now, or its file has gone. This page loads anew as soon as a file changes."
    return _told(f"There is no such {what}", says, (), there, env)


def _told(
    heading: str,
    says: str,
    rigs: Sequence[tuple[str, Sequence[FaultLine]]],
    there: Sequence[tuple[str, str]],
    env: Environment,
) -> bytes:
    style, _ = styled(env, ("report.css", *MORE["index"]))
    rules = policy(style, None)
    text = env.get_template("report/faults.html.j2").render(
        csp=rules,
        style=style.text,
        style_file=None,
        script=None,
        script_file=None,
        title=heading,
        language="en",
        heading=heading,
        says=says,
        rigs=rigs,
        there=there,
    )
    return guarded(text, rules)
