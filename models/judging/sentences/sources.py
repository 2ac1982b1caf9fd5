"""Which citations of a rule a step rests on."""

from collections.abc import Iterable

from models.judging.rules import applies
from models.judging.state import State
from models.judging.steps import Step


def cited_by(state: State, step: Step) -> Iterable[int | None]:
    """Return the places of the sources; what never took part decides nothing."""
    part, rule = step.part, state.rule
    if step.code == "broke_down":
        bounds = (b for b in rule.bounds if applies(b, state.conditions))
        return [bound.get("cite") for bound in bounds]
    if step.code in ("corrected", "carried"):
        by_none = rule.correction["by"] == "none"
        return [] if by_none else [rule.correction.get("cite")]
    if part is None or "kind" not in part:
        return []
    if step.code == "tolerance":
        band = step.numbers["band"]
        held = [] if band is None else [band["cite"]]
        return [part.get("cite"), *held, part["tolerance_cite"]]
    wide = part.get("tolerance_cite") if step.code == "expected_value" else None
    return [part.get("cite"), wide]
