"""Exit codes of the program, the only place where they are listed."""

from __future__ import annotations

from enum import IntEnum


class Exit(IntEnum):
    """What the program's exit code means."""

    FINE = 0
    OVER = 1
    USAGE = 2
    FAULTS = 3
    ENVIRONMENT = 4
    REFUSED = 5
    BUG = 70
    INTERRUPTED = 130


MEANINGS: dict[Exit, str] = {
    Exit.FINE: "everything was done; every check is within, close or not checked",
    Exit.OVER: "at least one check is over its limit; files were written all the same",
    Exit.USAGE: "the command line is wrong",
    Exit.FAULTS: "a rig file has faults; nothing was written for that rig",
    Exit.ENVIRONMENT: "something is missing on this system; the message says what to install",
    Exit.REFUSED: "the output could not be written, and what was there is untouched",
    Exit.BUG: "a bug in cardgen; please report the traceback",
    Exit.INTERRUPTED: "interrupted by Ctrl-C or told to end; the earlier output is untouched",
}
"""Exit codes in words."""
