"""Give one file to everything between the bytes and the printed page, and see that it holds."""

from __future__ import annotations

import datetime as dt
import json
from pathlib import Path

from cardgen.bundle.maker import RigMaker
from cardgen.bundle.reading import read_rig
from cardgen.bundle.work import Options
from cardgen.present.prepare import prepare
from cardgen.present.results import results
from cardgen.source.codes import ALL_CODES
from tests.hardening.inputs import parts
from tests.source.memory import Memory

RIG = Path("r.yaml")
OPTIONS = Options(day=dt.date(2026, 11, 25))
MAKER = RigMaker()


def swallow(text: bytes) -> str:
    """Read a file; if it is a rig, work out everything that would be printed.

    Args:
        text: the bytes of a rig file; parts are those of the demo rigs.

    Returns:
        ``rig`` or ``faults``. Whatever else happens is raised: it is a bug.
    """
    found = read_rig(RIG, Memory({"r.yaml": text, **parts()}))
    assert (found.rig is None) == bool(found.faults)
    for fault in found.faults:
        assert fault.code in ALL_CODES, fault.code
        assert fault.line >= 1
        assert fault.col >= 1
        assert fault.message
        assert len(str(fault)) < 3000
        str(fault).encode("utf-8")
    if found.rig is None:
        return "faults"
    MAKER.describe(found, OPTIONS)
    json.dumps(results(prepare(found.rig, OPTIONS.day)), allow_nan=False)
    return "rig"
