"""One vocabulary: what ``say`` does, and that no text holds a market's term raw."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

import cardgen
from cardgen.checklist.catalog import catalog
from cardgen.tables.lookup import NotInTableError, read
from cardgen.tables.words import MARKETS, PASSAGE, PLACE, concept, concepts, is_word, keys, listed, say

ROOT = Path(cardgen.__file__).parent


@pytest.mark.parametrize(
    ("market", "text", "expected"),
    [
        ("us", "Tire, {tongue_weight} and {coupler}", "Tire, tongue weight and coupler"),
        ("uk", "{Tongue_weight} on the {coupler}", "Noseweight on the coupling head"),
        ("uk", "{Sway}: {trucks} pass; {sway} again", "Snaking: lorries pass; snaking again"),
        ("au", "{Coupling_load}, tires, {surge_brakes}", "Tow ball mass, tyres, override brakes"),
        ("nz", "{coupling_load} at the center", "towball weight at the centre"),
        ("eu", "{Tongue_weight}; {corner_legs} up", "Nose weight; corner steadies up"),
        ("ca", "the right license, tires", "the right licence, tires"),
        ("uk", "an off-center boat", "an off-centre boat"),
        ("uk", "Keep {tire_age_limit} and {tire}", "Keep {tire_age_limit} and {tire}"),
        ("uk", "the {trailer_rating} and the {vehicle_rating}", "the MTPLM and the GVW"),
        ("au", "the {trailer_rating} and the {vehicle_rating}", "the ATM and the GVM"),
        ("eu", "the {trailer_rating}, axle {axle_limit}", "the max laden mass, axle limit"),
        ("uk", "{tongue_load} {value}", "noseweight {value}"),
        ("us", "[us ca: 49 CFR; ]the plate", "49 CFR; the plate"),
        ("uk", "[us ca: 49 CFR]; the plate; [us: NHTSA]", "the plate"),
    ],
)
def test_words_of_a_market(market: str, text: str, expected: str) -> None:
    assert say(text, market) == expected


def test_the_coupling_load_follows_the_coupling() -> None:
    assert say("{Coupling_load}", "us", "fifth_wheel") == "Pin weight"
    assert say("{coupling_load}", "uk", "fifth_wheel") == "imposed load"
    assert say("{coupling_load}", "us", "gooseneck") == "tongue weight"


def test_an_unknown_market_is_refused() -> None:
    with pytest.raises(NotInTableError):
        say("tires", "mars")


@pytest.mark.parametrize("market", MARKETS)
@pytest.mark.parametrize(
    "text",
    [
        "retired attire entire",
        "overtongued",
        "swayed Swaythling",
        "licensed",
        "centered",
        "curbside",
        "tires2",
    ],
)
def test_no_half_word_is_replaced(market: str, text: str) -> None:
    assert say(text, market) == text


@pytest.mark.parametrize("market", MARKETS)
@given(text=st.text(alphabet="tires wayongu{}_-.,", max_size=40))
def test_only_whole_words_of_the_table_change(market: str, text: str) -> None:
    if say(text, market) != text:
        spelled = any(
            re.search(rf"(?<!\w){re.escape(w)}(?!\w)", text, re.I) for w in read("words")["spelling"]
        )
        assert spelled or any(is_word(name) for name in PLACE.findall(text))


@pytest.mark.parametrize("market", MARKETS)
def test_every_key_has_a_word_and_leaves_no_place(market: str) -> None:
    left = {key: say(f"{{{key}}}", market) for key in keys()}
    assert {key: word for key, word in left.items() if "{" in word or not word} == {}


def test_no_value_is_named_like_a_word() -> None:
    """One namespace: a place is a word's or a value's, never both."""
    assert [name for name in catalog().values if is_word(name)] == []
    named: list[str] = []
    for path, tree in _modules():
        for node in ast.walk(tree):
            if (
                isinstance(node, ast.keyword) and node.arg == "values" and isinstance(node.value, ast.Dict)
            ) or (
                isinstance(node, ast.Assign)
                and isinstance(node.value, ast.Dict)
                and "values" in {target.id for target in node.targets if isinstance(target, ast.Name)}
            ):
                found = node.value
            else:
                continue
            names = [key.value for key in found.keys if isinstance(key, ast.Constant)]
            named += [f"{path}:{node.value.lineno} {name!r}" for name in names if is_word(str(name))]
    assert named == []


ROOMS = ("limits", "checklist", "present", "physics", "model", "commands", "render", "tables", "bundle")
PLAIN = {
    "hitch", "s", "gas", "coupling", "tap", "taps", "limit", "rating", "payload", "trucks", "trailer", "jack", "tare",
    "overhang", "cold pressure", "weight distribution", "safety chains", "secondary coupling", "f.1", "f.2", "o.1", "13.2", "actual mass", "tw",
    "tbm", "tongue", "drawbar", "axle load", "axle rating", "axle limit", "empty weight", "breakaway cable", "mileage",
    "mass in running order", "wrench", "handbrake", "unladen weight", "vehicle payload", "towing limit", "sway",
    "snaking", "corner steadies", "lpg", "lp gas", "wheel brace", "axle weight", "caravan", "travel trailer",
    "gross vehicle mass", "gross trailer mass", "imposed load", "dry weight", "ball load", "mass on the axles", "us",
    "tow ball", "dry", "override", "short-bed trucks", "jockey wheel", "fridge", "plate", "couplings", "on the coupling", "breakaway system", "stabiliser", "s value",
    "tare weight", "weight-distributing hitch", "truck", "nose", "ball", "pin", "chain", "chains", "safety chain", "load index", "load range", "ball height", "8.1", "8.2", "8.3",
}  # fmt: skip
"""Words that every market understands, or that also name something else: too common to be told from plain speech."""
CITES = re.compile(r"\b(49 CFR|NHTSA|WAC|NCC|UN R\d+|design rules|FR \d+)\b")
"""A citation keeps the words of what is cited."""


LABELS = re.compile(r"GVWR|GAWR (FRT|RR)|GAWR, each axle|(certification|weight) label; .*")
"""What the drawings of labels show, which 49 CFR 567.4 words; they stand on pages of the US and Canada only."""


def _terms() -> re.Pattern[str]:
    words = {word for key in concepts() for found in concept(key).terms.values() for word in found}
    words |= {word for key in concepts() for word in concept(key).short.values()}
    for row in read("words")["words"].values():
        words |= {word for word in row.values() if "{" not in word}
    kept = sorted(
        {word for word in words if word.lower() not in PLAIN and len(word) > 2}, key=len, reverse=True
    )
    return re.compile(
        rf"(?<![\w.{{'])(?:{'|'.join(map(re.escape, kept))})(?![\w}}=.]\w|[\w}}_])", re.IGNORECASE
    )


def _modules() -> Iterator[tuple[Path, ast.Module]]:
    for room in ROOMS:
        for path in sorted((ROOT / room).rglob("*.py")):
            yield path.relative_to(ROOT), ast.parse(path.read_text("utf-8"))


def _texts() -> Iterator[tuple[str, str]]:
    """Every text of ours with the place where it stands."""
    for path, tree in _modules():
        silent = {
            id(node.value)
            for node in ast.walk(tree)
            if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
        } | {id(key) for node in ast.walk(tree) if isinstance(node, ast.Dict) for key in node.keys}
        for node in ast.walk(tree):
            if not isinstance(node, ast.Constant) or not isinstance(node.value, str) or id(node) in silent:
                continue
            text = node.value  # one word in small letters is a key, several lines are a drawing or a file
            if "\n" not in text and (" " in text.strip() or text[:1].isupper()):
                yield f"{path}:{node.lineno}", text
    for item in catalog().items:
        for text in (item.text, item.seen, item.why):
            yield f"item {item.id}", text
    for name, value in catalog().values.items():
        yield f"value {name}", f"{value.meaning} / {value.fallback}"
    for name, feature in catalog().features.items():
        yield f"feature {name}", feature.meaning
    for phase in catalog().scheme.phases:
        yield f"phase {phase.key}", f"{phase.title} / {phase.about}"
    for due in catalog().due:
        yield f"due {due.key}", f"{due.title} / {due.note}"
    for market, sway in catalog().sway.items():
        yield f"sway {market}", " / ".join((sway.first, sway.never, sway.brake))
    law = yaml.safe_load((ROOT / "tables" / "data" / "law.yaml").read_text("utf-8"))
    for text in _strings(law, "text"):
        yield "law.yaml", text
    for key in concepts():
        yield f"word {key}", f"{concept(key).means} / {concept(key).trap}"


def _strings(node: object, name: str) -> Iterator[str]:
    if isinstance(node, dict):
        for key, inner in node.items():
            if key == name and isinstance(inner, str):
                yield inner
            yield from _strings(inner, name)
    elif isinstance(node, list):
        for inner in node:
            yield from _strings(inner, name)


def test_no_text_holds_a_term_of_a_market_raw() -> None:
    pattern = _terms()
    raw = [
        f"{where}: '{found[0]}' in '{text[:80]}'"
        for where, text in _texts()
        if not CITES.search(text)
        and not (where.startswith("render/figures/measuring.py") and LABELS.fullmatch(text))
        for found in pattern.finditer(PASSAGE.sub("", text))  # a passage is for the markets it names
    ]
    assert raw == []


def test_every_listed_concept_is_one() -> None:
    assert [key for key in listed() if key not in concepts()] == []
