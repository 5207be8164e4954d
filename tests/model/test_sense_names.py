"""Checks of meaning: names, tires, dates, addresses and ratings."""

from __future__ import annotations

from pathlib import Path

from cardgen.model.read import read_rig
from tests.each import each
from tests.model.thimble import codes
from tests.source.memory import Memory


def test_names_of_people_and_seats() -> None:
    people = "occupants: [{name: Ada, seat: front}, {name: Ben}]"
    assert codes(people, "seats: {front: 5 ft}") == []
    assert codes(people, "seats: {front: unknown}") == []
    assert codes(people) == ["seat-unknown"]
    assert codes(people, "seats: {front: 5}") == ["quantity-bare"]
    cases = "cases: [{name: out, occupants: [Ada, Cyd]}]"
    assert codes(f"{people}\n{cases}", "seats: {front: 5 ft}") == ["occupant-unknown"]
    assert codes("cases: [{name: out, occupants: [Cyd]}]") == ["occupant-unknown"]
    assert codes("cases: [{name: out, occupants: []}]") == []


def test_names_of_cargo() -> None:
    trailer = "cargo: [{name: a, set: beach}, {name: b}]"
    assert (
        codes("cases: [{name: out, cargo: [beach, hills]}]", "cargo: [{name: c, set: hills}]", trailer) == []
    )
    assert codes("cases: [{name: out, cargo: [hills]}]", trailer=trailer) == ["set-unknown"]
    assert codes("cases: [{name: out, cargo: [hills]}]", trailer="cargo: [{name: a, set: yes}]") == [
        "yaml-word"
    ]
    assert codes(trailer=f"{trailer}, empty: {{includes: {{cargo: [b]}}}}") == []
    assert codes(trailer=f"{trailer}, empty: {{includes: {{cargo: [c]}}}}") == ["item-unknown"]


@each(
    ("lines", "found"),
    [
        ("cases: [{name: out}, {name: back}]", []),
        ("cases: [{name: out}, {name: Out}]", ["name-twice"]),
        ("cases: [{name: ''}, {name: ' '}]", ["name-empty"] * 2),
        ("cases: [{nme: x}, {nme: x}]", ["key-missing", "key-missing", "key-unknown", "key-unknown"]),
        ("cases: []", ["cases-none"]),
        ("cases: 5", ["node-kind"]),
        ("cases:", ["key-missing"]),
    ],
)
def test_names_of_cases(lines: str, found: list[str]) -> None:
    assert sorted(codes(lines)) == sorted(found)


def test_a_battery_and_a_cylinder_need_different_names() -> None:
    trailer = "cylinders: {left: {}}, batteries: [{name: Left}]"
    assert codes(trailer=trailer) == ["name-twice"]


@each(
    ("wheel", "found"),
    [("left 1", []), ("right 2", []), ("left 3", ["wheel-name"]), ("Left 1", ["wheel-name"])],
)
def test_names_of_wheels(wheel: str, found: list[str]) -> None:
    weighing = f"weighings: [{{date: 2026-04-30, case: out, wheels: {{{wheel}: 500 lb}}}}]"
    assert codes(weighing, trailer="axles: {count: 2}") == found


@each(
    ("code", "found"),
    [
        ("'0100'", []),
        ("'5326'", []),
        ("2323", []),
        ("'0023'", ["date-code"]),
        ("'5423'", ["date-code"]),
        ("'239'", ["date-code"]),
        ("'DOT 2323'", ["date-code"]),
        ("0123", ["yaml-number"]),
        ("'２３２３'", ["date-code"]),
    ],
)
def test_date_codes(code: str, found: list[str]) -> None:
    for tire in ("tires", "spare"):
        assert codes(trailer=f"{tire}: {{date_code: {code}}}") == found
    for axle in ("front", "rear"):
        assert codes(vehicle=f"tires: {{{axle}: {{date_code: {code}}}}}") == found


@each("symbol", ["A8", "B", "J", "L", "N", "H", "V", "W", "Y", "(Y)", "ZR"])
def test_speed_symbols(symbol: str) -> None:
    assert codes(trailer=f"tires: {{speed_symbol: '{symbol}'}}") == []


@each("symbol", ["I", "O", "X", "Z", "A9", "n", "65 mph", ""])
def test_no_speed_symbols(symbol: str) -> None:
    assert codes(trailer=f"tires: {{speed_symbol: '{symbol}'}}") == ["speed-symbol"]


@each(
    ("rows", "found"),
    [
        ("{pressure: 35 psi, load: 1000 lb}, {pressure: 50 psi, load: 1200 lb}", []),
        ("{pressure: 35 psi, load: 1000 lb}, {pressure: 35 psi, load: 1200 lb}", ["table-rows"]),
        ("{pressure: 35 psi, load: 1000 lb}, {pressure: 50 psi, load: 900 lb}", ["table-rows"]),
        ("{pressure: 35, load: 1000 lb}, {pressure: 30 psi, load: 1100 lb}", ["quantity-bare"]),
        ("{pressure: 35 psi, load: 1000 lb, load_dual: 1100 lb}", ["dual-load"]),
        ("", ["table-rows"]),
    ],
)
def test_load_tables(rows: str, found: list[str]) -> None:
    assert codes(trailer=f"tires: {{table: {{source: s, rows: [{rows}]}}}}") == found


@each(
    ("url", "found"),
    [
        ("https://example.org/", []),
        ("http://example.org:8080/a/b", []),
        ("https://[::1]/", []),
        ("file:///etc/passwd", ["base-url"]),
        ("javascript:alert(1)", ["base-url"]),
        ("example.org", ["base-url"]),
        ("https://", ["base-url"]),
        ("https://a b/", ["base-url"]),
        ("https://[::1/", ["base-url"]),
        ("https://example.org:port/", ["base-url"]),
        ("https://u:p@example.org/", ["base-url"]),
        ("https://example.org/?a=1", ["base-url"]),
        ('https://example.org/"><b>', ["base-url"]),
    ],
)
def test_base_addresses(url: str, found: list[str]) -> None:
    assert codes(f"preferences: {{base_url: '{url}'}}") == found


@each(
    ("lines", "found"),
    [
        ("dates: {last_tow: 2019-06-01}", []),  # model year 2020 may be sold in 2019
        ("dates: {last_tow: 2018-06-01}", ["date-order"]),
        ("dates: {battery: 2015-01-01}", []),
        ("dates: {registration: 2126-01-01}", ["date-order"]),
        ("weighings: [{date: 2011-01-01, case: out}]", ["date-order"]),
        ("dates: {last_tow: soon}", ["date"]),
    ],
)
def test_days(lines: str, found: list[str]) -> None:
    assert codes(lines, trailer="year: 2020") == found


def test_bands() -> None:
    assert codes("limits: {tongue_weight: {low: 100 lb, high: 200 lb}}") == []
    assert codes("limits: {tongue_weight: {low: 100 lb}}") == []
    assert codes("limits: {tongue_weight: {low: 300 lb, high: 200 lb}}") == ["band-order"]
    assert codes("limits: {tongue_share: {low: 10, high: 200 lb}}") == ["quantity-bare", "quantity-kind"]


def test_d_values_are_forces() -> None:
    assert codes(trailer="coupler: {d_value: 8.5 kN}") == []
    assert codes(trailer="coupler: {d_value: 8.5}") == ["quantity-bare"]
    assert codes(vehicle="receiver: {d_value: 850 kg}") == ["quantity-kind"]


@each("name", ["Con", "nul", "INDEX", "com1", "assets"])
def test_reserved_nicknames(name: str) -> None:
    text = f"nickname: {name}\nmarket: us\nvehicle: {{}}\ntrailer: {{type: ball, body: boat}}\ncases: [{{name: a}}]\n"
    found = read_rig(Path("r.yaml"), Memory({"r.yaml": text})).faults
    assert [fault.code for fault in found] == ["nickname-reserved"]


@each("name", ["עגלה", "🛞 wheel", "x" * 200, "Größe", "<b>bold</b>", "{{ 7*7 }}"])
def test_any_other_nickname_will_do(name: str) -> None:
    text = f"nickname: '{name}'\nmarket: us\nvehicle: {{}}\ntrailer: {{type: ball, body: boat}}\n"
    assert read_rig(Path("r.yaml"), Memory({"r.yaml": text + "cases: [{name: a}]\n"})).faults == ()


def test_ratings_that_contradict_weights() -> None:
    assert codes(trailer="gvwr: 700 lb, empty: {weight: 700 lb}") == []
    assert codes(trailer="gvwr: 699 lb, empty: {weight: 700 lb}") == ["gvwr-below-empty"]
    assert codes(vehicle="gvwr: 5000 lb, gcwr: 5000 lb, curb: {weight: 5000 lb}") == []
    assert codes(trailer="gvwr: 700, empty: {weight: 900 lb, tongue: 90}") == ["quantity-bare"] * 2


def test_beams_need_a_lever() -> None:
    beam = "beam: {reading: 90 lb, support_to_jack: 0 in, jack_to_scale: 2 ft}"
    assert codes(f"weighings: [{{date: 2026-04-30, case: out, {beam}}}]") == ["beam-lever"]


@each(
    ("temperature", "found"),
    [("33 F", 0), ("31 F", 1), ("0 C", 0), ("60 C", 0), ("61 C", 1), ("139 F", 0), ("unknown", 0)],
)
def test_water_is_neither_ice_nor_hot(temperature: str, found: int) -> None:
    assert codes(f"water_temperature: {temperature}") == ["quantity-range"] * found


@each("name", ["max_load", "max_load_dual", "max_load_at", "max_pressure"])
def test_no_tire_is_marked_with_nothing(name: str) -> None:
    unit = "kPa" if name in ("max_load_at", "max_pressure") else "kg"
    told = "quantity-range" if name == "max_pressure" else "quantity-zero"
    assert codes(trailer=f"tires: {{{name}: 0 {unit}}}") == [told]
    assert codes(trailer=f"tires: {{{name}: 400 {unit}}}") == []


def test_no_label_asks_for_flat_tires() -> None:
    assert codes(trailer="tire_pressure: 0 psi") == ["quantity-range"]
    assert codes(vehicle="placard: {front: 0 psi, rear: 33 psi}") == ["quantity-range"]
    assert codes(vehicle="placard_towing: {rear: 0 psi}") == ["quantity-range"]
    assert codes(vehicle="placard: {front: 33 psi}", trailer="tire_pressure: 50 psi") == []
