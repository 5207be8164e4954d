"""Every code of a fault that any command can report."""

from __future__ import annotations

from collections.abc import Mapping

from cardgen.bundle.codes import ALL_CODES as RIG_CODES
from cardgen.commands.sheet import SHEET_CODES

ALL_CODES: Mapping[str, str] = {**RIG_CODES, **SHEET_CODES}
"""Code and explanation: of rig files, their output, and cargo sheets."""
