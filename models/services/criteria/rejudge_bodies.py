"""What judgements say where a fleet is judged again: each distinct group once."""

from collections.abc import Sequence
from typing import Any

from models.services.criteria.rejudge_findings import Touched
from models.services.field.judge_card import bodies

KEPT = 4096  # groups


class Bodies:
    """Judge groups of readings; one that is like another says the same.

    Readings are alike that have the same text, unit, conditions, accuracy and
    rule: nothing else of them is judged. Conditions and accuracies that were
    stored as the same text are one object, and are told apart by which it is.
    """

    def __init__(self) -> None:
        self._known: dict[Any, tuple[Sequence[Touched], list[dict[str, Any]]]] = {}

    def __call__(self, group: Sequence[Touched]) -> list[dict[str, Any]]:
        """Return the judgement of each of a group's readings."""
        key = tuple(map(_key, group))
        if key not in self._known:
            if len(self._known) >= KEPT:
                self._known.clear()
            rows = [one.reading for one in group]
            said = bodies(rows, [one.to.rule for one in group])
            # The group is kept too: no other object gets the id of one of its.
            self._known[key] = (group, said)
        return self._known[key][1]


def _key(one: Touched) -> tuple[Any, ...]:
    row = one.reading
    given = (id(row.conditions), id(row.accuracy))
    return (row.text, row.unit, row.calibrated, *given, id(one.to))
