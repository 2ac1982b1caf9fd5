"""Which cards of a plan a change is for: those ticked, a cell's, a procedure's."""

from collections.abc import Iterable

from models.services.planning.plan_view import PlanCell, PlanLine, PlanView
from models.words import in_sentence

TICKED, CELL, ALL, OPTIONAL = "ticked", "cell", "all", "optional"


def scopes_of(view: PlanView, cell: PlanCell | None) -> list[tuple[str, str]]:
    """Return (value, words) of what a change can be for."""
    titles = {line.card.procedure: line.title for line in view.lines}
    found = [(TICKED, "the cards that are ticked")]
    if cell is not None:
        found.append((CELL, f"all cards of cell {cell.number}"))
    found += [
        (f"procedure {name}", f"all of {in_sentence(title)}")
        for name, title in titles.items()
    ]
    if any(line.card.is_optional for line in view.lines):
        found.append((OPTIONAL, "all optional cards"))
    return [*found, (ALL, "all cards of the round")]


def keys_of(
    view: PlanView, cell: PlanCell | None, scope: str, ticked: Iterable[str]
) -> list[str]:
    """Return the keys of the cards that a change is for.

    A whole procedure or round means the cards that are planned, or, where the
    change is about that, those that are not: whoever calls chooses.
    """
    if scope == TICKED:
        return list(ticked)
    lines: list[PlanLine] = view.lines
    if scope == CELL:
        lines = list(cell.lines) if cell else []
    elif scope == OPTIONAL:
        lines = [line for line in lines if line.card.is_optional]
    elif scope != ALL:
        name = scope.removeprefix("procedure ")
        lines = [line for line in lines if line.card.procedure == name]
    return [line.card.key for line in lines]


def planned_only(view: PlanView, keys: Iterable[str], *, planned: bool) -> list[str]:
    """Return those of *keys* whose cards are planned, or those that are not."""
    wanted = set(keys)
    return [
        line.card.key
        for line in view.lines
        if line.card.key in wanted and line.card.planned == planned
    ]
