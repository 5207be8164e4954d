"""Fingerprint of everything besides the rig that changes what is made.

The package's own code and data, templates, styles, fonts, versions of the libraries that
draw and of the native ones below them. Contents only, never times.
"""

from __future__ import annotations

import hashlib
import sys
from functools import lru_cache
from importlib import metadata
from pathlib import Path

from cardgen.render.env import TemplatesMissingError, templates_dir

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
    """Fingerprint of package, templates, libraries and maker.

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
            total.update(hashlib.sha256(path.read_bytes()).digest())
    for name, version in (*_versions(), *_native()):
        total.update(f"{name} {version}\n".encode())
    return total.hexdigest()


def _files(folder: Path) -> list[Path]:
    """Files below a folder that can change what is made."""
    skip = ("__pycache__", "_rigs", "_templates")
    found = []
    for one in folder.iterdir():
        if one.is_dir():
            found += _files(one) if one.name not in skip and not one.is_symlink() else []
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
