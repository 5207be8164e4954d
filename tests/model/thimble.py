"""A small rig with lines added, and the faults of its meaning."""

from __future__ import annotations

from pathlib import Path

from cardgen.model.read import read_rig
from cardgen.source.faults import Fault
from tests.source.memory import Memory


def faults(rig: str = "", vehicle: str = "", trailer: str = "", market: str = "us") -> tuple[Fault, ...]:
    """Faults of a small rig with lines added; a line replaces the one that it repeats."""
    kind = "" if "type:" in trailer else "type: ball, "
    cases = "" if "cases:" in rig else "cases: [{name: out}]\n"
    text = (
        f"nickname: Thimble\nmarket: {market}\nvehicle: {{kind: suv, {vehicle}}}\n"
        f"trailer: {{{kind}body: utility, {trailer}}}\n{cases}{rig}\n"
    )
    return read_rig(Path("r.yaml"), Memory({"r.yaml": text})).faults


def codes(rig: str = "", vehicle: str = "", trailer: str = "", market: str = "us") -> list[str]:
    return [fault.code for fault in faults(rig, vehicle, trailer, market)]
