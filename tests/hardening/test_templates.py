"""Templates of a workspace run in a sandbox, and names of templates lead nowhere else."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from jinja2 import TemplateNotFound
from jinja2.exceptions import SecurityError

from cardgen.cli import main
from cardgen.render.engine import press
from cardgen.render.env import environment, source_of, templates_dir
from tests.acceptance.shed import DAY
from tests.commands.workspace import write

OUTSIDE = [
    "../secret.txt", "cards/../../secret.txt", "/etc/passwd", "cardgen/../secret.txt", "cardgen/../../secret.txt",
    "..\\secret.txt", "C:\\secret.txt", "styles/..//../secret.txt", "./../secret.txt", "", ".", "..",
    "cardgen//etc/passwd", "\x00", "styles/\x00",
]  # fmt: skip


@pytest.fixture
def workspace(tmp_path: Path) -> Path:
    own = tmp_path / "templates"
    own.mkdir()
    (tmp_path / "secret.txt").write_text("secret", "utf-8")
    environment.cache_clear()
    press.cache_clear()
    return own


@pytest.mark.parametrize("name", OUTSIDE, ids=repr)
def test_names_lead_nowhere_else(workspace: Path, name: str) -> None:
    env = environment(workspace)
    with pytest.raises((TemplateNotFound, ValueError)):
        env.get_template(name)
    with pytest.raises((TemplateNotFound, ValueError)):
        source_of(env, name)


@pytest.mark.parametrize(
    "attack",
    [
        "{{ ''.__class__ }}",
        "{{ ''.__class__.__mro__[1].__subclasses__() }}",
        "{{ view.__init__.__globals__ }}",
        "{{ self.__init__.__globals__ }}",
        "{{ cycler.__init__.__globals__.os.popen('id').read() }}",
        "{{ lipsum.__globals__['os'] }}",
        "{{ ''|attr('__class__') }}",
        "{{ '{0.__class__}'.format('') }}",
        "{{ ''.format_map.__self__.__class__ }}",
    ],
)
def test_the_sandbox_holds(workspace: Path, attack: str) -> None:
    template = environment(workspace).from_string(attack)
    try:
        made = template.render(view=workspace)
    except Exception as found:
        assert isinstance(found, SecurityError) or "undefined" in str(found), found  # noqa: PT017  # either will do
    else:
        assert "class" not in made


def test_everything_is_escaped_by_itself() -> None:
    env = environment(None)
    assert env.from_string("{{ x }}").render(x="<b>\"'&") == "&lt;b&gt;&#34;&#39;&amp;"
    for path in templates_dir().rglob("*.j2"):
        text = path.read_text("utf-8")
        assert "|safe" not in text.replace(" ", ""), path
        assert "autoescape false" not in text, path


FAULTS = {
    "syntax": ("{% if %}", "report.html.j2:1"),
    "undefined": ("{{ view.no_such_field }}", "report.html.j2"),
    "security": ("{{ ''.__class__.__mro__ }}", "report.html.j2"),
    "missing": ("{% include '../secret.txt' %}", "secret"),
    "division": ("{{ 1 // 0 }}", "report.html.j2"),
    "endless": ("{% for _ in range(10**9) %}x{% endfor %}", "report.html.j2"),
    "endless, nested": (
        "{% for _ in range(9999) %}{% for _ in range(9999) %}{% set x = 1 %}{% endfor %}{% endfor %}",
        "report.html.j2:1: its loops and macros take more than 100,000 turns",
    ),
    "endless, recursive": (
        "{% for _ in [1, 2] recursive %}{% if loop.depth < 60 %}{{ loop([1, 2]) }}{% endif %}{% endfor %}",
        "take more than 100,000 turns",
    ),
    "endless, macro": (
        "{% macro m(n) %}{% if n %}{{ m(n - 1) }}{{ m(n - 1) }}{% endif %}{% endmacro %}{{ m(60) }}",
        "take more than 100,000 turns",
    ),
    "no head of ours": ("<!DOCTYPE html><html lang='en'><body></body></html>", "dropped the page's policy"),
    "policy moved": (
        "<!DOCTYPE html><html lang='en'><head><script>1</script>"
        "<meta http-equiv='Content-Security-Policy' content=\"{{ csp }}\"></head><body></body></html>",
        "dropped the page's policy",
    ),
    "policy replaced": (
        '{% extends "cardgen/report/report.html.j2" %}{% set csp = "default-src *" %}',
        "dropped the page's policy",
    ),
}


@pytest.mark.parametrize("kind", FAULTS)
def test_a_faulty_template_of_the_workspace_is_named(
    workspace: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], kind: str
) -> None:
    """The person who wrote the template is told which one; it is no bug of ours."""
    text, words = FAULTS[kind]
    monkeypatch.chdir(workspace.parent)
    write(workspace.parent, "plover")
    own = workspace / "report" / "report.html.j2"
    own.parent.mkdir()
    own.write_text(text, "utf-8")
    code = main(["build", "--date", DAY, "--html-only"])
    said = capsys.readouterr()
    environment.cache_clear()
    assert code != 0
    assert words in said.err
    assert "Traceback" not in said.err
    assert not (workspace.parent / "build" / "plover").exists()


@pytest.mark.parametrize("text", ["{% if %}", "{{ card.no_such_field }}", "{{ 1 // 0 }}", "für"])
def test_a_faulty_card_template_is_named(
    workspace: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], text: str
) -> None:
    monkeypatch.chdir(workspace.parent)
    write(workspace.parent, "plover")
    own = workspace / "cards" / "card.html.j2"
    own.parent.mkdir()
    own.write_bytes(text.encode("latin-1"))
    code = main(["build", "--date", DAY, "--cards", "hitch-card"])
    said = capsys.readouterr()
    environment.cache_clear()
    press.cache_clear()
    assert code != 0
    assert "card.html.j2" in said.err
    assert "Traceback" not in said.err


LINKS = ("inside", "file", "folder", "circle")


def test_links_do_not_lead_out_of_the_folder(
    workspace: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """No file of the machine is printed through a link; one that stays inside is followed."""
    monkeypatch.chdir(workspace.parent)
    write(workspace.parent, "plover")
    (workspace.parent / "away").mkdir()
    (workspace.parent / "away" / "report.html.j2").write_text("secret", "utf-8")
    wrong = {}
    for kind in LINKS:
        report = workspace / "report"
        if kind == "folder":
            report.symlink_to(workspace.parent / "away")
        else:
            report.mkdir()
            (workspace / "own.j2").write_text(
                '{% extends "cardgen/report/report.html.j2" %}{% block verdict %}OUR OWN{% endblock %}',
                "utf-8",
            )
            to = {"file": "../../secret.txt", "circle": "report.html.j2", "inside": "../own.j2"}[kind]
            (report / "report.html.j2").symlink_to(to)
        environment.cache_clear()
        code = main(["build", "--date", DAY, "--html-only"])
        said = capsys.readouterr()
        page = workspace.parent / "build" / "plover" / "use.html"
        text = page.read_text("utf-8") if page.exists() else ""
        refused = code == 3 and "out of the folder of the templates" in said.err and not text
        good = code == 0 and "OUR OWN" in text if kind == "inside" else refused
        if not good or "Traceback" in said.err or "secret" in text:
            wrong[kind] = (code, said.err, text[:200])
        shutil.rmtree(workspace.parent / "build", ignore_errors=True)
        shutil.rmtree(workspace.parent / "rigs" / "revisions", ignore_errors=True)
        if report.is_symlink():
            report.unlink()
        shutil.rmtree(report, ignore_errors=True)
    environment.cache_clear()
    assert wrong == {}
