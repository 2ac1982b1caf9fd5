"""What a procedure is for people: title, method, units, what its card asks for."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from models.judging.series import Series


@dataclass(frozen=True, slots=True, kw_only=True)
class Procedure:
    """A kind of test."""

    name: str
    title: str
    method: str
    units: Sequence[str]  # units in which a reading may be entered
    default_unit: str
    asks: Sequence[
        Mapping[str, Any]
    ]  # conditions: name, label, unit, required, choices
    outcomes: Sequence[str]
    preconditions: Sequence[str]  # codes of the procedure's own list
    series: Sequence[Series] = ()  # rows of readings that a point may carry


def ask(
    name: str,
    label: str,
    unit: str = "",
    *,
    required: bool = True,
    choices: Sequence[str] = (),
) -> dict[str, Any]:
    """Return one condition that a card asks for."""
    return {
        "name": name,
        "label": label,
        "unit": unit,
        "required": required,
        "choices": list(choices),
    }


TEMPERATURE = ask("temperature_c", "Temperature of the insulation", "°C")
AIR_TEMPERATURE = ask("air_temperature_c", "Air temperature", "°C", required=False)
HUMIDITY = ask("humidity_pct", "Relative humidity", "%", required=False)
