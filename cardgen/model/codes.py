"""Every code that reading a rig file can give."""

from __future__ import annotations

from collections.abc import Mapping

from cardgen.model.sense.codes import SENSE_CODES
from cardgen.source.codes import CODES as READER_CODES

FAULT_CODES: Mapping[str, str] = {**READER_CODES, **SENSE_CODES}
"""Code and explanation, in the order in which a file is looked at."""
