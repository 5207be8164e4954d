"""A wheel, installed elsewhere, works from another folder and holds all it needs and no more."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tomllib
import zipfile
from pathlib import Path

import pytest

from tests.acceptance.reading import codes
from tests.acceptance.shed import DAY, DEMO, ROOT, Ran

SOURCE = ("cardgen", "templates", "rigs", "pyproject.toml", "README.md", "LICENSE")


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel of this checkout, made in a copy in which a build had already been run."""
    root = tmp_path_factory.mktemp("source")
    for name in SOURCE:
        if (ROOT / name).is_dir():
            shutil.copytree(
                ROOT / name, root / name, ignore=shutil.ignore_patterns("__pycache__", "revisions")
            )
        else:
            shutil.copy(ROOT / name, root / name)
    shutil.copy(ROOT / ".gitignore", root / ".gitignore")
    ledger = root / "rigs" / "revisions" / "wren-and-pebble"
    ledger.mkdir(parents=True)
    (ledger / "0001.json").write_text("{}", "utf-8")
    words = [sys.executable, "-m", "pip", "wheel", str(root), "--no-deps", "--no-build-isolation", "-q"]
    out = root / "dist"
    subprocess.run([*words, "-w", str(out)], check=True, capture_output=True, cwd=root)
    (made,) = out.glob("*.whl")
    return made


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Folder with the installed wheel alone; what it depends on comes from this environment."""
    target = tmp_path_factory.mktemp("installed")
    words = [sys.executable, "-m", "pip", "install", "--no-deps", "--no-index", "-q"]
    subprocess.run([*words, "--target", str(target), str(wheel)], check=True, capture_output=True)
    return target


def run(installed: Path, cwd: Path, *words: str) -> Ran:
    """Run the script that the wheel installed, from another folder."""
    env = os.environ | {"PYTHONPATH": str(installed)}
    script = installed / "bin" / "cardgen"
    ran = subprocess.run(
        [sys.executable, str(script), *words],
        cwd=cwd,
        env=env,
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
    )
    return Ran(ran.returncode, ran.stdout, ran.stderr)


def names(wheel: Path) -> set[str]:
    with zipfile.ZipFile(wheel) as inside:
        return {name for name in inside.namelist() if not name.endswith("/")}


def files(folder: Path, pattern: str) -> set[str]:
    return {
        path.relative_to(folder).as_posix()
        for path in folder.rglob(pattern)
        if path.is_file() and "__pycache__" not in path.parts and "revisions" not in path.parts
    }


def test_templates_rigs_and_data_are_all_inside(wheel: Path) -> None:
    inside = names(wheel)
    templates = files(ROOT / "templates", "*")
    rigs = files(ROOT / "rigs", "*.yaml")
    package = files(ROOT / "cardgen", "*")
    assert len(templates) >= 20
    assert len(rigs) >= 20
    assert {f"cardgen/_templates/{name}" for name in templates} <= inside
    assert {f"cardgen/_rigs/{name}" for name in rigs} <= inside
    assert {f"cardgen/{name}" for name in package} <= inside
    assert sum(name.endswith(".yaml") for name in package) >= 30
    assert "cardgen/py.typed" in inside


def test_nothing_else_is_inside(wheel: Path) -> None:
    inside = names(wheel)
    known = {f"cardgen/{name}" for name in files(ROOT / "cardgen", "*")}
    known |= {f"cardgen/_templates/{name}" for name in files(ROOT / "templates", "*")}
    known |= {f"cardgen/_rigs/{name}" for name in files(ROOT / "rigs", "*.yaml")}
    rest = {name for name in inside - known if ".dist-info/" not in name}
    assert rest == set()


def test_the_wheel_asks_for_what_it_uses(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as opened:
        (meta,) = [name for name in opened.namelist() if name.endswith(".dist-info/METADATA")]
        text = opened.read(meta).decode()
    asked = {line.split(": ", 1)[1] for line in text.splitlines() if line.startswith("Requires-Dist: ")}
    wanted = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]["dependencies"]
    for one in wanted:
        name = one.split(">")[0]
        assert any(name in line and "extra ==" not in line for line in asked), name
    assert any("fontpkg-ibm-plex-sans-condensed" in line for line in asked)


def test_it_runs_from_the_wheel_and_not_from_the_checkout(installed: Path, tmp_path: Path) -> None:
    ran = subprocess.run(
        [sys.executable, "-c", "import cardgen; print(cardgen.__file__)"],
        cwd=tmp_path,
        env=os.environ | {"PYTHONPATH": str(installed)},
        capture_output=True,
        text=True,
        check=True,
    )
    assert ran.stdout.strip() == str(installed / "cardgen" / "__init__.py")


def test_new_and_build_in_an_empty_folder(installed: Path, tmp_path: Path) -> None:
    new = run(installed, tmp_path, "new", "Finch")
    assert new.code == 0, new.err
    assert (tmp_path / "rigs" / "finch.yaml").is_file()
    copied = run(installed, tmp_path, "new", "Otter2", "--from", "otter")
    assert copied.code == 0, copied.err
    assert 'nickname: "Otter2"' in (tmp_path / "rigs" / "otter2.yaml").read_text("utf-8")
    ran = run(installed, tmp_path, "build", "--date", DAY, "--cards", "glovebox-card,tire-tag")
    assert ran.code == 0, ran.err
    for slug in ("finch", "otter2"):
        assert (tmp_path / "build" / slug / "glovebox-card.pdf").is_file()
        assert (tmp_path / "build" / slug / "index.html").is_file()
    (address,) = codes(tmp_path / "build" / "otter2" / "glovebox-card.pdf")
    assert address.startswith("https://shed.example/otter2/?c=g&r=1&f=")
    assert (tmp_path / "build" / "index.html").is_file()


def test_demo_rigs_can_be_copied(installed: Path, tmp_path: Path) -> None:
    some = DEMO[::3]
    for name in some:
        ran = run(installed, tmp_path, "new", f"My {name}", "--from", name)
        assert ran.code == 0, ran.err
    checked = run(installed, tmp_path, "check", "--date", DAY)
    assert checked.code == 0, checked.err
    assert checked.err == ""
    assert checked.out.count("My ") == len(some)


def test_doctor_is_content(installed: Path, tmp_path: Path) -> None:
    ran = run(installed, tmp_path, "doctor")
    assert ran.code == 0, ran.out
    assert str(installed / "cardgen" / "_templates") in ran.out
