"""How a value was compared with a limit."""

from models.judging.measured import Measured
from models.judging.near import at_least
from models.judging.sentences.numbers import bounded, u_of, value_of
from models.judging.steps import Step
from models.judging.verdicts import Verdict
from models.judging.wording import amount
from models.words import say


def low_sentence(measured: Measured, step: Step, name: str) -> str:
    """Return the sentence for at least a limit of this name."""
    assert step.low is not None
    limit = _named(measured, name, step.low)
    if step.low <= 0 and not measured.signed:
        return say("low.nothing", limit=limit)
    above = at_least(measured.shown, step.low)
    return _sentence(measured, step, limit, side="low", above=above)


def high_sentence(measured: Measured, step: Step, name: str) -> str:
    """Return the sentence for at most a limit of this name."""
    assert step.high is not None
    limit = _named(measured, name, step.high)
    above = not at_least(step.high, measured.shown)
    return _sentence(measured, step, limit, side="high", above=above)


def _named(measured: Measured, name: str, limit: float) -> str:
    return say("limit", name=name, value=amount(limit, measured.unit))


def _sentence(
    measured: Measured, step: Step, limit: str, *, side: str, above: bool
) -> str:
    if step.verdict is Verdict.MARGINAL:
        where = "marginal_above" if above else "marginal_below"
        return say(
            f"{side}.{where}", value=value_of(measured), limit=limit, u=u_of(measured)
        )
    value = value_of(measured)
    if measured.expanded:
        away = _away(measured, side, met=step.verdict is Verdict.WITHIN)
        value = say(f"value.{away}", value=value, u=u_of(measured))
    return say(f"{side}.{step.verdict}", value=bounded(measured, value), limit=limit)


def _away(measured: Measured, side: str, *, met: bool) -> str:
    """Return the side on which U matters: of a bound, that which is known."""
    if not measured.exact:
        return "minus_u" if measured.over_range else "plus_u"
    return "minus_u" if (side == "low") is met else "plus_u"
