"""Mark running heads and feet as page artifacts.

The engine tags the text of page margins like any other text, but leaves it out of the
structure tree; PDF/UA-1 (ISO 14289-1, 7.1) wants such content to be an artifact. This is a
``finisher`` of the engine: it changes the document before it is written.
"""

from __future__ import annotations

from typing import Any

ARTIFACT = (b"/Artifact", b"<</Type/Pagination>>")


def running_texts(_document: object, pdf: Any) -> None:
    """Turn every marked text that hangs on no node of the structure tree into an artifact.

    Args:
        pdf: the engine's document, before it is written (a ``pydyf.PDF``).
    """
    objects: list[Any] = pdf.objects
    elements = {item.reference: item for item in objects if _is_element(item)}
    root = _object(pdf, pdf.catalog["StructTreeRoot"])
    lost = set(elements) - _reached(root, elements)
    numbers = _object(pdf, root["ParentTree"])["Nums"]
    pages = {page: n for n, page in enumerate(pdf.page_references)}
    texts: dict[bytes, set[int]] = {}
    for reference in lost:
        element = elements[reference]
        found = {kid for kid in element["K"] if isinstance(kid, int)}
        texts.setdefault(element["Pg"], set()).update(found)
        element.clear()
    for page, found in texts.items():
        for text in found:
            numbers[2 * pages[page] + 1][text] = "null"
        _unmark(_object(pdf, _object(pdf, page)["Contents"]).stream, found)


def _is_element(item: Any) -> bool:
    return isinstance(item, dict) and item.get("Type") == "/StructElem"


def _object(pdf: Any, reference: bytes) -> Any:
    """Return the object behind a reference such as ``b"12 0 R"``."""
    return pdf.objects[int(reference.split()[0])]


def _reached(root: Any, elements: dict[bytes, Any]) -> set[bytes]:
    """References of all elements that hang on the root of the structure tree."""
    found: set[bytes] = set()
    open_ = [kid for kid in root["K"] if kid in elements]
    while open_:
        reference = open_.pop()
        found.add(reference)
        open_ += [
            kid
            for kid in elements[reference]["K"]
            if isinstance(kid, bytes) and kid in elements and kid not in found
        ]
    return found


def _unmark(stream: list[Any], texts: set[int]) -> None:
    """Rewrite the begin operators of some marked contents in a page's content."""
    for n, part in enumerate(stream):
        if isinstance(part, dict) and part.get("MCID") in texts:
            stream[n - 1], stream[n] = ARTIFACT
