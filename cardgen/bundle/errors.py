"""Why a build cannot go on. Each message is a sentence for the person, with what to do."""

from __future__ import annotations


class OutputRefusedError(Exception):
    """The output folder or the revisions folder cannot be written as asked."""


class MissingError(Exception):
    """Something is missing from this system, such as a native library or a font."""
