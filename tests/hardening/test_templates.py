"""Templates of a workspace run in a sandbox, and names of templates lead nowhere else."""

from __future__ import annotations

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
