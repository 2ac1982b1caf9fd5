"""What was worked out of a row of readings, and what was wanting of one."""

import math
from collections.abc import Sequence

from models.judging.knee import NOT_REACHED, TOE
from models.judging.parts import Part
from models.judging.quantities import said_unit
from models.judging.row_gates import row_fault
from models.judging.rows import points_of, row_of, straight_at
from models.judging.sentences.names import name_of
from models.judging.series import SERIES, Step, value_at
from models.judging.series_words import derive_from_row, place_of
from models.judging.state import State
from models.judging.values import Interval
from models.judging.wording import figure, plain
from models.words import join, say


def derived_sentence(state: State, part: Part, name: str, value: str) -> str:
    """Return how a value was worked out of a row."""
    steps = row_of(state.conditions, part["series"]) or ()
    said = {"name": name, "value": value}
    match part["op"]:
        case "series_at":
            return _at(state, part, said)
        case "series_between":
            return _between(state, part, steps, said)
        case "series_spread":
            values = _values(state, part, steps)
            return say("derived.series_spread", values=values, **said)
        case "series_where":
            wanted = f"{plain(part['value'])} {_value_unit(state, part)}"
            return say(
                "derived.series_where", wanted=wanted, curve=_curve(part, steps), **said
            )
        case _:
            return say(
                "derived.knee",
                definition=definition_of(part),
                curve=_curve(part, steps),
                **said,
            )


def definition_of(part: Part) -> str:
    """Return by what a knee is marked."""
    if part["by"] == "slope":
        return say("knee.slope", degrees=plain(part["degrees"]))
    step, rise = plain(part["step_pct"]), plain(part["value_pct"])
    return say("knee.rise", step=step, rise=rise)


def _curve(part: Part, steps: Sequence[Step]) -> str:
    points = len(points_of(part["series"], steps))
    return say("curve.joined", points=str(points))


def _value_unit(state: State, part: Part) -> str:
    return said_unit(SERIES[part["series"]].unit or state.unit or "")


def _place(part: Part, at: float) -> str:
    return f"{figure(at)} {SERIES[part['series']].step_unit}"


def _step(part: Part, at: float) -> str:
    return f"{plain(at)} {SERIES[part['series']].step_unit}"


def _at(state: State, part: Part, said: dict[str, str]) -> str:
    if "step" in part:
        return say("derived.series_at.step", at=_step(part, part["step"]), **said)
    at = place_of(state, part, part["share"])
    return say(
        "derived.series_at.share",
        at=_place(part, at or math.nan),
        share=figure(100 * part["share"], 3),
        what=name_of(state, part["share_of"]),
        **said,
    )


def _between(
    state: State, part: Part, steps: Sequence[Step], said: dict[str, str]
) -> str:
    ends = {end: value_at(steps, part[end]) for end in ("late", "early")}
    shown = {end: _shown(state, part, value) for end, value in ends.items()}
    return say(
        f"derived.series_between.{part['as']}",
        late_at=_step(part, part["late"]),
        early_at=_step(part, part["early"]),
        **shown,
        **said,
    )


def _shown(state: State, part: Part, value: Interval | None) -> str:
    assert value is not None
    side = "" if value.exact else (">" if value.high is None else "<")
    return f"{side}{plain(value.bound)} {_value_unit(state, part)}"


def _values(state: State, part: Part, steps: Sequence[Step]) -> str:
    places = [place_of(state, part, share) or math.nan for share in part["shares"]]
    values = [straight_at(steps, at) for at in places]
    unit = _value_unit(state, part)
    said = [f"{figure(value)} {unit}" for value in values if value is not None]
    return join("list.and", said)


def not_derived_sentence(state: State, part: Part, name: str) -> str:
    """Return why nothing can be worked out of a row."""
    why = derive_from_row(state, part)
    assert isinstance(why, str)
    if why == "no_distance":
        return say("not_derived", name=name, what=name_of(state, part["share_of"]))
    if why == NOT_REACHED and part["op"] in ("knee", "series_where"):
        return say(f"not_derived.{part['op']}.{why}", name=name, **_end(state, part))
    series = say(f"series.{part['series']}")
    steps = [_step(part, part[one]) for one in ("step", "late", "early") if one in part]
    return say(
        f"not_derived.{why}",
        name=name,
        series=series,
        steps=join("list.or", steps) if steps else "",
        toe=plain(TOE),
    )


def _end(state: State, part: Part) -> dict[str, str]:
    """Return where a curve ends, and what was sought beyond."""
    points = points_of(part["series"], row_of(state.conditions, part["series"]) or ())
    last = _step(part, points[-1][0])
    if part["op"] == "knee":
        return {"last": last, "definition": definition_of(part)}
    unit = _value_unit(state, part)
    most = f"{plain(max(value for _, value in points))} {unit}"
    return {"last": last, "most": most, "wanted": f"{plain(part['value'])} {unit}"}


def row_gate_sentence(state: State, gate: Part) -> str:
    """Return what is wrong with a row, and what the gate says of it besides."""
    fault = row_fault(gate, state)
    assert fault is not None
    why, _ = fault
    series = say(f"series.{gate['series']}")
    if why == "unreadable":
        said = say("series.unreadable", series=series)
    else:
        said = say(f"gate.series.{why}", series=series, **_of_gate(state, gate, fault))
    return f"{said} {gate['reason']}" if "reason" in gate else said


def _of_gate(
    state: State, gate: Part, fault: tuple[str, dict[str, float]]
) -> dict[str, str]:
    """Return the parts of a gate's sentence, as it is said."""
    why, numbers = fault
    unit = _value_unit(state, gate)
    name = {"name": name_of(state, gate["above"]["of"])} if "above" in gate else {}
    match why:
        case "not_rising":
            places = {key: _step(gate, numbers[key]) for key in ("at", "next")}
            values = {key: f"{plain(numbers[key])} {unit}" for key in ("value", "then")}
            return places | values
        case "gap":
            ends = {key: _step(gate, numbers[key]) for key in ("from", "to")}
            gap = {"gap": figure(numbers["gap"], 3), "most": plain(gate["gap_pct"])}
            return ends | gap | name
        case _:
            return {key: plain(value) for key, value in numbers.items()} | name
