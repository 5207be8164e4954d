"""Codes of the faults that a build can tell besides those of reading rig files."""

from __future__ import annotations

from collections.abc import Mapping

BUILD_CODES: Mapping[str, str] = {
    "nickname-taken": "Two rig files have nicknames that give the same folder name in the output, such as"
    " 'Wee Wren' and 'wee-wren'. Neither is built and an earlier output stays. Give one of them another nickname.",
    "revision-file": "A file of the ledger of revisions, in 'revisions' beside the rigs, is damaged or does not"
    " belong there. Nothing is built for this rig, so that no number is given out twice. Take the file from version"
    " control again; delete it only if the cards of that revision were never handed out.",
    "revision-twice": "Two people made a revision of the same number and their cards print something different, so"
    " the number no longer tells which card is old. If the cards of one of them were never handed out, delete its"
    " file. If both were, build with --join-revisions: the next number is then given to what the rig file says now,"
    " and every card on which the two differed is to be printed again.",
}
"""Code and explanation."""
