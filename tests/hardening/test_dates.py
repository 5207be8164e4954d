"""Ends of years, leap days and week 53: the day is an argument and is never read from a clock."""

from __future__ import annotations

import datetime as dt
import re
from pathlib import Path

import pytest

from cardgen.cli import main
from cardgen.model.read import read_rig
from cardgen.physics.dates import tire_made
from cardgen.present.prepare import prepare
from cardgen.present.validity import same_until
from tests.acceptance.shed import RIGS, results_of
from tests.commands.workspace import PLAIN, write
from tests.each import each

DAYS = (
    "1990-01-01", "1999-12-31", "2000-02-29", "2026-12-31", "2027-01-01", "2027-12-31", "2028-02-29", "2028-12-31",
    "2099-12-31", "2100-02-28", "2100-12-31",
)  # fmt: skip
CODES = ("0100", "5200", "5300", "5320", "5326", "0127", "5399", "0199")


@each("day", DAYS)
def test_every_demo_rig_on_every_odd_day(day: str) -> None:
    for file in sorted(RIGS.glob("*.yaml"))[DAYS.index(day) % 3 :: 3]:
        found = results_of(file, date=day)
        assert found["day"] == day
        for due in found["checklist"]["due"]:
            assert due["state"]
            if due["until"] and due["last"]:
                assert due["until"] >= due["last"]


def test_one_day_makes_one_day_of_difference() -> None:
    """From the last day of a year to the first of the next nothing jumps but what is due or has aged."""
    for file in sorted(RIGS.glob("*.yaml")):
        one, other = results_of(file, date="2026-12-31"), results_of(file, date="2027-01-01")
        assert one["cases"] == other["cases"]
        assert one["figures"] == other["figures"]
        changed = [a["code"] for a, b in zip(one["findings"], other["findings"], strict=True) if a != b]
        assert all(code.startswith("tire-age") for code in changed), changed


@each("code", CODES)
def test_week_codes(code: str) -> None:
    """ISO 8601 week 1 holds the first Thursday of the year; week 53 of a short year runs into the next."""
    made = tire_made(code)
    assert made is not None
    assert made.isoweekday() == 1
    week, year = int(code[:2]), 2000 + int(code[2:])
    assert made == dt.date.fromisocalendar(year, 1, 1) + dt.timedelta(weeks=week - 1)


@pytest.mark.parametrize("day", DAYS)
@pytest.mark.parametrize("code", CODES)
def test_validity_never_lies_before_the_day(tmp_path: Path, day: str, code: str) -> None:
    text = PLAIN.format(nickname="Plover").replace(
        "trailer:\n", f"trailer:\n  tires: {{type: ST, size: ST205/75R14, date_code: '{code}'}}\n", 1
    )
    more = "dates: {last_tow: 2024-02-29, lp_check: 2026-12-31, bearing_service: 2028-02-29, battery: 1999-12-31}\n"
    read = read_rig(write(tmp_path, "plover", text + more))
    assert read.rig is not None, read.faults
    today = dt.date.fromisoformat(day)
    assert same_until(prepare(read.rig, today)) >= today


@pytest.mark.parametrize(
    "day",
    [
        "2026-02-29",
        "2100-02-29",
        "2026-13-01",
        "2026-00-10",
        "2026-1-1",
        "31.12.2026",
        "",
        "today",
        "-2026-01-01",
    ],
)
def test_days_that_are_none(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], day: str
) -> None:
    monkeypatch.chdir(tmp_path)
    write(tmp_path, "plover", PLAIN.format(nickname="Plover") + f"dates: {{last_tow: '{day}'}}\n")
    assert main(["check"]) == 3
    assert "[date]" in capsys.readouterr().err
    with pytest.raises(SystemExit) as stop:
        main(["check", f"--date={day}"])
    assert stop.value.code == 2


def test_the_day_on_the_card_is_the_one_asked_for(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    write(tmp_path, "plover")
    for zone in ("Pacific/Kiritimati", "Pacific/Niue", "UTC"):
        monkeypatch.setenv("TZ", zone)
        assert main(["build", "--html-only", "--again", "--date", "2026-12-31"]) == 0
        page = (tmp_path / "build" / "plover" / "index.html").read_text("utf-8")
        assert re.search(r"31\u00a0Dec\u00a02026|31 Dec 2026", page)
        assert "2027" not in re.sub(r"<script.*?</script>", "", page, flags=re.DOTALL)
