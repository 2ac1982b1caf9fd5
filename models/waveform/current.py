"""The current that a record shows: its RMS value over whole cycles of the fault."""

from dataclasses import dataclass

import numpy as np

from models.waveform.configuration import AnalogChannel
from models.waveform.read import Waveform

AMPERES = {"A": 1.0, "KA": 1000.0, "MA": 0.001}


@dataclass(frozen=True, slots=True, kw_only=True)
class Current:
    """RMS value in amperes: as recorded, and on the other side of the transformer.

    *side* is P, S or nothing where the record does not say; *other_a* is None where
    the ratio is not said.
    """

    channel: str
    recorded_a: float
    side: str
    other_a: float | None

    def on(self, side: str) -> float | None:
        """Return the current on the side P or S; None where it is not known."""
        if not self.side:
            return self.recorded_a
        return self.recorded_a if side == self.side else self.other_a


def in_amperes(channel: AnalogChannel) -> bool:
    """Whether the channel is a current."""
    return channel.unit.strip().upper() in AMPERES


def current_between(
    record: Waveform, place: int, from_s: float, to_s: float
) -> Current | None:
    """Return the RMS current over the last whole cycles before *to_s*.

    The first cycle after *from_s* is left out, in which the current may be offset.
    None where there is no whole cycle, a value is missing, or it is no current.
    """
    channel, cycle = record.analog[place], record.cycle_s
    if cycle is None or not in_amperes(channel):
        return None
    cycles = int((to_s - from_s) / cycle + 1e-6)
    cycles -= 1 if cycles > 1 else 0
    if cycles < 1:
        return None
    begin = to_s - cycles * cycle
    inside = (record.time > begin) & (record.time < to_s)
    time = np.concatenate(([begin], record.time[inside], [to_s]))
    values = np.interp(time, record.time, record.values[place])
    square = float(np.trapezoid(values**2, time)) / (cycles * cycle)
    if not np.isfinite(square):
        return None
    amperes = square**0.5 * AMPERES[channel.unit.strip().upper()]
    return Current(
        channel=channel.name,
        recorded_a=amperes,
        side=channel.base,
        other_a=_other_side(channel, amperes),
    )


def _other_side(channel: AnalogChannel, amperes: float) -> float | None:
    if not channel.base or channel.primary <= 0 or channel.secondary <= 0:
        return None
    ratio = channel.primary / channel.secondary
    return amperes / ratio if channel.base == "P" else amperes * ratio
