"""What a rig is made from: its file, the parts it may read, the tools, and their fingerprints."""

from __future__ import annotations

import dataclasses
import datetime as dt
import hashlib
import json
import os
import re
import sys
from collections.abc import Iterable, Mapping, Sequence, Set
from dataclasses import dataclass
from functools import lru_cache
from importlib import metadata
from pathlib import Path, PurePath

from cardgen.render.env import TemplatesMissingError, templates_dir
from cardgen.source.disk import Disk
from cardgen.source.limits import Bounds


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


_SUFFIXES = (".yaml", ".yml")
_PART = re.compile(rb"""part["']?\s*:\s*["']?([\w./-]+)""")
_NICKNAME = re.compile(rb"""^nickname\s*:[ \t]*([^\r\n#]*)""", re.MULTILINE)
_SIZE = Bounds().size
_NAMED = 6
"""Rigs with which one shares a part that are named [-]."""


def shelf_files(files: Iterable[Path]) -> tuple[Path, ...]:
    """Every vehicle and trailer part beside some rig files, in order: what the match matrix is made from."""
    found: list[Path] = []
    for folder in sorted({file.parent for file in files}):
        for kind in ("vehicles", "trailers"):
            found += sorted((folder / "parts" / kind).glob("**/*.yaml"))
    return tuple(found)


def absolute(path: str | Path) -> str:
    """Full path without ``..``, links not followed."""
    return os.path.abspath(path)  # noqa: PTH100  # resolve() follows links and asks the disk


class Bytes:
    """Reads each file once per build, so that a rig is made from what was fingerprinted."""

    def __init__(self) -> None:
        self._read: dict[str, bytes | None] = {}
        self._marks: dict[str, str] = {}
        self._inside: dict[str, bool] = {}
        self._taken: dict[Path, dict[str, list[str]]] = {}

    def get(self, path: str | Path) -> bytes | None:
        """Bytes of a file (one more than the reader's limit at most), None if unreadable."""
        name = absolute(path)
        if name not in self._read:
            try:
                self._read[name] = Disk().read_bytes(Path(name), _SIZE)
            except (OSError, ValueError):
                self._read[name] = None
        return self._read[name]

    def mark(self, path: str | Path) -> str:
        """Fingerprint of a file, empty if it cannot be read."""
        name = absolute(path)
        if name not in self._marks:
            data = self.get(name)
            self._marks[name] = "" if data is None else of_bytes(data)
        return self._marks[name]

    def forget(self, path: str | Path) -> None:
        """Drop the bytes of a file that is needed no more; its fingerprint stays."""
        self._read.pop(absolute(path), None)

    def with_parts(self, path: Path) -> dict[str, bytes]:
        """A rig file and every part that it may refer to, directly or through other parts.

        The names are found by a look at the text, which may find too many; the reader
        decides. A part that is missed is read from disk by the reader.
        """
        root = path.parent / "parts"
        found: dict[str, bytes] = {}
        todo = [path]
        while todo:
            one = todo.pop()
            data = self.get(one) if str(one) not in found and self._ours(one, path, root) else None
            if data is not None:
                found[str(one)] = data
                todo.extend(root / f"{name}.yaml" for name in _refers(data))
        return found

    def sharing(self, rig: Path) -> dict[str, tuple[str, ...]]:
        """Each part that a rig file takes in, with the names of the other rig files beside it that take it in too.

        Of many the first few are named, then ``and more``. As ``with_parts`` it looks at texts, and may name too many.
        """
        if rig.parent not in self._taken:
            taken = self._taken[rig.parent] = {}
            for one in sorted(rig.parent.glob("*.yaml")):
                for part in self.with_parts(one):
                    taken.setdefault(part, []).append(one.stem)
        found = {}
        for part, names in self._taken[rig.parent].items():
            others = [name for name in names if name != rig.stem]
            if others and len(others) < len(names):
                found[part] = (*others[:_NAMED], *(("and more",) if len(others) > _NAMED else ()))
        return found

    def _ours(self, one: Path, rig: Path, root: Path) -> bool:
        """Whether a file is the rig's or lies in its parts folder, links followed."""
        name = str(one)
        if one == rig or self._inside.get(name):
            return True
        try:
            self._inside[name] = Disk().inside(one, root)
        except (OSError, ValueError, RuntimeError):  # a circle of links is a RuntimeError
            self._inside[name] = False
        return self._inside[name]


@lru_cache(maxsize=4096)
def _refers(data: bytes) -> tuple[str, ...]:
    """Names of parts that a text seems to refer to."""
    names = {one.decode("utf-8", "replace") for one in _PART.findall(data)}
    return tuple(sorted(name for name in names if ".." not in name and not name.startswith("/")))


def nickname_in(data: bytes) -> str:
    """The nickname a text seems to give: a guess, checked by the reader later."""
    found = _NICKNAME.search(data)
    return found[1].decode("utf-8", "replace").strip().strip("\"'") if found else ""


def nickname_line(data: bytes) -> int:
    """Line of the nickname, counted from 1 [-]."""
    found = _NICKNAME.search(data)
    return data.count(b"\n", 0, found.start(1)) + 1 if found else 1


@dataclass(frozen=True, slots=True)
class MemoryFirst:
    """A store for the reader: bytes that came with the order, and the disk for the rest."""

    files: Mapping[str, bytes]

    def read_bytes(self, path: Path, limit: int) -> bytes:
        """First bytes of a file, one more than the limit at most; raises OSError."""
        data = self.files.get(str(path))
        return Disk().read_bytes(path, limit) if data is None else data[: limit + 1]

    def inside(self, path: Path, folder: Path) -> bool:
        """Whether a file, links followed, lies inside a folder."""
        return Disk().inside(path, folder)

    def parts(self, folder: Path) -> Iterable[str]:
        """Names of the parts in a folder, for suggestions."""
        try:
            return Disk().parts(folder)
        except OSError:
            prefix = folder.as_posix() + "/"
            names = [Path(one).as_posix() for one in self.files]
            return [name[len(prefix) : -5] for name in names if name.startswith(prefix)]


PACKAGE = Path(__file__).resolve().parent.parent
LIBRARIES = (
    "cssselect2",
    "fontpkg-ibm-plex-sans-condensed",
    "fonttools",
    "jinja2",
    "markupsafe",
    "pikepdf",
    "pillow",
    "pint",
    "pydantic",
    "pydyf",
    "pyphen",
    "pyyaml",
    "qrcode",
    "tinycss2",
    "tinyhtml5",
    "weasyprint",
)
_NATIVE = (
    ("pango", "pango_version", ("libpango-1.0.so.0", "libpango-1.0.dylib", "libpango-1.0-0.dll")),
    ("harfbuzz", "", ("libharfbuzz.so.0", "libharfbuzz.0.dylib", "libharfbuzz-0.dll")),
)


@lru_cache(maxsize=4)
def tool_key(templates: Path | None, maker: str) -> str:
    """Fingerprint of everything besides the rig that changes what is made.

    The package's own code and data, templates, styles, fonts, versions of the libraries that
    draw and of the native ones below them. Contents only, never times.

    Args:
        templates: the workspace's own templates, or None.
        maker: name of the maker.
    """
    total = hashlib.sha256(f"{maker}\n{sys.version_info[:2]}\n".encode())
    try:
        folders = [PACKAGE, templates_dir()]
    except TemplatesMissingError:
        folders = [PACKAGE]
    for label, folder in enumerate([*folders, *([templates] if templates else [])]):
        for path in _files(folder):
            total.update(f"{label}:{path.relative_to(folder).as_posix()}\n".encode("utf-8", "replace"))
            # A link may lead anywhere; what it leads to inside the folder is counted in its own place.
            data = os.fsencode(path.readlink()) if path.is_symlink() else path.read_bytes()
            total.update(hashlib.sha256(data).digest())
    for name, version in (*_versions(), *_native()):
        total.update(f"{name} {version}\n".encode())
    return total.hexdigest()


def _files(folder: Path) -> list[Path]:
    """Files below a folder that can change what is made."""
    skip = ("__pycache__", "_rigs", "_templates")
    found = []
    for one in folder.iterdir():
        if one.is_symlink():
            found.append(one)
        elif one.is_dir():
            found += _files(one) if one.name not in skip else []
        elif one.suffix != ".pyc" and one.is_file():
            found.append(one)
    return sorted(found)


def _versions() -> list[tuple[str, str]]:
    found = []
    for name in LIBRARIES:
        try:
            found.append((name, metadata.version(name)))
        except metadata.PackageNotFoundError:
            found.append((name, "missing"))
    return found


def _native() -> list[tuple[str, str]]:
    """Versions of the native libraries, as far as they can be asked without drawing."""
    import ctypes

    found = []
    for label, ask, names in _NATIVE:
        version = "unknown"
        for name in names:
            try:
                library = ctypes.CDLL(name)
                version = str(getattr(library, ask)()) if ask else _harfbuzz(library)
                break
            except (OSError, AttributeError):
                continue
        found.append((label, version))
    return found


def _harfbuzz(library: object) -> str:
    import ctypes

    ask = library.hb_version_string  # type: ignore[attr-defined]  # looked up in the library
    ask.restype = ctypes.c_char_p
    return str(ask())
