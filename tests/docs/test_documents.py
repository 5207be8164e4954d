"""README, REFERENCE and DEVELOPERS tell the truth: tables, commands, flags, files, links."""

from __future__ import annotations

import argparse
import importlib.util
import json
import re
import shlex
import shutil
from pathlib import Path

import pytest

from cardgen.bundle.reading import read_rig
from cardgen.cli import COMMANDS, main, parser
from cardgen.commands.reference import SECTIONS, fill
from tests.conftest import Golden
from tests.docs.reading import DEVELOPERS, DOCUMENTS, PACKAGE, README, REFERENCE, ROOT, blocks, links

_CODE = re.compile(r"`([^`\n]+)`")


def test_generated_parts_are_up_to_date(golden: Golden) -> None:
    for path in DOCUMENTS:
        golden(path, fill(path.read_text(encoding="utf-8")))


def test_every_generated_part_is_in_one_document() -> None:
    marks = {
        name: [path for path in DOCUMENTS if f"<!-- made: {name} -->" in path.read_text(encoding="utf-8")]
        for name in SECTIONS
    }
    assert marks == {name: [README if name == "exits" else REFERENCE] for name in SECTIONS}
    for name, make in SECTIONS.items():
        section = make()
        assert section.count("\n") > 3
        heads = [line for line in section.splitlines() if line.startswith("|")]
        width = {line.replace("\\|", "").count("|") for line in heads}
        assert len(width) == (2 if name == "cards" else 1), name


def test_readme_is_short() -> None:
    assert len(README.read_bytes()) <= 12_000


def typed(text: str) -> list[str]:
    """Every cardgen command of a document, from shell blocks and from code in sentences."""
    lines = [line for block in blocks(text, "sh") for line in block.text.splitlines()]
    lines += [match for match in _CODE.findall(text) if match.startswith("cardgen ")]
    found = []
    for line in lines:
        for part in re.split(r"&&|;|\|(?! )", line.split("#")[0]):
            words = part.strip()
            if re.match(r"(\.venv/bin/)?cardgen(\s|$)", words):
                found.append(words.removeprefix(".venv/bin/"))
    return found


def subparser(name: str) -> argparse.ArgumentParser:
    top = parser()
    action = next(a for a in top._actions if isinstance(a, argparse._SubParsersAction))
    found: argparse.ArgumentParser = action.choices[name]
    return found


def test_commands_and_flags_are_real() -> None:
    unknown = []
    for path in DOCUMENTS:
        for line in typed(path.read_text(encoding="utf-8")):
            words = shlex.split(line.replace("[", " ").replace("]", " ").replace("...", ""))[1:]
            if words[0] in ("COMMAND", "--help", "--version"):
                continue
            if words[0] not in COMMANDS:
                unknown.append(f"{path.name}: {line}")
                continue
            flags = {flag for action in subparser(words[0])._actions for flag in action.option_strings}
            typed_flags = [word.split("=")[0] for word in words[1:] if word.startswith("-") and word != "-"]
            unknown += [f"{path.name}: {line}: {flag}" for flag in typed_flags if flag not in flags]
    assert unknown == []


def test_readme_names_every_command() -> None:
    text = README.read_text(encoding="utf-8")
    table = text.split("## Commands")[1].split("<!-- made")[0]
    named = re.findall(r"^\| `cardgen ([\w-]+)", table, re.MULTILINE)
    assert sorted(named) == sorted(set(COMMANDS) - {"fleet-demo"})


def test_flags_in_sentences_belong_to_some_command() -> None:
    known = {flag for name in COMMANDS for a in subparser(name)._actions for flag in a.option_strings}
    known |= {"--version", "--update-golden", "--quick", "--full", "--only", "--rigs"}
    known |= {"--hypothesis-profile", "--no-deps", "--check"}
    unknown = [
        (path.name, flag)
        for path in DOCUMENTS
        for code in _CODE.findall(path.read_text(encoding="utf-8"))
        for flag in re.findall(r"(?<![\w-])--[a-z][\w-]*", code)
        if flag not in known
    ]
    assert unknown == []


@pytest.mark.parametrize("number", range(len(blocks(README.read_text(encoding="utf-8"), "yaml"))))
def test_rig_files_in_readme_are_right(number: int, tmp_path: Path) -> None:
    block = blocks(README.read_text(encoding="utf-8"), "yaml")[number]
    shutil.copytree(ROOT / "rigs" / "parts", tmp_path / "parts")
    path = tmp_path / "rig.yaml"
    path.write_text(block.text, encoding="utf-8")
    assert read_rig(path).faults == ()


def test_the_first_card_of_readme(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The commands of 'Your first card' do what the comments beside them say."""
    text = README.read_text(encoding="utf-8")
    section = text.split("## Your first card")[1]
    (block, *_) = blocks(section, "sh")
    monkeypatch.chdir(tmp_path)
    for line in block.text.splitlines():
        command, _, comment = line.partition("#")
        if not command.startswith("cardgen"):
            continue
        words = shlex.split(command)[1:]
        assert main([*words, "--html-only"] if words[0] == "build" else words) == 0
        for name in re.findall(r"\b(?:rigs|build)/[\w./-]+\w", comment):
            if not name.endswith(".pdf"):
                assert (tmp_path / name).is_file(), name


def test_the_cargo_sheet_of_the_reference(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    main(["new", "Finch", "--from", "heron"])
    lines = [
        line
        for line in typed(REFERENCE.read_text(encoding="utf-8"))
        if line.startswith("cardgen cargo finch")
    ]
    assert len(lines) == 2
    for line in lines:
        assert main(shlex.split(line)[1:]) == 0
    assert "trailer:\n  cargo:\n" in capsys.readouterr().out


def test_the_keys_of_the_results_are_listed(capsys: pytest.CaptureFixture[str]) -> None:
    text = REFERENCE.read_text(encoding="utf-8").split("\n## Results for other programs")[1].split("\n## ")[0]
    told = set(re.findall(r"[\w]+", " ".join(_CODE.findall(text))))
    main(["results", str(ROOT / "rigs" / "heron.yaml"), "--json", "--date", "2026-11-25"])
    found = json.loads(capsys.readouterr().out)
    assert set(found) <= told
    figure = next(iter(found["cases"][0]["figures"].values()))
    assert set(figure) - {"si", "unit", "shown"} <= told
    table = {line.split("|")[1]: line for line in text.splitlines() if line.startswith("| ")}
    for key, record in (
        (" `findings[]` ", found["findings"][0]),
        (" `tires` ", next(iter(found["tires"].values()))),
        (" `checklist` ", found["checklist"]),
    ):
        named = set(re.findall(r"`(\w+)(?:\[\])?`", table[key])) - {key.strip(" `[]"), "items"}
        assert named <= set(record), key
    names = {figure for line in text.splitlines() for figure in re.findall(r"by id: (.*)", line)}
    every = set(found["figures"]) | set(found["cases"][0]["figures"])
    for group in names:
        assert set(re.findall(r"`(\w+)`", group)) <= every


def test_links_and_pictures_exist() -> None:
    for path in DOCUMENTS:
        text = path.read_text(encoding="utf-8")
        heads = {
            re.sub(r"[^\w -]", "", head.lower()).replace(" ", "-")
            for head in re.findall(r"^#+ (.+)$", text, re.MULTILINE)
        }
        for target in links(text):
            file, _, anchor = target.partition("#")
            assert not target.startswith("http"), target
            assert not file or (path.parent / file).is_file(), target
            assert file or anchor in heads, target


def test_paths_in_developers_exist() -> None:
    text = DEVELOPERS.read_text(encoding="utf-8")
    here = re.compile(r"(cardgen|templates|rigs|tests|\.ci)(/[\w.-]+)*/?")
    for code in _CODE.findall(text):
        if here.fullmatch(code) and not code.endswith("__pycache__"):  # there only where it may be written
            assert (ROOT / code).exists(), code
    for room in re.findall(r"^\| `cardgen/(\w+)`", text, re.MULTILINE):
        assert (PACKAGE / room / "__init__.py").is_file()
    for module in re.findall(r"python -m ([\w.]+)", text):
        name = f"{module}.__main__" if module == "tests.benchmarks" else module
        assert importlib.util.find_spec(name) is not None, module
