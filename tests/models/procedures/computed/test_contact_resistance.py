"""Contact resistance: what its rule is compiled from, and its gates."""

import pytest

from models.judging import Criteria, Reading, Verdict
from models.procedures import Subject, compile_rule, judge

W, X, U = Verdict.WITHIN, Verdict.OUTSIDE, Verdict.UNJUDGED

# With a maker's limit of 40 microohms, so that a pole alone is judged.
VERDICTS: dict[str, tuple[str, dict[str, object], Verdict]] = {
    "at the limit": ("40", {}, W),
    "above it": ("40.1", {}, X),
    # Copper at 40 degC: 254.5 / 274.5; 40 x 274.5 / 254.5 = 43.14 microohms.
    "warm, within once corrected": ("43.1", {"temperature_c": 40.0}, W),
    "warm, outside": ("43.2", {"temperature_c": 40.0}, X),
    # At 0 degC: 254.5 / 234.5; 40 x 234.5 / 254.5 = 36.86 microohms.
    "in frost, within as read only": ("37", {"temperature_c": 0.0}, X),
    "temperature not known": ("30", {"temperature_c": None}, U),
    "more current than asked": ("30", {"test_current_a": 200.0}, W),
    "less current than asked": ("30", {"test_current_a": 99.0}, U),
    "current not known": ("30", {"test_current_a": None}, U),
    "milliohms are microohms": ("0.040 mOhm", {}, W),
}


@pytest.mark.parametrize(
    ("shown", "conditions", "verdict"), VERDICTS.values(), ids=VERDICTS
)
def test_verdict(
    criteria: Criteria, shown: str, conditions: dict[str, object], verdict: Verdict
) -> None:
    text, _, unit = shown.partition(" ")
    given = {"temperature_c": 20.0, "test_current_a": 100.0} | conditions
    kept = {name: value for name, value in given.items() if value is not None}
    rule = compile_rule(
        "contact_resistance", Subject(conductor="copper", limit=40), criteria
    )
    reading = Reading(key="", text=text, unit=unit or "uOhm", conditions=kept)
    assert judge([(rule, reading)])[0].verdict is verdict


METALS = {"copper": 234.5, "aluminium": 228.1}


@pytest.mark.parametrize(("metal", "k"), METALS.items(), ids=METALS)
def test_the_conductor_s_constant(criteria: Criteria, metal: str, k: float) -> None:
    rule = compile_rule("contact_resistance", Subject(conductor=metal), criteria)
    assert rule.correction["k"] == k
    assert rule.correction["label"] == metal


def test_a_conductor_that_is_not_stated_is_taken_as_copper_and_said(
    criteria: Criteria,
) -> None:
    rule = compile_rule("contact_resistance", Subject(), criteria)
    assert rule.correction["k"] == METALS["copper"]
    assert "not stated" in rule.correction["label"]


def test_the_maker_s_limit_is_cited_as_the_maker_s(criteria: Criteria) -> None:
    rule = compile_rule(
        "contact_resistance", Subject(limit=0.04, limit_unit="mOhm"), criteria
    )
    bound = rule.bounds[-1]
    assert bound["value"] == pytest.approx(40)
    assert rule.cite[bound["cite"]]["provenance"] == "maker"


def test_a_site_may_compare_as_read(criteria: Criteria) -> None:
    """Poles at one temperature need none of it; the working says the setting."""
    rule = compile_rule(
        "contact_resistance",
        Subject(contact_correction="as_read", conductor="copper", limit=40),
        criteria,
    )
    texts = {"30": W, "40": W, "40.1": X, "45.1": X}
    given = {"test_current_a": 100.0}
    items = [
        (rule, Reading(key=t, text=t, unit="uOhm", conditions=given)) for t in texts
    ]
    assert [one.verdict for one in judge(items)] == [*texts.values()]
    said = [part["row"] for part in rule.cite if part["document"].startswith("Setting")]
    assert said == ["contact resistance is compared as read, not corrected to 20 °C"]
