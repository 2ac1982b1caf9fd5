"""Where a photograph was taken, as its camera noted it: kept only where wanted."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from models.errors import Fault

DEGREES = re.compile(r"-?\d{1,3}\.\d{1,6}", re.ASCII)
MOST = {"latitude": 90, "longitude": 180}  # degrees


@dataclass(frozen=True, slots=True)
class Place:
    """Latitude and longitude in degrees as text, south and west negative."""

    latitude: str
    longitude: str

    def as_json(self) -> dict[str, str]:
        """Return it as `read_place` reads it."""
        return {"latitude": self.latitude, "longitude": self.longitude}

    def words(self) -> str:
        """Return it as people write it: 47.37500° N, 8.53333° E."""
        north = _words(self.latitude, "N", "S")
        return f"{north}, {_words(self.longitude, 'E', 'W')}"


def read_place(raw: Any, faults: list[Fault]) -> Place | None:
    """Read a place; None where none is said, or with a fault where it is wrong."""
    if raw is None:
        return None
    if not isinstance(raw, Mapping) or not all(_fits(raw, name) for name in MOST):
        message = "Say latitude and longitude in degrees, as 47.37500 and 8.53333."
        faults.append(Fault(field="place", message=message))
        return None
    return Place(latitude=raw["latitude"], longitude=raw["longitude"])


def _fits(raw: Mapping[str, Any], name: str) -> bool:
    text = raw.get(name)
    if not isinstance(text, str) or DEGREES.fullmatch(text) is None:
        return False
    return abs(Decimal(text)) <= MOST[name]


def _words(degrees: str, above: str, below: str) -> str:
    return f"{degrees.lstrip('-')}° {below if degrees.startswith('-') else above}"
