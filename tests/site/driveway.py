"""From nothing to a card as a new user goes, by the page and by the sheet: run by name, outside the suite.

``python -m tests.long driveway``: three kinds of trailer are begun with ``cardgen new``, built, asked about by the
measuring page in a window of a phone's size without a network, taken back on a terminal, and built again. What comes
back is held against the starter edited by hand, letter by letter, and the answers and minutes are printed.
"""

from __future__ import annotations

import contextlib
import itertools
import json
import os
import re
import time
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest
import yaml
from playwright.sync_api import Browser, Locator, Page, expect

from cardgen.cli import main
from cardgen.model.read import ReadResult, read_rig
from cardgen.model.results import Outcome
from cardgen.present.measure import FileText, MeasureView, build_measure
from cardgen.present.measuring_sheet import build_sheet
from cardgen.present.prepare import prepare
from tests.packed import measure_data
from tests.present.test_first_card import DAY, MAIN, MOST, RIG, RIGS, STAMP, TICKETS
from tests.site.watch import watch

pytestmark = pytest.mark.browser
WORDS = {
    "open_utility": ("--brakes", "none", "--vehicle", "suv"),
    "travel_trailer": ("--brakes", "electric", "--axles", "2", "--bars", "yes"),
    "horse": ("--brakes", "none", "--vehicle", "suv"),
}
"""What the person says when the file is made."""
MOULDED = {
    ("load_index", "speed_symbol"): "{size} {load_index}{speed_symbol}",
    ("load_range",): "{size} LR {load_range}",
}
"""How the line on a tire goes on after its size."""
AMOUNT = re.compile(r"(?:([\d,.]+(?: \d+/\d+)?|\d+/\d+) ?(\D.*))")


def told(kind: str) -> dict[str, Any]:
    """What stands on the labels of a rig and its ticket, by field, as it is written in a rig file."""
    read = read_rig(RIGS / f"{RIG[kind]}.yaml")
    assert read.tree is not None
    found: dict[str, Any] = dict(STAMP) if kind == "travel_trailer" else {}

    def walk(node: Any, path: str) -> None:
        if isinstance(node, dict) and path != "trailer.tires.table":
            for name, inner in node.items():
                walk(inner, f"{path}.{name}".lstrip("."))
        elif node not in (None, [], {}):
            found[path] = node

    walk(read.tree.data, "")
    found["weighings"] = yaml.load(TICKETS[RIG[kind]], Loader=yaml.BaseLoader)["weighings"]  # texts only
    return found


def plain(value: str) -> str:
    """A quantity as the page writes it."""
    return value.replace(",", "")


def fill(inside: Locator, spec: Mapping[str, Any], value: Any, specs: list[dict[str, Any]]) -> None:
    """Type or press one answer."""
    if spec["t"] == "number":
        found = AMOUNT.fullmatch(value)
        assert found is not None, value
        inside.locator(f"input[type=radio][value='{found[2]}']").first.check(force=True)
        inside.locator("input.big").first.fill(found[1])
    elif spec["t"] in ("word", "pick", "flag"):
        inside.locator(f"input[type=radio][value='{value}']").first.check(force=True)
    elif spec["t"] == "list":
        for at, one in enumerate(value):
            fill(inside.locator("fieldset").nth(at), specs[spec["i"]], one, specs)
    elif spec["t"] == "rows":
        row = inside.locator("fieldset.row").first
        for at, column in enumerate(spec["c"]):
            here: Any = value[0]
            for key in column["n"]:
                here = here.get(key) if isinstance(here, dict) else None
            if here is not None:
                fill(row.locator("fieldset").nth(at), specs[column["k"]], here, specs)
    else:
        inside.locator("input").first.fill(value)


class Person:
    """Somebody with a phone in front of the rig: answers what is asked, as far as the labels say."""

    def __init__(self, page: Page, data: Any, labels: dict[str, Any]) -> None:
        self.page, self.data, self.labels = page, data, labels
        self.fields = [
            row[0] if isinstance(row[0], str) else ".".join(map(str, row[0])) for row in data["questions"]
        ]
        self.given: dict[str, Any] = {}
        self.answers = self.unknown = 0

    def mate(self, field: str) -> str | None:
        """The field that stands in the same line of a label and is still open."""
        group, _, leaf = field.rpartition(".")
        found = next((f"{group}.{b}" for a, b in self.data["together"] if a == leaf), None)
        return found if found in self.fields and found not in self.given else None

    def said(self, field: str) -> Any:
        """What is typed for a field: on a tire the whole line."""
        value = self.labels.get(field)
        group, _, leaf = field.rpartition(".")
        if leaf != "size" or value is None:
            return value
        marks = {name: self.labels.get(f"{group}.{name}") for name in ("type", *itertools.chain(*MOULDED))}
        read = next((names for names in MOULDED if all(marks[name] for name in names)), ())
        for name in ("type", *read):
            self.given.setdefault(f"{group}.{name}", marks[name])
        return MOULDED[read].format(size=value, **marks) if read else value

    def answer(self) -> None:
        """Answer the question that is shown."""
        at = int(self.page.evaluate("location.hash").removeprefix("#q-"))
        specs = self.data["specs"]
        asked = [self.fields[at]]
        if mate := self.mate(asked[0]):
            asked.append(mate)
        known = [(n, one, value) for n, one in enumerate(asked) if (value := self.said(one)) is not None]
        parts = self.page.locator("form > div")
        for n, one, value in known:
            fill(parts.nth(n), specs[self.data["questions"][self.fields.index(one)][7]], value, specs)
            self.given[one] = self.labels[one]
        if known:
            self.answers += 1
            self.page.get_by_role("button", name="Continue").click()
        else:
            self.unknown += 1
            self.page.get_by_role("button", name="I do not know").click()
        expect(self.page.locator(".say.on")).to_have_count(0)
        self.page.wait_for_function(f"location.hash !== '#q-{at}'")


def by_hand(text: str, given: Mapping[str, Any]) -> str:
    """The starter with answers written where ``unknown`` or an empty list stands, as a careful person does it."""
    made: list[str] = []
    path: list[tuple[int, str]] = []
    for line in text.splitlines():
        found = re.match(r"( *)(\w+):(?: +(unknown|\[\]))?( *)(#.*)?$", line)
        if not found or line.lstrip().startswith("#"):
            made.append(line)
            continue
        indent = len(found[1])
        path = [one for one in path if one[0] < indent] + [(indent, found[2])]
        value = given.get(".".join(name for _, name in path))
        if value is None or not found[3]:
            made.append(line)
        elif isinstance(value, str):
            leaf = found[2]
            words = json.dumps(value) if leaf in ("size", "load_range", "speed_symbol") else plain(value)
            head = f"{found[1]}{leaf}: {words}"
            column = len(found[1]) + len(leaf) + 2 + len("unknown") + len(found[4])
            made.append(head + " " * max(2, column - len(head)) + found[5] if found[5] else head)
        else:
            made.append(f"{found[1]}{found[2]}:{found[4]}{found[5] or ''}".rstrip())
            made += list(lines(value, indent + 2))
    return "\n".join(made) + "\n"


def lines(value: Any, indent: int) -> Iterator[str]:
    """A list in block style: axle ratings, or the visits to a scale."""
    pad = " " * indent
    for item in value:
        if isinstance(item, str):
            yield f"{pad}- {plain(item)}"
            continue
        order = ("date", "case", "alone", "slack", "engaged", "division")
        lead = f"{pad}- "
        for name in (one for one in order if one in item):
            inner = item[name]
            if isinstance(inner, dict):
                yield f"{lead}{name}:"
                yield from (f"{pad}    {axle}: {plain(one)}" for axle, one in inner.items())
            else:
                yield f"{lead}{name}: {json.dumps(inner) if name == 'case' else plain(inner)}"
            lead = f"{pad}  "


@contextlib.contextmanager
def offline(browser: Browser, file: Path) -> Iterator[Page]:
    """The page as a phone keeps it: opened from its storage, no network."""
    with watch(browser, phone=True) as seen:
        seen.page.context.set_offline(True)
        seen.page.goto(file.as_uri())
        yield seen.page
        assert {one.partition(":")[0] for one in seen.asked} <= {"file", "blob"}


def saved(page: Page) -> str:
    """The file that the page gives back."""
    page.evaluate("location.hash = '#file'")
    with page.expect_download() as download:
        page.get_by_role("link", name=re.compile("^Save ")).click()
    return Path(download.value.path()).read_bytes().decode()


def on_paper(view: MeasureView) -> list[int]:
    """Numbers of the first questions in the order of the paper sheet; the tires are read column by column."""
    sheet = build_sheet(view, ["leaving home"])
    order = [line.number for place in sheet.places for _, rows in place.things for line in rows]
    order += [numbers[n] for n in range(4) for _, numbers in sheet.tires if numbers[n]]
    ticket = [one.number for one in view.questions if one.field == "weighings"]
    assert set(order) >= sheet.first
    return [number for number in order if number in sheet.first] + ticket


def laid_out(file: Path) -> tuple[ReadResult, MeasureView]:
    read = read_rig(file)
    assert read.rig is not None, read.faults
    assert read.tree is not None
    text = file.read_text("utf-8")
    return read, build_measure(prepare(read.rig, DAY), read.tree, [FileText(file.name, str(file), text)])


def run(*words: str) -> int:
    return main([*words])


@pytest.mark.parametrize("kind", RIG)
def test_from_the_driveway_to_the_first_card(
    browser: Browser,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    kind: str,
) -> None:
    monkeypatch.chdir(tmp_path)
    day = DAY.isoformat()
    assert run("new", "Finch", "--kind", kind, *WORDS[kind]) == 0
    rig = tmp_path / "rigs" / "finch.yaml"
    text, labels = rig.read_text("utf-8"), told(kind)
    assert run("build", "finch", "--html-only", "--date", day, "--quiet") == 0
    address = tmp_path / "build" / "finch" / "measure.html"
    data, (_, view) = measure_data(address), laid_out(rig)
    began = time.monotonic()
    with offline(browser, address) as page:
        person = Person(page, data, labels)
        page.get_by_role("button", name=re.compile("^First card: ")).click()
        while page.evaluate("location.hash").startswith("#q-"):
            person.answer()
        back = saved(page)
    minutes = (time.monotonic() - began) / 60
    with offline(browser, address) as page:
        paper = Person(page, data, labels)
        for number in on_paper(view):
            field = view.questions[number - 1].field
            if field not in paper.given:
                page.evaluate(f"location.hash = '#q-{[one.number for one in view.questions].index(number)}'")
                page.locator("form").wait_for()
                paper.answer()
        from_paper = saved(page)
    hand = by_hand(text, person.given)
    assert back.partition("\n")[2] == hand
    assert from_paper.partition("\n")[2] == hand
    (tmp_path / "back.yaml").write_text(back, "utf-8")
    ours, theirs = os.openpty()
    os.write(ours, b"yes\n")
    with os.fdopen(theirs) as terminal:
        monkeypatch.setattr("sys.stdin", terminal)
        assert run("take", "back.yaml") == 0
    os.close(ours)
    assert rig.read_text("utf-8") == hand
    read, _ = laid_out(rig)
    assert read.rig is not None
    open_ = [f.code for f in prepare(read.rig, DAY).outcome(Outcome.NOT_CHECKED) if MAIN.fullmatch(f.code)]
    assert open_ == []
    assert run("build", "finch", "--cards", "glovebox-card", "--date", day, "--quiet") == 0
    assert (tmp_path / "build" / "finch" / "glovebox-card.pdf").is_file()
    assert person.answers <= MOST + 1, "the ticket is one more"
    with capsys.disabled():
        print(
            f"\n{kind}: {person.answers} answers, {person.unknown} not known, {minutes:.1f} minutes by script"
        )
