"""Points of a card to be; those of a relay come from its settings."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any

from models.judging.wording import figure
from models.procedures import Subject
from models.procedures.differential import LAST_PU, corners, injected, slopes_of

NO_TRIP_MULTIPLE = 0.95  # below pickup: the relay must not operate (common practice)
MULTIPLES = (2.0, 3.0, 5.0, 10.0)  # common practice, where the relay names none
# Of a voltage that is set: not beyond it (common practice), and where makers state
# times: undervoltage at 0.9 and at 0, overvoltage at 1.1 and 2 (`relay_functions`).
UNDER, OVER = (1.05, 0.9, 0.5, 0.0), (0.95, 1.1, 1.5, 2.0)
RESTRAINTS = (0.2, 1.0, 2.0, 5.0)  # per unit, where the characteristic is not known


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedPoint:
    """A point to be, with the conditions that the programme fixes."""

    label: str
    group: str
    given: dict[str, Any] = field(default_factory=dict)


def timing_points(
    nameplate: Mapping[str, Any], multiples: Sequence[float] = ()
) -> tuple[PlannedPoint, ...]:
    """Return a point a multiple of the pickup, those of the relay where none is said.

    Without a pickup on the nameplate the current is asked on the card.
    """
    pickup_a = nameplate.get("pickup_a")
    own = (NO_TRIP_MULTIPLE, *nameplate.get("multiples", MULTIPLES))
    return tuple(
        PlannedPoint(
            label=f"{multiple:g} × pickup",
            group=f"{multiple:g}",
            given={"applied_a": round(pickup_a * multiple, 6)} if pickup_a else {},
        )
        for multiple in multiples or own
    )


def voltage_points(nameplate: Mapping[str, Any]) -> Iterator[PlannedPoint]:
    """Yield a point a multiple of the voltage that is set, on the side of the element.

    Without a setting in volts the voltage is asked on the card.
    """
    set_v = nameplate.get("set_value") if nameplate.get("set_unit") == "V" else None
    falls = str(nameplate.get("voltage_curve", "")).startswith("under")
    for multiple in UNDER if falls or nameplate.get("element") == "27" else OVER:
        known = {} if set_v is None else {"applied_v": round(set_v * multiple, 6)}
        label = f"{multiple:g} × setting"
        yield PlannedPoint(label=label, group=f"{multiple:g}", given=known)


def differential_points(nameplate: Mapping[str, Any]) -> Iterator[PlannedPoint]:
    """Yield points on each part of the characteristic, and a through fault.

    The label says what to inject into both windings where taps and restraint are known.
    """
    line = _line(nameplate)
    places = _places(line) if line else RESTRAINTS
    for restraint in places:
        inject = _currents(nameplate, restraint, _on(line, restraint))
        yield PlannedPoint(
            label=f"restraint {restraint:g}{inject}",
            group="characteristic",
            given={
                "restraint_pu": restraint,
                "differential_test": "characteristic",
            },
        )
    yield PlannedPoint(
        label=f"through fault {places[-1]:g}{_currents(nameplate, places[-1], 0.0)}",
        group="through fault",
        given={"restraint_pu": places[-1], "differential_test": "through_fault"},
    )


def _line(nameplate: Mapping[str, Any]) -> list[list[float]]:
    """Return the corners of the characteristic; none where it is not known."""
    set_to = slopes_of(Subject(**nameplate))
    try:
        return corners(set_to) if set_to.break_at else []
    except ValueError:
        return []


def _places(line: Sequence[Sequence[float]]) -> tuple[float, ...]:
    """Return a restraint within each part, and one far on the last slope."""
    at_break = line[-2][0]
    within = [(one[0] + two[0]) / 2 for one, two in pairwise(line[:-1])]
    beyond = [at_break * 1.5, at_break * 2.5]
    return tuple(round(one, 3) for one in (*within, *beyond) if one < LAST_PU)


def _on(line: Sequence[Sequence[float]], restraint: float) -> float:
    """Return the operate current of the characteristic; 0 where it is not known."""
    for (x0, y0), (x1, y1) in pairwise(line):
        if x0 <= restraint <= x1:
            return y0 + (y1 - y0) * (restraint - x0) / (x1 - x0)
    return 0.0


def _currents(nameplate: Mapping[str, Any], restraint: float, operate: float) -> str:
    taps = [nameplate.get("tap_1_a"), nameplate.get("tap_2_a")]
    restraint_as = nameplate.get("restraint_as")
    if None in taps or restraint_as is None:
        return ""
    pu = injected(str(restraint_as), restraint, operate)
    one, two = (figure(i * float(tap or 0), 4) for i, tap in zip(pu, taps, strict=True))
    return f": {one} A and {two} A"


# Pattern of points -> what makes them of a relay's settings.
OF_SETTINGS: Mapping[
    str, Callable[[Mapping[str, Any]], Sequence[PlannedPoint] | Iterator[PlannedPoint]]
] = {
    "multiples": timing_points,
    "restraints": differential_points,
    "voltages": voltage_points,
}
