"""Gas: a pressure at 20 degC and the density behind it, a leak rate, moisture."""

from collections.abc import Callable, Mapping

from models.judging.derive import leak_named, value_named
from models.judging.gas import equation_words
from models.judging.isochor import equation_of, refusal
from models.judging.leak import wait_h
from models.judging.measured import Measured
from models.judging.moisture import FORMS, PPMV, vapour_at
from models.judging.near import finite
from models.judging.parts import Part
from models.judging.sentences.names import name_of
from models.judging.sentences.numbers import compared_of, u_of, value_of
from models.judging.sentences.reading import stated_words, without_u
from models.judging.state import State
from models.judging.steps import Step
from models.judging.wording import amount, figure, plain
from models.words import say

HOURS_A_DAY = 24.0
PRESSURES = ("pressure", "most")  # of a refusal; the others are settings


def carried_sentences(state: State, step: Step) -> list[str]:
    """Return the density, the pressure at the reference temperature, and U."""
    correction, read = state.rule.correction, _pressure(state)
    at_c, to_c = state.conditions["temperature_c"], correction["reference_c"]
    density, equation = step.numbers["density"], equation_of(correction)
    assert read is not None
    assert state.measured is not None
    return [
        say(
            "carried.density",
            pressure=value_of(read),
            temperature=plain(at_c),
            density=figure(density),
            gas=correction["label"],
            equation=equation_words(equation, density, at_c),
        ),
        say(
            "carried",
            reference=plain(to_c),
            equation=equation_words(equation, density, to_c),
            value=value_of(state.measured),
        ),
        _uncertainty(state),
    ]


def _pressure(state: State) -> Measured | None:
    """Return the absolute pressure before it is carried."""
    of = state.rule.correction.get("of")
    return state.as_read if of is None else value_named(state, of)


def _uncertainty(state: State) -> str:
    measured, accuracy = state.measured, state.reading.accuracy
    assert measured is not None
    if state.beyond_ranges:
        return say("uncertainty.beyond")
    if measured.expanded is None:
        return say(without_u(state))
    gauge = say("carried.u.unknown")
    if accuracy is not None:
        gauge = stated_words(state, accuracy)
    return say(
        "carried.u", u=u_of(measured), gauge=gauge, thermometer=_thermometer(state)
    )


def _thermometer(state: State) -> str:
    name = state.rule.correction.get("thermometer", "")
    stated = state.reading.conditions_accuracy.get("temperature_c")
    half = state.conditions.get(name) if stated is None else stated.fixed
    return f"{plain(half)} K" if finite(half) else say("carried.u.unknown")


def not_carried_sentence(state: State, _: Step) -> str:
    """Return why the pressure is not carried."""
    celsius, read = state.conditions.get("temperature_c"), _pressure(state)
    if celsius is None or not finite(celsius):
        return say("not_corrected.unknown")
    assert read is not None
    found = refusal(state.rule.correction, read, celsius)
    assert found is not None
    return say(
        found.code,
        **{
            name: figure(one) if name in PRESSURES else plain(one)
            for name, one in found.numbers.items()
        },
    )


def rate_sentences(state: State, part: Part, of: Measured, value: str) -> list[str]:
    """Return the rate with its two pressures."""
    leak, hours = leak_named(state, part["name"]), state.conditions[part["over_h"]]
    assert leak is not None
    first, second = figure(leak.first.value.shown, 6), figure(of.shown, 6)
    return [
        say(
            "derived.rate.first",
            temperature=plain(state.conditions[part["first_c"]]),
            density=figure(leak.first.density),
            reference=plain(state.rule.correction["reference_c"]),
            value=value_of(leak.first.value),
        ),
        say(
            "derived.rate",
            name=name_of(state, part["name"]),
            first=first,
            second=second,
            year=plain(part["year_h"]),
            hours=plain(hours),
            value=value,
        ),
    ]


def vapour_sentences(state: State, part: Part, of: Measured, value: str) -> list[str]:
    """Return the water where it was measured, and where it is wanted."""
    at = state.conditions.get(part.get("at", ""))
    found = vapour_at(part, of.shown, at)
    assert found is not None
    name, share = name_of(state, part["name"]), f"{figure(found.share)} ppmv"
    said = []
    if found.there is not None:
        said.append(
            say(
                f"derived.vapour.from.{part['from']}",
                of=amount(of.shown, FORMS[part["from"]]),
                pressure=figure(found.there),
                at=plain(at),
                share=share,
                **_constants(part),
            )
        )
    if part["to"] == PPMV or found.here is None:
        return [*said, say("derived.vapour.to.ppmv", name=name, value=value)]
    here, to_kpa = figure(found.here), plain(part["to_kpa"])
    parts = {"share": share, "to": to_kpa, "pressure": here, "name": name}
    return [*said, say(f"derived.vapour.to.{part['to']}", value=value, **parts)]


def _constants(part: Part) -> dict[str, str]:
    return {
        "a": plain(part["a"]),
        "b_c": plain(part["b_c"]),
        "at_zero": plain(part["e0_pa"]),
    }


DERIVED: Mapping[str, Callable[[State, Part, Measured, str], list[str]]] = {
    "rate": rate_sentences,
    "vapour": vapour_sentences,
}


def unresolved_sentences(state: State, step: Step) -> list[str]:
    """Return that U is too great to tell the limit, and when it could be told."""
    part = step.part
    assert part is not None
    measured = compared_of(state, part)
    limit = amount(part["value"], measured.unit)
    if measured.expanded is None:
        return [say("unresolved.unknown", value=value_of(measured), limit=limit)]
    said = say("unresolved", value=value_of(measured), u=u_of(measured), limit=limit)
    hours = wait_h(leak_named(state, part.get("of", "")), part["value"])
    return [said] if hours is None else [said, say("unresolved.wait", **_time(hours))]


def _time(hours: float) -> dict[str, str]:
    return {"hours": figure(hours), "days": figure(hours / HOURS_A_DAY)}
