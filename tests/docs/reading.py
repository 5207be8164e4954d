"""Reading the project's own documents and docstrings, for the tests of this folder."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import cardgen

PACKAGE = Path(cardgen.__file__).parent
ROOT = PACKAGE.parent
README = ROOT / "README.md"
DEVELOPERS = ROOT / "DEVELOPERS.md"
REFERENCE = ROOT / "rigs" / "REFERENCE.md"
DOCUMENTS = (README, DEVELOPERS, REFERENCE)
_FENCE = re.compile(r"^```(\w*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
_LINK = re.compile(r"!?\[[^\]]*\]\(([^)\s]+)\)")


@dataclass(frozen=True, slots=True)
class Block:
    """A fenced block of a document: its language and its text."""

    language: str
    text: str


def blocks(text: str, language: str = "") -> list[Block]:
    """Fenced blocks, of one language or of all."""
    found = [Block(match[1], match[2]) for match in _FENCE.finditer(text)]
    return [block for block in found if not language or block.language == language]


def links(text: str) -> list[str]:
    """Targets of links and pictures outside code."""
    plain = _FENCE.sub("", text)
    return _LINK.findall(re.sub(r"`[^`]*`", "", plain))


@dataclass(frozen=True, slots=True)
class Function:
    """A public function or method of the package."""

    path: Path
    name: str
    node: ast.FunctionDef | ast.AsyncFunctionDef

    @property
    def doc(self) -> str:
        """Its docstring, empty when there is none."""
        return ast.get_docstring(self.node) or ""

    @property
    def where(self) -> str:
        """File, line and name, for messages."""
        return f"{self.path.relative_to(PACKAGE)}:{self.node.lineno} {self.name}"

    def arguments(self) -> list[ast.arg]:
        """Arguments without self and cls."""
        args = self.node.args
        every = [*args.posonlyargs, *args.args, *args.kwonlyargs]
        return [arg for arg in every if arg.arg not in ("self", "cls")]


def modules() -> list[Path]:
    """All modules of the package."""
    return sorted(PACKAGE.rglob("*.py"))


def functions(path: Path) -> Iterator[Function]:
    """Public functions of a module and public methods of its public classes, in order."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    for node in tree.body:
        if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)) and not node.name.startswith("_"):
            yield Function(path, node.name, node)
        if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
            for inner in node.body:
                if isinstance(inner, (ast.FunctionDef, ast.AsyncFunctionDef)) and not inner.name.startswith(
                    "_"
                ):
                    yield Function(path, f"{node.name}.{inner.name}", inner)


def classes(path: Path) -> Iterator[ast.ClassDef]:
    """Public classes of a module."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    yield from (n for n in tree.body if isinstance(n, ast.ClassDef) and not n.name.startswith("_"))
