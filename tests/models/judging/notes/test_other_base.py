"""Both bases of a relay's current: a definition, I primary = ratio x I secondary."""

import pytest

from models.judging import Criteria, Reading
from models.procedures import Subject, compile_rule, judge

RELAY = {"curve": "ieee_very_inverse", "pickup_a": 320.0, "time_dial": 2.0}
CT = {"ct_primary_a": 600.0, "ct_secondary_a": 5.0}
SAID = {
    "set in primary": (
        CT,
        960.0,
        ["Through the CT 600:5 960.0 A primary are 8.000 A at the relay."],
    ),
    "set in secondary": (
        {**CT, "pickup_base": "secondary", "pickup_a": 2.0},
        6.0,
        ["Through the CT 600:5 720.0 A primary are 6.000 A at the relay."],
    ),
    "no ratio": ({"ct_primary_a": 600.0}, 960.0, []),
}


@pytest.mark.parametrize(("plate", "applied_a", "said"), SAID.values(), ids=SAID)
def test_the_working_says_both(
    criteria: Criteria, plate: dict[str, object], applied_a: float, said: list[str]
) -> None:
    rule = compile_rule("relay_timing", Subject(**{**RELAY, **plate}), criteria)
    reading = Reading(
        key="1", text="5.9", unit="s", conditions={"applied_a": applied_a}
    )
    (one,) = judge([(rule, reading)])
    assert [line for line in one.working if line.startswith("Through")] == said
    assert rule.version == (3 if said else 2)
