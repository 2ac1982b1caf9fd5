"""The counter of a breaker or an arrester: as left it is never below as found."""

import pytest

from models.judging import Criteria, Reading
from models.procedures import Subject, compile_rule, judge

ARRESTER = "arrester_leakage"
SAID = {
    "moved": (1204.0, 1216.0, "Counter: 1204 as found, 1216 as left, 12 operations"),
    "not moved": (7.0, 7.0, "Counter: 7 as found, 7 as left, 0 operations between."),
    "back": (1216.0, 1204.0, "Counter: 1204 as left is below 1216 as found. Look"),
    "only as found": (7.0, None, None),
}


@pytest.mark.parametrize("procedure", ["spring_charging", ARRESTER])
@pytest.mark.parametrize(("found", "left", "said"), SAID.values(), ids=SAID)
def test_what_is_said(
    criteria: Criteria,
    procedure: str,
    found: float,
    left: float | None,
    said: str | None,
) -> None:
    plate = {"limit": 300.0, "limit_unit": "uA"} if procedure == ARRESTER else {}
    rule = compile_rule(procedure, Subject(**plate), criteria)
    known = {"counter_as_found": found, "supply": "ac"}
    if left is not None:
        known["counter_as_left"] = left
    unit = "s" if procedure == "spring_charging" else "uA"
    reading = Reading(key="1", text="9", unit=unit, conditions=known)
    (judged,) = judge([(rule, reading)])
    assert judged.verdict == "within"  # whatever the counter says
    lines = [line for line in judged.working if line.startswith("Counter")]
    assert len(lines) == (said is not None)
    assert said is None or lines[0].startswith(said)
