"""What a rule is compiled from: nameplate, settings, columns, and what is given."""

from collections.abc import Mapping, Sequence
from typing import Any

from models.judging.quantities import convert
from models.procedures.baseline import Baseline
from models.procedures.given import Given


class Subject:
    """Fields by their names, as the table of fields has them; units are in the names.

    `limit` and the other columns of a readings file whose unit is that of the value
    are in *limit_unit*; None: in the unit of the rule. *given* holds what a maker or
    a project gave, *baseline* what was read at this point when the gear was accepted.
    Two subjects with the same fields are equal; a field that is None is not given.
    """

    __slots__ = ("_key", "baseline", "fields", "given", "limit_unit")

    fields: Mapping[str, Any]
    given: Sequence[Given]
    limit_unit: str | None
    baseline: Baseline | None

    def __init__(
        self,
        *,
        given: Sequence[Given] = (),
        limit_unit: str | None = None,
        baseline: Baseline | None = None,
        **fields: Any,
    ) -> None:
        """Keep the fields that are given."""
        self.fields = {k: v for k, v in fields.items() if v is not None}
        self.given = tuple(given)
        self.limit_unit = limit_unit
        self.baseline = baseline
        known = sorted(self.fields.items())
        self._key = (*known, limit_unit, self.given, baseline)

    def __eq__(self, other: object) -> bool:
        """Return whether the same is known of both."""
        return isinstance(other, Subject) and self._key == other._key

    def __hash__(self) -> int:
        """Subjects find the rules that were compiled for them."""
        return hash(self._key)

    def __repr__(self) -> str:
        """Say what is known."""
        said = [f"{name}={value!r}" for name, value in self.fields.items()]
        return f"Subject({', '.join(said)})"

    def but(self, **fields: Any) -> "Subject":
        """Return the same subject with other fields; None: no longer given."""
        known = {**self.fields, **fields}
        return Subject(
            given=self.given,
            limit_unit=self.limit_unit,
            baseline=self.baseline,
            **known,
        )

    def at_point(self, baseline: Baseline | None) -> "Subject":
        """Return the same subject at a point that has this baseline."""
        return Subject(
            given=self.given,
            limit_unit=self.limit_unit,
            baseline=baseline,
            **self.fields,
        )

    def number(self, name: str) -> float | None:
        """Return a number; None where it is not given."""
        value = self.fields.get(name)
        return None if value is None else float(value)

    def word(self, name: str) -> str | None:
        """Return a word; None where it is not given."""
        value = self.fields.get(name)
        return None if value is None else str(value)

    def column(self, name: str, unit: str) -> float | None:
        """Return a column that has the unit of the value, in *unit*."""
        value = self.number(name)
        if value is None:
            return None
        return convert(value, self.limit_unit or unit, unit)
