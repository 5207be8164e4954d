"""The table from feature to items, as it is put into the developers' notes."""

from __future__ import annotations

import subprocess
import sys

from cardgen.checklist.catalog import catalog
from cardgen.checklist.table import feature_table, markdown


def test_every_feature_has_a_row_with_items() -> None:
    table = feature_table()
    assert [name for name, _ in table] == list(catalog().features)
    assert all(ids for _, ids in table)
    named = {item for _, ids in table for item in ids}
    assert named == {item.id for item in catalog().items if item.when}


def test_the_module_prints_the_table() -> None:
    run = subprocess.run(
        [sys.executable, "-m", "cardgen.checklist.table"], capture_output=True, text=True, check=True
    )
    assert run.stdout == markdown()
    assert run.stderr == ""
    rows = [line for line in run.stdout.splitlines() if line.startswith("| `")]
    assert len(rows) == len(catalog().features)
    assert all(row.count("|") == 5 for row in rows)
