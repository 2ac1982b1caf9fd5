"""Rows of readings as an instrument takes them: made up from a formula each.

Each returns the text that a reading keeps, `at:value at:value ...`.
"""

from collections.abc import Callable, Iterable
from math import exp

VOLTS = (10, 20, 40, 60, 80, 100, 125, 150, 175, 200, 220, 240, 260, 280, 300)
VOLTS += (320, 340, 360, 380, 400, 420, 440, 460, 480, 500)
PROBES = (0.2, 0.4, 0.52, 0.62, 0.72, 0.8)  # shares of the current probe's distance


def excitation(ten_amperes_v: float) -> str:
    """Return exciting current over volts: a slow rise, then the fourteenth power.

    The form is that of the worked curve; *ten_amperes_v* is where the iron draws 10 A.
    """

    def current(volts: float) -> float:
        rising = 0.004624 * (volts / 10) ** 0.7
        return rising + 10 * (volts / ten_amperes_v) ** 14

    return _row(VOLTS, current)


def fall_of_potential(ground_ohm: float, probe_m: float, radius_m: float) -> str:
    """Return ohms over metres of a hemisphere in uniform soil, a probe in line.

    R(P) = R r (1/r - 1/C - 1/P + 1/(C - P)), with C the current probe's distance.
    """

    def resistance(at_m: float) -> float:
        shape = 1 / radius_m - 1 / probe_m - 1 / at_m + 1 / (probe_m - at_m)
        return ground_ohm * radius_m * shape

    return _row((share * probe_m for share in PROBES), resistance)


def coil_record(holds_a: float, latch_ms: float, contact_ms: float) -> str:
    """Return amperes over milliseconds: rise, the dip at the latch, hold, fall."""
    peak_ms = latch_ms - 4
    peak_a = holds_a * (1 - exp(-peak_ms / 6))

    def current(at_ms: float) -> float:
        if at_ms <= peak_ms:
            return holds_a * (1 - exp(-at_ms / 6))
        if at_ms <= latch_ms:
            return peak_a * (1 - 0.28 * (at_ms - peak_ms) / 4)
        if at_ms <= contact_ms:
            low = 0.72 * peak_a
            return low + (holds_a - low) * (1 - exp(-(at_ms - latch_ms) / 4))
        return current(contact_ms) * exp(-(at_ms - contact_ms) / 1.2)

    return _row(range(int(contact_ms) + 7), current)


def travel(stroke_mm: float, takes_ms: float, overtravel_mm: float) -> str:
    """Return millimetres over milliseconds of an opening: over the stop, and back."""

    def position(at_ms: float) -> float:
        share = min(at_ms / takes_ms, 1.0)
        moved = stroke_mm * share * share * (3 - 2 * share)
        late = max(at_ms - takes_ms, 0.0)
        return moved + overtravel_mm * (late / 3) * exp(1 - late / 3)

    return _row(range(int(takes_ms) + 25), position)


def _row(steps: Iterable[float], shown: Callable[[float], float]) -> str:
    return " ".join(f"{step:.4g}:{shown(step):.4g}" for step in steps)
