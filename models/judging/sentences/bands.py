"""In which band a value lies, and how far an angle is from the expected one."""

from models.judging.derive import READING
from models.judging.measured import Measured
from models.judging.parts import Part
from models.judging.sentences.names import name_of
from models.judging.sentences.numbers import bounded, compared_of, u_of, value_of
from models.judging.state import State
from models.judging.steps import Step
from models.judging.wording import amount, written
from models.words import say


def band_sentence(state: State, step: Step) -> str:
    """Return the word of the band, or of the first and the last that may hold it."""
    part = step.part
    assert part is not None
    measured = compared_of(state, part)
    first, last = step.numbers["first"], step.numbers["last"]
    value, unit = bounded(measured, _with_u(measured)), measured.unit
    said = {
        "value": value,
        "word": part["bands"][first]["word"],
        "band": _band(part, first, unit),
        "last_word": part["bands"][last]["word"],
        "last_band": _band(part, last, unit),
    }
    key = "band" if first == last else "band.several"
    if part.get("of", READING) == READING:
        return say(key, **said)
    return say(f"{key}.of", name=name_of(state, part["of"], part.get("label")), **said)


def _band(part: Part, at: int, unit: str) -> str:
    bands = part["bands"]
    above = written(bands[at - 1]["to"], unit) if at else ""
    to = written(bands[at]["to"], unit) if "to" in bands[at] else ""
    if not above:
        return say("band.to", to=to) if to else say("band.any")
    return (
        say("band.between", above=above, to=to)
        if to
        else say("band.above", above=above)
    )


def near_angle_sentence(state: State, step: Step) -> str:
    """Return how far the angle is from what is expected, the shorter way round."""
    assert step.part is not None
    measured = compared_of(state, step.part)
    return say(
        f"near_angle.{step.verdict}",
        value=bounded(measured, _with_u(measured)),
        difference=amount(step.numbers["difference"], measured.unit),
        within=written(step.part["within_deg"], measured.unit),
    )


def _with_u(measured: Measured) -> str:
    value = value_of(measured)
    if not measured.expanded:
        return value
    return say("value.with_u", value=value, u=u_of(measured))
