"""What is made again and what is not: contents decide, never times."""

from __future__ import annotations

import datetime as dt
import os
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from cardgen.bundle import build as build_module
from cardgen.bundle import inputs, plan
from cardgen.bundle.manifest import FORMAT
from cardgen.bundle.plan import Request
from cardgen.bundle.work import Options
from tests.bundle.shed import DAY, Shed


def statuses(shed: Shed, **more: Any) -> list[str]:
    return [rig.status for rig in shed.build(**more).rigs]


def test_a_second_build_makes_nothing(shed: Shed) -> None:
    shed.rig("wren")
    shed.rig("mule")
    assert statuses(shed) == ["built", "built"]
    before = shed.tree()
    again = shed.build()
    assert [rig.status for rig in again.rigs] == ["unchanged", "unchanged"]
    assert again.written == 0
    assert shed.tree() == before


def test_times_of_files_do_not_matter(shed: Shed) -> None:
    path = shed.rig("wren")
    shed.build()
    os.utime(path, (2_000_000_000, 2_000_000_000))
    assert statuses(shed) == ["unchanged"]
    kept = path.stat()
    shed.rig("wren", pressure="65 psi")
    os.utime(path, ns=(kept.st_atime_ns, kept.st_mtime_ns))
    assert statuses(shed) == ["built"]


def test_one_edit_makes_one_rig(shed: Shed) -> None:
    for name in ("heron", "mule", "wren"):
        shed.rig(name)
    shed.build()
    shed.rig("mule", drop="6 in")
    assert statuses(shed) == ["unchanged", "built", "unchanged"]


def test_a_shared_part_reaches_every_rig_that_uses_it(shed: Shed) -> None:
    shed.rig("mule")
    other = shed.rig("wren")
    text = other.read_text("utf-8").replace("  part: vehicles/plain\n", "  wheelbase: 110 in\n")
    other.write_text(text, "utf-8")
    shed.build()
    shed.part("wheelbase: 130 in")
    result = shed.build()
    # The fake cards do not print the wheelbase: described again, but not rendered again.
    assert [rig.status for rig in result.rigs] == ["unchanged", "unchanged"]
    entries = fresh_entries(shed)
    assert "../rigs/parts/vehicles/plain.yaml" in entries["mule"].inputs
    assert "../rigs/parts/vehicles/plain.yaml" not in entries["wren"].inputs


def fresh_entries(shed: Shed) -> dict[str, Any]:
    from cardgen.bundle.manifest import read_manifest

    return dict(read_manifest(shed.out).rigs)


def test_a_missing_output_file_is_made_again(shed: Shed) -> None:
    shed.rig("wren")
    shed.build()
    before = shed.tree()
    (shed.out / "wren" / "mount-card.pdf").unlink()
    assert statuses(shed) == ["built"]
    assert shed.tree() == before


def test_a_cut_output_file_is_made_again(shed: Shed) -> None:
    shed.rig("wren")
    shed.build()
    before = shed.tree()
    card = shed.out / "wren" / "mount-card.pdf"
    card.write_bytes(card.read_bytes()[:-3])
    assert statuses(shed) == ["built"]
    assert shed.tree() == before


def test_verify_finds_changed_content_of_the_same_size(shed: Shed) -> None:
    shed.rig("wren")
    shed.build()
    before = shed.tree()
    card = shed.out / "wren" / "mount-card.pdf"
    card.write_bytes(card.read_bytes().replace(b"4 in", b"9 in"))
    assert statuses(shed) == ["unchanged"]
    assert statuses(shed, verify=True) == ["built"]
    assert shed.tree() == before


def test_a_missing_index_is_made_again(shed: Shed) -> None:
    shed.rig("wren")
    shed.build()
    (shed.out / "index.html").unlink()
    assert statuses(shed) == ["unchanged"]
    assert (shed.out / "index.html").is_file()


def test_options_count_as_input(shed: Shed) -> None:
    shed.rig("wren")
    shed.build()
    metric = Options(day=DAY, units="metric")
    assert statuses(shed, options=metric) == ["built"]
    assert statuses(shed, options=metric) == ["unchanged"]
    assert statuses(shed) == ["built"]


def test_another_day_describes_but_does_not_render(shed: Shed) -> None:
    shed.rig("wren")
    shed.build()
    before = shed.tree()
    later = shed.build(day=DAY + dt.timedelta(days=9))
    assert [rig.status for rig in later.rigs] == ["unchanged"]
    assert later.rigs[0].day == DAY.isoformat()
    assert shed.tree() == before


@pytest.mark.parametrize(("days", "reads"), [(1, 0), (36, 0), (37, 1), (400, 1), (-1, 1)])
def test_a_day_on_which_nothing_can_change_is_not_even_described(
    shed: Shed, monkeypatch: pytest.MonkeyPatch, days: int, reads: int
) -> None:
    # The fake maker says: nothing changes before the registration runs out (37 days from DAY).
    until = (DAY + dt.timedelta(days=37)).isoformat()
    shed.rig("wren", more=f"dates:\n  registration: {until}\n")
    shed.build()
    asked: list[str] = []
    real = plan.order

    def order(session: Any, file: Path, slug: str) -> Any:
        asked.append(slug)
        return real(session, file, slug)

    monkeypatch.setattr(plan, "order", order)
    assert statuses(shed, day=DAY + dt.timedelta(days=days)) == ["unchanged"]
    assert len(asked) == reads


def test_again_makes_everything(shed: Shed) -> None:
    shed.rig("wren")
    shed.build()
    before = shed.tree()
    result = shed.build(again=True)
    assert result.rigs[0].status == "built"
    assert result.written == 0, "the same bytes are left in place"
    assert shed.tree() == before


def test_another_version_of_the_tools_makes_everything(shed: Shed, monkeypatch: pytest.MonkeyPatch) -> None:
    shed.rig("wren")
    shed.build()
    inputs.tool_key.cache_clear()
    monkeypatch.setattr(inputs, "_versions", lambda: [("weasyprint", "0.0")])
    try:
        assert statuses(shed) == ["built"]
    finally:
        inputs.tool_key.cache_clear()


def test_own_templates_count_by_content(tmp_path: Path) -> None:
    folder = tmp_path / "templates"
    folder.mkdir()
    keys = []
    for text in ("a", "b", "a"):
        (folder / "card.html.j2").write_text(text)
        inputs.tool_key.cache_clear()
        keys.append(inputs.tool_key(folder, "maker"))
    assert keys[0] == keys[2] != keys[1]
    (folder / "more.css").write_text("a")
    inputs.tool_key.cache_clear()
    assert inputs.tool_key(folder, "maker") not in keys
    inputs.tool_key.cache_clear()


def test_code_of_the_package_counts(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "physics.py").write_text("x = 1\n")
    monkeypatch.setattr(inputs, "PACKAGE", tmp_path)
    inputs.tool_key.cache_clear()
    before = inputs.tool_key(None, "maker")
    (tmp_path / "physics.py").write_text("x = 2\n")
    inputs.tool_key.cache_clear()
    after = inputs.tool_key(None, "maker")
    inputs.tool_key.cache_clear()
    assert before != after


def test_same_files_give_the_same_output_anywhere(tmp_path: Path) -> None:
    trees = []
    for name in ("one place", "another"):
        shed = Shed(tmp_path / name)
        shed.rig("wren")
        shed.rig("mule", pressure="55 psi")
        shed.build()
        trees.append(dict(shed.tree()))
        manifest = (shed.out / ".cardgen" / "manifest.json").read_text("utf-8")
        assert str(tmp_path) not in manifest
    assert trees[0] == trees[1]


def test_naming_rigs_leaves_the_others_alone(shed: Shed) -> None:
    shed.rig("wren")
    shed.rig("mule")
    shed.build()
    shed.rig("mule", drop="6 in")
    shed.rig("wren", drop="6 in")
    before = shed.tree()
    result = shed.build("mule")
    after = shed.tree()
    assert [rig.slug for rig in result.rigs] == ["mule"]
    changed = {name for name in after if before[name] != after[name]}
    assert changed == {"mule/index.html", "mule/mount-card.pdf", "index.html"}


def test_a_damaged_manifest_is_told(shed: Shed) -> None:
    from cardgen.bundle.errors import OutputRefusedError

    shed.rig("wren")
    shed.build()
    before = shed.tree()
    manifest = shed.out / ".cardgen" / "manifest.json"
    for text in ("{", "[]", '{"format": 2}', '{"format": 1, "rigs": {"../x": {}}}'):
        manifest.write_text(text)
        with pytest.raises(OutputRefusedError, match=r"manifest\.json.*--force"):
            shed.build()
        assert shed.tree() == before


def test_a_manifest_of_another_version_says_what_is_ours(shed: Shed) -> None:
    shed.rig("wren")
    shed.rig("mule")
    shed.build()
    (shed.rigs / "wren.yaml").unlink()
    shed.rig("mule", pressure="65")
    manifest = shed.out / ".cardgen" / "manifest.json"
    manifest.write_text(manifest.read_text("utf-8").replace(f'"format": {FORMAT}', '"format": 99'), "utf-8")
    result = shed.build()
    assert (result.rigs[0].status, result.removed) == ("failed", ["wren"])
    assert sorted({name.partition("/")[0] for name in shed.tree()}) == ["assets", "index.html", "mule"]
    shed.rig("mule")
    assert shed.one().status == "built"
    assert b"mule 1" in (shed.out / "index.html").read_bytes()


def test_relative_names_work_from_the_workspace(shed: Shed, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(shed.root)
    shed.rig("wren")
    request = replace(shed.request(), files=(Path("rigs/wren.yaml"),), out=Path("build"))
    assert run_twice(request) == ["built", "unchanged"]
    assert statuses(shed) == ["unchanged"], "the same rig by its full name"
    assert plan.relative("rigs/wren.yaml", Path("build")) == "../rigs/wren.yaml"


def run_twice(request: Request) -> list[str]:
    return [build_module.build(request).rigs[0].status for _ in range(2)]


def test_only_the_cards_that_changed_are_rendered(shed: Shed, monkeypatch: pytest.MonkeyPatch) -> None:
    from tests.bundle.fake import FakeMaker

    asked: list[frozenset[str]] = []
    real = FakeMaker.render

    def render(
        self: Any, read: Any, options: Any, described: Any, revision: Any, kept: frozenset[str]
    ) -> Any:
        asked.append(kept)
        return real(self, read, options, described, revision, kept)

    monkeypatch.setattr(FakeMaker, "render", render)
    shed.rig("wren")
    shed.build()
    shed.rig("wren", drop="6 in")
    shed.build()
    shed.rig("wren", drop="6 in", more="water_temperature: 60 F\n")
    shed.build()
    (shed.out / "wren" / "mount-card.pdf").unlink()
    shed.build()
    shed.build(options=Options(day=DAY, size="a5"))
    shed.build(again=True)
    both = frozenset({"glovebox-card", "mount-card"})
    glovebox = frozenset({"glovebox-card"})
    assert asked == [frozenset(), glovebox, both, glovebox, frozenset(), frozenset()]


def test_kept_cards_keep_their_notes_and_files(shed: Shed) -> None:
    shed.rig("wren", more="note: a note\n")
    notes = ("glovebox-card has 6 letters", "mount-card has 6 letters", "made by a fake")
    assert shed.one().notes == notes
    shed.rig("wren", drop="6 in", more="note: a note\n")
    rig = shed.one()
    assert (rig.status, rig.notes) == ("built", notes)
    assert shed.one().notes == notes
    ahead = Shed(shed.root / "ahead")
    ahead.rig("wren", more="note: a note\n")
    ahead.build()
    ahead.rig("wren", drop="6 in", more="note: a note\n")
    ahead.build(again=True)
    assert shed.tree() == ahead.tree()
