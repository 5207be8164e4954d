"""The little language of conditions: what it allows, and how unknown spreads."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen.checklist.conditions import ConditionError, Value, compile_condition
from cardgen.checklist.schema import FeatureDef
from tests.each import each

DEFS = {
    "awning": FeatureDef(kind="flag", meaning="", left_out="absent"),
    "lp": FeatureDef(kind="flag", meaning="", left_out="ask"),
    "axles": FeatureDef(kind="count", meaning="", left_out="ask"),
    "jack": FeatureDef(kind="choice", meaning="", left_out="absent", choices=("fixed", "none")),
}
UNKNOWN: dict[str, Value] = dict.fromkeys(DEFS)


def holds(text: str, **features: Value) -> bool | None:
    return compile_condition(text, DEFS).holds(UNKNOWN | features)


@each(
    ("text", "features", "expected"),
    [
        ("", {}, True),
        ("awning", {"awning": True}, True),
        ("awning", {"awning": False}, False),
        ("awning", {}, None),
        ("not awning", {}, None),
        ("axles", {"axles": 0}, False),
        ("axles >= 2", {"axles": 2}, True),
        ("axles < 2", {"axles": 2}, False),
        ("axles == 1", {"axles": 1}, True),
        ("axles > 1", {}, None),
        ("jack == 'fixed'", {"jack": "fixed"}, True),
        ("jack != 'fixed'", {"jack": "none"}, True),
        ("jack in ('fixed', 'none')", {"jack": "none"}, True),
        ("jack not in ('fixed',)", {"jack": "fixed"}, False),
        ("jack is None", {}, True),
        ("jack is not None", {"jack": "none"}, True),
        ("awning and lp", {"awning": False}, False),
        ("awning and lp", {"awning": True}, None),
        ("awning or lp", {"awning": True}, True),
        ("awning or lp", {"awning": False}, None),
        ("not (awning or lp)", {"awning": True}, False),
    ],
)
def test_three_valued_logic(text: str, features: dict[str, Value], expected: bool | None) -> None:
    assert holds(text, **features) is expected


def test_is_none_looks_at_what_was_told_not_at_assumptions() -> None:
    condition = compile_condition("axles is None or axles == 0", DEFS)
    assert condition.holds(UNKNOWN | {"axles": None}, UNKNOWN | {"axles": 0}) is True
    assert compile_condition("axles is not None", DEFS).holds(UNKNOWN, UNKNOWN | {"axles": 0}) is False


@each(
    "text",
    [
        "garage",
        "jack",
        "awning == True",
        "jack == 'bent'",
        "jack in ('fixed', 'bent')",
        "jack in ()",
        "jack == 1",
        "jack < 'fixed'",
        "jack in 'fixed'",
        "axles == 'two'",
        "axles == True",
        "axles in (1, 2)",
        "axles is 2",
        "1 < axles",
        "1 < axles < 3",
        "'fixed' == jack",
        "axles + 1",
        "-axles",
        "awning if lp else axles",
        "awning.real",
        "awning[0]",
        "jack.upper()",
        "__import__('os')",
        "(lambda: awning)()",
        "[awning for awning in jack]",
        "f'{jack}'",
        "awning; lp",
        "awning and",
        "awning := lp",
        "\x00",
        "(" * 300 + "awning" + ")" * 300,
    ],
)
def test_everything_else_is_refused(text: str) -> None:
    with pytest.raises(ConditionError):
        compile_condition(text, DEFS)


def test_the_names_of_a_condition_are_known() -> None:
    made = compile_condition("awning and (lp or axles >= 2) and jack is None", DEFS)
    assert made.names == {"awning", "lp", "axles", "jack"}


@given(st.dictionaries(st.sampled_from(["awning", "lp"]), st.sampled_from([True, False, None])))
def test_an_answer_never_changes_when_the_unknown_becomes_known(told: dict[str, Value]) -> None:
    """Kleene's logic is monotone: what is decided stays decided."""
    for text in ("awning and lp", "awning or not lp", "not awning and lp", "not (awning and not lp)"):
        before = holds(text, **told)
        for fill in (True, False):
            after = holds(
                text, **({"awning": fill, "lp": fill} | {k: v for k, v in told.items() if v is not None})
            )
            assert before is None or before is after
