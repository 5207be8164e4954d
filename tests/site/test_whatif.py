"""What-if in a real browser against the whole computation in Python, to the printed digit."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from cardgen.limits.registry import Context, rule_of
from cardgen.limits.tires import tire_load
from cardgen.model.results import Computed, Finding, Outcome
from cardgen.model.rig import Rig
from cardgen.physics.compute import compute
from cardgen.physics.strip import gauge_at
from cardgen.physics.weighing import weigh
from cardgen.present.format import Formatter
from cardgen.present.rig_view import LEVELS
from cardgen.present.whatif import case_of, rig_with
from cardgen.present.whatif_view import WhatIf
from tests.conftest import long_run
from tests.site import shed
from tests.site.shed import DAY, Site
from tests.site.watch import watch

pytestmark = pytest.mark.browser
SETTINGS = {"heron": 16, "wren": 8, "dormouse": 8, "stork": 8, "otter": 5, "mule": 5, "over": 5, "full": 5}
"""Random settings of each rig, 60 in all; in the long run 1,020 [-]."""
TIMES = 17 if long_run() else 1
VARIED = {"over": {"over", "within"}, "wren": {"close", "within"}}
"""Outcomes that the random settings of a rig must have brought up."""
READ = """() => {
  const text = (node) => node ? node.textContent : null;
  const all = {numbers: {}, checks: {}, tires: {}};
  for (const node of document.querySelectorAll('[id^="n-"]')) all.numbers[node.id.slice(2)] = text(node);
  for (const node of document.querySelectorAll('[id^="k-"]')) {
    all.checks[node.id.slice(2)] = [text(node.querySelector('.chip')), text(node.querySelector('.said'))];
  }
  for (const place of ['trailer', 'front', 'rear']) {
    const node = document.getElementById('p-' + place);
    if (node) all.tires[place] = [text(node), text(document.getElementById('p-' + place + '-note')), node.className];
  }
  return all;
}"""


def part(name: str) -> WhatIf:
    """The what-if part of a rig's report."""
    (found,) = (one for one in shed.blocks(shed.pages(name)["check"]) if isinstance(one, WhatIf))
    return found


def settings(what: WhatIf, count: int, seed: int) -> Iterator[list[int]]:
    """Random positions of every control, both ends included."""
    dice = random.Random(seed)
    for number in range(count):
        positions = []
        for control in what.data["controls"]:
            if control["kind"] == "temperature":
                positions.append(dice.randint(control["low"], control["high"]))
            elif control["kind"] == "switch":
                positions.append(dice.choice((0, 100)))
            else:
                positions.append(dice.choice((0, 100)) if number < 3 else dice.randint(0, 100))
        yield positions


def finding_of(computed: Computed, check: dict[str, Any]) -> Finding:
    """What the rule itself says about this setting."""
    rule = rule_of(check["code"])
    assert rule is not None
    probe = replace(computed, envelope={})
    return next(f for f in rule.run(Context(probe, DAY)) if f.code == check["code"])


def compare(name: str, positions: list[int], shown: dict[str, Any]) -> None:
    """Hold every number, limit and pressure on the page against Python's."""
    rig, what = shed.rigs()[name], part(name)
    formatter = shed.rig_view(name).formatter
    case = case_of(rig, what.data, positions)
    one: Rig = rig_with(rig, case)
    computed = compute(one, deep=False, ground=weigh(rig)[0])
    figures = computed.cases[0].figures
    assert set(shown["numbers"]) == set(what.data["numbers"])
    for number, text in shown["numbers"].items():
        expected = formatter.figure(figures[number])
        assert text == expected or (figures[number].value is None and text.startswith(expected)), number
    assert len(shown["checks"]) == len(what.data["checks"]) > 3
    for check in what.data["checks"]:
        finding = finding_of(computed, check)
        word, said = shown["checks"][check["code"]]
        assert word == finding.outcome.value, (check["code"], said, finding)
        if finding.outcome is not Outcome.NOT_CHECKED:
            assert said == formatter.verdict(finding), check["code"]
    kelvin = kelvin_of(what, positions)
    for place, row in shown["tires"].items():
        compare_tire(formatter, computed, place, row, what.data["tires"][place], kelvin)


def kelvin_of(what: WhatIf, positions: list[int]) -> float:
    """Temperature of the last control [K]."""
    style = what.data["styles"]["temperature"]
    return float(positions[-1] * style["factor"] + style["offset"])


def compare_tire(
    formatter: Formatter, computed: Computed, place: str, row: list[str], data: dict[str, Any], kelvin: float
) -> None:
    """Hold pressure, reading and wheel load of one place against Python's."""
    text, note, level = row
    plan = computed.tires[place]
    if plan.wheel_load is None:  # nobody drives, nothing is known of the vehicle's axles
        assert level.endswith("unknown")
        return
    assert f"heavier wheel {formatter.value(plan.wheel_load, 'mass')}" in note
    if plan.pressure is None:
        assert plan.status in ("overloaded", "conflict", "unconfirmed")
        assert level.endswith("over") or plan.status == "unconfirmed"
        return
    assert text == formatter.value(plan.pressure, "pressure")
    assert (
        f"reads {formatter.value(gauge_at(plan.pressure, data['reference'], kelvin), 'pressure')} at" in note
    )
    assert formatter.value(kelvin, "temperature") in note
    found = next(f for f in tire_load(Context(computed, DAY)) if f.code == f"tire-load-{place}")
    assert level == f"pressure {LEVELS[found.outcome]}", (found, note)


def read(page: Page) -> dict[str, Any]:
    """Every output of the what-if part."""
    found: dict[str, Any] = page.evaluate(READ)
    return found


def test_random_settings_agree_with_python(browser: Browser, site: Site) -> None:
    with watch(browser, phone=True) as seen:
        for name, count in SETTINGS.items():
            seen.page.goto(site.file(f"{name}/check.html") + "#what-if")
            outcomes = set()
            for positions in settings(part(name), count * TIMES, 4711):
                address = "#w=" + ",".join(map(str, positions))
                seen.page.evaluate("(hash) => { location.hash = hash }", address)
                expect(seen.page.locator("#w-form")).to_have_attribute("data-setting", address)
                shown = read(seen.page)
                compare(name, positions, shown)
                pinned(seen.page, shown)
                outcomes |= {word for word, _ in shown["checks"].values()}
            assert VARIED.get(name, set()) <= outcomes


def pinned(page: Page, shown: dict[str, Any]) -> None:
    """The bar at the thumb says the verdict and the two weights of the box."""
    said, tongue, trailer, level = page.evaluate(
        "['w-said', 'w-tongue', 'w-trailer'].map((id) => document.getElementById(id).textContent)"
        ".concat(document.getElementById('bar').className.split(' ')[1])"
    )
    assert level == page.evaluate("document.getElementById('w-verdict').className.split(' ')[1]")
    assert said.split(":")[0].lower() == {"unknown": "not checked"}.get(level, level)
    for text, name in ((tongue, "tongue_weight"), (trailer, "trailer_weight")):
        assert text == shown["numbers"][name] or (
            text == "?" and shown["numbers"][name].startswith("not checked")
        )


def test_the_verdict_stays_in_sight_and_the_setting_is_not_lost(browser: Browser, site: Site) -> None:
    with watch(browser, phone=True) as seen:
        page = seen.page
        page.goto(site.file("wren/check.html") + "#what-if")
        for slider in page.locator("input[type=range]").all():
            slider.scroll_into_view_if_needed()
            for one in ("#w-said", "#w-tongue", "#w-trailer"):
                expect(page.locator(one)).to_be_in_viewport()
        page.locator("#w0").fill("37")
        first = read(page)
        page.locator("#b-back").click()
        page.get_by_role("link", name="What governs").click()
        page.reload()
        page.locator("#b-back").click()
        page.get_by_role("link", name="What if").click()
        assert read(page) == first
        assert "#w=37," in page.url
        page.get_by_role("link", name="Use", exact=True).click()
        page.get_by_role("link", name="Check", exact=True).click()
        page.get_by_role("link", name="What if").click()
        expect(page.locator("#w0")).to_have_value("37")


@pytest.mark.parametrize("name", ["heron", "wren", "dormouse", "stork", "otter", "mule"])
def test_loading_cases_are_the_reports_own_numbers(browser: Browser, site: Site, name: str) -> None:
    what, rig_view = part(name), shed.rig_view(name)
    with watch(browser, phone=True) as seen:
        seen.page.goto(site.file(f"{name}/check.html") + "#what-if")
        for index, case in enumerate(rig_view.assessment.computed.cases):
            seen.page.get_by_role("button", name=case.name, exact=True).click()
            shown = read(seen.page)
            for number in what.data["numbers"]:
                assert shown["numbers"][number] == rig_view.formatter.figure(case.figures[number])
            assert seen.page.url.endswith(f"#w=c{index},{what.data['controls'][-1]['start']}")


def test_what_is_missing_is_said_and_nothing_passes(browser: Browser, site: Site) -> None:
    what = part("gaps")
    with watch(browser) as seen:
        seen.page.goto(site.file("gaps/check.html") + "#what-if")
        shown = read(seen.page)
        unknown = [n for n, text in shown["numbers"].items() if text.startswith("not checked: ")]
        assert unknown
        for check in what.data["checks"]:
            if set(check["of"]) & set(unknown):
                assert shown["checks"][check["code"]][0] == "not checked"
        assert "not everything could be checked" in seen.page.locator("#w-verdict").inner_text()
        expect(seen.page.locator("#w-said")).to_contain_text("Not checked")


def test_address_carries_the_setting(browser: Browser, site: Site, served: str) -> None:
    with watch(browser) as seen:
        page = seen.page
        page.goto(f"{served}/wren/check.html?c=g&r=1#what-if")
        page.locator("#w0").fill("37")
        page.get_by_label("outbound").uncheck()
        first = read(page)
        assert "#w=37," in page.url
        address = page.url
        page.goto("about:blank")
        page.goto(address)
        assert read(page) == first
        expect(page.locator("#w0")).to_have_value("37")
        expect(page.locator("#currency")).to_be_visible()  # the card's part of the address is kept


@pytest.mark.parametrize(
    "text", ["#w=", "#w=c99", "#w=1,2,3", "#w=a,b", "#w=%E0%A4%A", "#w=1e99,,,,,,,,,", "#w=__proto__"]
)
def test_a_broken_address_does_no_harm(browser: Browser, site: Site, text: str) -> None:
    with watch(browser) as seen:
        seen.page.goto(site.file("wren/check.html") + text)
        rig_view = shed.rig_view("wren")
        first = rig_view.assessment.computed.cases[0].figures["trailer_weight"]
        assert seen.page.locator("#n-trailer_weight").inner_text() == rig_view.formatter.figure(first)


ROUND = (
    0.5,
    1.5,
    2.5,
    0.25,
    0.35,
    1.005,
    2.675,
    1234.5,
    1235.5,
    999999.5,
    0.125,
    0.375,
    1e-9,
    0.0,
    123456789.25,
)


@pytest.mark.parametrize("digits", [0, 1, 2])
def test_numbers_are_rounded_alike(browser: Browser, site: Site, digits: int) -> None:
    source = (shed.ROOT / "templates" / "scripts" / "whatif.js").read_text(encoding="utf-8")
    body = source[source.index("  function fixed") : source.index("  function whatIf")]
    dice = random.Random(7)
    values = [*ROUND, *(-v for v in ROUND), *(dice.uniform(-5000, 5000) for _ in range(500))]
    with watch(browser) as seen:
        seen.page.goto("about:blank")
        shown = seen.page.evaluate(
            f"([values, digits]) => {{ {body} return values.map((v) => fixed(v, digits)); }}",
            [values, digits],
        )
    assert shown == [f"{round(v, digits) + 0.0:,.{digits}f}" for v in values]
