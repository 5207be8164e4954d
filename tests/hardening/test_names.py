"""Any name can be printed: letters that the card font lacks are seen and told, never a system font."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from cardgen.bundle.reading import read_rig
from cardgen.cli import main
from tests.acceptance.reading import codes, dense, fonts, overlaps, pages
from tests.acceptance.shed import DAY
from tests.commands.workspace import OVERLOADED, PLAIN, write

NAMES = {
    "accents": ("Zoë Ångström", ""),
    "combining": ("Zoe\u0308 A\u030angstro\u0308m", ""),
    "emoji": ("Wren \U0001f690 und \U0001f469\u200d\U0001f469\u200d\U0001f467", "U+1F690 MINIBUS"),
    "hebrew": ("עגלה שלי", "U+05E2 HEBREW LETTER AYIN"),
    "arabic": ("مقطورة", "U+0645 ARABIC LETTER MEEM"),
    "mixed directions": ("Rig עגלה 42 lb", "U+05E2"),
    "chinese": ("小鸟", "U+5C0F"),
    "cyrillic": ("Птица", "U+041F CYRILLIC CAPITAL LETTER PE"),
    "outside the basic plane": ("\U0001d518\U0001d52b", ""),
    "one long word": ("W" * 200, ""),
    "many words": ("Wandering " * 19 + "Wandering", ""),
    "long without room to break": ("iI1l|" * 40, ""),
    "long and without letters": ("鸟" * 200, "U+9E1F"),
    "digits": ("42", ""),
    "a number like text": ("0x1F", ""),
    "punctuation": ("!?&%$()[]{}<>'\"@^`~|\\/;:,._-+=*#", ""),
    "zero width": ("Wr\u200den", ""),
    "one letter": ("W", ""),
}
CARDS = "glovebox-card,hitch-card,wallet-card"


@pytest.mark.parametrize("name", NAMES)
def test_cards_of_any_name(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], name: str
) -> None:
    nickname, told = NAMES[name]
    monkeypatch.chdir(tmp_path)
    whole = write(tmp_path, "rig", PLAIN.format(nickname=json.dumps(nickname, ensure_ascii=False)))
    for long in read_rig(whole).faults:  # cut as the fault says, it prints
        assert long.code == "text-room"
        nickname = nickname[: int(long.hint.split()[3])].rstrip()
        write(tmp_path, "rig", PLAIN.format(nickname=json.dumps(nickname, ensure_ascii=False)))
    code = main(["build", "--date", DAY, "--cards", CARDS])
    said = capsys.readouterr()
    assert code == 0, said.err
    if told:
        assert "the card font has no" in said.out
        assert told in said.out
    (folder,) = [path.parent for path in tmp_path.glob("build/*/index.html")]
    report = (folder / "index.html").read_text("utf-8")
    assert nickname.split()[0].split("&")[0] in report
    for card in sorted(folder.glob("*.pdf")):
        used = fonts(card)
        assert used
        assert all(used.values())
        assert {font.partition(",")[0] for font in used} == {"IBM-Plex-Sans-Condensed"}
        made = pages(card)
        assert len(made) % 2 == 0
        for page in made:
            assert overlaps(page.chars) == [], card.name
        coded = card.name != "wallet-card.pdf"  # without an address a code would say what its front says
        assert len(codes(card)) == coded
        if told:
            assert "?" in made[0].text
        if card.name == "wallet-card.pdf":  # what its full front has no room for stands on its back
            said_there = dense("".join(page.text for page in made))
            assert dense("Computed, not weighed. Revision 1") in said_there
            assert len(made) == 2


def test_every_text_long(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Names of cases, tanks and cargo as long as they may be, and people's longer: they do not run into each other."""
    monkeypatch.chdir(tmp_path)
    text = OVERLOADED.read_text("utf-8")
    for old in ("everything aboard", "tools", "driver", "two-inch set"):
        text = text.replace(f": {old}\n", f": {old} {'and what belongs to it ' * 6}\n")
        text = text.replace(f"name: {old},", f"name: {old} {'and what belongs to it ' * 6},")
    assert text.count("belongs to it") > 20
    whole = write(tmp_path, "rig", text)
    lines = text.splitlines()
    for long in read_rig(whole).faults:
        most = int(long.hint.split()[3])
        before, after = lines[long.line - 1][: long.col - 1], lines[long.line - 1][long.col - 1 :]
        end = after.find(",") if "," in after else len(after)
        lines[long.line - 1] = f"{before}{after[:end][:most].rstrip()}{after[end:]}"
    write(tmp_path, "rig", "\n".join(lines))
    code = main(["build", "--date", DAY])
    said = capsys.readouterr()
    assert code == 1, said.err
    for card in sorted(tmp_path.glob("build/*/*.pdf")):
        for page in pages(card):
            assert overlaps(page.chars) == [], card.name


def test_the_name_of_the_folder_comes_from_the_name(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    for number, nickname in enumerate(("עגלה", "小鸟", "Zoë & Søn")):
        write(tmp_path, f"r{number}", PLAIN.format(nickname=json.dumps(nickname, ensure_ascii=False)))
    assert main(["build", "--html-only", "--date", DAY]) == 0
    names = sorted(path.parent.name for path in tmp_path.glob("build/*/index.html"))
    assert len(names) == 3
    assert "zoe-son" in names
    assert sum(name.startswith("rig-") for name in names) == 2
    index = (tmp_path / "build" / "index.html").read_text("utf-8")
    assert dense("小鸟") in index


UNSEEN = {
    "joiners": "\u200d\u200c", "direction marks": "\u200e\u200f", "a mark without a letter": "\u0301",
    "a variation selector": "\ufe0f", "Hangul fillers": "\u3164\u115f\uffa0", "empty Braille": "\u2800\u2800",
    "wide blanks": "\u2003\u3000", "tags": "Wren\U000e0041\U000e0042", "annotation marks": "Wr\ufff9en",
    "a carriage return": "Wren\\rHeron", "an escape": "Wren\\e[2K", "a backspace": "Wren\\b\\b",
}  # fmt: skip


@pytest.mark.parametrize("where", ["nickname: {name}", "cases: [{{name: {name}}}]"])
def test_names_of_which_nothing_or_not_all_is_seen_are_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], where: str
) -> None:
    wrong = {}
    for what, name in UNSEEN.items():
        line = where.format(name=f'"{name}"')
        old = "nickname: Plover" if where.startswith("nickname") else "cases:\n  - name: empty run"
        rig = write(tmp_path, "rig", PLAIN.format(nickname="Plover").replace(old, line))
        code = main(["check", str(rig)])
        said = capsys.readouterr()
        named = "[name-empty]" in said.err or "[file-control]" in said.err
        if code != 3 or not named or "\r" in said.err or "\x1b" in said.err:
            wrong[what] = (code, said)
    assert wrong == {}


def test_names_on_the_command_line_are_shown_escaped(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "nobody\rsomebody\x1b[2K\U000e0041"]) == 2
    assert "nobody\\rsomebody\\x1b[2K\\U000e0041" in capsys.readouterr().err
