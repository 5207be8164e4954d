"""The factors that are kept, against pint: every unit that may be written or printed, and no other."""

from __future__ import annotations

from pathlib import Path

import pytest

from cardgen.units import factors
from cardgen.units.kinds import SI_UNIT, SPELLINGS
from cardgen.units.registry import from_pint
from cardgen.units.show import COMMON, STYLES

FILE = Path(factors.__file__)
HEAD = '''"""(factor, offset) to SI of every unit by pint expression and kind; made by pint, renewed by its test."""

from __future__ import annotations

FACTORS: dict[tuple[str, str], tuple[float, float]] = {
'''


def units() -> list[tuple[str, str]]:
    """Every unit that may be written or printed, with its kind."""
    written = {(unit, kind) for kind, names in SPELLINGS.items() for unit in names.values()}
    styles = [*STYLES.values(), COMMON]
    return sorted(
        written | {(style.unit, kind) for one in styles for kind, style in one.items() if kind in SI_UNIT}
    )


def test_factors_are_those_of_pint(request: pytest.FixtureRequest) -> None:
    """Another pint may give another last digit, and nothing more."""
    if request.config.getoption("--update-golden"):
        rows = (f'    ("{unit}", "{kind}"): {from_pint(unit, kind)!r},\n' for unit, kind in units())
        FILE.write_text(HEAD + "".join(rows) + "}\n", encoding="utf-8")
        return
    assert sorted(factors.FACTORS) == units(), "renew it with: pytest --update-golden tests/units"
    wrong = {
        key: (known, from_pint(*key))
        for key, known in factors.FACTORS.items()
        if known != pytest.approx(from_pint(*key), rel=4e-16, abs=0.0)
    }
    assert wrong == {}
