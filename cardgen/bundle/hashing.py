"""Fingerprints of bytes and of plain values."""

from __future__ import annotations

import dataclasses
import datetime as dt
import hashlib
import json
from collections.abc import Mapping, Sequence, Set
from pathlib import PurePath


def of_bytes(data: bytes) -> str:
    """SHA-256 of bytes, in hexadecimal."""
    return hashlib.sha256(data).hexdigest()


def fingerprint(value: object) -> str:
    """SHA-256 of a value made of plain types, dataclasses, dates, mappings and sequences.

    Two values that say the same give the same fingerprint in every process. Mappings are
    taken in the order of their keys, dataclasses with their names.

    Raises:
        TypeError: a type whose text could differ between processes.
    """
    text = json.dumps(plain(value), sort_keys=True, separators=(",", ":"), ensure_ascii=True)
    return of_bytes(text.encode("ascii"))


def plain(value: object) -> object:
    """Reduce a value to what JSON can write."""
    if value is None or isinstance(value, (bool, int, float)):
        return value
    if isinstance(value, str):
        return str(value)
    if isinstance(value, bytes):
        return {"bytes": of_bytes(value)}
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        fields = {f.name: plain(getattr(value, f.name)) for f in dataclasses.fields(value)}
        return {"=": type(value).__name__, **fields}
    if isinstance(value, Mapping):
        return {_key(key): plain(inner) for key, inner in value.items()}
    if isinstance(value, Set):
        return sorted(json.dumps(plain(one), sort_keys=True) for one in value)
    if isinstance(value, Sequence):
        return [plain(one) for one in value]
    if isinstance(value, (dt.date, dt.time)):
        return value.isoformat()
    if isinstance(value, PurePath):
        return value.as_posix()
    raise TypeError(f"no fingerprint for a {type(value).__name__}")


def _key(key: object) -> str:
    if isinstance(key, str):
        return str(key)
    return json.dumps(plain(key), sort_keys=True)
