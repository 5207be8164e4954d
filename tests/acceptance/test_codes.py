"""The QR code of every card of every demo rig, read from a raster by an independent decoder."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from cardgen.present.cards import KINDS
from tests.acceptance.reading import codes
from tests.acceptance.shed import DEMO, Shed, build_demo, cardgen, results_of

KEY = ("tongue_weight_max", "trailer_weight_max", "pressure_trailer", "pressure_front", "pressure_rear")
SMALL = ("tire-tag", "wallet-card")
"""Cards of ID-1, whose faces say the key numbers: they carry a code only where it is an address."""
EXTRA = tuple(kind.id for kind in KINDS.values() if not kind.usual)
CHANGED, KEPT = ("glovebox-card", "tire-tag", "wallet-card"), ("loading-card",)
"""Cards that print the torque of the wheel nuts, and one that does not."""


def test_letters_tell_cards_apart() -> None:
    assert len({kind.letter for kind in KINDS.values()}) == len(KINDS)


def test_every_card_of_every_demo_rig(shed: Shed) -> None:
    assert len(shed.folders()) == len(DEMO)
    for name in DEMO:
        check(shed, name, [kind.id for kind in KINDS.values() if "pair" in kind.usual])


def test_cards_made_on_request_only(tmp_path: Path) -> None:
    assert EXTRA
    some = DEMO[::3]
    shed = build_demo(tmp_path, *some, "--cards", ",".join(EXTRA))
    assert shed.build.code == 0, shed.build.err
    for name in some:
        check(shed, name, EXTRA)


def check(shed: Shed, name: str, cards: list[str] | tuple[str, ...]) -> None:
    rig = results_of(shed.rigs / f"{name}.yaml")
    base = re.search(r"base_url: (\S+)", (shed.rigs / f"{name}.yaml").read_text("utf-8"))
    for card in cards:
        found = codes(shed.out / rig["slug"] / f"{card}.pdf")
        if base is None and card in SMALL:
            assert not found, f"{name} {card}: {found}"
            continue
        assert len(found) == 1, f"{name} {card}: {found}"
        if base is not None:
            address = re.escape(f"{base[1]}/{rig['slug']}/?c={KINDS[card].letter}&r=1&f=")
            assert re.fullmatch(f"{address}[0-9a-f]{{6}}", found[0]), found[0]
            continue
        assert found[0].startswith(rig["nickname"])
        for figure in KEY:
            shown = rig["figures"][figure]["shown"]
            assert (shown or "not checked") in found[0], f"{name} {card} {figure}"


def test_without_a_base_address_the_build_says_what_the_code_holds(shed: Shed) -> None:
    without = [name for name in DEMO if "base_url" not in (shed.rigs / f"{name}.yaml").read_text("utf-8")]
    assert without
    assert "QR codes hold the key numbers as text" in shed.build.out


def test_address_from_the_command_line_and_revision_of_the_card(tmp_path: Path) -> None:
    """A card whose print changed carries the new revision, the others keep theirs."""
    some = ("wren", "--base-url", "https://one.example/cards/", "--cards", ",".join((*CHANGED, *KEPT)))
    root = build_demo(tmp_path, *some).root
    file = root / "rigs" / "wren.yaml"
    more = "trailer:\n  part: trailers/wren\n  wheel_torque: 97 lb-ft\n"
    file.write_text(file.read_text("utf-8").replace("trailer:\n  part: trailers/wren\n", more), "utf-8")
    ran = cardgen("build", *some, "--date", "2026-11-30", cwd=root)
    assert ran.code == 0, ran.err
    revisions = {}
    for card in sorted((root / "build" / "wren-and-pebble").glob("*.pdf")):
        (payload,) = codes(card)
        letter = KINDS[card.stem].letter
        found = re.fullmatch(
            rf"https://one\.example/cards/wren-and-pebble/\?c={letter}&r=(\d+)&f=[0-9a-f]{{6}}", payload
        )
        assert found, payload
        revisions[card.stem] = int(found[1])
    assert revisions == dict.fromkeys(CHANGED, 2) | dict.fromkeys(KEPT, 1)


@pytest.mark.parametrize("size", ["a5", "letter"])
def test_readable_in_every_size(tmp_path: Path, size: str) -> None:
    shed = build_demo(tmp_path, "mule", "--size", size, "--cards", "glovebox-card")
    assert shed.build.code == 0, shed.build.err
    (folder,) = shed.folders()
    (payload,) = codes(folder / "glovebox-card.pdf")
    assert payload.startswith("Mule and Pebble")
