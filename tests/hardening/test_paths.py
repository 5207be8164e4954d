"""Names lead nowhere they should not: parts, nicknames, folders, files of other systems."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cardgen.bundle.manifest import is_safe, is_slug
from cardgen.cli import main
from cardgen.model.slug import RESERVED, slug
from tests.acceptance.shed import DAY, contents
from tests.commands.workspace import PLAIN, write

SECRET = "gvwr: 4,711 lb\n"
PARTS = [
    "../secret", "../../secret", "vehicles/../../secret", "vehicles/../../../secret", "/etc/passwd", "./secret",
    "vehicles//secret", "vehicles/./secret", "..", ".", "...", "~/secret", "$HOME/secret", "%2e%2e/secret",
    "..%2fsecret", "..\\secret", "C:\\secret", "C:secret", "\\\\host\\share\\secret", "file:///etc/passwd",
    "http://evil.example/x", "secret\x00", "vehicles/secret.yaml/..", "vehicles/secret/", "/", "", " ", "con", "nul:",
    "a" * 5000, "a/" * 500 + "b",
]  # fmt: skip


@pytest.fixture
def shed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A workspace, with a secret in every folder above its parts."""
    root = tmp_path / "deep" / "shed"
    (root / "rigs" / "parts" / "vehicles").mkdir(parents=True)
    for folder in (tmp_path, tmp_path / "deep", root, root / "rigs"):
        (folder / "secret.yaml").write_text(SECRET, "utf-8")
    (root / "rigs" / "secret.yaml").unlink()
    monkeypatch.chdir(root)
    return root


@pytest.mark.parametrize("part", PARTS, ids=lambda text: repr(text)[:24])
def test_a_part_outside_the_folder_is_refused(
    shed: Path, capsys: pytest.CaptureFixture[str], part: str
) -> None:
    quoted = "'" + part.replace("'", "''") + "'"
    file = write(
        shed, "plover", PLAIN.format(nickname="Plover").replace("vehicle:\n", f"vehicle:\n  part: {quoted}\n")
    )
    code = main(["check", str(file), "--date", DAY])
    said = capsys.readouterr()
    assert code == 3
    assert "4,711" not in said.out + said.err
    assert "root:" not in said.err
    assert any(
        f"[{code}]" in said.err for code in ("part-name", "part-outside", "part-missing", "file-control")
    )


@pytest.mark.skipif(sys.platform == "win32", reason="links need rights there")
@pytest.mark.parametrize("where", ["file", "folder", "parts", "circle"])
def test_a_link_that_leads_out_of_the_parts_is_refused(
    shed: Path, capsys: pytest.CaptureFixture[str], where: str
) -> None:
    parts = shed / "rigs" / "parts"
    if where == "file":
        (parts / "vehicles" / "x.yaml").symlink_to(shed / "secret.yaml")
    elif where == "folder":
        (parts / "vehicles").rmdir()
        (shed / "elsewhere").mkdir()
        (shed / "elsewhere" / "x.yaml").write_text(SECRET, "utf-8")
        (parts / "vehicles").symlink_to(shed / "elsewhere")
    elif where == "circle":
        (parts / "vehicles" / "x.yaml").symlink_to(parts / "vehicles" / "x.yaml")
    else:
        (parts / "vehicles" / "x.yaml").symlink_to("/etc/passwd")
    file = write(
        shed,
        "plover",
        PLAIN.format(nickname="Plover").replace("vehicle:\n", "vehicle:\n  part: vehicles/x\n"),
    )
    assert main(["check", str(file), "--date", DAY]) == 3
    said = capsys.readouterr()
    assert "4,711" not in said.out + said.err
    assert "root:" not in said.err


@given(st.text(max_size=80))
@settings(max_examples=400, deadline=None)
def test_every_nickname_gives_one_safe_folder(nickname: str) -> None:
    name = slug(nickname)
    assert is_slug(name)
    assert is_safe(f"{name}/index.html")
    assert name.isascii()
    assert name == name.lower()
    assert not {"/", "\\", ":", ".", " "} & set(name)
    assert name not in RESERVED


WINDOWS = [
    "CON",
    "con",
    "PRN",
    "aux",
    "NUL",
    "COM1",
    "lpt9",
    "CONIN$",
    "con.txt",
    "Nul.",
    "aux ",
    "COM1.yaml",
]


@pytest.mark.parametrize("nickname", WINDOWS)
def test_names_that_windows_keeps_are_told_or_changed(
    shed: Path, capsys: pytest.CaptureFixture[str], nickname: str
) -> None:
    file = write(shed, "plover", PLAIN.format(nickname=f"'{nickname}'"))
    code = main(["build", str(file), "--html-only", "--date", DAY])
    said = capsys.readouterr()
    assert code in (0, 3)
    if code == 3:
        assert "[nickname-reserved]" in said.err
        return
    for path in (shed / "build").rglob("*"):
        stem = path.name.partition(".")[0].lower()
        assert path.name == ".cardgen" or stem not in RESERVED - {"index", "manifest", "assets", "build"}, (
            path
        )


@pytest.mark.parametrize(
    "nickname",
    ["Trailing.", "Trailing. . .", "  Lead", "a" * 300, "-", "...", "///", "a/../../b", "x\\y:z|?*"],
)
def test_odd_nicknames_stay_in_the_output(shed: Path, nickname: str) -> None:
    before = {path for path in shed.parent.rglob("*") if shed / "build" not in path.parents}
    file = write(shed, "plover", PLAIN.format(nickname=f"'{nickname}'"))
    code = main(["build", str(file), "--html-only", "--date", DAY])
    assert code in (0, 3)
    for path in (shed / "build").rglob("*"):
        name = path.relative_to(shed / "build").as_posix()
        assert name.startswith(".cardgen") or is_safe(name), name
    new = {path for path in shed.parent.rglob("*") if shed / "build" not in path.parents} - before
    assert {path.relative_to(shed).parts[0] for path in new} <= {"rigs", "build"}


def test_names_that_differ_in_case_or_marks_only_are_told(
    shed: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """One folder cannot hold both on a system that takes them for the same."""
    for number, nickname in enumerate(("Wee Wren", "WEE WREN", "wee-wren", "Wée Wren", "wee  wren!")):
        write(shed, f"r{number}", PLAIN.format(nickname=f"'{nickname}'"))
    assert main(["build", "--html-only", "--date", DAY]) == 3
    said = capsys.readouterr()
    assert said.err.count("[nickname-taken]") == 5
    assert not (shed / "build" / "wee-wren").exists()


@pytest.mark.skipif(sys.platform == "win32", reason="links need rights there")
@pytest.mark.parametrize("name", ["plover", "plover/index.html", "index.html", ".cardgen"])
def test_links_in_the_output_lead_to_nothing_being_written(
    shed: Path, capsys: pytest.CaptureFixture[str], name: str
) -> None:
    outside = shed.parent / "outside"
    outside.mkdir()
    (outside / "index.html").write_text("mine", "utf-8")
    link = shed / "build" / name
    link.parent.mkdir(parents=True)
    link.symlink_to(outside if "." not in name[1:] else outside / "index.html")
    before = contents(outside)
    file = write(shed, "plover")
    code = main(["build", str(file), "--html-only", "--date", DAY])
    said = capsys.readouterr()
    assert code == 5
    assert "Traceback" not in said.err
    assert contents(outside) == before
    assert link.is_symlink()
