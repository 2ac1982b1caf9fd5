"""The baseline of a point: what was read there when the gear was accepted."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Baseline:
    """The accepted reading of one point, corrected, in *unit*.

    *expanded* is its U in the same unit, None without an accuracy; *round* is the title
    of the round in which it was read.
    """

    value: float
    unit: str
    expanded: float | None
    round: str
