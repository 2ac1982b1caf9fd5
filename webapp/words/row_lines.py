"""What a rule reads off a row of readings, to be drawn: places with names, and a band.

The tablet draws the same from webapp/offline/row_lines.js.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from models.judging.knee import where_reached
from models.judging.rows import log_curve, points_of
from models.judging.rules import applies
from models.judging.series import Series, Step
from models.judging.series_words import knee_of
from models.judging.wording import figure, plain
from webapp.drawing.figures import number

Part = Mapping[str, Any]
Marks = dict[str, float]
FIGURES = ("value", "share", "step_pct", "value_pct", "degrees")


def places_read(
    rule: Part, series: Series, steps: Sequence[Step], conditions: Part
) -> Marks:
    """Return the steps at which *rule* (as JSON) reads the row, by name.

    The knees, that which decides and those that are only said; where a value is
    reached; a share of a distance. What the row does not reach is left out.
    """
    marks: Marks = {}
    for part in _parts(rule, series, conditions):
        at = _place(part, steps, conditions)
        if at is not None:
            marks[_name(part)] = at
    return marks


def flat_band(
    rule: Part, series: Series, conditions: Part
) -> tuple[float, float] | None:
    """Return between which steps the readings have to lie flat; None: not asked."""
    for part in _parts(rule, series, conditions):
        if part["op"] == "series_spread":
            whole = number(conditions, part["share_of"])
            if whole is not None:
                return part["shares"][0] * whole, part["shares"][-1] * whole
    return None


def _parts(rule: Part, series: Series, conditions: Part) -> Iterator[Part]:
    knees = [n for n in rule.get("notes") or () if n.get("say") == "other_knee"]
    parts = [*(rule.get("derive") or ()), *({**one, "op": "knee"} for one in knees)]
    for part in parts:
        if part.get("series") == series.name and applies(part, conditions):
            yield {**part, **_figures(part)}


def _figures(part: Part) -> Part:
    """Return the numbers of a part: a package has them as text."""
    found: dict[str, Any] = {n: float(part[n]) for n in FIGURES if n in part}
    if "shares" in part:
        found["shares"] = [float(share) for share in part["shares"]]
    return found


def _place(part: Part, steps: Sequence[Step], conditions: Part) -> float | None:
    match part["op"]:
        case "knee":
            found = knee_of(part, steps)
            return None if isinstance(found, str) else found.bound
        case "series_where":
            curve = log_curve(points_of(part["series"], steps))
            at = where_reached(curve, math.log(part["value"])) if curve else ""
            return None if isinstance(at, str) else math.exp(at)
        case "series_at" if "share" in part:
            whole = number(conditions, part["share_of"])
            return None if whole is None else part["share"] * whole
    return None


def _name(part: Part) -> str:
    match part["op"]:
        case "series_where":
            return f"{figure(part['value'], 3)} A"
        case "series_at":
            return f"{figure(100 * part['share'], 3)} %"
    if part["by"] == "slope":
        return f"knee {plain(part['degrees'])}°"
    return f"knee +{plain(part['step_pct'])} % V, +{plain(part['value_pct'])} % A"
