"""Two builds at once: the second waits, or says so; a lock ends with its process."""

from __future__ import annotations

import threading
import time
from dataclasses import replace
from pathlib import Path

import pytest

from cardgen.bundle.disk import folder_lock, output_lock
from cardgen.bundle.errors import OutputRefusedError
from tests.bundle.shed import Shed
from tests.bundle.test_kill import start, wait_for


def test_the_second_build_says_so(shed: Shed) -> None:
    shed.rig("wren")
    shed.out.mkdir()
    with output_lock(shed.out, 0), pytest.raises(OutputRefusedError, match=r"another build.*--wait"):
        shed.build()
    assert shed.one().status == "built"


def test_the_second_build_waits(shed: Shed) -> None:
    shed.rig("wren")
    shed.out.mkdir()
    inside = threading.Event()

    def hold() -> None:
        with output_lock(shed.out, 0):
            inside.set()
            time.sleep(0.3)

    holder = threading.Thread(target=hold)
    holder.start()
    assert inside.wait(10)
    assert shed.one(wait=30.0).status == "built"
    holder.join()


def test_builds_into_other_folders_share_the_revisions(shed: Shed) -> None:
    shed.rig("wren")
    with folder_lock(shed.rigs, 0), pytest.raises(OutputRefusedError, match="busy with the rigs"):
        shed.build()
    assert not shed.out.exists()
    assert shed.one().status == "built"
    request = shed.request()
    assert [name for name in shed.ledger_files("wren") if name.startswith("0002")] == []
    other = replace(request, out=shed.root / "elsewhere")
    from cardgen.bundle.build import build

    assert build(other).rigs[0].number == 1


def test_a_lock_of_a_killed_build_does_not_stay(tmp_path: Path) -> None:
    shed = Shed(tmp_path)
    for number in range(6):
        shed.rig(f"rig{number}", more="note: sleep 0.5\n")
    build = start(tmp_path, "--jobs", "1")
    wait_for(build, "1 of 6")
    second = start(tmp_path, "--wait", "0")
    _, said = second.communicate(timeout=60)
    assert second.returncode == 5
    assert "another build is writing" in said
    assert "Traceback" not in said
    build.kill()
    build.communicate()
    assert {rig.status for rig in shed.build().rigs} == {"built"}


def test_what_is_no_lock_file(shed: Shed) -> None:
    (shed.out / ".cardgen" / "lock").mkdir(parents=True)
    shed.rig("wren")
    with pytest.raises(OutputRefusedError, match="cannot be written"):
        shed.build()
