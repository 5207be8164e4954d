"""Each market in its own words and units: one rig of each, built, and every text of it read."""

from __future__ import annotations

import dataclasses
import datetime as dt
import re
import shutil
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path

from cardgen.model.read import read_rig
from cardgen.model.starter import Wish, starter
from cardgen.present.cards import KINDS
from cardgen.present.prepare import prepare
from cardgen.source.disk import Disk
from cardgen.tables.lookup import read
from cardgen.tables.words import MARKETS, concept, concepts, keys, say
from tests.acceptance.shed import DAY, ROOT, here
from tests.packed import measure_data
from tests.tables.test_say import PLAIN

MADE = ROOT / "tests" / "data" / "markets"
OF = {
    market: MADE / f"{name}.yaml"
    for market, name in zip(
        ("us", "ca", "uk", "eu", "au", "nz"),
        ("sorrel", "loon", "tor", "elch", "gibber", "weka"),
        strict=True,
    )
}
"""One rig of each market, of a kind that the demo lacks, as plate and papers describe it."""
COMMON = {word.lower() for word in PLAIN} | {
    "curb",
    "payload",
    "coupling",
    "rating",
    "hitch",
    "trailer axle load, coupled",
}
"""Words that every market understands, or that also name something else."""
ABROAD = ("drawbar rating", "vehicle drawbar", "antenna", "driver's door", "0 lb", "ST205/75R14", "first miles", "surge",
          "LP", "RV", "towbar tongue", "license", "weight label", "load range", "4-flat", "5-flat", "7-blade", "gasoline",
          "scale ticket", "public scale", "gross trailer weight", "equalizer", "hitch height", "us-va", "at least one state",
          "wire gauge")  # fmt: skip
"""Words of North America."""
CHAINED = (
    "house battery",
    "safety chain",
    "bars, jockey wheel",
    "chains, wiring",
    "jack on the scale",
    "low jack",
)
"""Things that European trailers mostly go without."""
NEVER = {
    "us": ("coupling load", "aerial", "roadside help", "nearside"),
    "ca": ("coupling load", "nearside", "first miles", "first mile", "us-va", "50 mm"),
    "uk": (*(word for word in ABROAD if word != "first miles"), "ute", *CHAINED),
    "eu": (*ABROAD, "nearside", "ute", *CHAINED),
    "au": (*ABROAD, "ball load", "axle group rating"),
    "nz": (*ABROAD, "ball load", "trailer GVM", "loaded trailer against its GVM"),
}
EVERYWHERE = re.compile(
    r"\[(?:us|ca|uk|eu|au|nz|de)[ a-z]*: |\{[a-z_]+\}|\b\d\d?-(?:blade|flat|round|flat-au)\b"
)
"""What no reader is told: a passage or a place that nobody filled, a key of the file."""
UNITS = {
    "us": r"\d (?:kg(?!/)|km/h|km|kPa|bar|N·m)\b",
    "ca": r"\d (?:mph|mi|miles|bar|ft)\b",
    "uk": r"\d (?:lb|lbs|km/h|km|kPa|US gal|lb·ft|ft|in)\b",
    "eu": r"\d (?:lb|mph|mi|miles|psi|kPa|gal|lb·ft|ft|in)\b",
    "au": r"\d (?:lb|mph|mi|miles|psi|bar|gal|lb·ft|ft|in)\b",
    "nz": r"\d (?:lb|mph|mi|miles|bar|gal|lb·ft|ft)\b",
}
"""Units that neither the market nor its rig writes: the New Zealand rig has its pressures in psi."""
LAW = re.compile(r"\b(?:\d+ CFR|FMVSS|NHTSA|COMAR|WAC \d|\d+ FR \d|SAE|ASTM)")
BRAKES = re.compile(r"\bsurge(?=, electric_hydraulic| for )")
"""A kind of brakes as a file names it; what it is called here stands beside."""
CITED = re.compile(
    r", (?:19|20)\d\d(?: to| on|,|$)|official text|word-for-word copy|secondary copy|from memory|reprint|no source|published|looked up \d|Interval:"
)
"""Marks of a citation, whose title keeps the words of the document."""
ADVICE = re.compile(r"read in a reprint|, \d{4} to \d{4}$")
"""Documents behind the items of the checklist; they are advice and may be of any place."""


def foreign(market: str) -> re.Pattern[str]:
    """Words of other markets that this one does not use, and spellings that are not its own."""

    def of(one: str) -> set[str]:
        found = {word for key in concepts() for word in concept(key).terms.get(one, ())}
        found |= {say(f"{{{key}}}", one, kind) for key in keys() for kind in ("ball", "fifth_wheel", "")}
        return {word.lower() for word in found}

    spelling: dict[str, str] = read("words")["spelling"]
    wrong = set(spelling) if market != "us" else set(spelling.values())
    wrong = set(read("words")["spelling_ca"]) if market == "ca" else wrong
    own = of(market)
    words = set().union(*(of(one) for one in MARKETS)) - own - COMMON | wrong - {"curb"}
    words = {word for word in words if not any(re.search(rf"\b{re.escape(word)}\b", one) for one in own)}
    words |= {word.lower() for word in NEVER[market]}
    kept = sorted((word for word in words if len(word) > 2 or word in NEVER[market]), key=len, reverse=True)
    return re.compile(rf"(?<![\w.\-/])(?:{'|'.join(map(re.escape, kept))})(?![\w\-]|\.\w)", re.IGNORECASE)


class Texts(HTMLParser):
    """Texts of a page, without scripts, codes, and the section that names the words of other markets."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []
        self.skip = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Begin to leave out."""
        if not self.skip and (tag in ("script", "style", "code") or dict(attrs).get("id") == "glossary"):
            self.skip = tag

    def handle_endtag(self, tag: str) -> None:
        """Go on reading."""
        if tag == self.skip:
            self.skip = ""

    def handle_data(self, data: str) -> None:
        """Keep a text."""
        if not self.skip and data.strip():
            self.found.append(" ".join(data.split()))


def strings(value: object) -> Iterator[str]:
    """Every text in a view model."""
    if isinstance(value, str):
        yield " ".join(value.split())
    elif isinstance(value, (tuple, list)):
        for one in value:
            yield from strings(one)
    elif dataclasses.is_dataclass(value):
        for item in dataclasses.fields(value):
            if item.name not in ("kind", "id", "slug", "url", "shape", "align"):
                yield from strings(getattr(value, item.name))


def texts(market: str, out: Path) -> Iterator[str]:
    """Every text of a build: pages, cards, and the starter of a new rig."""
    for page in sorted(out.glob("*/*.html")):
        reader = Texts()
        reader.feed(page.read_text("utf-8"))
        yield from (f"{page.name}: {text}" for text in reader.found)
        if page.name == "measure.html":  # its script writes the page
            data = measure_data(page)
            asked = [data[part] for part in ("words", "things", "places")]
            asked += [[column["q"] for column in spec.get("c", ())] for spec in data["specs"]]
            yield from (f"{page.name}: {text}" for text in strings(asked))
    rig = read_rig(OF[market], Disk()).rig
    assert rig is not None
    view = prepare(rig, dt.date.fromisoformat(DAY))
    for kind in KINDS.values():
        yield from (f"{kind.id}: {text}" for text in strings(kind.make(view)))
    body = "travel_trailer" if market in ("us", "ca") else "caravan"
    for line in starter(Wish("new", market, body=body, vehicle="suv", axles=2, brakes="surge")).splitlines():
        yield f"starter: {line.partition('# ')[2]}"


def test_no_text_of_a_market_holds_a_word_unit_or_law_of_another(tmp_path: Path) -> None:
    wrong: list[str] = []
    for market, file in OF.items():
        out, rigs = tmp_path / market, tmp_path / f"rigs-{market}"
        shutil.copytree(file.parent, rigs, ignore=shutil.ignore_patterns("revisions"))
        ran = here(
            "build", str(rigs / file.name), "--out", str(out), "--html-only", "--date", DAY, "--jobs", "1"
        )
        assert list(out.glob("*/index.html")), ran.err
        words, units = foreign(market), re.compile(UNITS[market])
        seen = list(texts(market, out))
        assert len(seen) > 1000
        for text in dict.fromkeys(seen):
            # a field of the file, and the two sizes of ball; what is cited keeps the words of the document
            parts = () if text.endswith("reprint)") else BRAKES.sub("", text).split("; ")
            said = "; ".join(part for part in parts if not CITED.search(part))
            plain = re.sub(r"\b\w+(?:\.\w+)+\b|2 in(?= \(50)", "", said)
            assert "<function" not in text, text
            found = EVERYWHERE.search(text) if not text.startswith("starter") else None
            found = found or words.search(plain) or units.search(plain)
            if found is None and market not in ("us", "ca") and not ADVICE.search(text):
                found = LAW.search(text)
            if found:
                wrong.append(f"{market} '{found[0]}': {text[:140]}")
    assert wrong == [], "\n".join(wrong)
