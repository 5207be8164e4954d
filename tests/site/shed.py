"""Pages of the demo rigs, of a rig with gaps and of one that is over, written to a folder."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

from cardgen.bundle.pages import match_of
from cardgen.model.read import read_rig
from cardgen.model.rig import Rig
from cardgen.present.blocks import Banner, KeyNumbers
from cardgen.present.borrower_page import build_borrower_page
from cardgen.present.cards import KINDS
from cardgen.present.history import Download, Notice, Revision
from cardgen.present.index import IndexRig, build_index
from cardgen.present.matrix import Matrix
from cardgen.present.page import Fold, Page, PageBlock
from cardgen.present.prepare import prepare
from cardgen.present.proof import proof
from cardgen.present.report import build_pages
from cardgen.present.rig_view import Edition, RigView
from cardgen.render.env import environment
from cardgen.render.site import asset_files, index_page, landing_page, proof_page, rig_page
from cardgen.units import Quantity

ROOT = Path(__file__).resolve().parents[2]
DAY = dt.date(2026, 11, 25)
EDITION = Edition(3, DAY)
DEMOS = ("dormouse", "heron", "mule", "otter", "stork", "wren")
HISTORY = (
    Revision(1, dt.date(2026, 5, 2)),
    Revision(
        2, dt.date(2026, 8, 3), ("ball mount drop: 2 in -> 4 in", "<b>spare</b>: added"), ("glovebox-card",)
    ),
    Revision(3, DAY, ("new cylinder: right",), ("tire-tag",)),
)
PRINTS = (
    Notice(
        1,
        "",
        dt.date(2026, 5, 2),
        ("Ball mount drop: your card says 2 in, now 4 in.", "New: <b>spare</b>."),
        ("gear mount drop: 2 in -> 4 in",),
    ),
)
DOWNLOADS = (
    Download("glovebox-card", "g", "Glovebox card", "glovebox-card.pdf", 2, "half letter", "abc123", PRINTS),
    Download("tire-tag", "t", "Tire tag", "tire-tag.pdf", 3),
    *(Download(one.id, one.letter, one.title, "", 1) for one in KINDS.values() if one.letter not in "gt"),
)
HOSTILE = "<script>alert(1)</script>\"'&amp;</script><!--${7*7}{{7*7}}"
"""A name that would break out of text, attribute, script or template if it could."""


def sound(path: Path) -> Rig:
    """Read a rig that must have no fault."""
    found = read_rig(path)
    assert found.rig is not None, found.faults
    return found.rig


@cache
def rigs() -> dict[str, Rig]:
    """All rigs of the tests by folder name: demos, gaps, over, hostile names."""
    made = {name: sound(ROOT / "rigs" / f"{name}.yaml") for name in DEMOS}
    made["gaps"] = sound(ROOT / "tests" / "data" / "rigs" / "small.yaml")
    made["full"] = sound(ROOT / "tests" / "data" / "rigs" / "full.yaml")
    heavy = made["heron"]
    low = replace(heavy.trailer, gvwr=Quantity(2000.0, "mass", None, "2000 kg"))
    made["over"] = replace(heavy, nickname="Overfull", trailer=low)
    made["hostile"] = hostile(made["wren"])
    return made


def hostile(rig: Rig) -> Rig:
    """A rig whose every free text tries to break out."""
    trailer = replace(
        rig.trailer,
        name=HOSTILE,
        cargo=tuple(replace(c, name=f"{HOSTILE}{i}") for i, c in enumerate(rig.trailer.cargo)),
        tanks={f"{HOSTILE}{name}": tank for name, tank in rig.trailer.tanks.items()},
    )
    cases = tuple(
        replace(c, name=f"{HOSTILE}{c.name}", tanks={f"{HOSTILE}{n}": q for n, q in c.tanks.items()})
        for c in rig.cases
    )
    state = replace(
        trailer.empty.includes, tanks={f"{HOSTILE}{n}": q for n, q in trailer.empty.includes.tanks.items()}
    )
    trailer = replace(trailer, empty=replace(trailer.empty, includes=state))
    people = tuple(replace(p, name=f"{HOSTILE}{p.name}") for p in rig.occupants)
    contacts = tuple(replace(c, who=HOSTILE, phone=HOSTILE) for c in rig.contacts)
    return replace(
        rig, nickname=HOSTILE, note=HOSTILE, trailer=trailer, cases=cases, occupants=people, contacts=contacts
    )


@cache
def rig_view(name: str) -> RigView:
    """The rig_view of a rig."""
    return prepare(rigs()[name], DAY, EDITION)


@cache
def pages(name: str) -> dict[str, Page]:
    """The pages of a rig by their names."""
    made = build_pages(rig_view(name), HISTORY, DOWNLOADS)
    return {one.name: one for one in (*made, build_borrower_page(rig_view(name), DOWNLOADS))}


def blocks(page: Page, section: str = "") -> list[PageBlock]:
    """All blocks of a page or of one of its sections, those behind a fold included."""
    found: list[PageBlock] = []
    todo = [one for s in page.sections if section in ("", s.id) for one in s.blocks]
    while todo:
        found.append(todo.pop(0))
        todo = [*(found[-1].blocks if isinstance(found[-1], Fold) else ()), *todo]
    return found


@cache
def matrix() -> Matrix:
    """Which vehicle of the demo rigs matches which trailer."""
    made = match_of([ROOT / "rigs" / f"{n}.yaml" for n in DEMOS], DAY)
    assert made is not None
    return made


@dataclass(frozen=True, slots=True)
class Site:
    """A folder with all pages."""

    folder: Path

    def file(self, page: str) -> str:
        """Address of a page on the disk."""
        return (self.folder / page).as_uri()


def beside(folder: Path) -> None:
    """Write what the pages of rigs share."""
    for name, data in asset_files(environment()).items():
        (folder / name).parent.mkdir(exist_ok=True)
        (folder / name).write_bytes(data)


def write(folder: Path) -> Site:
    """Write all pages; the cards are small stand-ins."""
    env = environment()
    entries = []
    for name in rigs():
        place = folder / name
        place.mkdir()
        shown = pages(name)
        (place / "index.html").write_bytes(landing_page(tuple(shown.values()), env))
        for page in shown.values():
            (place / f"{page.name}.html").write_bytes(rig_page(page, env))
        for one in DOWNLOADS:
            if one.href:
                (place / one.href).write_bytes(b"%PDF-1.4\n")
        verdict, keys = blocks(shown["use"], "home")[:2]
        assert isinstance(verdict, Banner)
        assert isinstance(keys, KeyNumbers)
        level, use = verdict.level, shown["use"]
        due = {d.title: f"{use.date[-4:]}-09-14" for d in rig_view(name).checklist.due if d.state == "due"}
        unknown = {d.title: "" for d in rig_view(name).checklist.due if d.state == "unknown"}
        entries.append(
            IndexRig(
                use.nickname, f"{name}/use.html", "not checked" if level == "unknown" else level, level,
                verdict.lines if level == "over" else (), tuple((k.label, k.value) for k in keys.rows[:3]),
                use.subtitle, due | unknown, cards=True,
            )
        )  # fmt: skip
    (folder / "index.html").write_bytes(index_page(build_index(entries, matrix(), "25 Nov 2026"), env))
    beside(folder)
    (folder / "proof.html").write_bytes(proof_page(proof(), env))
    return Site(folder)
