"""How a reading was compared with what is expected, and with the baseline."""

from collections.abc import Mapping

from models.judging.derive import value_named
from models.judging.measured import Measured
from models.judging.parts import Part
from models.judging.sentences.limits import high_sentence, low_sentence
from models.judging.sentences.names import name_of
from models.judging.sentences.numbers import compared_of, in_unit, value_of
from models.judging.state import State
from models.judging.steps import Step
from models.judging.wording import amount, as_factor, plain, written
from models.words import say

# Whether what lies below, and above, is judged -> the sign of the margin.
SIGNS = {(True, False): "−", (False, True): "+"}
EDGES = {(True, False): "expected_value.least", (False, True): "expected_value.most"}


def expected_value_sentence(state: State, step: Step) -> str:
    """Return what is expected, how it was found, and how far from it is allowed."""
    part = step.part
    assert part is not None
    unit, expected = compared_of(state, part).unit, part["expected"]
    parts = {
        "expected": amount(step.numbers["expected"], unit),
        "margin": _margin(part, unit, step.numbers),
    }
    if not isinstance(expected, Mapping):
        return say("expected_value", **parts)
    name = name_of(state, expected["on"], expected.get("label"))
    condition = f"{name} {_value(state, expected)}".strip()
    if "points" in expected:
        return say("expected_value.at", condition=condition, **parts)
    times, plus = expected.get("times", 1.0), expected.get("plus", 0.0)
    return say(
        _edge(part, step.numbers) or _how(times, plus),
        times=as_factor(times),
        plus=as_factor(plus),
        what=name,
        condition=condition,
        **parts,
    )


def _edge(part: Part, numbers: Part) -> str | None:
    """Return the sentence of a multiple that is itself the limit, on one side."""
    expected, sides = (
        part["expected"],
        (part.get("below", True), part.get("above", True)),
    )
    if numbers["within"] or expected.get("plus") or "times" not in expected:
        return None
    return EDGES.get(sides)


def _how(times: float, plus: float) -> str:
    """Return the sentence of a multiple, a sum, both, or the condition itself."""
    if times == -1.0 and not plus:
        return "expected_value.opposite"
    if times == 1.0:
        return "expected_value.plus" if plus else "expected_value.itself"
    return "expected_value.of" if plus else "expected_value.times"


def _margin(part: Part, unit: str, numbers: Part) -> str:
    """Return how far from it is allowed, and on which side; nothing for not at all."""
    if not numbers["within"]:
        return ""
    sides = (part.get("below", True), part.get("above", True))
    return say(
        "expected_value.margin",
        sign=SIGNS.get(sides, "±"),
        within=amount(numbers["within"], unit, numbers["expected"]),
        share=_share(part, unit),
    )


def _share(part: Part, unit: str) -> str:
    pct, fixed = part.get("pct", 0.0), part.get("fixed", 0.0)
    fixed = part.get("within_deg", fixed)
    if not fixed:
        return say("expected_value.share", pct=as_factor(pct))
    if not pct:
        return say("expected_value.fixed")
    return say("expected_value.greater", pct=as_factor(pct), fixed=amount(fixed, unit))


def _value(state: State, expected: Part) -> str:
    at = value_named(state, expected["on"])
    if at is None:
        return ""
    if expected["on"] in state.derived:
        return value_of(at)
    named = state.said_unit if isinstance(state.rule.said, Mapping) else None
    return written(at.shown, expected.get("unit") or named or "")


def no_expected_sentence(state: State, step: Step) -> str:
    """Return why nothing is expected: not known, or beyond the points."""
    assert step.part is not None
    expected = step.part["expected"]
    what = name_of(state, expected["on"], expected.get("label"))
    value = _value(state, expected)
    if not value:
        return say("no_expected", what=what)
    points = expected.get("points") or [[0.0], [0.0]]
    first, last = plain(points[0][0]), plain(points[-1][0])
    return say("no_expected.beyond", what=what, value=value, first=first, last=last)


def least_of_baseline_sentence(state: State, step: Step) -> str:
    """Return the comparison with the least share of the baseline."""
    return low_sentence(_with_both(state, step), step, _named(state, step, "low_times"))


def most_of_baseline_sentence(state: State, step: Step) -> str:
    """Return the comparison with the greatest multiple of the baseline."""
    named = _named(state, step, "high_times")
    return high_sentence(_with_both(state, step), step, named)


def _named(state: State, step: Step, times: str) -> str:
    assert step.part is not None
    return say(
        f"limit.{step.code}",
        times=plain(step.part[times]),
        baseline=in_unit(state, step.part["value"]),
    )


def _with_both(state: State, step: Step) -> Measured:
    """Return the reading with U of both, the baseline's with its own."""
    assert state.measured is not None
    assert step.part is not None
    measured, guard = state.measured, step.numbers["guard"] * step.part["value"]
    return Measured(
        measured.low,
        measured.high,
        measured.shown,
        expanded=guard,
        unit=measured.unit,
        signed=measured.signed,
    )


def expected_sentence(state: State, step: Step) -> str:
    """Return what was expected and what was observed."""
    assert step.part is not None
    outcome = step.numbers["outcome"]
    met = step.part["met"]
    if outcome == "not_fitted" and outcome not in (*met, *step.part["missed"]):
        return say(f"expected.not_fitted.{step.verdict}")
    word = step.part.get("word")
    named = word is None and "as_expected" in met
    if named and outcome in ("as_expected", "not_as_expected"):
        return say(f"expected.{outcome}")
    wanted = word or _either([say(f"outcome.{one}") for one in met])
    observed = say(f"outcome.{outcome}")
    return say(f"expected.{step.verdict}", met=wanted, outcome=observed)


def _either(words: list[str]) -> str:
    first, *rest = words or [""]
    for word in rest:
        first = say("list.or", first=first, second=word)
    return first
