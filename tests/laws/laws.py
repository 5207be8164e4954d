"""The ten laws, each as parts that look at one rig and yield what breaks them.

A part gets a ``Subject`` and dice; it knows the program only by what the program says about a
document and about the same document changed.
"""

from __future__ import annotations

from tests.laws import advice, knowledge, rated, verdict
from tests.laws.subject import PARTS

MODULES = (knowledge, rated, advice, verdict)
"""Modules whose import registers their parts, in the order of the laws."""

__all__ = ["MODULES", "PARTS"]
