"""Vacuum integrity: a withstand across the gap, or the residual pressure."""

import pytest

from models.judging import Criteria, Reading, Verdict
from models.procedures import Subject, compile_rule, judge

W, M, X, U = Verdict.WITHIN, Verdict.MARGINAL, Verdict.OUTSIDE, Verdict.UNJUDGED

CLAD15 = Subject(gear="metal_clad", rated_kv=15)  # 0.75 x 36 = 27 kV ac
AC = {"method": "ac", "test_kv": 27.0, "duration_s": 60.0}
DC = {"method": "dc", "test_kv": 40.0, "duration_s": 60.0}
MAGNETRON = {"method": "magnetron"}
MAKER_DC = Subject(gear="metal_clad", rated_kv=15, vacuum_dc_kv=40)
MAKER_PA = Subject(vacuum_limit_pa=1e-3)

VERDICTS: dict[str, tuple[str, str | None, Subject, dict[str, object], Verdict]] = {
    "ac, held at the level": ("held", None, CLAD15, AC, W),
    "ac, below it": ("held", None, CLAD15, AC | {"test_kv": 26.0}, U),
    "ac, more than 5 % above": ("held", None, CLAD15, AC | {"test_kv": 30.0}, M),
    "ac, too short": ("held", None, CLAD15, AC | {"duration_s": 10.0}, U),
    "ac, broke down": ("broke_down", None, CLAD15, AC, X),
    "ac, broke down far below": ("broke_down", None, CLAD15, AC | {"test_kv": 3.0}, X),
    "ac, gas-insulated gear takes the breaker's row": (
        "held",
        None,
        Subject(gear="gas_insulated", rated_kv=38),
        AC | {"test_kv": 60.0},
        W,
    ),
    "ac, nameplate": (
        "held",
        None,
        Subject(rated_withstand_kv=50),
        AC | {"test_kv": 37.5},
        W,
    ),
    "ac, the maker's level first": (
        "held",
        None,
        Subject(rated_kv=15, rated_withstand_kv=36, vacuum_ac_kv=22),
        AC | {"test_kv": 22.0},
        W,
    ),
    "ac, a rating without a row": ("held", None, Subject(rated_kv=12), AC, U),
    "dc, without a maker's level": ("held", None, CLAD15, DC, U),
    "dc, at the maker's level": ("held", None, MAKER_DC, DC, W),
    "dc, broke down without a level": ("broke_down", None, CLAD15, DC, X),
    "magnetron, at the limit": ("1e-2", "Pa", CLAD15, MAGNETRON, W),
    "magnetron, above it": ("1.1e-2", "Pa", CLAD15, MAGNETRON, X),
    "magnetron, under range": ("<1e-3", "Pa", CLAD15, MAGNETRON, W),
    "magnetron, over range below the limit": (">1e-3", "Pa", CLAD15, MAGNETRON, U),
    "magnetron, over range": (">2e-2", "Pa", CLAD15, MAGNETRON, X),
    "magnetron, in millibars": ("1e-4", "mbar", CLAD15, MAGNETRON, W),
    "magnetron, in torrs": ("7.5e-5", "Torr", CLAD15, MAGNETRON, W),
    "magnetron, in torrs, above": ("7.6e-5", "Torr", CLAD15, MAGNETRON, X),
    "magnetron, the maker's limit": ("2e-3", "Pa", MAKER_PA, MAGNETRON, X),
    "magnetron, an outcome": ("held", None, CLAD15, MAGNETRON, U),
    "ac, a number": ("1e-3", "Pa", CLAD15, AC, U),
    "method not known": ("held", None, CLAD15, {"test_kv": 27.0}, U),
}


@pytest.mark.parametrize(
    ("text", "unit", "subject", "conditions", "verdict"),
    VERDICTS.values(),
    ids=VERDICTS,
)
def test_verdict(
    criteria: Criteria,
    text: str,
    unit: str | None,
    subject: Subject,
    conditions: dict[str, object],
    verdict: Verdict,
) -> None:
    rule = compile_rule("vacuum_integrity", subject, criteria)
    reading = Reading(key="", text=text, unit=unit, conditions=conditions)
    assert judge([(rule, reading)])[0].verdict is verdict


def test_the_breaker_s_row_says_how_its_level_was_made(criteria: Criteria) -> None:
    rule = compile_rule("vacuum_integrity", CLAD15, criteria)
    bound = next(b for b in rule.bounds if b["when"] == {"method": "ac"})
    assert bound["level_kv"] == pytest.approx(27)
    assert rule.cite[bound["cite"]]["note"].startswith("0.75 of the rated withstand")
