"""Every node of every demo rig deleted, renamed, retyped or emptied: located faults or a valid build."""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from cardgen.bundle.ledger import Change, Issue, RevisionInfo
from cardgen.bundle.maker import RigMaker
from cardgen.bundle.work import Described, Options
from cardgen.model.read import ReadResult, judge
from cardgen.model.rig import Rig
from cardgen.source.codes import FAULT_CODES
from cardgen.source.disk import Disk
from cardgen.source.faults import Path as Field
from cardgen.source.faults import dotted
from cardgen.source.limits import Bounds
from cardgen.source.parts import Loaded, load
from cardgen.source.tree import Node, branch
from tests.acceptance.shed import DAY, DEMO, RIGS, Shed, build_demo, contents, here
from tests.conftest import long_run
from tests.each import each
from tests.model.test_mutations import changed, fields

OPTIONS = Options(day=dt.date.fromisoformat(DAY))
EVERY = 10
"""Of the mutations that leave a valid rig, one in so many is printed as well [-]."""
MAKER = RigMaker()
RIGS_EACH = 1
"""The same change to the same field is computed for so many rigs, for all of them in the long run [-]."""
DESCRIBED = 2
"""Of the changes left one in so many is computed, all of them in the long run; every one is read [-]."""
TURNS = 18
"""Of the nodes of a rig one in so many is changed, another one from rig to rig; all of them in the long run [-]."""
TOLD: Counter[tuple[str, ...]] = Counter()


@cache
def loaded(name: str) -> Loaded:
    """A demo rig with its parts put in."""
    found = load(RIGS / f"{name}.yaml", Disk(), Bounds())
    assert found.faults == []
    assert found.top is not None
    return found


def node_at(top: Node, path: Field) -> Node:
    node = top
    for step in path:
        if isinstance(node.value, dict):
            node = node.value[str(step)].value
        else:
            assert isinstance(node.value, list)
            node = node.value[int(step)]
    return node


def retyped(node: Node) -> Iterator[tuple[str, Node]]:
    """The node as something of another kind."""
    text = Node("frog", node.place)
    if isinstance(node.value, (dict, list)):
        yield "text", text
        yield "number", Node("7", node.place, True)
    else:
        yield "list", branch([text], node.place)
        yield "other text", text
    yield "group", branch({}, node.place) if isinstance(node.value, list) else branch([], node.place)


def emptied(node: Node) -> Iterator[tuple[str, Node]]:
    """The node with nothing in it."""
    if isinstance(node.value, dict):
        yield "empty", branch({}, node.place)
    elif isinstance(node.value, list):
        yield "empty", branch([], node.place)
    else:
        yield "blank", Node("", node.place)
    yield "unknown", Node(None, node.place, True, word="unknown")


def mutations(top: Node, turn: int) -> Iterator[tuple[str, Field, Node]]:
    """What was done, where, and the tree afterwards."""
    for number, path in enumerate(fields(top)):
        if number % TURNS != turn % TURNS and not long_run():
            continue
        node = node_at(top, path)
        yield "deleted", path, changed(top, path, None)
        if isinstance(path[-1], str):
            yield "renamed", path, changed(top, path, node, f"{path[-1]}x")
        for what, new in (*retyped(node), *emptied(node)):
            yield what, path, changed(top, path, new)


def outcome(name: str, top: Node) -> ReadResult:
    """Judge a changed rig: a rig, or faults that say where and what."""
    whole = loaded(name)
    found = judge(replace(whole, top=top), RIGS / f"{name}.yaml")
    assert (found.rig is None) == bool(found.faults)
    for fault in found.faults:
        assert fault.code in FAULT_CODES
        assert Path(fault.file) in whole.files
        assert fault.line >= 1
        assert fault.col >= 1
        assert fault.message
    return found


def test_each_node_of_every_demo_rig() -> None:
    TOLD.clear()
    described = printed = 0
    for turn, name in enumerate(DEMO):
        counts = try_all(name, turn)
        assert counts["faulty"] + counts["valid"] > 700 // TURNS, (name, counts)
        assert counts["faulty"] > 300 // TURNS, (name, counts)
        described, printed = described + counts["described"], printed + counts["printed"]
    assert described > 20 * RIGS_EACH, described
    assert printed >= RIGS_EACH, printed


def try_all(name: str, turn: int) -> dict[str, int]:
    """Make every change to a rig; returns how many ended in which way."""
    top = loaded(name).top
    assert top is not None
    assert outcome(name, top).rig is not None

    counts = {"faulty": 0, "valid": 0, "described": 0, "printed": 0}
    before: tuple[Field, Rig] | None = None
    for what, path, mutant in mutations(top, turn):
        found = outcome(name, mutant)
        if found.rig is None:
            counts["faulty"] += 1
            continue
        counts["valid"] += 1
        if before is not None and before == (path, found.rig):
            continue  # emptied, unknown and deleted often are the same rig
        before = (path, found.rig)
        alike = (what, *("*" if isinstance(step, int) else step for step in path))
        TOLD[alike] += 1
        if not long_run() and (TOLD[alike] > RIGS_EACH or len(TOLD) % DESCRIBED):
            continue
        described = MAKER.describe(found, OPTIONS)
        counts["described"] += 1
        assert described.cards
        assert described.outcome in ("within", "close", "not checked", "over")
        if counts["described"] % EVERY == 0:
            counts["printed"] += 1
            made = printed(found, described)
            assert made == (), f"{name}: {what} {dotted(path)}: {made}"

    return counts


def printed(read: ReadResult, described: Described) -> tuple[str, ...]:
    """Print glovebox card, report and borrower's page of a rig; returns what is wrong with them."""
    day = OPTIONS.day
    cards = {card.id: Issue(1, day) for card in described.cards}
    info = RevisionInfo(1, day, cards, (Change(1, day, (), tuple(cards)),))
    made = MAKER.render(
        read, replace(OPTIONS, cards=("glovebox-card",)), replace(described, model=None), info
    )
    assert set(made.files) - {"measure.html"} == {
        "glovebox-card.pdf",
        *(f"{page}.html" for page in ("index", "use", "check", "workings", "borrower")),
    }
    return (*made.problems, *made.missing)


@pytest.fixture(scope="module")
def mule(tmp_path_factory: pytest.TempPathFactory) -> Shed:
    """One demo rig, built."""
    shed = build_demo(tmp_path_factory.mktemp("mule"), "mule", "--html-only")
    assert shed.build.code == 0, shed.build.err
    return shed


@each(
    ("old", "new", "code"),
    [
        ("market: us\n", "", "key-missing"),
        ("market: us\n", "makret: us\n", "key-unknown"),
        ("market: us\n", "market: [us]\n", "node-kind"),
        ("market: us\n", "market:\n", "key-missing"),
        ("part: vehicles/pebble", "part: vehicles/peble", "part-missing"),
        ("nickname: Mule and Pebble", "nickname: ''", "name-empty"),
        ("market: us\n", "market: us\nmarket: us\n", "yaml-duplicate"),
    ],
)
def test_a_faulty_rig_never_changes_the_output(mule: Shed, old: str, new: str, code: str) -> None:
    shed = mule
    before, rigs = contents(shed.out), contents(shed.rigs)
    file = shed.rigs / "mule.yaml"
    text = file.read_text("utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), "utf-8")
    rigs["mule.yaml"] = contents(shed.rigs)["mule.yaml"]
    ran = here(
        "build", str(file), "--html-only", "--date", DAY, "--out", str(shed.out), "--rigs-dir", str(shed.rigs)
    )
    assert ran.code == 3
    assert f"{file}:" in ran.err
    assert code in ran.err
    assert "Traceback" not in ran.err
    assert contents(shed.out) == before
    assert contents(shed.rigs) == rigs
    file.write_text(text, "utf-8")
