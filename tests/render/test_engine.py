"""The warm engine: loaded lazily, quiet about nothing, leaves nothing behind."""

from __future__ import annotations

import builtins
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any

import pytest

from cardgen.render.engine import EngineMissingError, load, press


def test_nothing_heavy_is_loaded_before_a_card_is_printed() -> None:
    code = (
        "import sys, cardgen.render.pdf, cardgen.render.printer, cardgen.render.sheets; "
        "print([m for m in ('weasyprint', 'pikepdf', 'qrcode', 'fontTools') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


@pytest.mark.parametrize(
    "fault", [ImportError("No module named 'weasyprint'"), OSError("cannot load library 'libpango'")]
)
def test_missing_library_is_one_error(monkeypatch: pytest.MonkeyPatch, fault: Exception) -> None:
    real = builtins.__import__

    def fake(name: str, *args: Any, **kwargs: Any) -> Any:
        if name == "weasyprint":
            raise fault
        return real(name, *args, **kwargs)

    monkeypatch.setattr(builtins, "__import__", fake)
    with pytest.raises(EngineMissingError, match=str(fault).split("'")[1]):
        load()


def test_press_is_shared_and_has_no_complaints_about_our_style() -> None:
    assert press() is press()
    assert press().style_problems == ()


def test_temporary_files_go_with_the_process(tmp_path: Path) -> None:
    code = "from cardgen.render.engine import press; press()"
    subprocess.run(
        [sys.executable, "-c", code], check=True, env={"TMPDIR": str(tmp_path), "PATH": "/usr/bin"}
    )
    assert list(tmp_path.iterdir()) == []
    assert tempfile.tempdir is None or Path(tempfile.tempdir).is_dir()


def test_printing_leaves_what_stays_out_of_the_collectors_sight() -> None:
    code = (
        "import gc; from cardgen.render.engine import press; assert gc.get_freeze_count() == 0; press(); "
        "assert gc.isenabled(); assert gc.get_freeze_count() > 10_000"
    )
    subprocess.run([sys.executable, "-c", code], check=True, env={"PATH": "/usr/bin"})


def test_same_bytes_under_other_hash_seed_zone_and_folder(tmp_path: Path) -> None:
    code = (
        "import hashlib; from tests.render.samples import glovebox; "
        "from cardgen.render.pdf import render_card; from cardgen.render.sizes import SIZES; "
        "print(hashlib.sha256(render_card(glovebox(), SIZES['half-letter']).pdf).hexdigest())"
    )
    root = Path(__file__).parents[2]
    seen = {
        subprocess.run(
            [sys.executable, "-c", code],
            capture_output=True,
            text=True,
            check=True,
            cwd=root,
            env={"PATH": "/usr/bin", **extra},
        ).stdout
        for extra in (
            {"PYTHONHASHSEED": "1", "TZ": "UTC"},
            {"PYTHONHASHSEED": "2", "TZ": "Pacific/Auckland", "TMPDIR": str(tmp_path)},
        )
    }
    assert len(seen) == 1
