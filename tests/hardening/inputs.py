"""Hostile rig files: good ones cut, spliced and bent, by bytes, by lines and by tokens."""

from __future__ import annotations

import random
import re
from functools import cache
from pathlib import Path

DATA = Path(__file__).parents[1] / "data" / "rigs"
RIGS = Path(__file__).parents[2] / "rigs"
TOKEN = re.compile(rb"[\w./%+-]+|[^\w\s]|\s+")
_TEXTS = (
        ":", ": ", "- ", "? ", ", ", "[", "]", "{", "}", "&a ", "*a", "!", "!!str ", "!!python/object:x ", "!<x> ",
        "|", "|+2\n", ">-\n", "'", '"', "\\", "\\x", "\\u12", "\\U00110000", "#", " #", "%YAML 1.1\n---\n", "%TAG ! !\n",
        "---\n", "...\n", "@", "`", "=", "<<: ", "~", "null", "unknown", "yes", "no", "on", "true", ".nan", ".inf",
        "-.inf", "1:30", "0119", "0o17", "0x1F", "1_000", "1e999", "-1", "1e-999", "\t", "\r", "\r\n", "\n  ", "\n      ",
        "\u00a0", "\u0085", "\u2028", "\ufeff", "\u202e", "\U0001f690", "\u05e2", "\x00", "\x1b[2J", "\x7f", "5,000 lb",
        "-3 kg", "9e99 m", "0 lb", "1/0", "1/3", "6 ft 2 in", "6' 2\"", "50 mm", "4.5 bar", "65 psi +/- 99 psi",
        "100 %", "-5 %", "full", "empty", "20 imp gal", "20 gal", "68 F", "0 K", "part: ", "part: trailers/wren",
        "part: ../../x", "nickname: ", "market: mars", "trailer: ", "vehicle: ", "cases: []", "cases: ", "type: ball",
        "2026-02-30", "2026-11-25", "'2223'", "'9999'", "x" * 70, "{{ 7*7 }}", "<script>", "%s", "{0.__class__}",
)  # fmt: skip
_BYTES = (b"\xff", b"\xc3\x28", b"\xed\xa0\x80", b"\xf0\x9f", b"\xfe\xff\x00a")
PIECES: tuple[bytes, ...] = (*(text.encode() for text in _TEXTS), *_BYTES)
"""What is put in: punctuation of YAML, surprises of YAML 1.1, odd numbers and units, bad UTF-8."""


@cache
def seeds() -> tuple[bytes, ...]:
    """Good rig files with their parts beside them: the demo rigs and the fullest ones."""
    files = [
        *sorted(RIGS.glob("*.yaml")),
        *(DATA / name for name in ("full.yaml", "small.yaml", "overloaded.yaml")),
    ]
    return tuple(file.read_bytes() for file in files)


@cache
def parts() -> dict[str, bytes]:
    """Every part, by its path below the rig file."""
    found = {}
    for root in (DATA, RIGS):
        for path in sorted((root / "parts").rglob("*.yaml")):
            found[path.relative_to(root).as_posix()] = path.read_bytes()
    return found


def bent(chance: random.Random) -> bytes:
    """A hostile file: a good one changed in one to six places.

    Args:
        chance: where every choice comes from.
    """
    text = chance.choice(seeds())
    for _ in range(chance.choice((1, 1, 1, 2, 3, 6))):
        text = chance.choice(WAYS)(text, chance)
    return text


def _bytes(text: bytes, chance: random.Random) -> bytes:
    """Put pieces in place of some bytes."""
    start = chance.randrange(len(text) + 1)
    length = chance.choice((0, 0, 1, 2, 5, 40, 400))
    put = b"".join(chance.choices(PIECES, k=chance.choice((0, 1, 1, 2, 4))))
    return text[:start] + put + text[start + length :]


def _flip(text: bytes, chance: random.Random) -> bytes:
    """Change single bytes."""
    changed = bytearray(text)
    for _ in range(chance.choice((1, 3, 9))):
        if changed:
            changed[chance.randrange(len(changed))] = chance.randrange(256)
    return bytes(changed)


def _tokens(text: bytes, chance: random.Random) -> bytes:
    """Swap a word for a piece or for a word of another good file."""
    words = TOKEN.findall(text)
    if not words:
        return text
    other = TOKEN.findall(chance.choice(seeds()))
    for _ in range(chance.choice((1, 1, 2, 5))):
        words[chance.randrange(len(words))] = chance.choice(PIECES if chance.random() < 0.5 else other)
    return b"".join(words)


def _lines(text: bytes, chance: random.Random) -> bytes:
    """Move, double, indent or drop lines, or take some of another file."""
    lines = text.splitlines(keepends=True) or [b""]
    for _ in range(chance.choice((1, 1, 2, 4))):
        at = chance.randrange(len(lines))
        what = chance.randrange(5)
        if what == 0 and len(lines) > 1:
            lines.insert(chance.randrange(len(lines)), lines.pop(at))
        elif what == 1:
            lines.insert(at, lines[at])
        elif what == 2:
            lines[at] = chance.choice((b"  ", b"\t", b"- ", b"    ", b"# ")) + lines[at]
        elif what == 3 and len(lines) > 1:
            lines.pop(at)
        else:
            other = chance.choice(seeds()).splitlines(keepends=True)
            start = chance.randrange(len(other))
            lines[at:at] = other[start : start + chance.choice((1, 3, 12))]
    return b"".join(lines)


def _number(text: bytes, chance: random.Random) -> bytes:
    """Change one number, so that what is read still is a rig more often than not."""
    found = list(re.finditer(rb"\d[\d,.]*", text))
    if not found:
        return text
    one = chance.choice(found)
    new = chance.choice(
        (b"0", b"1", b"0.001", b"2", b"7", b"35", b"400", b"9,999", b"12345", b"1/2", b"-1", b"3.3e3")
    )
    return text[: one.start()] + new + text[one.end() :]


def _cut(text: bytes, chance: random.Random) -> bytes:
    """Keep one end only."""
    at = chance.randrange(len(text) + 1)
    return text[:at] if chance.random() < 0.7 else text[at:]


WAYS = (_bytes, _bytes, _flip, _tokens, _tokens, _lines, _lines, _number, _number, _number, _cut)
"""Ways to bend a file; those that leave a rig more often are taken more often."""
