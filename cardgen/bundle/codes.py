"""Every code of a fault that a person can meet, from all rooms, with what it means."""

from __future__ import annotations

from collections.abc import Mapping

from cardgen.checklist.codes import CHECKLIST_CODES
from cardgen.model.codes import FAULT_CODES

WISH_CODES: Mapping[str, str] = {
    "card-unknown": "preferences.cards names a card that is not made here. The nearest id is suggested;"
    " 'cardgen explain' lists all cards.",
    "size-unknown": "preferences.size names a card size that is not made here. The nearest one is suggested.",
}
"""Wishes about print that only the printing rooms can judge."""

OUTPUT_CODES: Mapping[str, str] = {
    "nickname-taken": "Two rigs have nicknames that lead to the same output folder, or the folder belongs to"
    " another rig's earlier output. Give one of them another nickname.",
    "revision-file": "A file of the revisions kept beside the rigs cannot be read: it was edited by hand, damaged,"
    " or holds an unfinished merge. Take it from version control again; nothing was written for the rig.",
    "revision-twice": "Two people gave the same revision number to different cards. Delete the file whose cards"
    " were never handed out, or go on from both with 'cardgen build --join-revisions'.",
}
"""Faults of output folders and of the ledger of revisions."""

ALL_CODES: Mapping[str, str] = {**FAULT_CODES, **CHECKLIST_CODES, **WISH_CODES, **OUTPUT_CODES}
"""Every code and its explanation."""
