"""Somebody of a crew, and what a crew finds on a site."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any
from uuid import UUID

Json = dict[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Member:
    """Somebody of the crew."""

    id: UUID
    name: str

    @property
    def json(self) -> Json:
        """Who says a line."""
        return {"id": str(self.id), "name": self.name}


@dataclass(frozen=True, slots=True, kw_only=True)
class Site:
    """What a crew finds: registers by section (None: the whole lineup), and words.

    *noted*: by code and field, or by field, a value or what makes the next one; what
    is not there is made up by its kind. *grounded_by*: the numbers of the grounds of
    a cell, by its number; all of them where nothing is said.
    """

    clearance: str
    sections: bool = False
    dc_s: float = 60.0  # how long dc was on
    items: Mapping[str | None, Sequence[tuple[str, Json]]] = field(default_factory=dict)
    sets: Sequence[Json] = ()
    places: Sequence[Json] = ()
    noted: Mapping[Any, Any] = field(default_factory=dict)
    grounded_by: Mapping[str, Sequence[str]] = field(default_factory=dict)
