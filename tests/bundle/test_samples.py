"""Output and ledger as an earlier cardgen left them are still understood.

``samples`` holds a workspace that was built twice with the fake maker: three rigs, two
revisions of one of them, notes on the cards of another.
"""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from cardgen.bundle.ledger import from_json, read_ledger, to_text
from cardgen.bundle.manifest import read_manifest, to_bytes
from tests.bundle.shed import Shed

SAMPLES = Path(__file__).parent / "samples"


@pytest.fixture
def kept(tmp_path: Path) -> Shed:
    """The stored workspace, to be built again."""
    shutil.copytree(SAMPLES, tmp_path / "kept")
    shed = Shed.__new__(Shed)
    shed.root = tmp_path / "kept"
    shed.rigs, shed.out = shed.root / "rigs", shed.root / "build"
    return shed


def test_the_manifest_is_read_and_reads_the_same_when_it_is_written(kept: Shed) -> None:
    manifest = read_manifest(kept.out)
    heron, mule, otter = (manifest.rigs[slug] for slug in ("heron", "mule", "otter"))
    assert (heron.number, heron.revision_day, heron.cards["mount-card"].number) == (2, "2026-11-25", 1)
    assert mule.all_notes == ("glovebox-card has 14 letters", "mount-card has 14 letters", "made by a fake")
    assert (otter.outcome, otter.over) == ("over", ("tongue weight 900 lb of 800 lb",))
    manifest_file = kept.out / ".cardgen" / "manifest.json"
    manifest_file.write_bytes(to_bytes(manifest))
    assert read_manifest(kept.out) == manifest


def test_the_ledger_is_read_and_reads_the_same_when_it_is_written(kept: Shed) -> None:
    for folder in sorted((kept.rigs / "revisions").iterdir()):
        ledger = read_ledger(folder)
        assert (ledger.faults, ledger.rivals) == ((), ())
        assert [one.file_name for one in ledger.revisions] == sorted(p.name for p in folder.iterdir())
        for one in ledger.revisions:
            assert from_json(json.loads(to_text(one)), "") == one


def test_nothing_is_raised_or_lost_by_the_next_build(kept: Shed) -> None:
    before, files = dict(kept.tree()), {slug: kept.ledger_files(slug) for slug in ("heron", "mule", "otter")}
    rigs = {rig.slug: rig for rig in kept.build().rigs}
    assert {slug: rig.number for slug, rig in rigs.items()} == {"heron": 2, "mule": 1, "otter": 1}
    assert not any(rig.new_revision for rig in rigs.values())
    after = dict(kept.tree())
    assert after.keys() == before.keys()
    assert all(name.endswith(".html") for name in after if after[name] != before[name])  # of today's maker
    assert {slug: kept.ledger_files(slug) for slug in files} == files


def test_a_swap_that_was_begun_is_finished(kept: Shed) -> None:
    """A journal of the first format, with its file still aside."""
    own = kept.out / ".cardgen"
    after = b"<html>after</html>"
    (own / "stage").mkdir()
    (own / "stage" / "000001").write_bytes(after)
    (own / "journal.json").write_text(
        '{"format": 1, "moves": [["heron/index.html", "000001", '
        '"0000000000000000000000000000000000000000000000000000000000000000"]], "drops": ["mule/index.html"]}'
    )
    with_swap = kept.build("otter")
    assert with_swap.finished
    assert (kept.out / "heron" / "index.html").read_bytes() == after
    assert not (kept.out / "mule" / "index.html").exists()
