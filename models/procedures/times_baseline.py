"""What a bound `of_baseline` takes from the baseline of its point."""

from typing import Any

from models.procedures.baseline import Baseline
from models.procedures.lookups import in_unit


def against(baseline: Baseline | None, unit: str) -> dict[str, Any] | None:
    """Return what a bound `of_baseline` takes from it, in *unit*; None: there is none.

    Of a baseline at or below zero nothing is a multiple.
    """
    if baseline is None or baseline.value <= 0:
        return None
    value, u = baseline.value, baseline.expanded
    if baseline.unit != unit:
        value = in_unit(value, baseline.unit, unit)
        u = None if u is None else u * value / baseline.value
    more = {} if u is None else {"u": u}
    return {"value": value, **more, "round": baseline.round}
