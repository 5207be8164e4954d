"""Words of the trade by market: what they mean, where they trip people, and how a text gets them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache

from cardgen.tables.lookup import NotInTableError, read

MARKETS = ("us", "ca", "uk", "eu", "au", "nz")
"""Markets with words of their own [-]; source: ``words``."""


PLACES = {"us": "North America", "uk": "UK", "eu": "EU", "au": "Australia", "nz": "New Zealand"}
"""Where a market's words are used [-]; source: none."""
PLACE = re.compile(r"\{(\w+)\}")
"""A place in a text: of a word when its name is a key of ``words.yaml``, else of a value."""
PAPERS = {"de": "eu"}
"""Places whose papers have words of their own, and the market in which such papers are issued [-]; source: none."""
PASSAGE = re.compile(r"\[((?:(?:us|ca|uk|eu|au|nz|de) ?)+): ([^\[\]]*)\]")
"""A passage for some markets or papers only, behind their names: ``[us ca: 49 CFR 571.3; ]``."""
_LOOSE = re.compile(r"^(?:; ?)+|(?:; ?)+(?=; |$)|(?<= ) +")
"""What is left between two parts when a passage goes."""


@dataclass(frozen=True, slots=True)
class Concept:
    """One thing and its names.

    Args:
        key: stable key [-].
        means: what it is, one sentence; may hold word places [-].
        trap: where its names mislead; empty where they do not [-].
        plain: words for markets without a term [-].
        terms: market to its terms, the one to print first [-].
        short: market to the form to print where the term is a sentence [-].
        listed: market to the name in the list of words, where it is not the first term [-].
        fields: paths of the rig file that hold it [-].
        source: source key [-].

    Source: ``words``.
    """

    key: str
    means: str
    trap: str
    plain: str
    terms: Mapping[str, tuple[str, ...]]
    short: Mapping[str, str]
    listed: Mapping[str, str]
    fields: tuple[str, ...]
    source: str

    def names(self, market: str) -> tuple[str, ...]:
        """Every word that a market has or prints for it [-].

        Args:
            market: ``us``, ``ca``, ``uk``, ``eu``, ``au`` or ``nz`` [-].

        Source: ``words``.
        """
        printed = (names.get(market) for names in (self.short, self.listed))
        return (*self.terms.get(market, ()), *(one for one in printed if one))


def concepts() -> tuple[str, ...]:
    """Keys of all concepts [-].

    Source: ``words``.
    """
    return tuple(read("words")["concepts"])


def listed() -> tuple[str, ...]:
    """Keys of the concepts in the report's list of words [-].

    Source: ``words``.
    """
    return tuple(read("words")["glossary"])


@cache
def keys() -> frozenset[str]:
    """Every name that stands for a word in a text; no value may be called so [-].

    Source: ``words``.
    """
    data = read("words")
    return frozenset(data["concepts"]) | frozenset(data["words"]) | {"coupling_load"}


def is_word(name: str) -> bool:
    """Whether a place of this name stands for a word, not for a value.

    Args:
        name: what stands between the braces [-].

    Source: ``words``.
    """
    return name[0].lower() + name[1:] in keys()


@lru_cache(maxsize=8192)
def say(text: str, market: str, coupling: str = "", papers: str = "") -> str:
    """Put one of our own texts (never an owner's) into the words and the spelling of a market.

    A place whose name is a key of ``words.yaml`` becomes the market's word, with a capital when
    the place has one: ``{tongue_weight}``, ``{Tongue_weight}``. Every other place is a value's
    and stays, to be filled before or after. A passage of other markets, ``[us: ...]``, goes.

    Args:
        text: the text, in US spelling [-].
        market: ``us``, ``ca``, ``uk``, ``eu``, ``au`` or ``nz`` [-].
        coupling: type of the trailer, empty where none is known: a fifth wheel's load is its pin weight [-].
        papers: place whose papers the rig has, one of ``PAPERS``; empty for any other [-].

    Returns:
        The text as the market writes it [-].

    Raises:
        NotInTableError: unknown market.

    Source: ``words``.
    """
    pattern, spelling = _spelling(market)
    if PASSAGE.search(text):
        kept = PASSAGE.sub(lambda found: found[2] if {market, papers} & {*found[1].split()} else "", text)
        text = _LOOSE.sub("", kept).rstrip()
    if pattern is not None:
        text = pattern.sub(lambda found: _like(found[0], spelling[found[0].lower()]), text)
    return PLACE.sub(lambda place: _word(place[1], market, coupling, papers) or place[0], text)


def papers_of(market: str, places: Iterable[str]) -> str:
    """Place whose words for what stands in the papers go behind ours, in brackets; empty where none has any [-].

    Args:
        market: ``us``, ``ca``, ``uk``, ``eu``, ``au`` or ``nz`` [-].
        places: ids of the places travelled [-].

    Source: ``words``.
    """
    return next((place for place in places if PAPERS.get(place) == market), "")


def kind_word(kind: str, market: str) -> str:
    """The market's word for a kind of vehicle or trailer.

    Args:
        kind: as a rig file names it, for example ``car_hauler`` [-].
        market: ``us``, ``ca``, ``uk``, ``eu``, ``au`` or ``nz`` [-].

    Source: ``words``.
    """
    return say(f"{{kind_{kind}}}", market) if is_word(f"kind_{kind}") else kind.replace("_", " ")


def _word(name: str, market: str, coupling: str, papers: str) -> str | None:
    if not is_word(name):
        return None
    key = name[0].lower() + name[1:]
    if key == "coupling_load":
        key = "pin_weight" if coupling == "fifth_wheel" else "tongue_weight"
    data = read("words")
    if key in data["words"]:
        row, like = data["words"][key], "us" if market == "ca" else market
        kind = {"fifth_wheel": "pin", "": "any"}.get(coupling, "") if like == "us" else ""
        word = (
            row.get(kind)
            or row.get(market)
            or row.get(like)
            or row.get("us" if like == "us" else "else")
            or row["us"]
        )
        word = say(word, market, coupling, papers) if "{" in word else word
    else:
        found = concept(key)
        word = found.short.get(market) or term(key, market)
    return _like(name, word)


def _like(model: str, word: str) -> str:
    return word[0].upper() + word[1:] if model[0].isupper() else word


@cache
def _spelling(market: str) -> tuple[re.Pattern[str] | None, Mapping[str, str]]:
    if market not in MARKETS:
        raise NotInTableError(f"no market '{market}'")
    data = read("words")
    if market == "us":
        return None, {}
    table = data["spelling"]
    if market == "ca":
        table = {word: table[word] for word in data["spelling_ca"]}
    body = "|".join(re.escape(word) for word in sorted(table, key=lambda word: (-len(word), word)))
    return re.compile(rf"(?<![\w{{]){'(?:' + body + ')'}(?![\w}}])", re.IGNORECASE), table


def units(market: str) -> Mapping[str, str]:
    """Units of a market where the owner wrote none: ``base``, ``road`` and perhaps ``pressure`` [-].

    Args:
        market: ``us``, ``ca``, ``uk``, ``eu``, ``au`` or ``nz`` [-].

    Source: ``words``.
    """
    found: Mapping[str, str] = read("words")["units"][market]
    return found


@cache
def concept(key: str) -> Concept:
    """Find a concept.

    Args:
        key: its key, for example ``tongue_weight`` [-].

    Returns:
        The concept [-].

    Raises:
        NotInTableError: unknown key.

    Source: ``words``.
    """
    data = read("words")
    row = data["concepts"].get(key)
    if row is None:
        raise NotInTableError(f"no word for '{key}' in the table")
    named = {m: tuple(row[m]) for m in MARKETS if m in row}
    extra = {name: dict(row.get(name, {})) for name in ("short", "listed")}
    for table in (named, *extra.values()):
        if "us" in table:
            table.setdefault("ca", table["us"])
    return Concept(
        key, row["means"], row.get("trap", ""), row["plain"], named, extra["short"], extra["listed"],
        tuple(row.get("fields", ())), data["source"],
    )  # fmt: skip


def terms(key: str, market: str) -> tuple[str, ...]:
    """All terms of a market for a concept, the one to print first.

    Args:
        key: key of the concept [-].
        market: ``us``, ``ca``, ``uk``, ``eu``, ``au`` or ``nz`` [-].

    Returns:
        Terms [-], never empty.

    Raises:
        NotInTableError: unknown key or market.

    Source: ``words``.
    """
    if market not in MARKETS:
        raise NotInTableError(f"no market '{market}'")
    found = concept(key)
    return found.terms.get(market) or (found.plain,)


def term(key: str, market: str) -> str:
    """The term to print for a concept in a market.

    Args:
        key: key of the concept [-].
        market: ``us``, ``ca``, ``uk``, ``eu``, ``au`` or ``nz`` [-].

    Returns:
        The term [-]; plain words where the market has none.

    Raises:
        NotInTableError: unknown key or market.

    Source: ``words``.
    """
    return terms(key, market)[0]
