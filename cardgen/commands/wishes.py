"""Wishes for print on the command line: cards, sizes and addresses that there are."""

from __future__ import annotations

from collections.abc import Iterator, Sequence


def wish_faults(cards: Sequence[str] = (), size: str | None = None, base_url: str | None = None) -> list[str]:
    """Return a sentence for each wish that cannot be met.

    Args:
        cards: ids of cards [-].
        size: name of a card size [-].
        base_url: address under which the output folder is served [-].
    """
    return list(_faults(cards, size, base_url))


def _faults(cards: Sequence[str], size: str | None, base_url: str | None) -> Iterator[str]:
    from cardgen.model.sense.wishes import address_trouble
    from cardgen.present.cards import CHOICES
    from cardgen.render.sizes import size_trouble, wished
    from cardgen.source.suggest import suggest

    for name in cards:
        if name not in CHOICES:
            yield f"there is no card '{name[:80]}'; {suggest(name, CHOICES)}"
    if size is not None and wished(size) is None:
        yield "; ".join(size_trouble(size))
    trouble = None if base_url is None else address_trouble(base_url)
    if trouble is not None:
        yield f"--base-url: {trouble[0]}; {trouble[1]}"
