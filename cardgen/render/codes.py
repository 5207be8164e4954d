"""QR codes that cannot be printed are left out visibly and reported."""

from __future__ import annotations

from dataclasses import replace

from cardgen.present.blocks import Block, Card, Note, Pair, Qr
from cardgen.render import qr
from cardgen.render.problems import Problem
from cardgen.render.sizes import Size


def checked_codes(card: Card, size: Size) -> tuple[Card, tuple[Problem, ...]]:
    """Return the card without codes that are too long or too large, and a problem for each.

    Args:
        card: view model.
        size: card size.
    """
    problems: list[Problem] = []

    def checked(block: Block) -> Block:
        if isinstance(block, Pair):
            left, right = checked(block.left), checked(block.right)
            same = left is block.left and right is block.right
            return block if same else replace(block, left=left, right=right)
        fault = _fault(block, size) if isinstance(block, Qr) else ""
        if not fault:
            return block
        problems.append(Problem("qr", f"{fault}: shorten what the code holds", card.id))
        return Note(f"No QR code here: {fault}.")

    def all_checked(blocks: tuple[Block, ...]) -> tuple[Block, ...]:
        new = tuple(checked(block) for block in blocks)
        return blocks if all(a is b for a, b in zip(new, blocks, strict=True)) else new

    faces = tuple(
        face if blocks is face.blocks else replace(face, blocks=blocks)
        for face in card.faces
        for blocks in (all_checked(face.blocks),)
    )
    flow = all_checked(card.flow)
    return (replace(card, faces=faces, flow=flow) if problems else card), tuple(problems)


def _fault(block: Qr, size: Size) -> str:
    """Say why a code cannot be printed; empty when it can."""
    try:
        code = qr.draw(block.payload, size.qr, block.caption, qr.level(block.href))
    except qr.QrTooLongError as fault:
        return str(fault)
    room = min(size.text_width, size.text_height(False))
    if code.side > room:
        return (
            f"{len(block.payload.encode())} bytes take a code of {code.side:.0f} mm, "
            f"and the card has {room:.0f} mm"
        )
    return ""
